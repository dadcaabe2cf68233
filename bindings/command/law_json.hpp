// Rulesets for programs.
#pragma once

#include <raceward/engine.hpp>
#include <string>
#include <vector>

namespace raceward::command {

/// The shipped rulesets, a line of their own each: rulesets-1.schema.json.
std::string json_of(const std::vector<RulesetInfo>& rulesets);

/// All that a resolved ruleset says, with the layer that sets each and what it stands on, as
/// ruleset-1.schema.json has it. `only` is a table of the law, or null: then everything.
std::string json_of(const Law& law, const std::vector<Remark>& remarks, const Table* only);

}  // namespace raceward::command
