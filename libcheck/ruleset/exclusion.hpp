// Which conditions no subject can meet, alone or with others.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ruleset/conditions.hpp"

namespace raceward::ruleset {

/// True where nothing lies between the two.
bool apart(const Condition::Bound& high, const Condition::Bound& low);

/// Two conditions that must hold at once, or one of them not, and cannot: in words. Nothing where there are
/// no such, as far as words and bounds tell. `about`: what the conditions are asked of, where it is of one
/// kind; it has one value of each attribute, and what it has to do with may have several.
std::optional<std::string> never_hold(const std::vector<Condition>& all, std::optional<SubjectKind> about,
                                      const DeclaredFacts& facts);

/// True where what must hold of each of these holds wherever what is given does, as far as words and bounds
/// tell.
bool always_holds(const Condition& given, const Condition& must, SubjectKind about,
                  const DeclaredFacts& facts);

}  // namespace raceward::ruleset
