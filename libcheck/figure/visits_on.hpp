// Visits of a place by the runs of one circuit: a place may be visited by many.
#pragma once

#include <span>
#include <vector>

#include "figure/figure.hpp"

namespace raceward::figure {

/// Of each place they are sorted by circuit when somebody first asks.
class VisitsByCircuit {
 public:
  /// Indices of visits, in their order; valid until the next call.
  std::span<const Index> of(const Evaluation& e, Index place, Index circuit);

 private:
  std::vector<Index> order_;          // slices of places as in Routes::visits
  std::vector<std::uint8_t> sorted_;  // by place
};

/// Indices into Routes::visits.
inline std::span<const Index> visits_on(Evaluation& e, Index place, Index circuit) {
  return e.once<VisitsByCircuit>().of(e, place, circuit);
}

}  // namespace raceward::figure
