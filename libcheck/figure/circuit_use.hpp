// What hangs on each circuit; found once a check.
#pragma once

#include <vector>

#include "figure/figure.hpp"

namespace raceward::figure {

struct OnCircuit {
  std::uint32_t outlets = 0;  ///< receptacles, luminaires, equipment that takes something
  std::uint32_t receptacles =
      0;  ///< places to plug in; one of a receptacle that does not say how many it has
  Index uncounted = installation::none;  ///< such a receptacle
  std::uint32_t other = 0;               ///< receptacles and luminaires
  Index unplaced = installation::none;  ///< a device that does not say its circuit, in a box that this visits
  Index unplaced_receptacle = installation::none;  ///< the same of a receptacle
  Index largest = installation::none;              ///< equipment of the largest load
  std::int64_t continuous = 0;                     ///< sum of the loads that are said to be continuous
  Index unknown = installation::none;  ///< equipment that may be continuous, or of a load that is not said
};

class CircuitUse {
 public:
  void read(Evaluation& e);

  [[nodiscard]] const OnCircuit& on(Index circuit) const { return on_[circuit]; }
  /// The one circuit that ends at equipment, or none where none or several do.
  [[nodiscard]] Index feeding(Index place) const {
    return several_[place] != 0 ? installation::none : feeding_[place];
  }
  [[nodiscard]] bool several_feed(Index place) const { return several_[place] != 0; }
  bool ready = false;

 private:
  std::vector<OnCircuit> on_;
  std::vector<Index> feeding_;         // by place
  std::vector<std::uint8_t> several_;  // by place
};
const CircuitUse& circuit_use(Evaluation& e);

Value lacks_circuit_of(Evaluation& e, Index device);

/// Whether the circuit ends at the stop is not said, or cannot be as it is said.
Value lacks_end_of(Evaluation& e, Index circuit, Index stop);
/// Which of several circuits feeds the equipment, or that one does, is not said.
Value lacks_one_circuit(Evaluation& e, Index place);

/// The overcurrent device's rating, or what is missing for it.
Value device_rating_of(Evaluation& e, Index circuit);

}  // namespace raceward::figure
