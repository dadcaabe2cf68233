// Exact quantities: what a file or a table says is held as it was written.
//
//   Length gap = *parse_length("3ft 6in");        // 1 066 800 000 000 pm
//   Length limit = inches(36);
//   if (gap > limit) ...                          // decided by integers
//   Area a = gap * limit;                         // Length * Length is an Area
//   gap > parse_angle("90deg");                   // does not compile
//
// A quantity is a count of a fixed, SI-exact step (1 in = 25.4 mm exactly). Sums that
// would overflow stay at the largest or smallest count ("saturate") and never wrap round.
// Everything here is a value, thread-safe, and does not allocate unless it returns a string.
#pragma once

#include <compare>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "raceward/export.h"

namespace raceward {

/// The dimensions that a wiring installation needs. The value is stable: it crosses the C ABI.
enum class Dimension : std::uint8_t {
  none,         ///< a count or a pure number, steps of 1e-9
  length,       ///< steps of 1 pm
  area,         ///< steps of 1e-8 mm2 (0.000001 in2 is 64 516 steps)
  volume,       ///< steps of 1e-6 mm3 (0.001 in3 is 16 387 064 steps)
  angle,        ///< steps of 1e-6 degree
  current,      ///< steps of 1 uA
  voltage,      ///< steps of 1 uV
  temperature,  ///< steps of 1/18000 K counted from 0 degree Celsius: exact in C and F
  power,        ///< steps of 1 uW (also volt-amperes)
  resistance,   ///< steps of 1 nOhm
};

__extension__ using wide_int = __int128;

namespace detail {
constexpr std::int64_t saturate(wide_int v) {
  constexpr wide_int top = std::numeric_limits<std::int64_t>::max();
  return static_cast<std::int64_t>(v > top ? top : v < -top ? -top : v);
}
}  // namespace detail

/// A count of steps of one dimension. Comparing or adding across dimensions does not compile.
template <Dimension D>
class Quantity {
 public:
  static constexpr Dimension dimension = D;

  constexpr Quantity() = default;
  static constexpr Quantity steps(std::int64_t n) { return Quantity(n); }

  /// The raw count of steps.
  [[nodiscard]] constexpr std::int64_t count() const { return count_; }

  friend constexpr auto operator<=>(Quantity, Quantity) = default;
  friend constexpr Quantity operator+(Quantity a, Quantity b) {
    return Quantity(detail::saturate(wide_int{a.count_} + b.count_));
  }
  friend constexpr Quantity operator-(Quantity a, Quantity b) {
    return Quantity(detail::saturate(wide_int{a.count_} - b.count_));
  }
  friend constexpr Quantity operator-(Quantity a) { return Quantity(detail::saturate(-wide_int{a.count_})); }
  friend constexpr Quantity operator*(Quantity a, std::int64_t n) {
    return Quantity(detail::saturate(wide_int{a.count_} * n));
  }
  friend constexpr Quantity operator*(std::int64_t n, Quantity a) { return a * n; }
  // A fraction would be cut to a whole number without a word: scale by a Number instead.
  friend Quantity operator*(Quantity, std::floating_point auto) = delete;
  friend Quantity operator*(std::floating_point auto, Quantity) = delete;
  constexpr Quantity& operator+=(Quantity b) { return *this = *this + b; }
  constexpr Quantity& operator-=(Quantity b) { return *this = *this - b; }

