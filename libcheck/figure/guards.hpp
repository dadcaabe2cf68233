// Who guards an outlet: a device ahead of it by its load terminals, or the overcurrent device of its circuit.
#pragma once

#include "figure/figure.hpp"

namespace raceward::figure {

/// Protection that one part gives to all that it feeds.
enum class Guard : std::uint8_t { ground_fault, arc_fault };

/// 1 where the device has it by itself, from a device ahead of it or with all of its circuits; else 0.
Value guarded(Evaluation& e, Guard guard, Index device);
/// 1 where the circuit has it from its overcurrent device, or from one that its panel is fed through.
Value circuit_guarded(Evaluation& e, Guard guard, Index circuit);

}  // namespace raceward::figure
