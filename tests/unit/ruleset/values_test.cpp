// Values of rulesets: numbers with units, bare numbers under a column's unit, headings, dates.
#include "ruleset/values.hpp"

#include <gtest/gtest.h>

namespace raceward::ruleset {
namespace {

TEST(ParseValue, TakesEveryDimensionByItsUnit) {
  const std::pair<const char*, Amount> good[] = {
      {"0.8", {number(4).count() / 5, Unit::one}},
      {"40%", {number(2).count() / 5, Unit::percent}},
      {"24in", {inches(24).count(), Unit::inch}},
      {"3ft 6in", {inches(42).count(), Unit::inch}},
      {"6ft", {feet(6).count(), Unit::foot}},
      {"2in3", {2 * 16'387'064'000, Unit::cubic_inch}},
      {"1in2", {64'516'000'000, Unit::square_inch}},
      {"10deg", {degrees(10).count(), Unit::degree}},
      {"250V", {volts(250).count(), Unit::volt}},
      {"20A", {amperes(20).count(), Unit::ampere}},
      {"0C", {0, Unit::celsius}},
      {"2ohm", {2'000'000'000, Unit::ohm}},
      {"5W", {5'000'000, Unit::watt}},
  };
  for (const auto& [text, amount] : good) {
    const Parsed<Amount> parsed = parse_value(text);
    ASSERT_TRUE(parsed) << text << ": " << parsed.error().what;
    EXPECT_EQ(parsed->count, amount.count) << text;
    EXPECT_EQ(parsed->unit, amount.unit) << text;
  }
}

TEST(ParseValue, RefusesTheRest) {
  for (const char* text : {"", "in", "24 inn", "1e3", "1,5in", "nan", "0x10in", "24in 3A", "--4", "1/0"}) {
    const Parsed<Amount> parsed = parse_value(text);
    EXPECT_FALSE(parsed) << text;
    EXPECT_FALSE(parsed.error().what.empty()) << text;
  }
}

TEST(ParseCell, TakesBareNumbersOnly) {
  EXPECT_EQ(parse_cell("3-1/2", Unit::inch)->count, inches(7).count() / 2);
  EXPECT_EQ(parse_cell("53", Unit::percent)->count, number(53).count() / 100);
  EXPECT_EQ(parse_cell("1000000", Unit::one)->count, number(1'000'000).count());
  for (const char* text : {"3in", "3ft", "3e1", "+3", "3.", ".5", "3,0", "three"}) {
    EXPECT_FALSE(parse_cell(text, Unit::inch)) << text;
  }
  EXPECT_FALSE(parse_cell("5%", Unit::one)) << "a column of plain numbers takes no percent";
}

TEST(ColumnOf, ReadsHeadings) {
  std::string why;
  EXPECT_EQ(column_of("trade-size [key]", why)->kind, Column::Kind::key);
  EXPECT_EQ(column_of("group [text]", why)->kind, Column::Kind::text);
  EXPECT_EQ(column_of("mils [number]", why)->unit, Unit::one);
  EXPECT_EQ(column_of("area[ in2 ]", why)->unit, Unit::square_inch);
  EXPECT_EQ(column_of("limit [%]", why)->unit, Unit::percent);
  for (const char* heading :
       {"", "area", "area [", "area []", "[in]", "Area [in]", "area [sq in]", "area [in] x"}) {
    why.clear();
    EXPECT_FALSE(column_of(heading, why)) << heading;
    EXPECT_FALSE(why.empty()) << heading;
  }
}

}  // namespace
}  // namespace raceward::ruleset
