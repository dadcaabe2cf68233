// Square roots of exact counts.
#pragma once

#include <cmath>

#include "raceward/quantity.hpp"

namespace raceward::figure {

/// In steps of a number: between three phases and one.
inline constexpr std::int64_t root_of_three = 1'732'050'808;  // not law: geometry, in steps of a number

/// Square root, rounded down, of what is below 2^124; 0 of what is negative.
inline std::int64_t root(wide_int of) {
  if (of <= 0) return 0;
  // Near enough that two steps of Newton's leave at most the last unit to be put right.
  auto near = static_cast<wide_int>(std::sqrt(static_cast<double>(of))) + 1;
  for (int step = 0; step < 2; ++step) near = (near + of / near) / 2;
  while (near * near > of) --near;
  while ((near + 1) * (near + 1) <= of) ++near;
  return detail::saturate(near);
}

/// Rounded up.
inline std::int64_t root_at_least(wide_int of) {
  const std::int64_t below = root(of);
  return wide_int{below} * below < of ? below + 1 : below;
}

}  // namespace raceward::figure
