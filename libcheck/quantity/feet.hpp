// Long lengths as the trade tells them.
#pragma once

#include <cstdint>
#include <string>

#include "raceward/quantity.hpp"

namespace raceward::quantity {

/// "10 ft", "4.5 ft", "6 ft 7 in", "10 ft 0.001 in"; below a foot inches. Rounded to so many decimals of an
/// inch.
std::string feet_of(std::int64_t length, unsigned decimals = 4);

}  // namespace raceward::quantity
