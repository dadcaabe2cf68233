#include "check/trial.hpp"

namespace raceward::checking {

bool asks_module(const BoundRule& bound) {
  return bound.in_force() && bound.fault.empty() && bound.rule->compiled != nullptr;
}

void try_compiled(const Installation& installation, const ReadyLaw& ready, std::vector<BoundRule>& rules,
                  Subjects& subjects, const CheckOptions& options) {
  for (;;) {
    std::vector<const BoundRule*> asked;
    std::vector<BoundRule*> tried;
    for (BoundRule& bound : rules) {
      if (!asks_module(bound)) continue;
      asked.push_back(&bound);
      tried.push_back(&bound);
    }
    if (asked.empty()) return;
    const rule::Tried trial = rule::in_child(
        [&](rule::Progress& progress) {
          ask_all(installation, ready, asked, subjects, {1, options.detail, 0, &progress});
        },
        options.trial);
    if (trial.wrong.empty()) return;
    // One rule less, each time: this ends.
    tried[trial.at < tried.size() ? trial.at : 0]->fault = "tried in a process of its own, " + trial.wrong;
  }
}

}  // namespace raceward::checking
