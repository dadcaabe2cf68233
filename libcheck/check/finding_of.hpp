// A verdict worth reading, with all that a reader needs to follow it.
#pragma once

#include <map>
#include <vector>

#include "check/bound_rule.hpp"
#include "raceward/finding.hpp"

namespace raceward::checking {

/// The lists that findings of one check share, by the ids of their citations.
using CitedLists = std::map<std::vector<CitationId>, CitationList>;

/// Writes what a finding says without words into a new one: they are large, and made where they stay.
/// REQUIRES: as finding_of.
void verdict_into(Finding& f, const figure::Evaluation& e, const BoundRule& bound, Subject subject,
                  const Verdict& verdict);

/// `working` holds what the explaining pass noted; its lines are taken. REQUIRES: the verdict's message and
/// missing facts exist.
Finding finding_of(const figure::Evaluation& e, const BoundRule& bound, Subject subject,
                   const Verdict& verdict, figure::Working& working, CitedLists& lists);

/// Citations by value, each once, in the order of first use.
std::vector<Citation> citations(const Law& law, std::vector<CitationId> ids);

}  // namespace raceward::checking
