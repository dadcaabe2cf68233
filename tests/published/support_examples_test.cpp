// Published distances between supports and from supports to boxes, from a document to the verdict. The source
// stands beside each; all were read in stored copies of public pages.
//
// What holds a box up is checked in place_examples_test.cpp. "What's Wrong Here 182", EC&M, turns on a
// missing fitting between two types and a missing cover (300.16, 314.25); its 3 ft for tubing is checked
// below.
#include <gtest/gtest.h>

#include <map>
#include <string>
#include <vector>

#include "oracle_csv.hpp"
#include "support/check_text.hpp"

namespace raceward::published {
namespace {

/// Lengths in thousandths of an inch.
using Mils = std::int64_t;
constexpr Mils operator""_ft(unsigned long long feet) { return static_cast<Mils>(feet) * 12'000; }
constexpr Mils just_more = 1;

std::string written(Mils length) {
  const std::string parts = std::to_string(1000 + length % 1000).substr(1);
  return std::to_string(length / 1000) + "." + parts + "in";
}

/// A raceway R1 of one straight piece, strapped at these distances from the panel.
struct Strapped {
  std::string type = "EMT", size = "3/4";
  Mils length = 0;
  std::vector<Mils> straps;
  std::map<std::string, std::string> says;  // of what could unlock an exception; else that it does not hold
};

std::string text_of(const Strapped& r) {
  std::map<std::string, std::string> says = {{"no-fastening-point", "no"}, {"threaded-couplings", "no"},
                                             {"vertical-riser", "no"},     {"flexibility-needed", "no"},
                                             {"ceiling-whip", "no"},       {"unbroken", "no"}};
  for (const auto& [name, value] : r.says) says[name] = value;
  std::string out =
      "<box id=\"B1\" kind=\"square\"/><device id=\"D1\" kind=\"luminaire\" box=\"B1\"/>\n<raceway id=\"R1\" "
      "from=\"P1\" to=\"B1\" type=\"" +
      r.type + "\" trade-size=\"" + r.size + "\"";
  for (const auto& [name, value] : says) out += " " + name + "=\"" + value + "\"";
  if (r.straps.empty()) out += " supports=\"none\"";
  out += "><straight length=\"" + written(r.length) + "\"/>";
  for (const Mils at : r.straps) out += "<support at=\"" + written(at) + "\" kind=\"strap\"/>";
  return test::installation(out + "</raceway>\n");
}

enum class Found { complies, violates, undetermined, not_applicable };

Found judged(const Strapped& r, std::string_view rule) {
  const LedgerLine line = test::ledger(test::check_text(text_of(r)), rule);
  EXPECT_EQ(line.complies + line.violates + line.undetermined + line.not_applicable, 1U);
  if (line.complies == 1) return Found::complies;
  if (line.violates == 1) return Found::violates;
  return line.undetermined == 1 ? Found::undetermined : Found::not_applicable;
}

Found at_ends(const Strapped& r) { return judged(r, "support-at-terminations"); }
Found between(const Strapped& r) { return judged(r, "support-spacing"); }

/// Straps so far from both ends and from each other.
Strapped two(Mils end, Mils apart) {
  Strapped r;
  r.length = 2 * end + apart;
  r.straps = {end, end + apart};
  return r;
}

// ES-01. Forum thread quoting 358.30 (electriciantalk.com, "Code Reference"); "What's Wrong Here 182", EC&M:
// 3 ft.
TEST(PublishedSupport, TubingIsStrappedWithinThreeFeet) {
  EXPECT_EQ(at_ends(two(3_ft, 9_ft)), Found::complies);
  EXPECT_EQ(at_ends(two(3_ft + just_more, 9_ft)), Found::violates);
}

// ES-01, and forum thread on fastening tubing (forums.mikeholt.com thread 76525): every 10 ft.
TEST(PublishedSupport, TubingIsStrappedEveryTenFeet) {
  EXPECT_EQ(between(two(3_ft, 10_ft)), Found::complies);
  EXPECT_EQ(between(two(3_ft, 10_ft + just_more)), Found::violates);
}

// ES-01: unbroken lengths up to 5 ft from the box, where the structure gives no nearer place.
TEST(PublishedSupport, UnbrokenTubingMayGoFiveFeet) {
  Strapped r = two(5_ft, 9_ft);
  r.says = {{"no-fastening-point", "yes"}, {"unbroken", "yes"}};
  EXPECT_EQ(at_ends(r), Found::complies);
  r.says["unbroken"] = "no";
  EXPECT_EQ(at_ends(r), Found::violates);
  r.says = {{"no-fastening-point", "no"}, {"unbroken", "yes"}};
  EXPECT_EQ(at_ends(r), Found::violates);
  r = two(5_ft + just_more, 9_ft);
  r.says = {{"no-fastening-point", "yes"}, {"unbroken", "yes"}};
  EXPECT_EQ(at_ends(r), Found::violates);
}

// Common practice of the trade, no code behind it: a support within 3 ft of each box and each 10 ft of run.
TEST(PublishedSupport, CommonPracticeOnALongRun) {
  Strapped run;
  run.length = 36_ft;
  run.straps = {3_ft, 13_ft, 23_ft, 33_ft};
  EXPECT_EQ(at_ends(run), Found::complies);
  EXPECT_EQ(between(run), Found::complies);
  Strapped without_one = run;
  without_one.straps = {3_ft, 13_ft, 33_ft};
  EXPECT_EQ(at_ends(without_one), Found::complies);
  EXPECT_EQ(between(without_one), Found::violates);
  Strapped without_last = run;
  without_last.straps = {3_ft, 13_ft, 23_ft};
  EXPECT_EQ(at_ends(without_last), Found::violates);
  EXPECT_EQ(between(without_last), Found::complies);
}

/// Feet as printed: "4.5".
Mils feet(const std::string& printed) { return static_cast<Mils>(std::stod(printed) * 12'000); }

/// The unsecured length that a printed condition names: "unsecured length to 6 ft: ..."; 0 where it names
/// none.
Mils unsecured(const std::string& condition) {
  constexpr std::string_view words = "length to ";
  const auto at = condition.find(words);
  return at == std::string::npos ? 0 : feet(condition.substr(at + words.size()));
}

/// The datum of a document that a printed condition speaks of; none for the general rule.
std::string datum_of(const std::string& condition) {
  for (const auto& [words, datum] : {std::pair{"luminaire", "ceiling-whip"},
                                     {"flexibility", "flexibility-needed"},
                                     {"fastening point", "no-fastening-point"},
                                     {"straight runs with threaded couplings", "threaded-couplings"}}) {
    if (condition.find(words) != std::string::npos) return datum;
  }
  return {};
}

void judge_row(Strapped r, Mils end, Mils apart, Mils free) {
  if (apart != 0) {
    const Mils near = end == 0 ? 1_ft : end;
    r.length = 2 * near + apart;
    r.straps = {near, near + apart};
    EXPECT_EQ(between(r), Found::complies);
    r.straps.back() += just_more;
    EXPECT_EQ(between(r), Found::violates);
  }
  if (end != 0) {
    r.length = 2 * end + 3_ft;
    r.straps = {end, end + 3_ft};
    EXPECT_EQ(at_ends(r), Found::complies);
    r.straps.front() += just_more;
    EXPECT_EQ(at_ends(r), Found::violates);
  }
  if (free != 0) {
    r.length = free + 1_ft;
    r.straps = {1_ft};
    EXPECT_EQ(at_ends(r), Found::complies);
    r.length += just_more;
    EXPECT_EQ(at_ends(r), Found::violates);
  }
}

// Each row that was read: its source stands in data/raceway_support.csv, and in full in
// data/tables-sources.md.
TEST(PublishedSupport, EveryRowThatWasRead) {
  const std::map<std::string, std::vector<std::string>> types = {{"PVC", {"PVC-40", "PVC-80"}},
                                                                 {"LFNC", {"LFNC-A", "LFNC-B", "LFNC-C"}}};
  std::size_t rows = 0;
  for (const Row& row : rows_of("raceway_support.csv")) {
    if (row.at("basis") != "READ") continue;
    ++rows;
    const auto known = types.find(row.at("raceway"));
    const bool all = row.at("trade_size_range") == "all";
    const std::string &spacing = row.at("max_support_spacing_ft"),
                      &end = row.at("max_distance_to_box_or_termination_ft");
    Strapped r;
    if (const std::string datum = datum_of(row.at("condition")); !datum.empty()) {
      r.says = {{datum, "yes"}};
      if (datum == "no-fastening-point") r.says["unbroken"] = "yes";
    }
    for (const std::string& type : known == types.end() ? std::vector{row.at("raceway")} : known->second) {
      for (const std::string& size :
           all ? std::vector<std::string>{"1/2", "2"} : std::vector{row.at("trade_size_range")}) {
        SCOPED_TRACE(type + " " + size + ", " + row.at("source"));
        r.type = type;
        r.size = size;
        judge_row(r, end.empty() ? 0 : feet(end), spacing.empty() ? 0 : feet(spacing),
                  unsecured(row.at("condition")));
      }
    }
  }
  EXPECT_GT(rows, 30U);
}

}  // namespace
}  // namespace raceward::published
