// What must hold of every quantity: what is printed reads back, units agree, sums and products keep their
// laws.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <random>
#include <vector>

#include "raceward/quantity.hpp"

namespace {

using namespace raceward;

constexpr int rounds = 20'000;
constexpr std::int64_t far = 70'000'000'000'000;  // steps, well within what may be read

std::vector<Unit> units() {
  std::vector<Unit> out;
  for (int i = 0; i <= static_cast<int>(Unit::milliohm); ++i) out.push_back(static_cast<Unit>(i));
  return out;
}

TEST(QuantityProperties, WhatIsPrintedExactlyReadsBack) {
  std::mt19937_64 random(1);
  std::uniform_int_distribution<std::int64_t> counts(-far, far);
  const std::vector<Unit> all = units();
  int exact = 0;
  for (int i = 0; i < rounds; ++i) {
    // Round counts are the ones that have a finite decimal in inches as well.
    const std::int64_t grain = std::int64_t{1} << (random() % 20) * (random() % 2);
    const Amount amount{counts(random) / grain * grain * static_cast<std::int64_t>(1 + random() % 2 * 126),
                        all[random() % all.size()]};
    if (!decimal_is_exact(amount)) continue;
    ++exact;
    const auto back = parse_amount(text_of(amount), dimension_of(amount.unit));
    ASSERT_TRUE(back) << text_of(amount) << ": " << back.error().what;
    EXPECT_EQ(*back, amount) << text_of(amount);
  }
  EXPECT_GT(exact, rounds / 10);
}

TEST(QuantityProperties, InchesFeetAndMillimetresAgree) {
  std::mt19937_64 random(2);
  for (int i = 0; i < rounds; ++i) {
    const auto feet = random() % 1000;
    const auto sixtyfourths = random() % (12 * 64);
    const auto whole = sixtyfourths / 64, rest = sixtyfourths % 64;
    const auto mixed = parse_length(fmt::format("{}ft {} {}/64in", feet, whole, rest));
    ASSERT_TRUE(mixed);
    // 1/64 in is 0.396875 mm exactly.
    const auto micro = (feet * 12 * 64 + sixtyfourths) * 396'875;  // in nanometres
    const auto metric = parse_length(fmt::format("{}.{:06}mm", micro / 1'000'000, micro % 1'000'000));
    ASSERT_TRUE(metric);
    EXPECT_EQ(*mixed, *metric);
  }
}

TEST(QuantityProperties, SumsKeepTheirLaws) {
  std::mt19937_64 random(3);
  std::uniform_int_distribution<std::int64_t> counts(-far, far);
  for (int i = 0; i < rounds; ++i) {
    const Length a = Length::steps(counts(random)), b = Length::steps(counts(random)),
                 c = Length::steps(counts(random));
    EXPECT_EQ(a + b, b + a);
    EXPECT_EQ((a + b) + c, a + (b + c));
    EXPECT_EQ(a - a, Length{});
    EXPECT_EQ(a + b - b, a);
    EXPECT_EQ(a * 3, a + a + a);
    EXPECT_EQ(a<b, b> a);
    EXPECT_EQ(a < b, a + c < b + c);
  }
}

TEST(QuantityProperties, SaturationNeverTurnsTheOrderRound) {
  std::mt19937_64 random(4);
  for (int i = 0; i < rounds; ++i) {
    const Length a = Length::steps(static_cast<std::int64_t>(random())),
                 b = Length::steps(static_cast<std::int64_t>(random()) & INT64_MAX);
    EXPECT_GE(a + b, a);
    EXPECT_LE(a - b, a);
  }
}

TEST(QuantityProperties, ProductsNeverExceedTheTrueOnes) {
  std::mt19937_64 random(5);
  for (int i = 0; i < rounds; ++i) {
    const Length a = Length::steps(static_cast<std::int64_t>(random() % 100'000'000'000'000)),
                 b = Length::steps(static_cast<std::int64_t>(random() % 100'000'000'000'000));
    const Area area = a * b;
    EXPECT_EQ(area, b * a);
    // An area's step is 1e10 square steps of length.
    const wide_int product = wide_int{a.count()} * b.count();
    const wide_int held = wide_int{area.count()} * 10'000'000'000;
    EXPECT_LE(held, product);
    EXPECT_LT(product - held, 10'000'000'000);
  }
}

TEST(QuantityProperties, ScaledComparisonAgreesWithTheSigns) {
  std::mt19937_64 random(6);
  std::uniform_int_distribution<std::int64_t> counts(1, far);
  for (int i = 0; i < rounds; ++i) {
    const Area a = Area::steps(counts(random)), b = Area::steps(counts(random));
    const Number factor = Number::steps(static_cast<std::int64_t>(random() % 3'000'000'000));
    const auto order = compare_scaled(a, factor, b);
    // The same by long division: a x 1e9 = q x b + r, so a is above factor x b where q is above, or equal
    // with a rest.
    const wide_int q = wide_int{a.count()} * 1'000'000'000 / b.count();
    const wide_int r = wide_int{a.count()} * 1'000'000'000 % b.count();
    const auto expected = q > factor.count() || (q == factor.count() && r > 0) ? std::strong_ordering::greater
                          : q == factor.count()                                ? std::strong_ordering::equal
                                                                               : std::strong_ordering::less;
    EXPECT_EQ(order, expected);
  }
}

// Units are types: none of these may compile.
template <class A, class B>
concept Addable = requires(A a, B b) {
  a + b;
};
template <class A, class B>
concept Comparable = requires(A a, B b) {
  a < b;
};
template <class A, class B>
concept Multipliable = requires(A a, B b) {
  a* b;
};
static_assert(Addable<Length, Length> && !Addable<Length, Angle> && !Addable<Length, int> &&
              !Addable<Area, Length>);
static_assert(Comparable<Volume, Volume> && !Comparable<Volume, Area> && !Comparable<Current, int>);
static_assert(Multipliable<Length, Length> && Multipliable<Area, Length> && !Multipliable<Volume, Length> &&
              !Multipliable<Current, Current> && !Multipliable<Length, double>);

}  // namespace
