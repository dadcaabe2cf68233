#include "laws.hpp"

#include <iostream>

#include "output.hpp"

namespace raceward::command {

void tell(const std::vector<Problem>& problems) {
  for (const Problem& problem : problems) std::cerr << text_of(problem) << '\n';
}

std::string shipped_ids() {
  std::string list;
  for (const RulesetInfo& info : shipped_rulesets()) list += (list.empty() ? "" : ", ") + info.id;
  return list;
}

const Law* Laws::named(const std::string& id_or_path) {
  const auto known = laws_.find(id_or_path);
  if (known != laws_.end()) return known->second.get();
  LoadedLaw loaded = load_ruleset(id_or_path);
  if (!loaded.law) tell(loaded.problems);
  remarks_[id_or_path] = std::move(loaded.remarks);
  return (laws_[id_or_path] = std::move(loaded.law)).get();
}

const Law* Laws::adopted(const Installation& installation, const std::string& file) {
  const std::string id(adopted_ruleset(installation));
  if (id.empty()) {
    complain(
        file +
        ": the document names no ruleset; write one in its ruleset attribute, or say --under. Shipped: " +
        shipped_ids());
    return nullptr;
  }
  const auto known = laws_.find(id);
  if (known != laws_.end() && known->second) return known->second.get();
  LoadedLaw loaded = load_shipped_ruleset(id);
  if (!loaded.law) {
    for (Problem& problem : loaded.problems)
      if (problem.place.line == 0)
        problem = {where_ruleset_is_adopted(installation), "ruleset \"" + id + "\": " + problem.message};
    tell(loaded.problems);
  }
  return (laws_[id] = std::move(loaded.law)).get();
}

}  // namespace raceward::command
