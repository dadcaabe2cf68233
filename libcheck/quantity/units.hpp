// The table of units and dimensions: one row each, in the order of the enumerations.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "raceward/quantity.hpp"

namespace raceward::quantity {

struct UnitRow {
  Unit unit;
  std::string_view symbol;
  Dimension dimension;
  std::int64_t steps;     ///< steps of the dimension in one unit, exact
  std::int64_t zero = 0;  ///< steps at the unit's own zero (Fahrenheit only)
};

// Lengths follow from 1 in = 25.4 mm exactly (the international inch of 1959), 1 ft = 12 in; areas and
// volumes are its powers. 0 F is 32 fifths-of-ninths of a kelvin below 0 C: (0 - 32) * 10 000 steps of 1/18
// 000 K.
inline constexpr std::array unit_rows{
    UnitRow{Unit::one, "", Dimension::none, 1'000'000'000},
    UnitRow{Unit::percent, "%", Dimension::none, 10'000'000},
    UnitRow{Unit::inch, "in", Dimension::length, 25'400'000'000},
    UnitRow{Unit::foot, "ft", Dimension::length, 304'800'000'000},
    UnitRow{Unit::millimetre, "mm", Dimension::length, 1'000'000'000},
    UnitRow{Unit::centimetre, "cm", Dimension::length, 10'000'000'000},
    UnitRow{Unit::metre, "m", Dimension::length, 1'000'000'000'000},
    UnitRow{Unit::square_inch, "in2", Dimension::area, 64'516'000'000},
    UnitRow{Unit::square_millimetre, "mm2", Dimension::area, 100'000'000},
    UnitRow{Unit::square_centimetre, "cm2", Dimension::area, 10'000'000'000},
    UnitRow{Unit::cubic_inch, "in3", Dimension::volume, 16'387'064'000},
    UnitRow{Unit::cubic_millimetre, "mm3", Dimension::volume, 1'000'000},
    UnitRow{Unit::cubic_centimetre, "cm3", Dimension::volume, 1'000'000'000},
    UnitRow{Unit::millilitre, "mL", Dimension::volume, 1'000'000'000},
    UnitRow{Unit::degree, "deg", Dimension::angle, 1'000'000},
    UnitRow{Unit::ampere, "A", Dimension::current, 1'000'000},
    UnitRow{Unit::milliampere, "mA", Dimension::current, 1'000},
    UnitRow{Unit::volt, "V", Dimension::voltage, 1'000'000},
    UnitRow{Unit::kilovolt, "kV", Dimension::voltage, 1'000'000'000},
    UnitRow{Unit::celsius, "C", Dimension::temperature, 18'000},
    UnitRow{Unit::fahrenheit, "F", Dimension::temperature, 10'000, -320'000},
    UnitRow{Unit::watt, "W", Dimension::power, 1'000'000},
    UnitRow{Unit::kilowatt, "kW", Dimension::power, 1'000'000'000},
    UnitRow{Unit::volt_ampere, "VA", Dimension::power, 1'000'000},
    UnitRow{Unit::kilovolt_ampere, "kVA", Dimension::power, 1'000'000'000},
    UnitRow{Unit::ohm, "ohm", Dimension::resistance, 1'000'000'000},
    UnitRow{Unit::milliohm, "mohm", Dimension::resistance, 1'000'000},
};

/// What messages say about a dimension, and where its units stand in unit_rows.
struct DimensionRow {
  Dimension dimension;
  std::string_view article;  ///< "a length"
  std::string_view name;     ///< "length"
  std::string_view example;  ///< "36in or 900mm"
  std::string_view step;     ///< "1 pm"
};

inline constexpr std::array dimension_rows{
    DimensionRow{Dimension::none, "a pure number", "pure number", "3 or 40%", "0.000000001"},
    DimensionRow{Dimension::length, "a length", "length", "36in or 900mm", "1 pm"},
    DimensionRow{Dimension::area, "an area", "area", "2.5in2 or 1600mm2", "0.00000001 mm2"},
    DimensionRow{Dimension::volume, "a volume", "volume", "20in3 or 330mL", "0.000001 mm3"},
    DimensionRow{Dimension::angle, "an angle", "angle", "90deg or 22.5deg", "0.000001 deg"},
    DimensionRow{Dimension::current, "a current", "current", "20A or 30mA", "1 uA"},
    DimensionRow{Dimension::voltage, "a voltage", "voltage", "120V or 12.5kV", "1 uV"},
    DimensionRow{Dimension::temperature, "a temperature", "temperature", "86F or 30C", "1/18000 of a kelvin"},
    DimensionRow{Dimension::power, "a power", "power", "1500W or 4.5kW", "1 uW"},
    DimensionRow{Dimension::resistance, "a resistance", "resistance", "0.5ohm or 250mohm", "1 nohm"},
};

/// The largest count that a text may give, either side of zero: a thousandth of the range, so that sums of
/// many parsed values stay far from saturation.
inline constexpr std::int64_t parse_limit = std::numeric_limits<std::int64_t>::max() / 1000;

/// How far a unit's own zero may lie from the dimension's.
inline constexpr std::int64_t farthest_zero = 320'000;

/// More decimals than this, not counting zeros at the end, cannot be held by any unit (shown below).
inline constexpr unsigned most_decimals = 12;

/// The row of a unit or dimension; that of the pure number for a value outside the enumeration.
constexpr const UnitRow& row_of(Unit unit) {
  const auto at = static_cast<std::size_t>(unit);
  return unit_rows[at < unit_rows.size() ? at : 0];
}
constexpr const DimensionRow& row_of(Dimension dimension) {
  const auto at = static_cast<std::size_t>(dimension);
  return dimension_rows[at < dimension_rows.size() ? at : 0];
}

inline constexpr std::size_t longest_symbol = 4;

/// A symbol of up to four bytes as one integer: the first byte lowest.
constexpr std::uint32_t packed(std::string_view symbol) {
  std::uint32_t key = 0;
  for (std::size_t i = 0; i < symbol.size(); ++i)
    key |= std::uint32_t{static_cast<unsigned char>(symbol[i])} << (8 * i);
  return key;
}

namespace detail {

constexpr auto make_keys() {
  std::array<std::uint32_t, unit_rows.size()> keys{};
  for (std::size_t i = 0; i < keys.size(); ++i) keys[i] = packed(unit_rows[i].symbol);
  return keys;
}

constexpr bool in_order() {
  for (std::size_t i = 0; i < unit_rows.size(); ++i) {
    const UnitRow& row = unit_rows[i];
    if (row.unit != static_cast<Unit>(i) || row.symbol.size() > longest_symbol) return false;
    if (row.dimension != dimension_of(row.unit)) return false;
    if (i > 0 && row.dimension < unit_rows[i - 1].dimension) return false;
    if (row.zero > farthest_zero || row.zero < -farthest_zero) return false;
  }
  for (std::size_t i = 0; i < dimension_rows.size(); ++i)
    if (dimension_rows[i].dimension != static_cast<Dimension>(i)) return false;
  return true;
}

// With the zeros at its end cut off, a decimal's digits hold no factor 10, so either no 2 or no 5: f decimals
// are exact only if the steps of the unit hold 2^f or 5^f.
constexpr bool decimals_are_bounded() {
  for (const UnitRow& row : unit_rows) {
    for (const std::int64_t prime : {2, 5}) {
      unsigned power = 0;
      for (std::int64_t rest = row.steps; rest % prime == 0; rest /= prime) ++power;
      if (power > most_decimals) return false;
    }
  }
  return true;
}

}  // namespace detail

inline constexpr auto unit_keys = detail::make_keys();

static_assert(detail::in_order(),
              "rows stand in the order of Unit and Dimension, units of a dimension together");
static_assert(detail::decimals_are_bounded());

/// The units of a dimension: indexes [first, last) of unit_rows.
struct UnitRange {
  std::uint8_t first = 0;
  std::uint8_t last = 0;
};

namespace detail {
constexpr auto make_ranges() {
  std::array<UnitRange, dimension_rows.size()> ranges{};
  for (std::size_t i = unit_rows.size(); i-- > 0;)
    ranges[static_cast<std::size_t>(unit_rows[i].dimension)].first = static_cast<std::uint8_t>(i);
  for (std::size_t i = 0; i < unit_rows.size(); ++i)
    ranges[static_cast<std::size_t>(unit_rows[i].dimension)].last = static_cast<std::uint8_t>(i + 1);
  return ranges;
}
}  // namespace detail

inline constexpr auto unit_ranges = detail::make_ranges();

}  // namespace raceward::quantity
