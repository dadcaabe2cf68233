// Sizes by what supplies a panel, ahead of any overcurrent device.
#pragma once

#include "figure/electrode_supply.hpp"

namespace raceward::figure {

/// What the law asks of a conductor of a metal that goes with the supply of a panel: bonding jumpers, and the
/// grounded conductor of a service. Noted.
struct SupplySide {
  installation::ConductorSize size{};
  MissingId missing = 0;  ///< where something is, the size is the least that it may be, or unstated
  CitationId cite = no_citation;
};
SupplySide supply_side_of(Evaluation& e, Subject panel, Metal metal);
/// The same of a supply that is known otherwise.
SupplySide supply_side_for(Evaluation& e, const Supply& supply, Metal metal);

}  // namespace raceward::figure
