// The sides that the trade size of a box names.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>

#include "figure/figure.hpp"

namespace raceward::figure {

/// Width, height and depth that a trade size names: of "4 x 1-1/2", 4 x 4 x 1-1/2 in. None where it names
/// none.
using Sides = std::array<Length, 3>;
inline std::optional<Sides> nominal_sides(installation::BoxSize size) {
  Sides sides;
  std::size_t count = 0;
  std::string_view words = installation::name_of(size);
  constexpr std::string_view times = " x ";
  while (!words.empty() && count < sides.size()) {
    const std::size_t end = words.find(times);
    const auto side = parse_length(std::string(words.substr(0, end)) + "in");
    if (!side) return {};
    sides[count++] = *side;
    words = end == std::string_view::npos ? std::string_view{} : words.substr(end + times.size());
  }
  if (count < 2) return {};
  if (count == 2) return Sides{sides[0], sides[0], sides[1]};
  return sides;
}

}  // namespace raceward::figure
