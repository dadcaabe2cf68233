// How the runs of a circuit hang together, and where one passes that should stop.
#pragma once

#include "figure/figure.hpp"

namespace raceward::figure {

/// That a run of a circuit passes a place where others of its conductors or a device of it are, and does not
/// stop there: how it is treated is not said.
MissingId lacks_stop(Evaluation& e, Index run, Index place);

/// What is missing where a device is in a place that conductors of its circuit pass without a stop, and none
/// of their kind (those that bring current, grounded, grounding) stop; 0 where nothing is.
MissingId unstopped_at(Evaluation& e, Index place);

/// What is missing of a run that begins or ends at a place, and whose conductors nothing brings: no runs with
/// which it is joined, place by place, come from a panel, and others of its circuit do; or it is spliced
/// where its conductors only pass in another run. 0 where it is fed.
MissingId fed_by_nothing(Evaluation& e, const installation::Visit& visit);

}  // namespace raceward::figure