 private:
  explicit constexpr Quantity(std::int64_t n) : count_(n) {}
  std::int64_t count_ = 0;
};

using Number = Quantity<Dimension::none>;
using Length = Quantity<Dimension::length>;
using Area = Quantity<Dimension::area>;
using Volume = Quantity<Dimension::volume>;
using Angle = Quantity<Dimension::angle>;
using Current = Quantity<Dimension::current>;
using Voltage = Quantity<Dimension::voltage>;
using Temperature = Quantity<Dimension::temperature>;
using Power = Quantity<Dimension::power>;
using Resistance = Quantity<Dimension::resistance>;

namespace detail {
template <class Q>
constexpr Q of_units(wide_int n, std::int64_t steps) {
  return Q::steps(saturate(n * steps));
}
}  // namespace detail

// Whole numbers of a unit; `inches(3.5)` does not compile (use a text, or steps).
constexpr Number number(std::integral auto n) { return detail::of_units<Number>(n, 1'000'000'000); }
constexpr Length inches(std::integral auto n) { return detail::of_units<Length>(n, 25'400'000'000); }
constexpr Length feet(std::integral auto n) { return detail::of_units<Length>(n, 304'800'000'000); }
constexpr Length millimetres(std::integral auto n) { return detail::of_units<Length>(n, 1'000'000'000); }
constexpr Angle degrees(std::integral auto n) { return detail::of_units<Angle>(n, 1'000'000); }
constexpr Current amperes(std::integral auto n) { return detail::of_units<Current>(n, 1'000'000); }
constexpr Voltage volts(std::integral auto n) { return detail::of_units<Voltage>(n, 1'000'000); }

/// Products of dimensions, rounded down to a whole step where no step holds them exactly (so `product >=
/// limit` is still decided as for the true product), and saturated.
RACEWARD_API Area operator*(Length a, Length b);
RACEWARD_API Volume operator*(Area a, Length b);
/// Three lengths at once: exact wherever the true product is a whole number of steps.
RACEWARD_API Volume box_volume(Length a, Length b, Length c);
RACEWARD_API Power operator*(Voltage v, Current a);

/// How a exceeds, equals or falls short of `factor` times b, decided exactly in 128-bit integers.
template <Dimension D>
constexpr std::strong_ordering compare_scaled(Quantity<D> a, Number factor, Quantity<D> b) {
  const wide_int left = wide_int{a.count()} * 1'000'000'000;
  const wide_int right = wide_int{b.count()} * factor.count();
  return left < right   ? std::strong_ordering::less
         : left > right ? std::strong_ordering::greater
                        : std::strong_ordering::equal;
}

/// a / b as a pure number, rounded to the nearest step (for showing, not for deciding). b must not be zero.
template <Dimension D>
constexpr Number ratio(Quantity<D> a, Quantity<D> b) {
  const wide_int scaled = wide_int{a.count()} * 1'000'000'000;
  const wide_int half = (b.count() < 0 ? -wide_int{b.count()} : wide_int{b.count()}) / 2;
  return Number::steps(detail::saturate((scaled + (scaled < 0 ? -half : half)) / b.count()));
}

/// Units that a document, a table or a report may write. The value is stable: it crosses the C ABI.
enum class Unit : std::uint8_t {
  one,                ///< "" : a count or a pure number
  percent,            ///< "%"
  inch,               ///< "in"
  foot,               ///< "ft"
  millimetre,         ///< "mm"
  centimetre,         ///< "cm"
  metre,              ///< "m"
  square_inch,        ///< "in2"
  square_millimetre,  ///< "mm2"
  square_centimetre,  ///< "cm2"
  cubic_inch,         ///< "in3"
  cubic_millimetre,   ///< "mm3"
  cubic_centimetre,   ///< "cm3"
  millilitre,         ///< "mL"
  degree,             ///< "deg"
  ampere,             ///< "A"
  milliampere,        ///< "mA"
  volt,               ///< "V"
  kilovolt,           ///< "kV"
  celsius,            ///< "C"
  fahrenheit,         ///< "F"
  watt,               ///< "W"
  kilowatt,           ///< "kW"
  volt_ampere,        ///< "VA"
  kilovolt_ampere,    ///< "kVA"
  ohm,                ///< "ohm"
  milliohm,           ///< "mohm"
};

constexpr Dimension dimension_of(Unit unit) {
  // Units of a dimension stand together; libcheck/quantity/units.hpp holds it.
  if (unit <= Unit::percent) return Dimension::none;
  if (unit <= Unit::metre) return Dimension::length;
  if (unit <= Unit::square_centimetre) return Dimension::area;
  if (unit <= Unit::millilitre) return Dimension::volume;
  if (unit <= Unit::degree) return Dimension::angle;
  if (unit <= Unit::milliampere) return Dimension::current;
  if (unit <= Unit::kilovolt) return Dimension::voltage;
  if (unit <= Unit::fahrenheit) return Dimension::temperature;
  if (unit <= Unit::kilovolt_ampere) return Dimension::power;
  return unit <= Unit::milliohm ? Dimension::resistance : Dimension::none;
}
/// The unit's symbol as written in documents ("in2"); empty for a pure number.
RACEWARD_API std::string_view symbol_of(Unit unit);
/// The unit of a symbol; nothing where the symbol is unknown.
RACEWARD_API std::optional<Unit> unit_of(std::string_view symbol);

/// A quantity whose dimension is known at run time only, with the unit it should be shown in.
struct Amount {
  std::int64_t count = 0;  ///< steps of the unit's dimension
  Unit unit = Unit::one;   ///< how to show it

  friend constexpr bool operator==(const Amount&, const Amount&) = default;
};

template <Dimension D>
constexpr Amount show(Quantity<D> q, Unit unit) {
  return Amount{q.count(), unit};
}

/// The amount as a quantity of dimension D. REQUIRES: dimension_of(a.unit) == D.
template <Dimension D>
constexpr Quantity<D> as(const Amount& a) {
  return Quantity<D>::steps(a.count);
}

/// Why a text is not a quantity: one sentence without a final period, fit to follow "length \"3 foo\": ".
struct QuantityError {
  std::string what;
  std::size_t offset = 0;  ///< byte in the text where reading stopped
};

/// A parsed value or the reason why there is none.
template <class T>
class Parsed {
 public:
  Parsed(T value) : value_(value), ok_(true) {}              // NOLINT(google-explicit-constructor)
  Parsed(QuantityError error) : error_(std::move(error)) {}  // NOLINT(google-explicit-constructor)
  explicit operator bool() const { return ok_; }
  const T& operator*() const { return value_; }
  const T* operator->() const { return &value_; }
  [[nodiscard]] const QuantityError& error() const { return error_; }

 private:
  T value_{};
  QuantityError error_;
  bool ok_ = false;
};

/// Reads a number with its unit, of the wanted dimension: "36in", "3ft 6in", "3 1/2in", "3-1/2in", "1/2in",
/// "900mm", "20A", "86F", "-10C", "90deg", "40%". Dimension::none takes percentages and bare numbers; every
/// other dimension needs a unit. Fractions and mixed numbers are for inches and feet only; whole feet may be
/// followed by less than 12 inches, and are then shown in inches; a leading "-" negates the whole. Blanks are
/// allowed around the text, between number and unit, and between feet and inches. Errors are: values that the
/// step cannot hold exactly, values beyond a thousandth of the range, every exponent ("1e3"), "nan", "inf",
/// hexadecimal, a leading "+", a point without a digit on both sides, and separators between thousands. Never
/// looks at the locale; does not allocate when it succeeds.
RACEWARD_API Parsed<Amount> parse_amount(std::string_view text, Dimension wanted);

RACEWARD_API Parsed<Number> parse_number(std::string_view text);
RACEWARD_API Parsed<Length> parse_length(std::string_view text);
RACEWARD_API Parsed<Area> parse_area(std::string_view text);
RACEWARD_API Parsed<Volume> parse_volume(std::string_view text);
RACEWARD_API Parsed<Angle> parse_angle(std::string_view text);
RACEWARD_API Parsed<Current> parse_current(std::string_view text);
RACEWARD_API Parsed<Voltage> parse_voltage(std::string_view text);
RACEWARD_API Parsed<Temperature> parse_temperature(std::string_view text);
RACEWARD_API Parsed<Power> parse_power(std::string_view text);
RACEWARD_API Parsed<Resistance> parse_resistance(std::string_view text);

/// The number alone, in the amount's unit, as a plain decimal with a point: exact where it has at most nine
/// decimals, else rounded to nine, halves away from zero. Never an exponent, never the locale's separator,
/// never "-0".
RACEWARD_API std::string decimal_of(const Amount& amount);
/// Whether decimal_of shows the amount as it is, with nothing rounded.
RACEWARD_API bool decimal_is_exact(const Amount& amount);
/// Number and unit as a person writes them: "36 in", "12.25 in2", "31.5 %", "20 A". Where decimal_is_exact
/// and the amount is within a thousandth of the range, parse_amount reads it back to the same amount.
RACEWARD_API std::string text_of(const Amount& amount);

/// True for "2024-02-29": a day of the calendar, as documents and rulesets write it. Such texts compare as
/// days do.
RACEWARD_API bool is_date(std::string_view text);

}  // namespace raceward
