// What a layer writes as a condition, checked against the vocabulary of documents, figures and declared
// facts.
#pragma once

#include <map>
#include <optional>
#include <string>

#include "raceward/law.hpp"
#include "ruleset/layer.hpp"

namespace raceward::ruleset {

using DeclaredFacts = std::map<std::string, DeclaredFact, std::less<>>;

/// The fact that a layer declares, or nothing and at least one problem.
std::optional<DeclaredFact> declared(const FactFields& fields, const TextFile& file, Problems& problems);

/// The condition of a <where>; faults go to `problems`.
Condition condition_of(const WhereFields& where, const TextFile& file, const DeclaredFacts& facts,
                       Problems& problems);

/// What a <requires> says, but for its force and its citations; nothing, and at least one problem, where it
/// is faulty.
std::optional<Requirement> requirement_of(const RequiresFields& fields, const TextFile& file,
                                          const DeclaredFacts& facts, Problems& problems);

/// That the date of the permit lies outside of these; where a document states none, it does not.
Condition outside_of(const std::string& from, const std::string& before);

/// "occupancy of the installation is dwelling and permit-date is from 2022-01-01 on"
std::string words_of(const Condition& condition);

/// True where the two cannot hold at once, as far as one look tells: they ask for different words of the same
/// thing, or for ranges that do not meet.
bool exclude_each_other(const Condition& a, const Condition& b);

}  // namespace raceward::ruleset
