// Circles and arcs in whole steps: pi is a fraction of integers, so that no rounding of a machine number
// shows.
#pragma once

#include "raceward/quantity.hpp"

namespace raceward::figure {

/// A convergent of the continued fraction of pi, right to a part in 10^20.
inline constexpr wide_int pi_numerator = 21'053'343'141;   // not law: pi
inline constexpr wide_int pi_denominator = 6'701'487'259;  // not law: pi

/// Beyond it the square times the numerator would not fit; an area that large is shown as the largest there
/// is.
inline constexpr Length largest_diameter = millimetres(80'000);  // not law: fits 128 bits

/// Area of a circle of that diameter (not negative), cut down or raised to a whole step.
enum class Towards : std::uint8_t { zero, infinity };
constexpr Area circle(Length diameter, Towards towards) {
  if (diameter > largest_diameter) return Area::steps(detail::saturate(wide_int{1} << 100));
  // pi/4 d2 in square picometres; a step of area is 10^10 of them.
  const wide_int numerator = wide_int{diameter.count()} * diameter.count() * pi_numerator;
  const wide_int denominator = wide_int{40'000'000'000} * pi_denominator;  // not law: 4 x 10^10
  const bool up = towards == Towards::infinity && numerator % denominator != 0;
  return Area::steps(detail::saturate(numerator / denominator + (up ? 1 : 0)));
}

/// For what holds something.
constexpr Area circle_at_most(Length diameter) { return circle(diameter, Towards::zero); }
/// For what takes room.
constexpr Area circle_at_least(Length diameter) { return circle(diameter, Towards::infinity); }

}  // namespace raceward::figure
