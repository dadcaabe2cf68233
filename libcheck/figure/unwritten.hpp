// What nobody wrote of circuits: runs, and the conductors of runs.
#pragma once

#include "figure/figure.hpp"

namespace raceward::figure {

/// Circuits of which no run is written, by id: where they lead, and what lies there, is not known.
const std::vector<installation::Index>& wayless(Evaluation& e);
/// That the run of such a circuit is not written.
MissingId lacks_run(Evaluation& e, installation::Index circuit, std::string_view why);

/// What is missing of a circuit that has no run, or no conductor; 0 where it has both.
MissingId unwritten_of(Evaluation& e, installation::Index circuit);
/// What would tell what lies in a raceway: runs without conductors, or else, where no run lies in it,
/// circuits without runs, or all that lies in it; 0 where runs with conductors do.
MissingId unwritten_in(Evaluation& e, installation::Index raceway);

}  // namespace raceward::figure
