// What is refused, in which words, and where in the text.
#include <gtest/gtest.h>

#include <string>

#include "raceward/quantity.hpp"

namespace raceward {
namespace {

struct Refuses {
  const char* text;
  Dimension wanted;
  std::size_t offset;
  const char* what;
};

class ParseErrorTest : public testing::TestWithParam<Refuses> {};

TEST_P(ParseErrorTest, SaysWhatIsWrongAndWhere) {
  const auto& [text, wanted, offset, what] = GetParam();
  const Parsed<Amount> parsed = parse_amount(text, wanted);
  ASSERT_FALSE(parsed) << text;
  EXPECT_EQ(parsed.error().what, what) << text;
  EXPECT_EQ(parsed.error().offset, offset) << text;
}

constexpr auto length = Dimension::length;
constexpr const char* list_of_lengths = "\"foo\" is not a unit of length; write in, ft, mm, cm or m";
constexpr const char* number_first = "a number must come first, as in 36in or 900mm";
constexpr const char* exponent = "exponents are not read; write the number out, as in 1500 for 1.5e3";
constexpr const char* feet_and_inches = "feet and inches are written as in 3ft 6in";
constexpr const char* small_inches = "feet may be followed only by less than 12 inches, as in 3ft 6in";
constexpr const char* whole_feet = "only whole feet may be followed by inches, as in 3ft 6in";
constexpr const char* bad_fraction =
    "a fraction needs a denominator above zero and at most nine digits above and below, and must be less "
    "than 1 "
    "behind a whole number";
constexpr const char* inexact = "cannot be held exactly; a length is kept in whole steps of 1 pm: round it";
constexpr const char* too_long =
    "is out of range; the most that can be held is 363124 in, above or below zero";

constexpr Refuses units[] = {
    {"36", length, 2, "needs a unit, such as 36in or 900mm"},
    {"36 ", length, 2, "needs a unit, such as 36in or 900mm"},
    {"3 1/2", length, 5, "needs a unit, such as 36in or 900mm"},
    {"20", Dimension::current, 2, "needs a unit, such as 20A or 30mA"},
    {"120", Dimension::voltage, 3, "needs a unit, such as 120V or 12.5kV"},
    {"90", Dimension::angle, 2, "needs a unit, such as 90deg or 22.5deg"},
    {"86", Dimension::temperature, 2, "needs a unit, such as 86F or 30C"},
    {"2", Dimension::area, 1, "needs a unit, such as 2.5in2 or 1600mm2"},
    {"2", Dimension::volume, 1, "needs a unit, such as 20in3 or 330mL"},
    {"2", Dimension::power, 1, "needs a unit, such as 1500W or 4.5kW"},
    {"2", Dimension::resistance, 1, "needs a unit, such as 0.5ohm or 250mohm"},
    {"3inn", length, 1, "\"inn\" is not a unit of length; did you mean \"in\"?"},
    {"3 ni", length, 2, "\"ni\" is not a unit of length; did you mean \"in\"?"},
    {"3inches", length, 1, "\"inches\" is not a unit of length; did you mean \"in\"?"},
    {"3\"", length, 1, "the mark \" is not read as a unit; write in"},
    {"3 FT", length, 2, "\"FT\" is not a unit of length; did you mean \"ft\"?"},
    {"3 foo", length, 2, list_of_lengths},
    {"3 km", length, 2, "\"km\" is not a unit of length; write in, ft, mm, cm or m"},
    {"3in5", length, 1, "\"in5\" is not a unit of length; did you mean \"in\"?"},
    {"12 sq in", Dimension::area, 3, "\"sq\" is not a unit of area; did you mean \"in2\"?"},
    {"20 kA", Dimension::current, 3, "\"kA\" is not a unit of current; write A or mA"},
    {"20 amps", Dimension::current, 3, "\"amps\" is not a unit of current; did you mean \"A\"?"},
    {"20a", Dimension::current, 2, "\"a\" is not a unit of current; did you mean \"A\"?"},
    {"86\u00b0F", Dimension::temperature, 2, "\"\u00b0F\" is not a unit of temperature; did you mean \"F\"?"},
    {"5x", Dimension::current, 1, "\"x\" is not a unit of current; write A or mA"},
    {"3A", length, 1, "\"A\" is a unit of current; a length is wanted, such as 36in or 900mm"},
    {"3in2", length, 1, "\"in2\" is a unit of area; a length is wanted, such as 36in or 900mm"},
    {"40%", length, 2, "\"%\" makes a pure number; a length is wanted, such as 36in or 900mm"},
    {"3in", Dimension::none, 1, "\"in\" is a unit of length; a pure number is wanted, such as 3 or 40%"},
    {"3x", Dimension::none, 1, "unexpected \"x\"; a pure number is wanted, such as 3 or 40%"},
    {"40%%", Dimension::none, 2, "unexpected \"%%\"; a pure number is wanted, such as 3 or 40%"},
};

constexpr Refuses numbers[] = {
    {"", length, 0, "is empty; write a length, such as 36in or 900mm"},
    {" \t", length, 2, "is empty; write a length, such as 36in or 900mm"},
    {"in", length, 0, number_first},
    {"nan", length, 0, number_first},
    {"-inf in", length, 1, number_first},
    {"- 3in", length, 1, number_first},
    {"--3in", length, 1, number_first},
    {"+3in", length, 0, "a \"+\" is not read; leave it out"},
    {".5in", length, 0, "needs a digit before the point, as in 0.5"},
    {"5.in", length, 1, "needs a digit behind the point, as in 3.5"},
    {"1e300 ft", length, 1, exponent},
    {"1e3in", length, 1, exponent},
    {"1.5E-3 in", length, 3, exponent},
    {"1e3", Dimension::none, 1, exponent},
    {"0x10in", length, 1, "hexadecimal numbers are not read"},
    {"1,5in", length, 1, "unexpected \",\"; write a point before decimals and nothing between thousands"},
    {"1,000", Dimension::none, 1,
     "unexpected \",\"; write a point before decimals and nothing between thousands"},
    {"1 000in", length, 2, "unexpected \"000in\" behind \"1\""},
    {"1.5.2in", length, 3, "\".2in\" is not a unit of length; write in, ft, mm, cm or m"},
    {"36in 2mm", length, 5, "unexpected \"2mm\" behind \"36in\""},
    {"36in foo", length, 5, "unexpected \"foo\" behind \"36in\""},
    {"1/0in", length, 1, bad_fraction},
    {"1/in", length, 1, bad_fraction},
    {"2 3/2in", length, 3, bad_fraction},
    {"2 2/2in", length, 3, bad_fraction},
    {"1/1000000000in", length, 1, bad_fraction},
    {"1000000000/3in", length, 10, bad_fraction},
    {"1/2mm", length, 0, "fractions are read for in and ft only; write a decimal"},
    {"1/2", Dimension::none, 0, "fractions are read for in and ft only; write a decimal"},
    {"1/2in2", Dimension::area, 0, "fractions are read for in and ft only; write a decimal"},
    {"1.5/2in", length, 3, "\"/2in\" is not a unit of length; write in, ft, mm, cm or m"},
    {"3.5 1/2in", length, 4, "\"1/2in\" is not a unit of length; write in, ft, mm, cm or m"},
    {"3ft-6in", length, 1, feet_and_inches},
    {"3'6\"", length, 1, feet_and_inches},
    {"3ft 12in", length, 4, small_inches},
    {"3ft 6", length, 4, small_inches},
    {"3ft 6mm", length, 4, small_inches},
    {"3ft 6ft", length, 4, small_inches},
    {"3ft 99999999999999999999in", length, 4, small_inches},
    {"3.5ft 6in", length, 6, whole_feet},
    {"3 1/2ft 6in", length, 8, whole_feet},
    {"3ft 6in 1in", length, 8, "unexpected \"1in\" behind \"3ft 6in\""},
    {"6in 3ft", length, 4, "unexpected \"3ft\" behind \"6in\""},
};

constexpr Refuses values[] = {
    {"0.3333333333333333333in", length, 0, inexact},
    {"1/3in", length, 0, inexact},
    {"1/1024in", length, 0, inexact},
    {"0.0009765625in", length, 0, inexact},
    {"-0.00000000001in", length, 1, inexact},
    {"0.0000000000001m", length, 0, inexact},
    {"0.0000000001mm", length, 0, inexact},
    {"3ft 1/3in", length, 4, inexact},
    {"0.0001mA", Dimension::current, 0,
     "cannot be held exactly; a current is kept in whole steps of 1 uA: round it"},
    {"0.0001C", Dimension::temperature, 0,
     "cannot be held exactly; a temperature is kept in whole steps of 1/18000 of a kelvin: round it"},
    {"0.0001in3", Dimension::volume, 0,
     "cannot be held exactly; a volume is kept in whole steps of 0.000001 mm3: round it"},
    {"363125in", length, 0, too_long},
    {"-363125in", length, 1, too_long},
    {"999999999999999999999999999999in", length, 0, too_long},
    {"99999999999999999.55in", length, 0, too_long},
    {"999999999/1in", length, 0, too_long},
    {"30261ft", length, 0, "is out of range; the most that can be held is 30260 ft, above or below zero"},
};

INSTANTIATE_TEST_SUITE_P(Units, ParseErrorTest, testing::ValuesIn(units));
INSTANTIATE_TEST_SUITE_P(Numbers, ParseErrorTest, testing::ValuesIn(numbers));
INSTANTIATE_TEST_SUITE_P(Values, ParseErrorTest, testing::ValuesIn(values));

TEST(ParseError, FourHundredDigitsAreOutOfRange) {
  EXPECT_EQ(parse_length(std::string(400, '7') + "in").error().what, too_long);
  EXPECT_EQ(parse_length("0." + std::string(400, '3') + "in").error().what, inexact);
}

TEST(ParseError, QuotesForeignBytesHarmlessly) {
  EXPECT_EQ(parse_length("3 \x01\xff\x7f").error().what,
            "\"???\" is not a unit of length; write in, ft, mm, cm or m");
  EXPECT_EQ(parse_length("3 \xc2\x9bm").error().what,
            "\"??m\" is not a unit of length; write in, ft, mm, cm or m");
  EXPECT_EQ(parse_length("3 \xed\xa0\x80").error().what,
            "\"???\" is not a unit of length; write in, ft, mm, cm or m");
  EXPECT_EQ(parse_length("3 \xe2\x84").error().what,
            "\"??\" is not a unit of length; write in, ft, mm, cm or m");
  EXPECT_EQ(parse_length("3 \xe4\xb8\xad\xf0\x9f\x94\x8c").error().what,
            "\"\xe4\xb8\xad\xf0\x9f\x94\x8c\" is not a unit of length; write in, ft, mm, cm or m");
  EXPECT_EQ(parse_length(std::string_view("3\0in", 4)).error().what,
            "\"?in\" is not a unit of length; did you mean \"in\"?");
}

TEST(ParseError, CutsLongWords) {
  EXPECT_EQ(parse_length("3" + std::string(1'000'000, 'z')).error().what,
            "\"" + std::string(40, 'z') + "...\" is not a unit of length; write in, ft, mm, cm or m");
}

TEST(ParseError, ADimensionOutsideTheListIsTakenAsAPureNumber) {
  const auto strange = static_cast<Dimension>(200);
  EXPECT_TRUE(parse_amount("3", strange));
  EXPECT_EQ(parse_amount("3in", strange).error().what, parse_amount("3in", Dimension::none).error().what);
}

}  // namespace
}  // namespace raceward
