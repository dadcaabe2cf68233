// Transformers: what feeds them, what their windings make of it, and the conductors of their secondaries.
#pragma once

#include <span>
#include <vector>

#include "figure/figure.hpp"

namespace raceward::figure {

/// A run of wiring outside circuits that brings power from equipment; found once a check.
struct SecondaryRun {
  Index from = installation::none;  ///< the equipment
  Index run = installation::none;
  Index panel = installation::none;  ///< where its other end is; none where that is no panel
};
/// In the order of the ids of their wiring.
std::span<const SecondaryRun> secondary_runs(Evaluation& e, Index equipment);

/// Runs from one transformer to one panel, side by side.
struct Secondary {
  Index panel = installation::none;
  std::vector<Index> runs;
};
/// Of a transformer, by panel.
struct Secondaries {
  std::vector<Secondary> all;
  MissingId missing = 0;  ///< no secondary conductors are drawn, or some lead to no panel
};
Secondaries secondaries_of(Evaluation& e, Index transformer);

/// Conductors of each phase side by side.
struct SecondarySets {
  std::uint32_t count = 1;  // not law: alone
  MissingId missing = 0;
};
SecondarySets secondary_sets(Evaluation& e, Index transformer, const Secondary& to);

/// The circuit that feeds a transformer, by number; missing where none or several do.
struct Primary {
  Index circuit = installation::none;
  MissingId missing = 0;
};
Primary primary_of(Evaluation& e, Index transformer);

/// Voltages of a transformer whose secondary goes to a panel.
struct Ratio {
  std::int64_t primary = 0, secondary = 0;
  MissingId missing = 0;
};
Ratio ratio_of(Evaluation& e, Index transformer, const Secondary& to);

/// Largest device that the law allows a transformer which has a primary overcurrent device alone.
Value primary_device_alone(Evaluation& e, Index transformer);

}  // namespace raceward::figure
