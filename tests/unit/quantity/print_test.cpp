// How amounts are written.
#include <gtest/gtest.h>

#include <limits>

#include "quantity/feet.hpp"
#include "raceward/quantity.hpp"

namespace raceward {
namespace {

constexpr auto largest = std::numeric_limits<std::int64_t>::max();
constexpr auto smallest = std::numeric_limits<std::int64_t>::min();

TEST(TextOf, WritesNumberAndUnit) {
  EXPECT_EQ(text_of(show(inches(36), Unit::inch)), "36 in");
  EXPECT_EQ(text_of(show(inches(150), Unit::foot)), "12.5 ft");
  EXPECT_EQ(text_of(show(inches(36), Unit::millimetre)), "914.4 mm");
  EXPECT_EQ(text_of(show(inches(36), Unit::centimetre)), "91.44 cm");
  EXPECT_EQ(text_of(show(inches(36), Unit::metre)), "0.9144 m");
  EXPECT_EQ(text_of(show(*parse_length("3 1/2in"), Unit::inch)), "3.5 in");
  EXPECT_EQ(text_of(show(*parse_area("12.25in2"), Unit::square_inch)), "12.25 in2");
  EXPECT_EQ(text_of(show(*parse_number("31.5%"), Unit::percent)), "31.5 %");
  EXPECT_EQ(text_of(show(*parse_number("31.5%"), Unit::one)), "0.315");
  EXPECT_EQ(text_of(show(amperes(20), Unit::ampere)), "20 A");
  EXPECT_EQ(text_of(show(amperes(20), Unit::milliampere)), "20000 mA");
  EXPECT_EQ(text_of(show(*parse_temperature("30C"), Unit::fahrenheit)), "86 F");
  EXPECT_EQ(text_of(show(*parse_temperature("0F"), Unit::fahrenheit)), "0 F");
  EXPECT_EQ(text_of(show(*parse_temperature("-40F"), Unit::celsius)), "-40 C");
  EXPECT_EQ(text_of(show(number(1000), Unit::one)), "1000");
  EXPECT_EQ(text_of(Amount{}), "0");
}

TEST(FeetOf, TellsLongLengthsAsTheTradeDoes) {
  const auto feet = [](std::string_view text) { return quantity::feet_of(parse_length(text)->count()); };
  EXPECT_EQ(feet("120in"), "10 ft");
  EXPECT_EQ(feet("54in"), "4.5 ft");
  EXPECT_EQ(feet("79in"), "6 ft 7 in");
  EXPECT_EQ(feet("120.001in"), "10 ft 0.001 in");
  EXPECT_EQ(feet("11.999in"), "11.999 in");
  EXPECT_EQ(feet("23.99999in"), "2 ft");
  EXPECT_EQ(feet("0in"), "0 ft");
  EXPECT_EQ(quantity::feet_of(-parse_length("79in")->count()), "-6 ft 7 in");
  EXPECT_EQ(quantity::feet_of(parse_length("23.99999in")->count(), 5), "1 ft 11.99999 in");
}

TEST(DecimalOf, WritesTheNumberAlone) {
  EXPECT_EQ(decimal_of(show(inches(36), Unit::inch)), "36");
  EXPECT_EQ(decimal_of({-12'700'000'000, Unit::inch}), "-0.5");
  EXPECT_EQ(decimal_of({1, Unit::millimetre}), "0.000000001");
  EXPECT_EQ(decimal_of({-1, Unit::millimetre}), "-0.000000001");
  EXPECT_EQ(decimal_of({1'000'000'001, Unit::millimetre}), "1.000000001");
}

TEST(DecimalOf, RoundsToNineDecimalsHalvesAwayFromZero) {
  EXPECT_EQ(decimal_of({101'600'000'000, Unit::foot}), "0.333333333");
  EXPECT_EQ(decimal_of({203'200'000'000, Unit::foot}), "0.666666667");
  EXPECT_EQ(decimal_of({-203'200'000'000, Unit::foot}), "-0.666666667");
  EXPECT_EQ(decimal_of({1'500, Unit::metre}), "0.000000002");
  EXPECT_EQ(decimal_of({-1'500, Unit::metre}), "-0.000000002");
  EXPECT_EQ(decimal_of({1'499, Unit::metre}), "0.000000001");
  EXPECT_EQ(decimal_of({999'999'999'999, Unit::metre}), "1");
  EXPECT_EQ(decimal_of({-999'999'999'999, Unit::metre}), "-1");
  EXPECT_EQ(decimal_of({-1, Unit::metre}), "0");
}

TEST(DecimalIsExact, TellsRoundedNumbers) {
  EXPECT_TRUE(decimal_is_exact(show(inches(36), Unit::foot)));
  EXPECT_TRUE(decimal_is_exact({1, Unit::millimetre}));
  EXPECT_TRUE(decimal_is_exact({49'609'375, Unit::inch}));  // 1/512 in has nine decimals
  EXPECT_FALSE(decimal_is_exact(show(inches(1), Unit::foot)));
  EXPECT_FALSE(decimal_is_exact({1, Unit::metre}));
  EXPECT_FALSE(decimal_is_exact({999'999'999'999, Unit::metre}));
  EXPECT_FALSE(decimal_is_exact(show(*parse_temperature("100F"), Unit::celsius)));
  EXPECT_TRUE(decimal_is_exact(show(*parse_temperature("100C"), Unit::fahrenheit)));
}

TEST(DecimalOf, HoldsTheWholeRange) {
  EXPECT_EQ(decimal_of({largest, Unit::one}), "9223372036.854775807");
  EXPECT_EQ(decimal_of({smallest, Unit::one}), "-9223372036.854775808");
  EXPECT_EQ(decimal_of({largest, Unit::milliampere}), "9223372036854775.807");
  EXPECT_EQ(decimal_of({largest, Unit::fahrenheit}), "922337203685509.5807");
  EXPECT_EQ(decimal_of({smallest, Unit::fahrenheit}), "-922337203685445.5808");
  EXPECT_EQ(text_of({smallest, Unit::cubic_millimetre}), "-9223372036854.775808 mm3");
}

TEST(DecimalOf, TakesAUnitOutsideTheListAsOne) {
  EXPECT_EQ(text_of({2'000'000'000, static_cast<Unit>(200)}), "2");
}

}  // namespace
}  // namespace raceward
