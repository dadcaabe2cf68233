// Symbols and dimensions of all units.
#include <gtest/gtest.h>

#include <cstring>

#include "raceward/quantity.hpp"

namespace raceward {
namespace {

struct Row {
  Unit unit;
  const char* symbol;
  Dimension dimension;
};

constexpr Row all[] = {
    {Unit::one, "", Dimension::none},
    {Unit::percent, "%", Dimension::none},
    {Unit::inch, "in", Dimension::length},
    {Unit::foot, "ft", Dimension::length},
    {Unit::millimetre, "mm", Dimension::length},
    {Unit::centimetre, "cm", Dimension::length},
    {Unit::metre, "m", Dimension::length},
    {Unit::square_inch, "in2", Dimension::area},
    {Unit::square_millimetre, "mm2", Dimension::area},
    {Unit::square_centimetre, "cm2", Dimension::area},
    {Unit::cubic_inch, "in3", Dimension::volume},
    {Unit::cubic_millimetre, "mm3", Dimension::volume},
    {Unit::cubic_centimetre, "cm3", Dimension::volume},
    {Unit::millilitre, "mL", Dimension::volume},
    {Unit::degree, "deg", Dimension::angle},
    {Unit::ampere, "A", Dimension::current},
    {Unit::milliampere, "mA", Dimension::current},
    {Unit::volt, "V", Dimension::voltage},
    {Unit::kilovolt, "kV", Dimension::voltage},
    {Unit::celsius, "C", Dimension::temperature},
    {Unit::fahrenheit, "F", Dimension::temperature},
    {Unit::watt, "W", Dimension::power},
    {Unit::kilowatt, "kW", Dimension::power},
    {Unit::volt_ampere, "VA", Dimension::power},
    {Unit::kilovolt_ampere, "kVA", Dimension::power},
    {Unit::ohm, "ohm", Dimension::resistance},
    {Unit::milliohm, "mohm", Dimension::resistance},
};

TEST(Units, EverySymbolLeadsToItsUnitAndBack) {
  for (const Row& row : all) {
    EXPECT_EQ(symbol_of(row.unit), row.symbol);
    EXPECT_EQ(dimension_of(row.unit), row.dimension) << row.symbol;
    EXPECT_EQ(unit_of(row.symbol), row.unit) << row.symbol;
  }
}

TEST(Units, NumbersAreStable) {
  // They cross the C interface: a unit may be added behind the last only.
  for (std::size_t i = 0; i < std::size(all); ++i) EXPECT_EQ(static_cast<std::size_t>(all[i].unit), i);
  EXPECT_EQ(static_cast<int>(Dimension::none), 0);
  EXPECT_EQ(static_cast<int>(Dimension::resistance), 9);
}

TEST(Units, UnknownSymbolsLeadNowhere) {
  for (const char* symbol :
       {"inn", "IN", "In", "ma", "mm4", "in ", " in", "ohms", "mohms", "i", "kVAA", "\u00b0"})
    EXPECT_EQ(unit_of(symbol), std::nullopt) << symbol;
  for (const char* symbol : {"in", "A"})
    EXPECT_EQ(unit_of(std::string_view(symbol, std::strlen(symbol) + 1)), std::nullopt)
        << "with a NUL behind";
}

TEST(Units, ValuesOutsideTheListAreTakenAsOne) {
  EXPECT_EQ(dimension_of(static_cast<Unit>(255)), Dimension::none);
  EXPECT_EQ(symbol_of(static_cast<Unit>(255)), "");
}

}  // namespace
}  // namespace raceward
