// Circuits of the document that feed its panels.
#pragma once

#include <vector>

#include "installation/model.hpp"

namespace raceward::figure {

/// What feeds a panel: the circuit that it names, else those that end in it from another panel.
struct PanelFeeder {
  installation::Index circuit = installation::none;  ///< the first by id of those that end in it
  bool several = false;
  installation::Index wiring = installation::none;  ///< the first by id that brings power from another panel
};

/// By place.
std::vector<PanelFeeder> panel_feeders(const installation::Model& model);

}  // namespace raceward::figure
