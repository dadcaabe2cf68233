// What the overcurrent devices of each panel supply, with what panels behind it supply.
#pragma once

#include <vector>

#include "figure/figure.hpp"

namespace raceward::figure {

struct PanelCircuits {
  std::uint32_t devices = 0;  ///< overcurrent devices in it
  std::uint32_t handles = 0;  ///< of those; the devices of one handle tie are one for a multiwire circuit
  std::uint32_t handles_most = 0;                 ///< where it is not said whether their circuit is one
  installation::Index tied = installation::none;  ///< a device so tied, the first by id
  installation::Index tied_circuit = installation::none;  ///< a circuit that begins there
  std::vector<installation::Index> unsaid_ties;  ///< devices without a circuit that may be tied to another
  std::vector<installation::Index> lone_ties;    ///< devices said to be tied, to none of the document
  std::vector<installation::Index> may_tie;      ///< others that do not say what they are tied to
  std::int64_t rating = 0;                       ///< of its handles together
  installation::Index unrated = installation::none;  ///< a device without a rating
  std::uint32_t circuits = 0;                        ///< that it supplies, at least
  std::uint32_t wider = 0;  ///< of those, circuits that are known to have more than two wires
  /// Where it supplies at most two: what tells whether there are more, and whether they are of two wires.
  MissingId more = 0, wires = 0;
};
/// Gone through once for all panels.
const PanelCircuits& circuits_of(Evaluation& e, Subject panel);

/// 1 where all overcurrent devices of the panel are written, 0 where some are not.
Value all_devices_written(Evaluation& e, Subject panel);

}  // namespace raceward::figure
