// Do a law and the rules fit each other?
#include <set>

#include "ruleset/ruleset.hpp"
#include "ruleset/text_file.hpp"

namespace raceward::ruleset {

std::vector<Problem> verify(const Law& law, std::span<const Rule* const> rules) {
  std::vector<std::string_view> rule_ids, parameter_names;
  for (const Rule* rule : rules) rule_ids.push_back(rule->id);
  for (const Parameter& p : law.parameters) parameter_names.push_back(p.name);

  Problems problems;
  const std::set<std::string_view> known(rule_ids.begin(), rule_ids.end());
  for (const RuleSetting& setting : law.rules) {
    if (known.count(setting.rule) != 0) continue;
    problems.add(setting.place,
                 "no rule is called " + quoted(setting.rule) + suggestion(setting.rule, rule_ids));
  }
  for (const Rule* rule : rules) {
    const RuleSetting* setting = law.rule(rule->id);
    if (setting == nullptr || setting->force == RuleSetting::Force::off) continue;
    for (const std::string_view name : rule->parameters) {
      if (law.parameter(name) != nullptr) continue;
      problems.add(setting->place, "rule " + quoted(rule->id) + " reads parameter " + quoted(name) +
                                       ", which " + law.id + " does not set" +
                                       suggestion(name, parameter_names));
    }
  }
  return std::move(problems).sorted();
}

}  // namespace raceward::ruleset
