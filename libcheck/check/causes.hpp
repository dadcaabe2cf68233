// Findings that have one cause, such as all that lies behind one break.
#pragma once

#include "figure/figure.hpp"
#include "raceward/finding.hpp"

namespace raceward::checking {

/// Marks findings of one rule that say the same of several subjects, of an element that is not the subject:
/// what clears one of them clears all. Nothing else changes. REQUIRES: findings are whole, sorted and told in
/// words.
void mark_causes(const Installation& installation, Report& report);

}  // namespace raceward::checking
