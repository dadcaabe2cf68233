// How verdicts come about: comparing at the limit, and values that are missing.
#include <gtest/gtest.h>

#include <algorithm>
#include <set>
#include <string_view>
#include <vector>

#include "raceward/engine.hpp"

namespace {

using namespace raceward;

/// A context of two figures.
class Two final : public Context {
 public:
  Two(Reading measured, Reading limit) : readings_{measured, limit} {}
  [[nodiscard]] Subject subject() const override { return {}; }
  [[nodiscard]] Reading figure(std::uint32_t position) const override { return readings_[position]; }
  [[nodiscard]] Reading parameter(std::uint32_t position) const override { return readings_[position]; }
  [[nodiscard]] MissingId both(MissingId a, MissingId b) const override { return a * 10 + b; }

 private:
  Reading readings_[2];
};

Reading known(std::int64_t count, Unit unit = Unit::inch) { return {{count, unit}, 0, no_citation, {}}; }
Reading missing(MissingId id) { return {{0, Unit::inch}, id, no_citation, {}}; }

TEST(Verdict, AtMostHoldsAtTheLimitAndFailsOneStepBeyond) {
  const auto judged = [](std::int64_t measured) {
    return Two(known(measured), known(100)).at_most(0u, 1u, 3);
  };
  EXPECT_EQ(judged(99).outcome, Outcome::complies);
  EXPECT_EQ(judged(100).outcome, Outcome::complies);
  EXPECT_EQ(judged(101).outcome, Outcome::violates);
  EXPECT_EQ(judged(101).message, 3u);
  EXPECT_EQ(judged(101).measured.amount.count, 101);
  EXPECT_EQ(judged(101).limit.amount.count, 100);
}

TEST(Verdict, AtLeastHoldsAtTheLimitAndFailsOneStepBelow) {
  const auto judged = [](std::int64_t measured) { return Two(known(measured), known(100)).at_least(0u, 1u); };
  EXPECT_EQ(judged(101).outcome, Outcome::complies);
  EXPECT_EQ(judged(100).outcome, Outcome::complies);
  EXPECT_EQ(judged(99).outcome, Outcome::violates);
}

TEST(Verdict, AValueThatIsMissingIsNeverCompliance) {
  const Verdict measured = Two(missing(1), known(100)).at_most(0u, 1u);
  EXPECT_EQ(measured.outcome, Outcome::undetermined);
  EXPECT_EQ(measured.missing, 10u);
  const Verdict limit = Two(known(1), missing(2)).at_least(0u, 1u);
  EXPECT_EQ(limit.outcome, Outcome::undetermined);
  EXPECT_EQ(limit.missing, 2u);
  EXPECT_EQ(Two(missing(1), missing(2)).at_most(0u, 1u).missing, 12u);
}

TEST(Verdict, UnitsOfOneDimensionCompareAndOthersMakeNoSense) {
  EXPECT_EQ(Two(known(5, Unit::foot), known(6, Unit::inch)).at_most(0u, 1u).outcome, Outcome::complies);
  const Verdict nonsense = Two(known(5, Unit::foot), known(6, Unit::degree)).at_most(0u, 1u);
  EXPECT_EQ(nonsense.outcome, Outcome::undetermined);
  EXPECT_EQ(nonsense.missing, 0u);  // the checker reads it as a fault of the rule
}

TEST(Verdict, WhatIsGivenNeedNotBeAskedFor) {
  const auto judged = [](Reading asked, Reading given) {
    return Two(asked, given).provides(0u, 1u, 2).outcome;
  };
  const Reading yes = known(1, Unit::one), no = known(0, Unit::one);
  EXPECT_EQ(judged(yes, yes), Outcome::complies);
  EXPECT_EQ(judged(yes, no), Outcome::violates);
  EXPECT_EQ(judged(no, no), Outcome::not_applicable);
  EXPECT_EQ(judged(no, missing(1)), Outcome::not_applicable);
  EXPECT_EQ(judged(missing(1), yes), Outcome::complies);
  EXPECT_EQ(judged(missing(1), no), Outcome::undetermined);
  EXPECT_EQ(judged(yes, missing(1)), Outcome::undetermined);
  EXPECT_EQ(Two(yes, no).provides(0u, 1u, 2).message, 2u);
}

TEST(Verdict, ADefaultVerdictIsUndetermined) { EXPECT_EQ(Verdict{}.outcome, Outcome::undetermined); }

TEST(ShippedRules, AreSortedAndComplete) {
  const std::vector<const Rule*> rules = shipped_rules();
  ASSERT_FALSE(rules.empty());
  EXPECT_TRUE(
      std::is_sorted(rules.begin(), rules.end(), [](const Rule* a, const Rule* b) { return a->id < b->id; }));
  std::set<std::string_view> ids;
  for (const Rule* rule : rules) {
    SCOPED_TRACE(rule->id);
    EXPECT_TRUE(ids.insert(rule->id).second);
    EXPECT_FALSE(rule->title.empty());
    EXPECT_FALSE(rule->why.empty());
    EXPECT_FALSE(rule->cure.empty());
    EXPECT_FALSE(rule->messages.empty());
    EXPECT_NE(rule->judge, nullptr);
    for (const std::string_view message : rule->messages) {
      const bool names_it = message.find("{where}") != std::string_view::npos ||
                            message.find("{place}") != std::string_view::npos;
      EXPECT_TRUE(names_it) << message;
    }
  }
}

TEST(ShippedRules, NeverComplyWhereEverythingIsMissing) {
  /// Every figure and parameter is missing.
  class Nothing final : public Context {
   public:
    explicit Nothing(Subject subject) : subject_(subject) {}
    [[nodiscard]] Subject subject() const override { return subject_; }
    [[nodiscard]] Reading figure(std::uint32_t) const override { return missing(1); }
    [[nodiscard]] Reading parameter(std::uint32_t) const override { return missing(1); }
    [[nodiscard]] MissingId both(MissingId a, MissingId) const override { return a; }

   private:
    Subject subject_;
  };
  for (const Rule* rule : shipped_rules()) {
    const bool any_place = rule->subject == SubjectKind::place;
    const Verdict v = rule->judge(Nothing({any_place ? SubjectKind::box : rule->subject, 0}));
    EXPECT_EQ(v.outcome, Outcome::undetermined) << rule->id;
    EXPECT_NE(v.missing, 0u) << rule->id;
  }
}

}  // namespace
