// Bonding jumpers by the places that they enter, sorted once for a check.
#pragma once

#include <span>
#include <vector>

#include "figure/figure.hpp"

namespace raceward::figure {

/// Indices of the jumpers that enter a place from somewhere else. One that only joins a raceway to the place
/// where it ends is not among them: no part of it leaves. By id.
std::span<const installation::Index> jumpers_into(Evaluation& e, installation::Index place);

}  // namespace raceward::figure
