// Waivers: what each silences, and that it silences nothing else.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <string>

#include "support/check_text.hpp"
#include "unit/check/studio.hpp"

namespace {

using namespace raceward;
using namespace raceward::test;
using State = WaiverLine::State;

constexpr std::string_view day = "2026-06-15";

std::string raceway(std::string_view id, std::string_view supports) {
  return fmt::format(
      R"(<box id="B-{0}"/><raceway id="{0}" type="EMT" trade-size="3/4" from="P1" to="B-{0}"><straight length="15ft"/>{1}</raceway>)",
      id, supports);
}

/// R1 hangs free for 13 ft, R2 for 9 ft, of R3 nobody has recorded the supports.
std::string studio_with(const std::string& waivers) {
  return test::installation(raceway("R1", R"(<support at="1ft"/><support at="14ft"/>)") +
                            raceway("R2", R"(<support at="3ft"/><support at="12ft"/>)") + raceway("R3", "") +
                            waivers);
}

std::string waiver(std::string_view of, std::string_view more = {},
                   std::string_view rule = "support-spacing") {
  return fmt::format(
      R"(<waiver rule="{}" of="{}" authority="the inspector" reason="a beam" on="2026-05-01" until="2026-06-15"{}/>)",
      rule, of, more);
}

Report report_with(const std::string& waivers, std::string_view on = day) {
  return check_text(studio_with(waivers), "nec-2023", std::string(on));
}

/// The state of the only waiver; where it does not hold, the finding of R1 must not be waived.
State state_of(const std::string& waivers, std::string_view on = day) {
  const Report report = report_with(waivers, on);
  EXPECT_EQ(report.waivers.size(), 1u);
  if (report.waivers.empty()) return State::unmatched;
  const WaiverLine& w = report.waivers.front();
  const bool holds = w.state == State::holds;
  EXPECT_EQ(w.why.empty(), holds) << w.why;
  const Finding* gap = finding(report, "support-spacing", "R1");
  EXPECT_TRUE(gap != nullptr && gap->waived() == holds);
  EXPECT_EQ(ledger(report, "support-spacing").waived, holds ? 1u : 0u);
  EXPECT_EQ(exit_status(report, true), holds ? 0 : 1);
  return w.state;
}

TEST(Waivers, SilenceOneFindingVisibly) {
  const Report without = report_with(""), with = report_with(waiver("R1"));
  const Finding* gap = finding(with, "support-spacing", "R1");
  ASSERT_NE(gap, nullptr);
  EXPECT_EQ(gap->kind, Finding::Kind::violates);
  ASSERT_EQ(gap->waiver, 1u);
  const WaiverLine& w = with.waivers.at(0);
  EXPECT_EQ(w.rule + " " + w.subject, "support-spacing R1");
  EXPECT_EQ(w.authority + ", " + w.reason, "the inspector, a beam");
  EXPECT_EQ(w.on + " " + w.until, "2026-05-01 2026-06-15");
  EXPECT_GT(w.place.line, 0u);
  EXPECT_EQ(with.on, day);
  ASSERT_EQ(with.ledger.size(), without.ledger.size());
  for (std::size_t i = 0; i < with.ledger.size(); ++i) {
    const LedgerLine &a = with.ledger[i], &b = without.ledger[i];
    EXPECT_EQ(std::tie(a.complies, a.violates, a.undetermined, a.not_applicable),
              std::tie(b.complies, b.violates, b.undetermined, b.not_applicable));
  }
  EXPECT_EQ(exit_status(without, true), 1);
  EXPECT_EQ(exit_status(with, true), 0);
  EXPECT_EQ(exit_status(with), 2) << "what is undetermined stays so";
}

TEST(Waivers, HoldFromTheirFirstDayToTheirLast) {
  EXPECT_EQ(state_of(waiver("R1"), "2026-04-30"), State::not_yet);
  EXPECT_EQ(state_of(waiver("R1"), "2026-05-01"), State::holds);
  EXPECT_EQ(state_of(waiver("R1"), "2026-06-15"), State::holds);
  EXPECT_EQ(state_of(waiver("R1"), "2026-06-16"), State::expired);
}

TEST(Waivers, HoldOnNoDayThatIsNotTold) {
  EXPECT_EQ(state_of(waiver("R1"), ""), State::day_unknown);
  EXPECT_EQ(state_of(waiver("R1"), "2026-06-31"), State::day_unknown);
  EXPECT_EQ(state_of(waiver("R1"), "today"), State::day_unknown);
}

TEST(Waivers, CoverWhatWasAcceptedAndNothingWorse) {
  for (const char* enough : {"13ft", "156in", "13.001ft", "4m"})
    EXPECT_EQ(state_of(waiver("R1", fmt::format(R"( accepts="{}")", enough))), State::holds) << enough;
  for (const char* less : {"12ft", "12.999ft", "13", "13kg", "13 A", "much"})
    EXPECT_EQ(state_of(waiver("R1", fmt::format(R"( accepts="{}")", less))), State::exceeded) << less;
  // A limit from below: what was accepted is the least.
  const auto shallow = [](std::string_view accepts) {
    const std::string panel = fmt::format(
        R"(<panel id="P2" working-depth="34in" opposite="grounded" rating="100A" voltage="120V"/>
<waiver rule="working-space" of="P2" authority="x" reason="y" on="2026-05-01" until="2026-06-15" accepts="{}"/>)",
        accepts);
    const Report report = check_text(test::installation(panel), "nec-2023", std::string(day));
    return report.waivers.at(0).state;
  };
  EXPECT_EQ(shallow("34in"), State::holds);
  EXPECT_EQ(shallow("33in"), State::holds);
  EXPECT_EQ(shallow("35in"), State::exceeded);
}

