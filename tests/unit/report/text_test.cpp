// The report for people.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <sstream>

#include "unit/report/sample.hpp"

namespace {

using namespace raceward;
using namespace raceward::test;
using testing::HasSubstr;
using testing::Not;

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> out;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) out.push_back(line);
  return out;
}

TEST(TextReport, TellsFirstWhatWasCheckedAndHowItCameOut) {
  const auto lines = lines_of(text_report(sample()));
  ASSERT_GT(lines.size(), 6u);
  EXPECT_EQ(lines[2], "installation   studio");
  EXPECT_EQ(lines[3], "file           studio.xml");
  EXPECT_EQ(lines[4], "ruleset        test-2020");
  EXPECT_EQ(lines[5], "result         1 violation, 3 verdicts undetermined, 3 comply, 4 do not apply");
}

TEST(TextReport, AViolationReadsFromPlaceToCure) {
  const std::string text = text_report(sample());
  const auto in_order = {
      " 1  raceway-fill",
      "studio.xml:12:3\n",
      "    Raceway R2, box B1 to box B2, is filled to 43.1 %, and at most 40 % is allowed.\n",
      "    working    conductor area: 5 x 0.0133 in2 = 0.0665 in2\n",
      "    stands on  Test Code-2020: 1; Table 2 [from memory]\n",
      "    cure       Use a larger trade size.\n"};
  std::size_t at = 0;
  for (const char* part : in_order) {
    at = text.find(part, at);
    ASSERT_NE(at, std::string::npos) << part;
  }
}

/// The sample with two more violations, of which one has the cause of the first.
Report sample_of_causes() {
  Report r = sample();
  Finding second = violation(), third = violation();
  r.findings[0].cause = second.cause = 1;
  r.findings[0].subject_place = {"studio.xml", 18, 3};
  second.subject = third.subject = "R3";
  second.where = "raceway R3, box B2 to box B3";
  second.subject_place = {"studio.xml", 15, 3};
  third.place.line = 20;
  r.findings.insert(r.findings.begin() + 1, {second, third});
  r.ledger[2].violates = 3;
  return r;
}

TEST(TextReport, FindingsOfOneCauseAreToldOnceWithAllTheirSubjects) {
  const std::string text = text_report(sample_of_causes());
  EXPECT_THAT(text, HasSubstr("result         3 violations of 2 causes, 3 verdicts undetermined, "));
  EXPECT_THAT(text,
              HasSubstr("    cure       Use a larger trade size.\n"
                        "    concerns   raceway R3, box B2 to box B3 (line 15), raceway R2, box B1 to box "
                        "B2 (line 18)\n\n 2  raceway-fill"));
  EXPECT_THAT(text, HasSubstr("studio.xml:20:3\n"));
  EXPECT_THAT(text, Not(HasSubstr("\n 3  raceway-fill")));
  EXPECT_THAT(text_report(sample()), Not(HasSubstr("concerns")));
}

TEST(TextReport, WhatIsWaivedIsNotCountedWithItsCause) {
  Report r = sample_of_causes();
  r.waivers = waived_sample().waivers;
  r.findings[1].waiver = 1;
  r.ledger[2].waived = 1;
  const std::string text = text_report(r);
  EXPECT_THAT(text, HasSubstr("result         2 violations, 1 finding waived, "));
  EXPECT_THAT(text, Not(HasSubstr("concerns")));
}

TEST(TextReport, WhatIsWaivedStandsByItselfWithWhoAndWhy) {
  const std::string text = text_report(waived_sample());
  EXPECT_THAT(text, HasSubstr("result         1 finding waived, 3 verdicts undetermined, "));
  EXPECT_THAT(text, HasSubstr("This is no approval."));
  EXPECT_THAT(text, Not(HasSubstr("\nVIOLATIONS")));
  const auto in_order = {"\nUNDETERMINED",
                         "\nWAIVED\n",
                         "As of 2026-06-15.",
                         " 1  raceway-fill",
                         "    stands on  Test Code-2020: 1",
                         "    accepted   the inspector, permit 7\n",
                         "    because    a beam\n",
                         "    holds      from 2026-05-01 to 2026-06-15, while it is no worse than 45%\n",
                         "    waiver     studio.xml:30:3\n",
                         "\nLEDGER",
                         "raceway-fill                                       3           1 ",
                         "  of these waived                                              1\n",
                         "\n---",
                         "  of these waived                                              1\n",
                         "\nWAIVERS WITHOUT EFFECT\n",
                         " 1  raceway-fill of R9: unmatched",
                         "studio.xml:31:3\n",
                         "    Rule raceway-fill finds nothing at R9.\n",
                         "\nNOT CHECKED"};
  std::size_t at = 0;
  for (const char* part : in_order) {
    at = text.find(part, at);
    ASSERT_NE(at, std::string::npos) << part << '\n' << text;
  }
  EXPECT_THAT(text_report(sample()), Not(HasSubstr("aive")));
}

