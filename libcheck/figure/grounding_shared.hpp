// Equipment grounding conductors that circuits without one of their own share with others.
#pragma once

#include <vector>

#include "figure/figure.hpp"

namespace raceward::figure {

/// A wire-type equipment grounding conductor. A bonding conductor on the load side of an overcurrent device
/// is sized like the others.
bool is_grounding_wire(const installation::Model& model, Index conductor);

/// The equipment grounding conductors in a raceway that can serve whatever lies there: the largest of each
/// metal, and one of a size or metal that is not stated.
struct Offered {
  bool ready = false;
  Index wires[3] = {installation::none, installation::none, installation::none};
  MissingId open = 0;  ///< what tells whether others are such, or lie there
};

/// Found once a raceway.
const Offered& offered_in(Evaluation& e, Index raceway);

/// A raceway that holds conductors of a circuit that take its load and no grounding conductor of it, but of
/// others.
struct SharedIn {
  Index raceway = installation::none;
  MissingId open = 0;  ///< what would tell whether it is so
};

/// By raceway. `missing`: what tells whether others are such.
std::vector<SharedIn> sharing_of(Evaluation& e, Index circuit, MissingId& missing);

}  // namespace raceward::figure
