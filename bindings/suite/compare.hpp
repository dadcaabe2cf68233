// What is found against what is expected.
#pragma once

#include <string>
#include <vector>

#include "suite.hpp"

namespace raceward::suite {

/// Adds what these findings say otherwise than is expected under the ruleset, named as in the document.
void compare(const Expectations& expected, const std::vector<const Finding*>& found,
             const std::string& ruleset, std::vector<Mismatch>& out);
void compare_ledger(const Expectations& expected, const Report& report, const std::string& ruleset,
                    std::vector<Mismatch>& out);
/// Waivers that hold show in what they waive; those without effect are expected or told.
void compare_waivers(const Expectations& expected, const Report& report, const std::string& ruleset,
                     std::vector<Mismatch>& out);
/// A rule that went wrong has no findings: only the ledger counts what it left open. No expectation covers
/// it.
void tell_faults(const Report& report, std::vector<Mismatch>& out);
/// Adds figures that are otherwise than expected. They are computed only where some are expected.
void compare_figures(const Expectations& expected, const Installation& installation, const Law& law,
                     const std::string& ruleset, std::vector<Mismatch>& out);
/// Shows of each finding that was missed what its rule reads of the subject now, with the arithmetic. `rules`
/// as CheckOptions has them, beside the shipped ones.
void explain_missed(const Expectations& expected, const Installation& installation, const Law& law,
                    const std::vector<const Rule*>& rules, std::vector<Mismatch>& all);
/// What a whole report says otherwise, but for figures.
std::vector<Mismatch> mismatches_of(const Expectations& expected, const Report& report,
                                    const std::string& ruleset);

}  // namespace raceward::suite
