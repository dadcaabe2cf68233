// Thin wires of luminaires, which a circuit may supply over a short way.
#pragma once

#include "figure/figure.hpp"

namespace raceward::figure {

/// 1 where the law lets the conductor, of that size and insulation, go from the circuit to a luminaire; 0
/// where not.
Value fixture_wire(Evaluation& e, installation::Index circuit, installation::Index conductor);

}  // namespace raceward::figure
