// Which equipment is a grounding electrode.
#pragma once

#include "figure/figure.hpp"

namespace raceward::figure::grounding {

/// Equipment that only electrode conductors reach, or a jumper from such: earth is no way back for fault
/// current, and an electrode needs none. Found once a check.
bool is_electrode(Evaluation& e, Index place);

}  // namespace raceward::figure::grounding
