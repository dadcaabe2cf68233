// How fast an overcurrent device must open on an earth fault, and what it needs for that.
#pragma once

#include "figure/figure.hpp"

namespace raceward::figure {

/// 1 where the circuit is one that must open fast; else what is missing to tell of it.
Value opens_fast(Evaluation& e, Subject circuit);

/// Voltage to earth, or that it is not stated.
Value voltage_to_earth(Evaluation& e, Subject circuit);

}  // namespace raceward::figure