TEST(TextReport, AmountsThatTheSentenceDoesNotSayStandBelowIt) {
  Report r = sample();
  EXPECT_THAT(text_report(r), Not(HasSubstr("    measured ")));
  r.findings[0].message = "raceway R2 is too full";
  EXPECT_THAT(text_report(r), HasSubstr("    measured   43.1 %; limit 40 %\n"));
  r.findings[0].has_limit = false;
  EXPECT_THAT(text_report(r), HasSubstr("    measured   43.1 %\n"));
  r.findings[0].measured = {1, Unit::one};  // of a rule that only says yes or no
  EXPECT_THAT(text_report(r), Not(HasSubstr("    measured ")));
}

TEST(TextReport, ASectionThatWasReadInPartOnlySaysSo) {
  Report r = sample();
  std::vector<Citation> cites(r.findings[0].cites.begin(), r.findings[0].cites.end());
  cites[1].basis = Basis::read;
  r.findings[0].cites = cites;
  EXPECT_THAT(text_report(r), HasSubstr("    stands on  Test Code-2020: 1; Table 2 [in part from memory]\n"));
  cites[2].basis = Basis::common_practice;
  r.findings[0].cites = cites;
  EXPECT_THAT(text_report(r), HasSubstr("Table 2 [in part common practice]\n"));
  cites[2].document = "Trade Notes";
  r.findings[0].cites = cites;
  EXPECT_THAT(text_report(r), HasSubstr("    stands on  Test Code-2020: 1; Table 2\n"
                                        "               Trade Notes-2020: Table 2 [common practice]\n"));
}

TEST(TextReport, TellsOnceWhereSectionsOfOneOriginComeFrom) {
  Report r = sample();
  std::vector<Citation> cites = {{"Test Code", "2020", "10", Basis::read, "the code", ""},
                                 {"Test Code", "2020", "9", Basis::read, "the code", ""},
                                 {"Test Code", "2020", "Table 2", Basis::memory, "", ""},
                                 {"Test Code", "2020", "9", Basis::read, "the code", ""}};
  r.findings[0].cites = cites;
  EXPECT_THAT(text_report(r), HasSubstr("Test Code-2020\n"
                                        "  1; 10; 9: Read in the code.\n"
                                        "  Table 2: From memory, proved by no source.\n"));
  cites[1].note = "first row";
  cites[3].note = "second row";
  r.findings[0].cites = cites;
  EXPECT_THAT(text_report(r), HasSubstr("  1; 10: Read in the code.\n"
                                        "  9: Read in the code. First row. Second row.\n"));
}

TEST(TextReport, GroupsWhatIsUndeterminedByTheMissingFactMostWantedFirst) {
  const std::string text = text_report(sample());
  EXPECT_THAT(text, HasSubstr(" 1  <box depth=\"...\">"));
  EXPECT_THAT(text, HasSubstr("3 verdicts wait for it\n    missing at box B1 (line 7), box B2 (line 9)\n"
                              "    write      a length such as 4in\n"
                              "    ask        the installer\n"
                              "    waiting    box-volume: B1, B2\n"
                              "               pull-box-size: B2\n"));
  EXPECT_THAT(text, HasSubstr(" 2  <support>"));
}

TEST(TextReport, SaysWhyWhereTheFactIsThereAndContradictsAnother) {
  Report r = sample();
  r.findings = {
      undetermined("box-volume", "B1", {need_of("volume", "box@volume", "box B1", 7, "too large")})};
  const std::string text = text_report(r);
  EXPECT_THAT(text, HasSubstr("    at         box B1 (line 7)\n    because    too large\n"));
  EXPECT_THAT(text, Not(HasSubstr("missing at")));
}

TEST(TextReport, UndeterminedVerdictsWithoutAFindingAreNotPassedOver) {
  Report r = sample();
  r.findings.clear();
  EXPECT_THAT(text_report(r), HasSubstr("3 verdicts of a rule that could not be asked or that failed"));
}

