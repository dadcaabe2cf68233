// Reads the number in front of a unit: digits, a decimal, a fraction or a mixed number. Integers only.
#pragma once

#include <array>
#include <cstdint>

#include "quantity/fault.hpp"
#include "quantity/units.hpp"

namespace raceward::quantity {

struct Cursor {
  const char* at;
  const char* end;

  [[nodiscard]] bool done() const { return at == end; }
};

constexpr bool is_digit(char c) { return c >= '0' && c <= '9'; }
constexpr bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; }

inline void skip_blanks(Cursor& c) {
  while (!c.done() && is_blank(*c.at)) ++c.at;
}

/// mantissa / 10^decimals + numerator / denominator. Without a fraction the denominator is 1 and the
/// numerator 0.
struct Scalar {
  std::uint64_t mantissa = 0;
  std::uint32_t decimals = 0;
  std::uint32_t numerator = 0;
  std::uint32_t denominator = 1;
  bool fraction = false;   ///< written with a "/"
  bool too_large = false;  ///< more than 18 digits in front of the point
  bool too_fine = false;   ///< more decimals than any unit can hold; then decimals is 0

  [[nodiscard]] bool whole() const { return decimals == 0 && !fraction && !too_fine; }
};

// A mantissa below this takes one more digit and stays below 10^18; a value of 10^18 exceeds every unit's
// limit.
inline constexpr std::uint64_t mantissa_room = 100'000'000'000'000'000;
inline constexpr std::uint64_t fraction_room = 1'000'000'000;

inline constexpr std::array<std::uint64_t, most_decimals + 1> powers_of_ten = [] {
  std::array<std::uint64_t, most_decimals + 1> out{};
  std::uint64_t power = 1;
  for (auto& p : out) {
    p = power;
    power *= 10;
  }
  return out;
}();

/// The digits at the cursor. Sets `overflow` where they do not fit 18 significant digits.
inline std::uint64_t read_digits(Cursor& c, bool& overflow) {
  std::uint64_t value = 0;
  for (; !c.done() && is_digit(*c.at); ++c.at) {
    if (value < mantissa_room)
      value = value * 10 + static_cast<std::uint64_t>(*c.at - '0');
    else
      overflow = true;
  }
  return value;
}

/// Digits after a point; the cursor stands on the point.
inline Fault read_decimals(Cursor& c, Scalar& s) {
  const char* const first = c.at + 1;
  const char* last = first;
  while (last != c.end && is_digit(*last)) ++last;
  if (last == first) return Fault::point;
  c.at = last;
  while (last != first && last[-1] == '0') --last;
  std::uint64_t mantissa = s.mantissa;
  s.too_fine = last - first > static_cast<std::ptrdiff_t>(most_decimals);
  for (const char* p = first; p != last && !s.too_fine; ++p) {
    s.too_fine = mantissa >= mantissa_room;
    mantissa = mantissa * 10 + static_cast<std::uint64_t>(*p - '0');
  }
  if (!s.too_fine) {
    s.mantissa = mantissa;
    s.decimals = static_cast<std::uint32_t>(last - first);
  }
  return Fault::none;
}

/// "/" and the digits behind it; the cursor stands on the slash. `whole` is 0 or the whole number of a mixed
/// one.
inline Fault read_fraction(Cursor& c, Scalar& s, std::uint64_t whole, std::uint64_t numerator, bool mixed) {
  const char* const slash = c.at++;
  bool overflow = false;
  const std::uint64_t denominator = read_digits(c, overflow);
  const bool empty = c.at == slash + 1;
  if (empty || denominator == 0 || numerator >= fraction_room || denominator >= fraction_room ||
      (mixed && numerator >= denominator)) {
    c.at = slash;
    return Fault::fraction;
  }
  s.mantissa = whole;
  s.numerator = static_cast<std::uint32_t>(numerator);
  s.denominator = static_cast<std::uint32_t>(denominator);
  s.fraction = true;
  return Fault::none;
}

/// A number without sign. On a fault the cursor stands where reading stopped.
inline Fault read_scalar(Cursor& c, Scalar& s) {
  if (c.done() || !is_digit(*c.at)) return Fault::no_number;
  s.mantissa = read_digits(c, s.too_large);
  if (c.done()) return Fault::none;
  if (*c.at == '.') return read_decimals(c, s);
  if (*c.at == '/') return read_fraction(c, s, 0, s.mantissa, false);
  // "3 1/2" and "3-1/2": digits behind the blank or hyphen can only be a fraction's numerator.
  if (*c.at != '-' && !is_blank(*c.at)) return Fault::none;
  Cursor next = c;
  if (*c.at == '-')
    ++next.at;
  else
    skip_blanks(next);
  if (next.done() || !is_digit(*next.at)) return Fault::none;
  const char* const numerator_at = next.at;
  bool overflow = false;
  const std::uint64_t numerator = read_digits(next, overflow);
  if (next.done() || *next.at != '/') {
    c.at = is_blank(*c.at) ? numerator_at : c.at;
    return Fault::unexpected;
  }
  c = next;
  return read_fraction(c, s, s.mantissa, numerator, true);
}

/// The number in steps, `steps` to the unit and from the unit's own zero, into `count`; a fault where it is
/// farther from zero than any count that is allowed.
inline Fault count_steps(const Scalar& s, std::int64_t steps, std::int64_t& count) {
  constexpr auto limit = static_cast<std::uint64_t>(parse_limit + farthest_zero);
  const auto per_unit = static_cast<std::uint64_t>(steps);
  const std::uint64_t scale = powers_of_ten[s.decimals];
  std::uint64_t total = 0;
  bool exact = !s.too_fine;
  if (s.too_large) return Fault::out_of_range;
  if (std::uint64_t product = 0; !__builtin_mul_overflow(s.mantissa, per_unit, &product)) {
    total = scale == 1 ? product : product / scale;
    exact = exact && total * scale == product;
  } else {
    const wide_int wide = wide_int{s.mantissa} * steps;
    if (wide / scale > limit) return Fault::out_of_range;
    total = static_cast<std::uint64_t>(wide / scale);
    exact = exact && wide % scale == 0;
  }
  if (s.fraction && total <= limit) {
    const wide_int part = wide_int{s.numerator} * steps;
    if (part / s.denominator > limit) return Fault::out_of_range;
    total += static_cast<std::uint64_t>(part / s.denominator);
    exact = exact && part % s.denominator == 0;
  }
  if (total > limit) return Fault::out_of_range;
  count = static_cast<std::int64_t>(total);
  return exact ? Fault::none : Fault::inexact;
}

}  // namespace raceward::quantity
