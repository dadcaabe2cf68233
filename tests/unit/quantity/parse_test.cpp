// What a text means: counts of steps written out by hand from the definitions (1 in = 25.4 mm exactly, 1 ft =
// 12 in).
#include <gtest/gtest.h>

#include <string>

#include "raceward/quantity.hpp"

namespace raceward {
namespace {

struct Reads {
  const char* text;
  Dimension wanted;
  std::int64_t count;
  Unit unit;
};

class ParseTest : public testing::TestWithParam<Reads> {};

TEST_P(ParseTest, ReadsCountAndUnit) {
  const auto& [text, wanted, count, unit] = GetParam();
  const Parsed<Amount> parsed = parse_amount(text, wanted);
  ASSERT_TRUE(parsed) << text << ": " << parsed.error().what;
  EXPECT_EQ(parsed->count, count) << text;
  EXPECT_EQ(parsed->unit, unit) << text;
}

constexpr Reads lengths[] = {
    {"36in", Dimension::length, 914'400'000'000, Unit::inch},
    {"36 in", Dimension::length, 914'400'000'000, Unit::inch},
    {"36\t in", Dimension::length, 914'400'000'000, Unit::inch},
    {" \r\n36in\n", Dimension::length, 914'400'000'000, Unit::inch},
    {"0036in", Dimension::length, 914'400'000'000, Unit::inch},
    {"10ft", Dimension::length, 3'048'000'000'000, Unit::foot},
    {"3ft 6in", Dimension::length, 1'066'800'000'000, Unit::inch},
    {"3ft6in", Dimension::length, 1'066'800'000'000, Unit::inch},
    {"3 ft 6 in", Dimension::length, 1'066'800'000'000, Unit::inch},
    {"0ft 0in", Dimension::length, 0, Unit::inch},
    {"3ft 11.999in", Dimension::length, 1'219'174'600'000, Unit::inch},
    {"3ft 6 1/2in", Dimension::length, 1'079'500'000'000, Unit::inch},
    {"3ft 6-1/2in", Dimension::length, 1'079'500'000'000, Unit::inch},
    {"3ft 1/2in", Dimension::length, 927'100'000'000, Unit::inch},
    {"3ft 2in", Dimension::length, 965'200'000'000, Unit::inch},
    {"3ft2in", Dimension::length, 965'200'000'000, Unit::inch},
    {"3 1/2in", Dimension::length, 88'900'000'000, Unit::inch},
    {"3-1/2in", Dimension::length, 88'900'000'000, Unit::inch},
    {"3 1/2 in", Dimension::length, 88'900'000'000, Unit::inch},
    {"1/2in", Dimension::length, 12'700'000'000, Unit::inch},
    {"7/2in", Dimension::length, 88'900'000'000, Unit::inch},
    {"0/4in", Dimension::length, 0, Unit::inch},
    {"1/64in", Dimension::length, 396'875'000, Unit::inch},
    {"1/512in", Dimension::length, 49'609'375, Unit::inch},
    {"2-1/8in", Dimension::length, 53'975'000'000, Unit::inch},
    {"1/3ft", Dimension::length, 101'600'000'000, Unit::foot},
    {"2 1/2ft", Dimension::length, 762'000'000'000, Unit::foot},
    {"0.5in", Dimension::length, 12'700'000'000, Unit::inch},
    {"36.001in", Dimension::length, 914'425'400'000, Unit::inch},
    {"0.001953125in", Dimension::length, 49'609'375, Unit::inch},
    {"36.000000000000000000000000000000in", Dimension::length, 914'400'000'000, Unit::inch},
    {"0.50000000000000000000000000000in", Dimension::length, 12'700'000'000, Unit::inch},
    {"900mm", Dimension::length, 900'000'000'000, Unit::millimetre},
    {"90cm", Dimension::length, 900'000'000'000, Unit::centimetre},
    {"1.2m", Dimension::length, 1'200'000'000'000, Unit::metre},
    {"0.000000000001m", Dimension::length, 1, Unit::metre},
    {"0.000000001mm", Dimension::length, 1, Unit::millimetre},
    {"9000.123456789012m", Dimension::length, 9'000'123'456'789'012, Unit::metre},
    {"-3ft 6in", Dimension::length, -1'066'800'000'000, Unit::inch},
    {"-3-1/2in", Dimension::length, -88'900'000'000, Unit::inch},
    {"-0in", Dimension::length, 0, Unit::inch},
};

constexpr Reads others[] = {
    {"20A", Dimension::current, 20'000'000, Unit::ampere},
    {"30mA", Dimension::current, 30'000, Unit::milliampere},
    {"0.001mA", Dimension::current, 1, Unit::milliampere},
    {"120V", Dimension::voltage, 120'000'000, Unit::volt},
    {"12.47kV", Dimension::voltage, 12'470'000'000, Unit::kilovolt},
    {"86F", Dimension::temperature, 30 * 18'000, Unit::fahrenheit},
    {"32F", Dimension::temperature, 0, Unit::fahrenheit},
    {"-40F", Dimension::temperature, -40 * 18'000, Unit::fahrenheit},
    {"30C", Dimension::temperature, 30 * 18'000, Unit::celsius},
    {"-40C", Dimension::temperature, -40 * 18'000, Unit::celsius},
    {"-10C", Dimension::temperature, -180'000, Unit::celsius},
    {"90deg", Dimension::angle, 90'000'000, Unit::degree},
    {"22.5deg", Dimension::angle, 22'500'000, Unit::degree},
    {"40%", Dimension::none, 400'000'000, Unit::percent},
    {"40 %", Dimension::none, 400'000'000, Unit::percent},
    {"0.4", Dimension::none, 400'000'000, Unit::one},
    {"1000", Dimension::none, 1'000'000'000'000, Unit::one},
    {"0.000000001", Dimension::none, 1, Unit::one},
    {"2in2", Dimension::area, 129'032'000'000, Unit::square_inch},
    {"0.000001 in2", Dimension::area, 64'516, Unit::square_inch},
    {"645.16mm2", Dimension::area, 64'516'000'000, Unit::square_millimetre},
    {"6.4516cm2", Dimension::area, 64'516'000'000, Unit::square_centimetre},
    {"1in3", Dimension::volume, 16'387'064'000, Unit::cubic_inch},
    {"500mL", Dimension::volume, 500'000'000'000, Unit::millilitre},
    {"500cm3", Dimension::volume, 500'000'000'000, Unit::cubic_centimetre},
    {"16387.064mm3", Dimension::volume, 16'387'064'000, Unit::cubic_millimetre},
    {"4.5kW", Dimension::power, 4'500'000'000, Unit::kilowatt},
    {"4500W", Dimension::power, 4'500'000'000, Unit::watt},
    {"180VA", Dimension::power, 180'000'000, Unit::volt_ampere},
    {"0.18kVA", Dimension::power, 180'000'000, Unit::kilovolt_ampere},
    {"0.25ohm", Dimension::resistance, 250'000'000, Unit::ohm},
    {"250mohm", Dimension::resistance, 250'000'000, Unit::milliohm},
};

INSTANTIATE_TEST_SUITE_P(Lengths, ParseTest, testing::ValuesIn(lengths));
INSTANTIATE_TEST_SUITE_P(Others, ParseTest, testing::ValuesIn(others));

TEST(ParseTyped, GivesTheDimensionOfItsName) {
  EXPECT_EQ(*parse_number("40%"), Number::steps(400'000'000));
  EXPECT_EQ(*parse_length("3ft"), feet(3));
  EXPECT_EQ(*parse_area("1in2"), inches(1) * inches(1));
  EXPECT_EQ(*parse_volume("1in3"), box_volume(inches(1), inches(1), inches(1)));
  EXPECT_EQ(*parse_angle("90deg"), degrees(90));
  EXPECT_EQ(*parse_current("20A"), amperes(20));
  EXPECT_EQ(*parse_voltage("120V"), volts(120));
  EXPECT_EQ(*parse_temperature("86F"), *parse_temperature("30C"));
  EXPECT_EQ(*parse_power("2.4kW"), volts(120) * amperes(20));
  EXPECT_EQ(*parse_resistance("1ohm"), *parse_resistance("1000mohm"));
  EXPECT_EQ(parse_length("3A").error().what, parse_amount("3A", Dimension::length).error().what);
}

TEST(ParseLimits, AThousandthOfTheRangeIsTheLast) {
  // 2^63 - 1 steps over a thousand, in metres of 10^12 steps and in pure numbers of 10^9.
  EXPECT_EQ(parse_amount("9223.372036854775m", Dimension::length)->count, 9'223'372'036'854'775);
  EXPECT_FALSE(parse_amount("9223.372036854776m", Dimension::length));
  EXPECT_EQ(parse_amount("-9223.372036854775m", Dimension::length)->count, -9'223'372'036'854'775);
  EXPECT_FALSE(parse_amount("-9223.372036854776m", Dimension::length));
  EXPECT_TRUE(parse_amount("9223372.036854775", Dimension::none));
  EXPECT_FALSE(parse_amount("9223372.036854776", Dimension::none));
  EXPECT_TRUE(parse_amount("30260ft 4.8in", Dimension::length));
  EXPECT_FALSE(parse_amount("30260ft 4.9in", Dimension::length));
  // 0 F lies 320 000 steps below 0 C, from where the steps are counted.
  EXPECT_EQ(parse_amount("-922337203653.4775F", Dimension::temperature)->count, -9'223'372'036'854'775);
  EXPECT_FALSE(parse_amount("-922337203653.4776F", Dimension::temperature));
  EXPECT_EQ(parse_amount("922337203717.4775F", Dimension::temperature)->count, 9'223'372'036'854'775);
  EXPECT_FALSE(parse_amount("922337203717.4776F", Dimension::temperature));
}

TEST(ParseLimits, LongTextsAreReadInOneStep) {
  EXPECT_EQ(parse_amount(std::string(100'000, '0') + "36in", Dimension::length)->count, inches(36).count());
  EXPECT_EQ(parse_amount("36." + std::string(100'000, '0') + "in", Dimension::length)->count,
            inches(36).count());
  EXPECT_FALSE(parse_amount(std::string(100'000, '9') + "in", Dimension::length));
  EXPECT_FALSE(parse_amount("36." + std::string(100'000, '9') + "in", Dimension::length));
}

TEST(Parse, LeavesNothingBehindTheTextUnread) {
  // The view ends inside a longer buffer.
  const std::string_view text = "36in2";
  EXPECT_EQ(parse_amount(text.substr(0, 4), Dimension::length)->count, inches(36).count());
  EXPECT_FALSE(parse_amount(text.substr(0, 3), Dimension::length));
  EXPECT_FALSE(parse_amount(std::string_view("36in\0", 5), Dimension::length));
  EXPECT_FALSE(parse_amount(std::string_view(), Dimension::length));
}

}  // namespace
}  // namespace raceward
