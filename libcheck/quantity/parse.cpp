// Reads quantities. The path of a good text neither allocates nor calls; words are found only for a fault.
#include "quantity/scan.hpp"

namespace raceward {
namespace quantity {
namespace {

constexpr bool is_symbol_char(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '%'; }

constexpr bool takes_fractions(Unit unit) { return unit == Unit::inch || unit == Unit::foot; }

// Reads the symbol at the cursor. A "2" or "3" belongs to it only where the text or word ends there, so that
// "3ft2in" is feet and inches. Fault: the cursor stays at the symbol's first byte.
inline Fault read_unit(Cursor& c, Dimension wanted, Unit& unit) {
  const char* at = c.at;
  std::uint32_t key = 0;
  unsigned shift = 0;
  for (; at != c.end && is_symbol_char(*at); ++at) {
    if (shift == 8 * longest_symbol) return Fault::unknown_unit;
    key |= std::uint32_t{static_cast<unsigned char>(*at)} << shift;
    shift += 8;
  }
  if (at != c.end && !is_blank(*at)) {
    const bool power = (*at == '2' || *at == '3') && (at + 1 == c.end || is_blank(at[1]));
    if (power && shift < 8 * longest_symbol)
      key |= std::uint32_t{static_cast<unsigned char>(*at++)} << shift;
    else if (power || !is_digit(*at))
      return Fault::unknown_unit;
  }
  if (key == 0) return Fault::unknown_unit;
  const UnitRange range = unit_ranges[static_cast<std::size_t>(wanted)];
  for (std::size_t i = range.first; i < range.last; ++i) {
    if (unit_keys[i] != key) continue;
    unit = static_cast<Unit>(i);
    if (at != c.end && is_digit(*at) && unit != Unit::foot) return Fault::unknown_unit;
    c.at = at;
    return Fault::none;
  }
  return Fault::unknown_unit;
}

// "6 1/2in" behind "3ft": adds the inches to count.
Fault read_inches_part(Cursor& c, std::int64_t& count) {
  const char* const first = c.at;
  Scalar s;
  if (const Fault fault = read_scalar(c, s); fault != Fault::none) return fault;
  skip_blanks(c);
  Unit unit = Unit::one;
  if (c.done() || read_unit(c, Dimension::length, unit) != Fault::none || unit != Unit::inch) {
    c.at = first;
    return Fault::inches_split;
  }
  std::int64_t inches = 0;
  const Fault fault = count_steps(s, row_of(Unit::inch).steps, inches);
  if (fault == Fault::out_of_range || inches >= row_of(Unit::foot).steps) {
    c.at = first;
    return Fault::inches_split;
  }
  if (fault != Fault::none) {
    c.at = first;
    return fault;
  }
  count += inches;
  skip_blanks(c);
  return c.done() ? Fault::none : Fault::unexpected;
}

inline Fault read_amount(Cursor& c, Dimension wanted, Amount& out) {
  skip_blanks(c);
  while (!c.done() && is_blank(c.end[-1])) --c.end;
  if (c.done()) return Fault::empty;
  const bool negative = *c.at == '-';
  if (negative) ++c.at;

  const char* const first = c.at;
  Scalar s;
  if (const Fault fault = read_scalar(c, s); fault != Fault::none) return fault;
  skip_blanks(c);
  if (!c.done()) {
    if (const Fault fault = read_unit(c, wanted, out.unit); fault != Fault::none) return fault;
    skip_blanks(c);
  } else if (wanted != Dimension::none) {
    return Fault::missing_unit;
  }
  const bool compound = !c.done();
  if (compound && !(out.unit == Unit::foot && is_digit(*c.at))) return Fault::unexpected;
  const char* const second = c.at;
  if (s.fraction && !takes_fractions(out.unit)) {
    c.at = first;
    return Fault::fraction_unit;
  }

  const UnitRow& row = row_of(out.unit);
  std::int64_t count = 0;
  if (const Fault fault = count_steps(s, row.steps, count); fault != Fault::none) {
    c.at = first;
    return fault;
  }
  if (compound) {
    if (!s.whole()) {
      c.at = second;
      return Fault::feet_split;
    }
    if (const Fault fault = read_inches_part(c, count); fault != Fault::none) return fault;
    out.unit = Unit::inch;
  }
  out.count = (negative ? -count : count) + row.zero;
  if (out.count <= parse_limit && out.count >= -parse_limit) return Fault::none;
  c.at = first;
  return Fault::out_of_range;
}

inline Reading read(std::string_view text, Dimension wanted) {
  if (static_cast<std::size_t>(wanted) >= dimension_rows.size()) wanted = Dimension::none;
  Cursor c{text.data(), text.data() + text.size()};
  Reading out;
  out.fault = read_amount(c, wanted, out.amount);
  out.offset = static_cast<std::size_t>(c.at - text.data());
  return out;
}

template <Dimension D>
inline Parsed<Quantity<D>> parse_as(std::string_view text) {
  const Reading reading = read(text, D);
  if (reading.fault == Fault::none) return Quantity<D>::steps(reading.amount.count);
  return explain(text, D, reading);
}

}  // namespace
}  // namespace quantity

Parsed<Amount> parse_amount(std::string_view text, Dimension wanted) {
  const quantity::Reading reading = quantity::read(text, wanted);
  if (reading.fault == quantity::Fault::none) return reading.amount;
  return quantity::explain(text, wanted, reading);
}

Parsed<Number> parse_number(std::string_view text) { return quantity::parse_as<Dimension::none>(text); }
Parsed<Length> parse_length(std::string_view text) { return quantity::parse_as<Dimension::length>(text); }
Parsed<Area> parse_area(std::string_view text) { return quantity::parse_as<Dimension::area>(text); }
Parsed<Volume> parse_volume(std::string_view text) { return quantity::parse_as<Dimension::volume>(text); }
Parsed<Angle> parse_angle(std::string_view text) { return quantity::parse_as<Dimension::angle>(text); }
Parsed<Current> parse_current(std::string_view text) { return quantity::parse_as<Dimension::current>(text); }
Parsed<Voltage> parse_voltage(std::string_view text) { return quantity::parse_as<Dimension::voltage>(text); }
Parsed<Temperature> parse_temperature(std::string_view text) {
  return quantity::parse_as<Dimension::temperature>(text);
}
Parsed<Power> parse_power(std::string_view text) { return quantity::parse_as<Dimension::power>(text); }
Parsed<Resistance> parse_resistance(std::string_view text) {
  return quantity::parse_as<Dimension::resistance>(text);
}

}  // namespace raceward
