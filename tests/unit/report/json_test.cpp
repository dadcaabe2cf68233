// Reports for programs: one line, keys in a fixed order, exact decimals, valid text whatever bytes came in.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidjson/document.h>

#include <algorithm>

#include "unit/report/sample.hpp"

namespace {

using namespace raceward;
using namespace raceward::test;
using testing::HasSubstr;

rapidjson::Document parsed(const std::string& json) {
  rapidjson::Document doc;
  doc.Parse<rapidjson::kParseValidateEncodingFlag>(json.c_str());
  EXPECT_FALSE(doc.HasParseError()) << json;
  return doc;
}

std::string text_at(const rapidjson::Value& value) { return {value.GetString(), value.GetStringLength()}; }

TEST(JsonReport, IsOneLineWithWhatTheReportSays) {
  const std::string json = json_report(sample());
  EXPECT_EQ(std::count(json.begin(), json.end(), '\n'), 1);
  EXPECT_EQ(json.back(), '\n');
  const rapidjson::Document doc = parsed(json);
  EXPECT_EQ(doc["format"].GetInt(), 1);
  EXPECT_EQ(text_at(doc["installation"]), "studio");
  EXPECT_EQ(text_at(doc["ruleset"]["id"]), "test-2020");
  ASSERT_EQ(doc["findings"].Size(), 4u);
  EXPECT_EQ(text_at(doc["findings"][0]["verdict"]), "violates");
  EXPECT_EQ(doc["findings"][0]["place"]["line"].GetInt(), 12);
  EXPECT_EQ(text_at(doc["findings"][0]["cites"][1]["basis"]), "memory");
  EXPECT_EQ(text_at(doc["findings"][1]["verdict"]), "undetermined");
  EXPECT_TRUE(doc["findings"][1]["measured"].IsNull());
  EXPECT_EQ(text_at(doc["findings"][3]["needs"][1]["datum"]), "support");
  EXPECT_EQ(doc["ledger"].Size(), 3u);
  EXPECT_EQ(text_at(doc["ledger"][1]["force"]), "advised");
  EXPECT_EQ(doc["not_checked"].Size(), 4u);
  EXPECT_EQ(text_at(doc["cautions"][0]), "Electricity kills.");
}

TEST(JsonReport, ComesInPiecesOfOneText) {
  Report r = sample();
  r.findings.resize(6000, r.findings.front());
  std::vector<std::string> pieces;
  json_report(r, [&](std::string_view piece) { pieces.emplace_back(piece); });
  EXPECT_GT(pieces.size(), 2u);
  for (const std::string& piece : pieces) EXPECT_LT(piece.size(), std::size_t{2} << 20);
  std::string whole;
  for (const std::string& piece : pieces) whole += piece;
  EXPECT_EQ(parsed(whole)["findings"].Size(), 6000u);
  EXPECT_EQ(whole, json_report(r));
  EXPECT_EQ(std::count(whole.begin(), whole.end(), '\n'), 1);
}

TEST(JsonReport, TellsWaiversWhereThereAreSome) {
  const rapidjson::Document doc = parsed(json_report(waived_sample()));
  EXPECT_EQ(text_at(doc["on"]), "2026-06-15");
  ASSERT_EQ(doc["waivers"].Size(), 2u);
  const auto& waiver = doc["waivers"][0];
  EXPECT_EQ(text_at(waiver["rule"]) + " " + text_at(waiver["subject"]), "raceway-fill R2");
  EXPECT_EQ(text_at(waiver["authority"]) + "; " + text_at(waiver["reason"]),
            "the inspector, permit 7; a beam");
  EXPECT_EQ(text_at(waiver["on"]) + " " + text_at(waiver["until"]), "2026-05-01 2026-06-15");
  EXPECT_EQ(text_at(waiver["accepts"]), "45%");
  EXPECT_EQ(waiver["place"]["line"].GetInt(), 30);
  EXPECT_EQ(text_at(waiver["state"]) + text_at(waiver["why"]), "holds");
  EXPECT_FALSE(doc["waivers"][1].HasMember("accepts"));
  EXPECT_EQ(text_at(doc["waivers"][1]["state"]), "unmatched");
  EXPECT_EQ(text_at(doc["waivers"][1]["why"]), "rule raceway-fill finds nothing at R9");
  EXPECT_EQ(doc["findings"][0]["waiver"].GetInt(), 1);
  EXPECT_EQ(text_at(doc["findings"][0]["verdict"]), "violates");
  EXPECT_FALSE(doc["findings"][1].HasMember("waiver"));
  EXPECT_EQ(doc["ledger"][2]["waived"].GetInt(), 1);
  EXPECT_EQ(doc["ledger"][2]["violates"].GetInt(), 1);
  EXPECT_FALSE(doc["ledger"][0].HasMember("waived"));
  EXPECT_EQ(json_report(sample()).find("waive"), std::string::npos);
}

TEST(JsonReport, TellsWhichFindingsShareTheirCause) {
  Report r = sample();
  r.findings[0].cause = 3;
  r.findings[0].subject_place = {"studio.xml", 18, 5};
  const rapidjson::Document doc = parsed(json_report(r));
  EXPECT_EQ(doc["findings"][0]["cause"].GetInt(), 3);
  EXPECT_EQ(doc["findings"][0]["place"]["line"].GetInt(), 12);
  EXPECT_EQ(doc["findings"][0]["subject_place"]["line"].GetInt(), 18);
  EXPECT_FALSE(doc["findings"][1].HasMember("cause"));
  EXPECT_FALSE(doc["findings"][1].HasMember("subject_place"));
}

TEST(JsonReport, WritesQuantitiesAsTheyAre) {
  Report r = sample();
  r.findings[0].measured = *parse_amount("36.001in", Dimension::length);
  r.findings[0].limit = *parse_amount("1000000.000001%", Dimension::none);
  EXPECT_THAT(json_report(r), HasSubstr(R"("measured":{"value":36.001,"unit":"in"})"));
  EXPECT_THAT(json_report(r), HasSubstr(R"("limit":{"value":1000000.000001,"unit":"%"})"));
}

TEST(JsonReport, EscapesQuotesAndReplacesBytesThatAreNoText) {
  Report r = sample();
  r.file = "a \"quoted\"\n\xff file \xed\xa0\x80";
  const rapidjson::Document doc = parsed(json_report(r));
  EXPECT_EQ(text_at(doc["file"]), "a \"quoted\"\n\uFFFD file \uFFFD\uFFFD\uFFFD");
}

TEST(JsonFigures, SayWhatIsKnownAndWhatIsMissing) {
  FigureLine line;
  line.subject = "R1";
  line.where = "raceway R1";
  line.figure = "raceway-fill";
  line.value = {0, Unit::percent};
  line.needs = {need_of("type", "raceway@type", "raceway R1", 4)};
  FigureLine known = line;
  known.known = true;
  known.needs.clear();
  known.value = *parse_amount("31.5%", Dimension::none);
  const rapidjson::Document doc = parsed(json_figures("studio", {line, known}));
  ASSERT_EQ(doc["figures"].Size(), 2u);
  EXPECT_TRUE(doc["figures"][0]["value"].IsNull());
  EXPECT_EQ(text_at(doc["figures"][0]["needs"][0]["fact"]), "type");
  EXPECT_EQ(doc["figures"][1]["value"].GetDouble(), 31.5);
  EXPECT_EQ(text_at(doc["figures"][1]["unit"]), "%");
}

}  // namespace
