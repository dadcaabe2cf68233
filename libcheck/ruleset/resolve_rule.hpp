// A data rule of a layer, checked against the figures document and the parameters in force.
#pragma once

#include <map>
#include <optional>
#include <string>

#include "facts/shape.hpp"
#include "raceward/law.hpp"
#include "ruleset/layer.hpp"

namespace raceward::ruleset {

using Parameters = std::map<std::string, Parameter, std::less<>>;
using DeclaredFacts = std::map<std::string, DeclaredFact, std::less<>>;

/// The rule, or nothing and at least one problem with its place in the file.
std::optional<DataRule> data_rule(const RuleFields& fields, const TextFile& file, LayerId layer,
                                  const Parameters& parameters, const DeclaredFacts& declared,
                                  const facts::Shapes& shapes, Problems& problems);

/// Where in the file a byte of an attribute's value stands. REQUIRES: the field is one of the file.
std::size_t within(const TextFile& file, const Field& field, std::size_t at);

}  // namespace raceward::ruleset
