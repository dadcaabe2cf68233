// What is said of a conduit body that cannot be.
#pragma once

#include "figure/figure.hpp"

namespace raceward::figure {

/// More raceways enter the body than its form has hubs; 0 where they may.
MissingId hubs_denied(Evaluation& e, Subject body);

}  // namespace raceward::figure
