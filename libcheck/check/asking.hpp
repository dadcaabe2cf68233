// One rule asked of all its subjects.
#pragma once

#include <vector>

#include "check/tally.hpp"

namespace raceward::checking {

/// Asks the rule of each subject, in order. Findings are added where `findings` is not null. A rule that
/// throws, or answers what makes no sense, costs that subject an undetermined entry and nothing else.
/// REQUIRES: bound.fault is empty.
Tally ask(figure::Evaluation& e, const BoundRule& bound, const std::vector<Subject>& subjects,
          std::vector<Finding>* findings);

}  // namespace raceward::checking
