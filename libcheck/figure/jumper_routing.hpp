// Bonding jumpers that go from one end of a raceway to the other.
#pragma once

#include "figure/figure.hpp"

namespace raceward::figure {

/// What tells whether bonding jumpers lie in a raceway beside its conductors; 0: none does.
MissingId jumpers_inside(Evaluation& e, Index raceway);

}  // namespace raceward::figure
