// The first break of the fault current path to a place, seen from the panel.
#pragma once

#include <string>
#include <vector>

#include "figure/grounding_reach.hpp"

namespace raceward::figure::grounding {

struct Break {
  Subject at;       ///< the raceway or place where continuity is lost
  std::string why;  ///< "raceway R4 is PVC-40 3/4, ..."
  CitationId cite = no_citation;
  MissingId missing = 0;  ///< where it is none but what nobody wrote: what would tell
};

/// Walks from the panel along the ways of circuits, and only where none goes along other raceways.
class Breaks {
 public:
  /// REQUIRES: the place's metal, or in a nonmetallic one its conductors, are not reached even possibly.
  const Break& first(Evaluation& e, installation::Index place);

 private:
  void walk_from_panels(Evaluation& e);
  void walk(const Evaluation& e, std::vector<installation::Index>& level, bool circuits_only);
  installation::Adjacent before(const Evaluation& e, installation::Index place) const;
  Break here(Evaluation& e, installation::Index place) const;

  std::vector<installation::Index> rank_;  // per place: raceways from a panel; none: nothing joins it to one
  installation::Index by_circuits_ = 0;    // ranks below were walked along circuits
  std::vector<installation::Index> head_;  // per place: index of its first break in breaks_
  std::vector<Break> breaks_;
};

}  // namespace raceward::figure::grounding
