// Sums, comparisons, saturation, and what must not compile.
#include <gtest/gtest.h>

#include <limits>

#include "raceward/quantity.hpp"

namespace raceward {
namespace {

constexpr auto largest = std::numeric_limits<std::int64_t>::max();
constexpr auto smallest = std::numeric_limits<std::int64_t>::min();

template <class A, class B>
concept Adds = requires(A a, B b) {
  a + b;
};
template <class A, class B>
concept Subtracts = requires(A a, B b) {
  a - b;
};
template <class A, class B>
concept AddsTo = requires(A a, B b) {
  a += b;
};
template <class A, class B>
concept Multiplies = requires(A a, B b) {
  a* b;
};
template <class A, class B>
concept Equates = requires(A a, B b) {
  a == b;
};
template <class A, class B>
concept Orders = requires(A a, B b) {
  a < b;
};
template <class A, class B>
concept ScalesTo = requires(A a, B b) {
  compare_scaled(a, Number{}, b);
};
template <class A, class B>
concept Divides = requires(A a, B b) {
  ratio(a, b);
};
template <class A>
concept CountsInches = requires(A a) {
  inches(a);
};

// What must compile, so that the refusals below are not refusals of everything.
static_assert(Adds<Length, Length> && Subtracts<Angle, Angle> && AddsTo<Volume, Volume>);
static_assert(Equates<Length, Length> && Orders<Length, Length> && ScalesTo<Area, Area> &&
              Divides<Area, Area>);
static_assert(Multiplies<Length, Length> && Multiplies<Area, Length> && Multiplies<Voltage, Current>);
static_assert(Multiplies<Length, int> && Multiplies<int, Length> && CountsInches<int>);

static_assert(!Adds<Length, Angle> && !Adds<Length, Area> && !Adds<Area, Volume> && !Adds<Number, Length>);
static_assert(!Subtracts<Length, Angle> && !AddsTo<Length, Angle> && !AddsTo<Length, int>);
static_assert(!Adds<Length, int> && !Adds<int, Length>);
static_assert(!Orders<Length, int> && !Orders<int, Length> && !Equates<Length, int> &&
              !Equates<Length, double>);
static_assert(!Orders<Length, Angle> && !Equates<Length, Angle> && !Orders<Current, Voltage>);
static_assert(!Orders<Number, int> && !Equates<Number, double>);
static_assert(!ScalesTo<Length, Area> && !Divides<Length, Area>);
static_assert(!Multiplies<Area, Area> && !Multiplies<Length, Angle> && !Multiplies<Current, Current>);
static_assert(!Multiplies<Length, double> && !Multiplies<double, Length> && !CountsInches<double>);
static_assert(!Adds<Amount, Amount> && !Adds<Amount, Length> && !Orders<Amount, Amount>);
static_assert(!Equates<Amount, Length> && !Equates<Amount, std::int64_t> && !Multiplies<Amount, int>);
static_assert(!std::is_convertible_v<std::int64_t, Length> && !std::is_constructible_v<Length, std::int64_t>);
static_assert(!std::is_convertible_v<Length, std::int64_t> && !std::is_convertible_v<Length, Area>);
static_assert(!std::is_convertible_v<Length, Amount> && !std::is_convertible_v<Amount, Length>);

static_assert(inches(12) == feet(1));
static_assert(inches(36) > millimetres(914) && inches(36) < millimetres(915));
static_assert(sizeof(Length) == sizeof(std::int64_t));

TEST(Quantity, AddsSubtractsAndScales) {
  EXPECT_EQ(feet(3) + inches(6), inches(42));
  EXPECT_EQ(feet(3) - inches(42), -inches(6));
  EXPECT_EQ(inches(6) * 7, inches(42));
  EXPECT_EQ(7 * inches(6), inches(42));
  Length sum;
  sum += feet(1);
  sum -= inches(2);
  EXPECT_EQ(sum, inches(10));
}

TEST(Quantity, DecidesAtTheLimit) {
  const Length limit = inches(36);
  EXPECT_FALSE(*parse_length("36in") > limit);
  EXPECT_FALSE(*parse_length("914.4mm") > limit);
  EXPECT_FALSE(*parse_length("3ft") > limit);
  EXPECT_TRUE(*parse_length("36.001in") > limit);
  EXPECT_TRUE(*parse_length("914.400000001mm") > limit);
  EXPECT_FALSE(*parse_length("914.399999999mm") > limit);
  // In binary floating point 0.1 + 0.2 exceeds 0.3.
  EXPECT_EQ(*parse_length("0.1in") + *parse_length("0.2in"), *parse_length("0.3in"));
}

TEST(Quantity, SaturatesAndNeverWraps) {
  const Length top = Length::steps(largest);
  const Length bottom = Length::steps(-largest);
  EXPECT_EQ(top + top, top);
  EXPECT_EQ(top + Length::steps(1), top);
  EXPECT_EQ(bottom + bottom, bottom);
  EXPECT_EQ(bottom - top, bottom);
  EXPECT_EQ(top - bottom, top);
  EXPECT_EQ(top * largest, top);
  EXPECT_EQ(top * -largest, bottom);
  EXPECT_EQ(top * 0, Length{});
  EXPECT_EQ(-Length::steps(smallest), top);
  EXPECT_EQ(Length::steps(smallest) + Length{}, bottom);
  EXPECT_EQ(Length::steps(smallest) * smallest, top);
}

TEST(Quantity, WholeUnitsSaturateToo) {
  EXPECT_EQ(inches(largest).count(), largest);
  EXPECT_EQ(feet(smallest).count(), -largest);
  EXPECT_EQ(number(std::numeric_limits<std::uint64_t>::max()).count(), largest);
  EXPECT_EQ(degrees(-9'000'000'000'000).count(), -9'000'000'000'000'000'000);
}

TEST(CompareScaled, DecidesExactlyAtTheFactor) {
  const Number two_fifths = *parse_number("40%");
  EXPECT_EQ(compare_scaled(*parse_area("0.4in2"), two_fifths, *parse_area("1in2")),
            std::strong_ordering::equal);
  EXPECT_EQ(compare_scaled(*parse_area("0.400001in2"), two_fifths, *parse_area("1in2")),
            std::strong_ordering::greater);
  EXPECT_EQ(compare_scaled(*parse_area("0.399999in2"), two_fifths, *parse_area("1in2")),
            std::strong_ordering::less);
  EXPECT_EQ(compare_scaled(Length::steps(largest), Number::steps(largest), Length::steps(largest)),
            std::strong_ordering::less);
  EXPECT_EQ(compare_scaled(Length::steps(smallest), Number::steps(smallest), Length::steps(smallest)),
            std::strong_ordering::less);
  EXPECT_EQ(compare_scaled(Length::steps(largest), number(1), Length::steps(largest)),
            std::strong_ordering::equal);
  EXPECT_EQ(compare_scaled(-inches(4), two_fifths, -inches(10)), std::strong_ordering::equal);
}

TEST(Ratio, RoundsToTheNearestStep) {
  EXPECT_EQ(ratio(inches(9), inches(36)), *parse_number("25%"));
  EXPECT_EQ(ratio(inches(1), inches(3)).count(), 333'333'333);
  EXPECT_EQ(ratio(inches(2), inches(3)).count(), 666'666'667);
  EXPECT_EQ(ratio(-inches(2), inches(3)).count(), -666'666'667);
  EXPECT_EQ(ratio(inches(2), -inches(3)).count(), -666'666'667);
  EXPECT_EQ(ratio(-inches(2), -inches(3)).count(), 666'666'667);
  EXPECT_EQ(ratio(Length::steps(largest), Length::steps(1)).count(), largest);
  EXPECT_EQ(ratio(Length::steps(smallest), Length::steps(smallest)), number(1));
}

TEST(Amount, KeepsTheQuantity) {
  const Amount amount = show(inches(36), Unit::millimetre);
  EXPECT_EQ(as<Dimension::length>(amount), inches(36));
  EXPECT_NE(amount, show(inches(36), Unit::inch));
}

}  // namespace
}  // namespace raceward
