// Ungrounded conductors that lie with an equipment grounding conductor.
#pragma once

#include <algorithm>
#include <string_view>
#include <vector>

#include "figure/ampacity_law.hpp"
#include "figure/figure.hpp"

namespace raceward::figure::compute {

inline constexpr std::string_view a_size = "a size such as 12 AWG";
inline constexpr std::string_view a_material = "copper, aluminum or copper-clad-aluminum";
inline constexpr std::string_view gauge_only = "the ruleset in force gives sizes by gauge only";

inline const installation::ConductorKind& kind_of(const installation::Model& model, Index conductor) {
  return model.conductor_kinds[model.conductors[conductor].kind];
}

/// Ungrounded conductors that lie somewhere, with those after a switch.
struct Ungrounded {
  installation::ConductorSize largest[2]{};  // by metal
  MissingId missing = 0;                     // sizes and metals that are not stated
  bool any = false;

  [[nodiscard]] installation::ConductorSize of(Metal metal) const { return largest[static_cast<int>(metal)]; }
  [[nodiscard]] installation::ConductorSize most() const { return std::max(largest[0], largest[1]); }
  void add(Evaluation& e, const Ungrounded& other) {
    for (const Metal metal : {Metal::copper, Metal::aluminum}) {
      const auto m = static_cast<std::size_t>(metal);
      largest[m] = std::max(largest[m], other.largest[m]);
    }
    missing = e.missing.both(missing, other.missing);
    any = any || other.any;
  }
};

/// The ungrounded conductors that lie with each conductor of a circuit: in a raceway that it passes, or in
/// its run. Those of the whole circuit where that is not known of all of them.
class Beside {
 public:
  Beside(Evaluation& e, Index circuit);

  /// How many the circuit has.
  [[nodiscard]] std::uint32_t count() const { return count_; }
  [[nodiscard]] const Ungrounded& whole() const { return whole_; }
  [[nodiscard]] const Ungrounded& with(Index conductor) const {
    const std::size_t i = conductor - circuit_.conductors.first;
    return count_ == 0 || with_.empty() || !with_[i].any ? whole_ : with_[i];
  }

 private:
  void read();

  Evaluation& e_;
  const installation::Circuit& circuit_;
  Ungrounded whole_;
  std::uint32_t count_ = 0;
  std::vector<Ungrounded> with_;  // by conductor of the circuit; empty: not known
};

}  // namespace raceward::figure::compute
