// One layer, set over what the layers below it made.
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <string>
#include <vector>

#include "facts/shape.hpp"
#include "ruleset/chain.hpp"
#include "ruleset/citer.hpp"
#include "ruleset/conditions.hpp"

namespace raceward::ruleset {

/// What the layers so far made, by name.
struct Drawn {
  std::map<std::string, Parameter, std::less<>> parameters;
  std::map<std::string, Table, std::less<>> tables;
  std::map<std::string, RuleSetting, std::less<>> rules;
  DeclaredFacts facts;
  std::map<std::string, Requirement, std::less<>> requirements;
  std::map<std::string, DataRule, std::less<>> data_rules;
  std::vector<Scope> scopes;
};

/// Gives the law of that id or path, or nothing and says why.
using Adopt = std::function<std::shared_ptr<const Law>(const Link&, const Field&)>;

/// What the resolving of all layers has in common.
struct Resolving {
  Drawn& drawn;
  Citer& citer;
  Problems& problems;
  const Adopt& adopt;
  const facts::Shapes& shapes;
  const Shelf& shipped;
  std::vector<Remark>& remarks;
  bool on_shipped = false;  ///< the lowest layer is a shipped one
};

void resolve_layer(const Link& link, LayerId id, const Resolving& with);

}  // namespace raceward::ruleset
