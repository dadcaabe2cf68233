// What single conductors carry, and which overcurrent devices their ampacity allows.
#pragma once

#include "figure/current_carrying.hpp"

namespace raceward::figure {

/// Size and metal, as far as a conductor does not tell them: without these it has no row of ampacities.
MissingId lacks_ampacity_row(Evaluation& e, Index conductor);

/// Ampacity of a conductor at terminals of a temperature, without factors.
Value ampacity_at(Evaluation& e, Index conductor, std::int64_t terminals);

/// Ampacity of a conductor in that raceway of a run where it is least; the largest count where the run passes
/// none.
Value ampacity_along(Evaluation& e, Index run, Index conductor, Open open = Open::asked);

/// The temperature that terminals of the circuit are taken at: as marked, or as the law takes those without
/// a marking.
Value terminals_taken(Evaluation& e, Subject circuit);

/// Largest overcurrent device that an ampacity allows on a circuit whose device has a rating: the ampacity,
/// or the next standard rating where the device needs it and the law lets it.
Value device_allowed(Evaluation& e, Subject circuit, std::int64_t rating, const Value& ampacity);

}  // namespace raceward::figure
