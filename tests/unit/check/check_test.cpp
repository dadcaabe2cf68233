// A whole check over an installation built in code: findings, ledger, what was not checked, exit status.
#include <gtest/gtest.h>

#include <algorithm>
#include <set>
#include <stdexcept>
#include <tuple>

#include "support/check_text.hpp"
#include "unit/check/studio.hpp"

namespace {

using namespace raceward;
using namespace raceward::test;

Verdict judge_length(const Context& c) { return c.at_most(c.figure(0), c.parameter(0)); }

/// Why something was not checked; empty where the report does not name it.
std::string why(const Report& report, std::string_view what) {
  for (const NotChecked& entry : report.not_checked) {
    if (entry.what == what) return entry.why;
  }
  return {};
}

TEST(Check, SaysWhatCompliesAndWhatIsMissing) {
  const Rule rule = length_rule(judge_length);
  const Report report = check_with(rule, studio());
  const LedgerLine line = ledger(report, "length");
  EXPECT_EQ(line.complies, 1u);
  EXPECT_EQ(line.undetermined, 1u);
  EXPECT_EQ(line.violates + line.not_applicable, 0u);
  ASSERT_EQ(report.findings.size(), 1u);
  const Finding& f = report.findings[0];
  EXPECT_EQ(f.kind, Finding::Kind::undetermined);
  EXPECT_EQ(f.subject, "R2");
  EXPECT_EQ(f.where, "raceway R2, box B1 to box B2");
  EXPECT_FALSE(f.needs.empty());
  for (const Need& need : f.needs) {
    EXPECT_EQ(need.element, "raceway R2");
    EXPECT_FALSE(need.datum.empty());
    EXPECT_FALSE(need.expects.empty());
    EXPECT_FALSE(need.who.empty());
  }
  EXPECT_EQ(exit_status(report), 2);
  EXPECT_EQ(exit_status(report, true), 0);
}

TEST(Check, AViolationHasPlaceArithmeticSectionsAndCure) {
  Sketch s = studio();
  s.in.model.raceways[0].length = feet(7);
  const Rule rule = length_rule(judge_length);
  const Report report = check_with(rule, s);
  const Finding* f = finding(report, "length", "R1");
  ASSERT_NE(f, nullptr);
  EXPECT_EQ(f->kind, Finding::Kind::violates);
  EXPECT_EQ(f->place.file, "studio.xml");
  EXPECT_EQ(f->place.line, 5u);  // after three places on lines of their own
  EXPECT_EQ(f->message, "raceway R1, panel P1 to box B1, is 7 ft long, and at most 6 ft is allowed");
  ASSERT_EQ(f->cites.size(), 2u);
  EXPECT_EQ(f->cites[0].section, "1");
  EXPECT_EQ(f->cites[1].section, "2");
  EXPECT_FALSE(f->working.empty());
  EXPECT_EQ(f->cure, "Make it shorter.");
  EXPECT_TRUE(f->needs.empty());
  EXPECT_EQ(exit_status(report), 1);
}

TEST(Check, AnAdvisedRuleMakesNoViolation) {
  Sketch s = studio();
  s.in.model.raceways[0].length = feet(7);
  s.in.model.raceways[1].length = feet(1);
  const Rule rule = length_rule(judge_length);
  const Report report = check_with(rule, s, RuleSetting::Force::advised);
  ASSERT_EQ(report.findings.size(), 1u);
  EXPECT_EQ(report.findings[0].kind, Finding::Kind::advised);
  EXPECT_EQ(exit_status(report), 0);
}

TEST(Check, ALedgerWithoutFindingsCountsTheSame) {
  const Rule rule = length_rule(judge_length);
  const Sketch s = studio();
  CheckOptions options;
  options.extra_rules = {&rule};
  options.detail = Detail::counts;
  const Report report = check(s.in, law_of({"length"}), options);
  EXPECT_TRUE(report.findings.empty());
  EXPECT_EQ(ledger(report, "length").undetermined, 1u);
}

TEST(Check, VerdictsAloneAreThoseOfTheWholeReport) {
  Sketch s = studio();
  s.in.model.raceways[0].length = feet(7);
  const Rule rule = length_rule(judge_length);
  CheckOptions options;
  options.extra_rules = {&rule};
  const Report whole = check(s.in, law_of({"length"}), options);
  options.detail = Detail::verdicts;
  const Report alone = check(s.in, law_of({"length"}), options);
  ASSERT_EQ(alone.findings.size(), 2u);
  ASSERT_EQ(whole.findings.size(), 2u);
  for (std::size_t i = 0; i < 2; ++i) {
    const Finding& a = alone.findings[i];
    const Finding& w = whole.findings[i];
    EXPECT_EQ(std::tie(a.rule, a.kind, a.subject, a.place.line, a.place.column, a.has_measured,
                       a.measured.count, a.has_limit, a.limit.count),
              std::tie(w.rule, w.kind, w.subject, w.place.line, w.place.column, w.has_measured,
                       w.measured.count, w.has_limit, w.limit.count));
    EXPECT_EQ(a.message + a.where + a.cure, "");
    EXPECT_TRUE(a.working.empty() && a.needs.empty() && a.cites.empty());
  }
  EXPECT_EQ(why(alone, "all else"), "verdicts alone were asked for: what they leave out is not told");
}

TEST(Check, ARuleThatThrowsCostsItsSubjectsAndNothingElse) {
  const Rule rule = length_rule([](const Context& c) -> Verdict {
    if (c.subject().index == 1) throw std::runtime_error("lost");
    return judge_length(c);
  });
  const Report report = check_with(rule, studio());
  EXPECT_EQ(ledger(report, "length").complies, 1u);
  EXPECT_EQ(ledger(report, "length").undetermined, 1u);
  EXPECT_TRUE(report.findings.empty());
  EXPECT_NE(why(report, "rule length").find("it threw: lost"), std::string::npos);
  EXPECT_EQ(exit_status(report), 2);
}

TEST(Check, NonsenseIsUndeterminedWhateverTheRuleCallsIt) {
  const auto undetermined = [](Verdict (*judge)(const Context&)) {
    const Rule rule = length_rule(judge);
    const Report report = check_with(rule, studio());
    EXPECT_TRUE(report.findings.empty());
    EXPECT_NE(why(report, "rule length").find("fault of the rule"), std::string::npos);
    return ledger(report, "length").undetermined;
  };
  EXPECT_EQ(undetermined([](const Context&) { return Verdict{}; }), 2u);                    // no missing fact
  EXPECT_EQ(undetermined([](const Context&) { return Context::undetermined(9999); }), 2u);  // of nobody
  EXPECT_EQ(undetermined([](const Context& c) { return c.at_most(7u, 0u); }), 2u);          // not in its list
  EXPECT_EQ(undetermined([](const Context& c) { return Context::violates(5, c.parameter(0)); }), 2u);
}

TEST(Check, ComplianceOverAMissingValueIsUndetermined) {
  const Rule rule =
      length_rule([](const Context& c) { return Context::complies(c.figure(0), c.parameter(0)); });
  const Report report = check_with(rule, studio());
  EXPECT_EQ(ledger(report, "length").complies, 1u);
  EXPECT_EQ(ledger(report, "length").undetermined, 1u);
}

TEST(Check, ARuleThatCannotBeAskedLeavesAllItsSubjectsUndetermined) {
  static constexpr std::string_view no_figure[] = {"no-such-figure"};
  Rule rule = length_rule(judge_length);
  rule.figures = no_figure;
  const Report report = check_with(rule, studio());
  EXPECT_EQ(ledger(report, "length").undetermined, 2u);
  EXPECT_NE(why(report, "rule length").find("no-such-figure"), std::string::npos);

  Rule unset = length_rule(judge_length);
  unset.parameters = no_figure;
  EXPECT_NE(why(check_with(unset, studio()), "rule length").find("test-2020 does not set"),
            std::string::npos);
}

TEST(Check, ALawThatNamesAnUnknownRuleIsNotPassedOver) {
  const Report report = check(studio().in, law_of({"nobody-has-it"}), {});
  EXPECT_EQ(ledger(report, "nobody-has-it").undetermined, 1u);
  EXPECT_EQ(exit_status(report), 2);
}

TEST(Check, NamesTheRulesThatMetNothingOrAreNotUsed) {
  Rule rule = length_rule([](const Context&) { return Context::not_applicable(0); });
  static constexpr std::string_view reasons[] = {"nothing is to be measured"};
  rule.reasons = reasons;
  Report report = check_with(rule, studio());
  EXPECT_EQ(ledger(report, "length").not_applicable, 2u);
  EXPECT_EQ(why(report, "rule length"), "did not apply to any of 2 raceways: nothing is to be measured");
  EXPECT_EQ(why(report, "rule raceway-fill"), "ruleset test-2020 does not use it");

  rule.subject = SubjectKind::joint;
  rule.figures = {};
  report = check_with(rule, studio());
  EXPECT_EQ(why(report, "rule length"), "there are no joints here");
  EXPECT_EQ(exit_status(report), 2) << "nothing was judged, which is no pass";

  report = check_with(rule, studio(), RuleSetting::Force::off);
  EXPECT_EQ(why(report, "rule length"), "ruleset test-2020 switches it off");
  EXPECT_TRUE(report.ledger.empty());
}

TEST(Check, TheSecondRuleOfAnIdIsLeftOutAndNamed) {
  const Rule one = length_rule(judge_length), two = length_rule(judge_length);
  CheckOptions options;
  options.extra_rules = {&one, &two};
  const Report report = check(studio().in, law_of({"length"}), options);
  EXPECT_EQ(report.ledger.size(), 1u);
  EXPECT_NE(why(report, "rule length").find("second was left out"), std::string::npos);
}

TEST(Check, CautionsStandInEveryReportAndTellWhatRestsOnMemory) {
  const Rule rule = length_rule(judge_length);
  const Sketch s = studio();
  CheckOptions options;
  options.extra_rules = {&rule};
  Law law = law_of({"length"});
  const std::size_t usual = check(s.in, law, options).cautions.size();
  EXPECT_GE(usual, 3u);
  law.citations[1] = citation("2", Basis::memory);
  const Report report = check(s.in, law, options);
  ASSERT_EQ(report.cautions.size(), usual + 1);
  EXPECT_NE(report.cautions.back().find("1 of the 2 entries"), std::string::npos);
}

TEST(Check, TellsTheLogWhatItDid) {
  std::vector<std::string> lines;
  CheckOptions options;
  options.log = [&](int, std::string_view line) { lines.emplace_back(line); };
  check(studio().in, law_of({"nobody-has-it"}), options);
  EXPECT_TRUE(std::any_of(lines.begin(), lines.end(), [](const std::string& line) {
    return line.find("rule nobody-has-it was not asked") != std::string::npos;
  }));
}

TEST(Figures, AreListedForAuthorsOfRules) {
  const std::vector<FigureInfo> all = all_figures();
  std::set<std::string> names;
  for (const FigureInfo& info : all) {
    names.insert(info.name);
    EXPECT_FALSE(info.about.empty()) << info.name;
  }
  EXPECT_EQ(names.size(), all.size());
  for (const Rule* rule : shipped_rules()) {
    for (const std::string_view name : rule->figures) EXPECT_EQ(names.count(std::string(name)), 1u) << name;
  }
  const auto length = std::find_if(all.begin(), all.end(),
                                   [](const FigureInfo& info) { return info.name == "raceway-length"; });
  ASSERT_NE(length, all.end());
  EXPECT_EQ(length->subject, SubjectKind::raceway);
  EXPECT_EQ(length->unit, Unit::inch);
}

TEST(Figures, CoverEverySubjectWithArithmeticOrWhatIsMissing) {
  const Sketch s = studio();
  const Law law = law_of(std::vector<std::string>{});
  std::size_t lengths = 0;
  for (const FigureLine& line : figures(s.in, law)) {
    EXPECT_EQ(line.known, line.needs.empty()) << line.figure << " of " << line.subject;
    EXPECT_EQ(line.known, !line.shown.empty()) << line.figure << " of " << line.subject;
    if (line.figure != "raceway-length") continue;
    ++lengths;
    EXPECT_EQ(line.known, line.subject == "R1");
    EXPECT_EQ(line.value.count, line.known ? feet(5).count() : 0);
  }
  EXPECT_EQ(lengths, 2u);
}

TEST(Figures, AreLeftOutWhereThereIsNothingToMeasure) {
  const auto names = [](std::string_view inside) {
    const Loaded loaded = load_bytes(
        "<installation xmlns=\"urn:raceward:installation:1\" id=\"i\"><box id=\"B1\"/><box id=\"B2\"/>"
        "<raceway id=\"R1\" type=\"EMT\" trade-size=\"3/4\" from=\"B1\" to=\"B2\">" +
            std::string(inside) + "</raceway></installation>",
        "test.xml");
    std::set<std::string> out;
    for (const FigureLine& line : figures(*loaded.installation, *load_ruleset("nec-2023").law))
      out.insert(line.figure);
    return out;
  };
  const std::set<std::string> straight = names("<straight length=\"5ft\"/><support at=\"1ft\"/>");
  EXPECT_EQ(straight.count("field-bends"), 1u);
  for (const char* none : {"tightest-bend-radius", "support-gap", "pull-dimension", "entry-spacing-needed"})
    EXPECT_EQ(straight.count(none), 0u) << none;
  const std::set<std::string> bent =
      names("<bend angle=\"90deg\" radius=\"5in\"/><support at=\"1in\"/><support at=\"2in\"/>");
  EXPECT_EQ(bent.count("tightest-bend-radius"), 1u);
  EXPECT_EQ(bent.count("support-gap"), 1u);
}

}  // namespace