TEST(Waivers, HideNothingThatIsUndetermined) {
  EXPECT_EQ(state_of(waiver("R3")), State::undetermined);
  const Report with = report_with(waiver("R3"));
  const Finding* open = finding(with, "support-spacing", "R3");
  ASSERT_NE(open, nullptr);
  EXPECT_FALSE(open->waived());
  EXPECT_EQ(ledger(with, "support-spacing").undetermined, 1u);
}

TEST(Waivers, ThatMatchNothingAreTold) {
  EXPECT_EQ(state_of(waiver("R2")), State::unmatched);  // it complies
  EXPECT_EQ(state_of(waiver("P1")), State::unmatched);
  EXPECT_EQ(state_of(waiver("R2"), "2030-01-01"), State::unmatched) << "whatever the day";
  EXPECT_EQ(state_of(waiver("R1", "", "suport-spacing")), State::unknown_rule);
  const std::string why = report_with(waiver("R1", "", "suport-spacing")).waivers.at(0).why;
  EXPECT_NE(why.find("did you mean \"support-spacing\"?"), std::string::npos) << why;
  EXPECT_EQ(state_of(waiver("R1", "", "something-else-altogether")), State::unknown_rule);
}

TEST(Waivers, NeedNoFindingsInTheReport) {
  const Loaded loaded = load_bytes(studio_with(waiver("R1")), "test.xml");
  const LoadedLaw law = load_ruleset("nec-2023");
  ASSERT_TRUE(loaded.installation && law.law);
  CheckOptions how;
  how.on = day;
  how.detail = Detail::counts;
  const Report report = check(*loaded.installation, *law.law, how);
  EXPECT_TRUE(report.findings.empty());
  EXPECT_EQ(ledger(report, "support-spacing").waived, 1u);
  EXPECT_EQ(exit_status(report, true), 0);
}

Sketch small_with(std::string_view rule, std::string_view of) {
  Sketch s = test::studio();
  s.in.model.waivers.push_back({5, rule, of, "the inspector", "a beam", "2026-05-01", "2026-06-15", {}});
  return s;
}

State state_in(const Sketch& s, const Rule& rule, RuleSetting::Force force) {
  CheckOptions how;
  how.extra_rules = {&rule};
  how.on = day;
  const Report report = check(s.in, law_of({std::string(rule.id)}, force), how);
  EXPECT_EQ(report.waivers.size(), 1u);
  return report.waivers.empty() ? State::unmatched : report.waivers.front().state;
}

TEST(Waivers, OfWhatIsOnlyAdvisedAndOfRulesThatAreOff) {
  Rule rule = length_rule([](const Context& c) {
    Verdict v = c.at_most(c.figure(0), c.parameter(0));
    v.outcome = Outcome::violates;
    return v;
  });
  const Sketch s = small_with(rule.id, "R1");
  EXPECT_EQ(state_in(s, rule, RuleSetting::Force::advised), State::holds);
  EXPECT_EQ(state_in(s, rule, RuleSetting::Force::required), State::holds);
  EXPECT_EQ(state_in(s, rule, RuleSetting::Force::off), State::unmatched);
}

TEST(Waivers, OfARuleThatGoesWrongWaiveNothing) {
  Rule rule = length_rule([](const Context&) -> Verdict { throw 1; });
  EXPECT_EQ(state_in(small_with(rule.id, "R1"), rule, RuleSetting::Force::required), State::undetermined);
}

}  // namespace
