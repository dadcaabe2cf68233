// Receptacles and luminaires by the area that they are in.
#pragma once

#include <span>

#include "figure/told.hpp"

namespace raceward::figure::outlets {

struct InArea {
  Index area, box, device;
};
/// By box.
std::span<const InArea> receptacles_in(Evaluation& e, Index area);
/// The same in the order in which working tells them: by box still.
Told<InArea> told_receptacles_in(Evaluation& e, Index area);
/// A box with a receptacle that does not say its area, or none.
Index receptacle_in_no_area(Evaluation& e);
/// Whether it counts towards those that the law wants: yes, no, or what would tell.
Value receptacle_counts(Evaluation& e, Index device);

}  // namespace raceward::figure::outlets
