// What surrounds a raceway along its way: the areas where it runs and where it ends.
#pragma once

#include "figure/ampacity_law.hpp"
#include "figure/current_carrying.hpp"

namespace raceward::figure {

/// Dry, damp or wet, where a raceway runs and at its ends.
struct Whereabouts {
  installation::Location own{};      ///< of the raceway; unstated: see missing
  installation::Location wettest{};  ///< of the raceway and its ends; wet below the ground
  MissingId missing = 0;
  MissingId earth = 0;  ///< where earth may be over it, and nothing else makes it wet
};
Whereabouts whereabouts(Evaluation& e, installation::Index raceway);

/// How hot the insulation of a conductor in a raceway may become: 0 where no mark of it is made for that
/// location. What decides is asked for only where it makes a difference.
Value insulation_limit(Evaluation& e, installation::Index raceway, installation::Index conductor);

/// Temperature around a conductor in a raceway: of the air, and what the sun adds to it above a roof, but for
/// insulations that the law excepts.
Value ambient_of(Evaluation& e, installation::Index raceway, installation::Index conductor, Open open);

/// Share of their ampacity that conductors in a raceway keep for their number.
Value adjustment_in(Evaluation& e, installation::Index raceway, Open open);

/// What is missing of a conductor whose insulation is not stated, or that the law does not know.
Value lacks_insulation(Evaluation& e, installation::Index conductor);

}  // namespace raceward::figure