TEST(TextReport, TheLedgerAddsUp) {
  const auto lines = lines_of(text_report(sample()));
  const auto total =
      std::find_if(lines.begin(), lines.end(), [](const std::string& l) { return l.starts_with("3 rules"); });
  ASSERT_NE(total, lines.end());
  std::istringstream words(total->substr(7));
  std::uint64_t complies = 0, violates = 0, undetermined = 0, not_applicable = 0;
  words >> complies >> violates >> undetermined >> not_applicable;
  EXPECT_EQ(complies, 3u);
  EXPECT_EQ(violates, 1u);
  EXPECT_EQ(undetermined, 3u);
  EXPECT_EQ(not_applicable, 4u);
  EXPECT_THAT(text_report(sample()), HasSubstr("pull-box-size (advised)"));
}

TEST(TextReport, ListsWhatWasNotCheckedByReasonAndKind) {
  EXPECT_THAT(text_report(sample()), HasSubstr("- rule bend-total: ruleset test-2020 does not use it\n"
                                               "- no rule in force reads it:\n"
                                               "    element attest\n"
                                               "    attributes of box: covered, material\n"));
}

TEST(TextReport, EndsWithTheCautions) {
  const std::string text = text_report(sample());
  EXPECT_TRUE(text.ends_with("! Electricity kills.\n"));
}

TEST(TextReport, ACleanReportSaysSoAndStillWarns) {
  Report r = sample();
  r.findings.clear();
  r.ledger = {{"raceway-fill", "", RuleSetting::Force::required, 3, 0, 0, 0}};
  EXPECT_THAT(text_report(r),
              HasSubstr("result         no violation found, 3 comply\n"
                        "               This is no approval. Read what was not checked, below.\n"));
  EXPECT_THAT(text_report(sample()), Not(HasSubstr("This is no approval")))
      << "nobody takes a violation for one";
  EXPECT_THAT(text_report(r), HasSubstr("CAUTIONS"));
  r.ledger.clear();
  EXPECT_THAT(text_report(r), HasSubstr("result         nothing was judged\n"));
}

TEST(TextReport, FitsAPageOfPlainAsciiWhateverItIsToldToPrint) {
  Report r = sample();
  std::string message;
  for (int i = 0; i < 100; ++i) message += "word" + std::to_string(i) + (i % 7 == 0 ? "\n" : "\t");
  r.findings[0].message = message;
  r.findings[0].working.push_back(message);
  r.findings[0].where = "\x1b[31mred\x1b[0m";
  r.findings[0].cure = "\x1b]0;title\x07 \xff\xfe bytes";
  r.not_checked.push_back({"bell\a", message});
  for (const std::string& line : lines_of(text_report(r))) {
    EXPECT_LE(line.size(), 100u) << line;
    for (const char c : line) EXPECT_TRUE(c >= ' ' && c <= '~') << line;
  }
}

TEST(TextReport, LettersOfOtherLanguagesStay) {
  Report r = sample();
  r.findings[0].message = "raceway R1 (caf\u00e9) is full";
  EXPECT_THAT(text_report(r), HasSubstr("Raceway R1 (caf\u00e9) is full."));
}

TEST(TextReport, TellsElementsOfOneNameOnOneLineByTheirColumns) {
  Report r = sample();
  Finding open = r.findings[0];
  open.kind = Finding::Kind::undetermined;
  Need first = need_of("radius", "bend@radius", "bend of raceway R1", 4), second = first;
  first.place.column = 51;
  second.place.column = 90;
  open.needs = {first, second};
  r.findings = {open};
  const std::string text = text_report(r);
  EXPECT_THAT(text, HasSubstr("bend of raceway R1 (line 4, column 51)"));
  EXPECT_THAT(text, HasSubstr("(line 4, column 90)"));
}

TEST(TextFigures, ShowsValuesArithmeticAndWhatIsMissing) {
  FigureLine known;
  known.subject = "R1";
  known.where = "raceway R1, box B1 to box B2";
  known.figure = "raceway-fill";
  known.known = true;
  known.shown = "31.5 %";
  known.working = {"0.0665 in2 / 0.2111 in2 = 31.5 %"};
  FigureLine missing = known;
  missing.figure = "raceway-length";
  missing.known = false;
  missing.needs = {need_of("length", "raceway@length", "raceway R1", 4)};
  const std::string text = text_figures("studio", {known, missing});
  EXPECT_THAT(text, HasSubstr("\nraceway R1, box B1 to box B2\n  raceway-fill                        31.5 %\n"
                              "    0.0665 in2 / 0.2111 in2 = 31.5 %\n"));
  EXPECT_THAT(text, HasSubstr("undetermined: length of raceway R1 is not stated\n"));
  missing.needs = {need_of("length", "saddle@length", "saddle of raceway R1", 4),
                   need_of("length", "saddle@length", "saddle of raceway R1", 6)};
  EXPECT_THAT(text_figures("studio", {missing}), HasSubstr("saddle of raceway R1 is not stated (2"));
}

}  // namespace
