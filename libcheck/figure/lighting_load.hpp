// Lighting of premises other than dwellings, by their floor area.
#pragma once

#include "figure/figure.hpp"

namespace raceward::figure {

/// What the floor area of premises says of their load, as volt-amperes.
struct AreaLoad {
  bool known = false;     ///< the floor area, what the floor is, and a row of the law for it
  MissingId missing = 0;  ///< where it is not: what would tell it
  std::int64_t lighting = 0;
  std::int64_t receptacles = 0;       ///< at least; 0 where the law says none
  const Parameter* factor = nullptr;  ///< by which it counts more where it is continuous
  CitationId cite = no_citation;
};

/// Of the premises that a panel supplies all of.
AreaLoad load_by_area(Evaluation& e, Subject panel);

}  // namespace raceward::figure
