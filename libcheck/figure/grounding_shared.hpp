// Equipment grounding conductors that circuits without one of their own share with others.
#pragma once

#include <vector>

#include "figure/figure.hpp"

namespace raceward::figure {

/// A wire-type equipment grounding conductor. A bonding conductor on the load side of an overcurrent device
/// is sized like the others.
bool is_grounding_wire(const installation::Model& model, Index conductor);

/// Conductors outside any circuit, which no overcurrent device of the document protects.
inline bool is_wiring(const installation::Circuit& circuit) {
  return circuit.kind == installation::CircuitKind::other && circuit.overcurrent_device == installation::none;
}

/// Class 2 and communications conductors, whose grounding conductors the overcurrent devices of power do not
/// size.
inline bool is_low_voltage(const installation::Circuit& circuit) {
  return circuit.system == installation::System::class_2 ||
         circuit.system == installation::System::communications;
}

/// A circuit beside which an equipment grounding conductor of wiring lies: of a raceway, the one with the
/// largest overcurrent device.
struct ServedBy {
  Index conductor = installation::none, circuit = installation::none;
};
/// By conductor. `missing`: what tells whether others are such, or what protects the wiring itself.
std::vector<ServedBy> served_by_wiring(Evaluation& e, Index wiring, MissingId& missing);

/// The equipment grounding conductors in a raceway that can serve whatever lies there: the largest of each
/// metal, and one of a size or metal that is not stated.
struct Offered {
  Index wires[3] = {installation::none, installation::none, installation::none};
  MissingId open = 0;  ///< what tells whether others are such, or lie there
};

/// Found once a raceway.
const Offered& offered_in(Evaluation& e, Index raceway);

/// Whether a run has conductors that take the load, and a grounding conductor of its own.
struct RunHolds {
  bool load = false, own = false;
};
RunHolds run_holds(const installation::Model& model, const installation::Run& run);

/// A raceway that holds conductors of a circuit that take its load and no grounding conductor of it, but of
/// others.
struct SharedIn {
  Index raceway = installation::none;
  MissingId open = 0;  ///< what would tell whether it is so
};

/// By raceway. `missing`: what tells whether others are such.
std::vector<SharedIn> sharing_of(Evaluation& e, Index circuit, MissingId& missing);

}  // namespace raceward::figure
