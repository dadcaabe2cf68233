// All rules asked of all their subjects, on one thread or several.
#pragma once

#include <span>
#include <vector>

#include "check/ready_law.hpp"
#include "check/subjects.hpp"
#include "check/tally.hpp"
#include "raceward/engine.hpp"
#include "rule/child.hpp"

namespace raceward::checking {

struct Answers {
  std::vector<Tally> tallies;     ///< a rule each, in the order of the rules
  std::vector<Finding> findings;  ///< by place in the file, then rule, then subject
};

/// How to ask. The answers are the same whatever is chosen.
struct Manner {
  unsigned threads = 0;  ///< as CheckOptions has it
  Detail detail = Detail::all;
  std::size_t worded = 0;              ///< as CheckOptions has it
  rule::Progress* progress = nullptr;  ///< where to tell which of the rules is being asked; may be null
};

/// REQUIRES: the fault of each rule is empty; rules are sorted by id.
Answers ask_all(const Installation& installation, const ReadyLaw& ready,
                const std::vector<const BoundRule*>& rules, Subjects& subjects, Manner manner);

/// Asks again what each finding says, and makes it one with words. REQUIRES: as ask_all.
void ask_again(const Installation& installation, const ReadyLaw& ready,
               const std::vector<const BoundRule*>& rules, std::span<Finding> findings);

}  // namespace raceward::checking
