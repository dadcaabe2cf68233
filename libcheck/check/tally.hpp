// Counts of one rule while it is asked, and what of it ends in the ledger and among what was not checked.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "check/bound_rule.hpp"
#include "raceward/finding.hpp"

namespace raceward::checking {

struct Tally {
  std::uint64_t complies = 0, violates = 0, undetermined = 0, not_applicable = 0;
  /// Not applicable, by Rule::reasons; one more for none of them. Empty where it always applied.
  std::vector<std::uint64_t> reasons;
  std::uint64_t compared = 0, at_limit = 0;
  std::uint64_t advised = 0;   ///< of violates: where the rule advises only
  std::uint64_t off_here = 0;  ///< of not applicable, and without reason: a condition switches it off
  std::uint64_t faults = 0;    ///< of undetermined: because the rule did what it must not
  std::string first_fault;
  std::string first_at;
  std::size_t first_position = 0;  ///< of the subject of the first fault, in the list of all

  /// One more that does not apply, for the reason at that position.
  void leave_out(const Rule& rule, std::size_t reason);
  /// Adds what the same rule said of other subjects.
  void add(Tally more);
  [[nodiscard]] std::uint64_t asked() const { return complies + violates + undetermined + not_applicable; }
};

LedgerLine ledger_line(const BoundRule& bound, const Tally& tally);
/// The ledger of a rule that cannot be asked: whatever it was to judge is undetermined, and never nothing.
LedgerLine ledger_line(const BoundRule& bound, std::uint64_t subjects);

/// Why a rule in force said nothing, or what it did wrong; adds nothing where it was asked and answered.
void tell_not_checked(const BoundRule& bound, const Tally& tally, std::vector<NotChecked>& out);
/// A rule that was not asked: switched off, not used, or at fault.
void tell_not_asked(const BoundRule& bound, const Law& law, std::vector<NotChecked>& out);

}  // namespace raceward::checking
