// A verdict worth reading, with all that a reader needs to follow it.
#pragma once

#include "check/bound_rule.hpp"
#include "raceward/finding.hpp"

namespace raceward::checking {

/// `working` holds what the explaining pass noted. REQUIRES: the verdict's message and missing facts exist.
Finding finding_of(const figure::Evaluation& e, const BoundRule& bound, Subject subject,
                   const Verdict& verdict, figure::Working&& working);

/// Citations by value, each once, in the order of first use.
std::vector<Citation> citations(const Law& law, std::vector<CitationId> ids);

}  // namespace raceward::checking
