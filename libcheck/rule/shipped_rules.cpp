// The rules built into the library, from the explicit list; nothing registers itself.
#include <algorithm>

#include "raceward/engine.hpp"

namespace raceward {

namespace methods {
#define RACEWARD_METHOD(name) extern const Rule name;
#include "../../rulesets/methods/methods.def"
#undef RACEWARD_METHOD
}  // namespace methods

std::vector<const Rule*> shipped_rules() {
  std::vector<const Rule*> rules = {
#define RACEWARD_METHOD(name) &methods::name,
#include "../../rulesets/methods/methods.def"
#undef RACEWARD_METHOD
  };
  // The list is sorted by file name, where "_" stands for "-".
  std::sort(rules.begin(), rules.end(), [](const Rule* a, const Rule* b) { return a->id < b->id; });
  return rules;
}

}  // namespace raceward
