// Conversions against GNU units (Debian package "units"), a general-purpose reference for units of measure.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cstdio>
#include <cstdlib>
#include <memory>
#include <string>

#include "raceward/quantity.hpp"

namespace {

using namespace raceward;

/// What GNU units answers for so much of one unit in another, to 15 digits.
double reference(const std::string& have, const std::string& want) {
  const std::string command = fmt::format("units -t -o '%.15g' '{}' '{}' 2>&1", have, want);
  std::unique_ptr<FILE, int (*)(FILE*)> pipe(popen(command.c_str(), "r"), pclose);
  char line[256] = {};
  if (!pipe || fgets(line, sizeof line, pipe.get()) == nullptr) return 0;
  return std::strtod(line, nullptr);
}

struct Case {
  const char* ours;
  Dimension dimension;
  const char* have;
  const char* want;
  double steps_of_want;  // our steps in one of `want`
};

class Conversions : public testing::TestWithParam<Case> {};

TEST_P(Conversions, AgreeWithGnuUnits) {
  const Case& c = GetParam();
  const auto amount = parse_amount(c.ours, c.dimension);
  ASSERT_TRUE(amount) << amount.error().what;
  const double expected = reference(c.have, c.want);
  ASSERT_NE(expected, 0) << "units did not answer for " << c.have;
  EXPECT_NEAR(static_cast<double>(amount->count) / c.steps_of_want, expected, expected * 1e-12) << c.ours;
}

INSTANTIATE_TEST_SUITE_P(GnuUnits, Conversions,
                         testing::Values(Case{"1in", Dimension::length, "1 inch", "mm", 1e9},
                                         Case{"3 1/2in", Dimension::length, "3.5 inch", "mm", 1e9},
                                         Case{"10ft", Dimension::length, "10 foot", "mm", 1e9},
                                         Case{"12.7cm", Dimension::length, "12.7 cm", "inch", 25.4e9},
                                         Case{"1in2", Dimension::area, "1 inch^2", "mm^2", 1e8},
                                         Case{"0.0133in2", Dimension::area, "0.0133 inch^2", "mm^2", 1e8},
                                         Case{"5cm2", Dimension::area, "5 cm^2", "mm^2", 1e8},
                                         Case{"30.3in3", Dimension::volume, "30.3 inch^3", "mm^3", 1e6},
                                         Case{"500mL", Dimension::volume, "500 milliliter", "mm^3", 1e6},
                                         Case{"86F", Dimension::temperature, "tempF(86)", "tempC", 18000},
                                         Case{"104F", Dimension::temperature, "tempF(104)", "tempC", 18000},
                                         Case{"9.6kW", Dimension::power, "9.6 kW", "W", 1e6},
                                         Case{"180VA", Dimension::power, "180 volt ampere", "W", 1e6},
                                         Case{"30mA", Dimension::current, "30 mA", "A", 1e6},
                                         Case{"0.48kV", Dimension::voltage, "0.48 kV", "V", 1e6},
                                         Case{"250mohm", Dimension::resistance, "250 milliohm", "ohm", 1e9}));

}  // namespace
