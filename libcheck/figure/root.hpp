// Square roots of exact counts.
#pragma once

#include "raceward/quantity.hpp"

namespace raceward::figure {

/// Square root, rounded down.
inline std::int64_t root(wide_int of) {
  wide_int low = 0, high = wide_int{1} << 62;
  while (low < high) {
    const wide_int middle = (low + high + 1) / 2;
    if (middle * middle <= of)
      low = middle;
    else
      high = middle - 1;
  }
  return detail::saturate(low);
}

}  // namespace raceward::figure
