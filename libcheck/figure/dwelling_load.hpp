// The load of a dwelling, as its floor area and the kinds of its circuits and equipment make it.
#pragma once

#include "figure/told.hpp"

namespace raceward::figure {

/// Load of the panel that supplies all of a dwelling, by the standard and the optional method: the smaller
/// one, as either will do. `circuits` are those that begin at it. REQUIRES: the panel states floor area and
/// voltage.
Value dwelling_load(Evaluation& e, Subject panel, const ToldIndices& circuits, const Value& limit);

}  // namespace raceward::figure
