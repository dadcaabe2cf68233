// What may be open of conductors in a box: how they are treated, and whether smaller pieces lead to devices.
#pragma once

#include <optional>
#include <vector>

#include "figure/box_allowances.hpp"
#include "figure/box_circuits.hpp"

namespace raceward::figure {

/// Stops at a box that do not say how conductors are treated there.
class UntreatedStops {
 public:
  void add(bool grounding, installation::Offset stop) {
    if (stops_.empty() || stops_.back() != std::pair{grounding, stop}) stops_.emplace_back(grounding, stop);
  }
  MissingId missing(Evaluation& e, Subject box, bool of_grounding, bool of_others) const;

 private:
  std::vector<std::pair<bool, installation::Offset>> stops_;
};

/// Smaller pieces that may lead to the devices in a box, spliced to what its circuits bring. Where nobody
/// says how conductors that go on are treated, these may be cut for that, and then take more.
class Pieces {
 public:
  Pieces(Evaluation& e, const Allowances& law) : e_(e), law_(law) {}

  /// Conductors that go on through the box, and take so much more if they are cut.
  void may_cut(Volume more) { least_cut_ = least_cut_ ? std::min(*least_cut_, more) : more; }
  /// A device on conductors of such sizes, counted with the largest of them so many times.
  void device(installation::Index device, const SizeRange& sizes, const Parameter* factor,
              std::int64_t times);

  [[nodiscard]] bool any() const { return less_.count() != 0; }
  /// Some hang on which circuit a device is on.
  [[nodiscard]] bool of_any_circuit() const { return !on_any_circuit_.empty(); }
  /// The least that all in the box needs, of what it needs without any pieces.
  [[nodiscard]] Volume least(Volume needed) const {
    const Volume passing = needed - less_passing_;
    return least_cut_ ? std::min(passing, needed - less_ + *least_cut_) : needed - less_;
  }
  /// What is missing of how small they are.
  MissingId missing() const;

 private:
  Evaluation& e_;
  const Allowances& law_;
  Volume less_;          // that they would take less
  Volume less_passing_;  // the same where conductors go on of which nobody says how they are treated
  std::optional<Volume> least_cut_;
  std::vector<installation::Index> on_said_circuit_, on_any_circuit_;  // devices
};

}  // namespace raceward::figure
