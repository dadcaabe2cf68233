// Missing facts in words, with the place where each is to be written.
#pragma once

#include <vector>

#include "figure/figure.hpp"
#include "raceward/finding.hpp"

namespace raceward::checking {

/// The file's name and the line and column of an offset.
Place place_of(const installation::Model& model, installation::Offset offset);

/// The facts of a set, sorted by element and fact, so that the order in the file does not matter.
/// REQUIRES: missing < e.missing.size().
std::vector<Need> needs_of(const figure::Evaluation& e, MissingId missing);

}  // namespace raceward::checking
