// What every report says, whatever it found.
#pragma once

#include <string>
#include <vector>

#include "raceward/finding.hpp"
#include "raceward/law.hpp"

namespace raceward::checking {

/// Who decides and what a report is not; and how much of the law in force is not read in a source.
std::vector<std::string> cautions(const Law& law);
/// What no rule of this version judges at all.
std::vector<NotChecked> never_checked();

}  // namespace raceward::checking
