// The grounding conductors in a box by whether they are an isolated set.
#pragma once

#include "figure/box_allowances.hpp"

namespace raceward::figure {

struct GroundingSets {
  /// The largest; unstated where there is none.
  installation::ConductorSize plain{}, isolated{};
  Index unsaid = installation::none;  ///< not said to be the one or the other, the first by id
  std::int64_t wires = 0;
};

/// Nothing where the law counts all of them together.
GroundingSets grounding_sets(Evaluation& e, Index box, const Allowances& law);

}  // namespace raceward::figure
