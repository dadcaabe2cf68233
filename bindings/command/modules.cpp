#include "modules.hpp"

#include <iterator>

#include "laws.hpp"
#include "output.hpp"

namespace raceward::command {

const LoadedModules& load(const Modules& named) {
  // Never unloaded: what a module does then could end the program, with a status of its own.
  static LoadedModules& all = *new LoadedModules;
  if (named.any()) keep_standard_output();
  const auto add = [](LoadedModules more) {
    std::move(more.modules.begin(), more.modules.end(), std::back_inserter(all.modules));
    std::move(more.problems.begin(), more.problems.end(), std::back_inserter(all.problems));
  };
  for (const std::string& file : named.files) add(load_module(file, usual_trial));
  for (const std::string& folder : named.folders) add(load_modules(folder, usual_trial));
  tell(all.problems);
  return all;
}

std::vector<const Rule*> rules_of(const LoadedModules& loaded) {
  std::vector<const Rule*> all;
  for (const auto& module : loaded.modules) {
    const std::vector<const Rule*> rules = raceward::rules_of(*module);
    all.insert(all.end(), rules.begin(), rules.end());
  }
  return all;
}

}  // namespace raceward::command
