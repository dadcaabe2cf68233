// Deviations that somebody has accepted: which findings they waive, and which waivers have no effect.
#pragma once

#include <string>
#include <vector>

#include "check/bound_rule.hpp"
#include "raceward/finding.hpp"

namespace raceward::checking {

/// Puts the waivers of the document into the report, marks the findings that they waive and counts those in
/// the ledger. Nothing else changes: no verdict becomes another. REQUIRES: findings and ledger are whole.
void waive(const Installation& installation, const Law& law, const std::vector<BoundRule>& rules,
           const std::string& on, Report& report);

}  // namespace raceward::checking
