// Entries of raceways against the walls of a box that large conductors are pulled through.
#pragma once

#include <string_view>

#include "figure/figure.hpp"

namespace raceward::figure {

constexpr std::string_view wall_words[] = {"", "left", "right", "top", "bottom", "back", "front"};

/// What is missing where the inside dimensions of a box, its trade size and the raceways that enter it cannot
/// all be as written; 0 where they may be.
MissingId entries_denied(Evaluation& e, Subject place);

}  // namespace raceward::figure
