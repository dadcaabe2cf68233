// Devices by the place that they are in, sorted once for a check.
#pragma once

#include <span>
#include <vector>

#include "figure/figure.hpp"

namespace raceward::figure {

/// Indices of the devices in a place, in document order.
std::span<const installation::Index> devices_in(Evaluation& e, installation::Index place);

}  // namespace raceward::figure
