// Which conductors circuits bring into a box: what may be on a device there.
#pragma once

#include <optional>
#include <utility>
#include <vector>

#include "figure/figure.hpp"

namespace raceward::figure {

struct SizeRange {
  installation::ConductorSize least{}, most{};
  installation::ConductorSize least_passing{};  ///< where what nobody says of how conductors go on is passing
};

/// Of one box, found when somebody asks. Runs count that stop there.
class CircuitsInBox {
 public:
  CircuitsInBox(Evaluation& e, installation::Index box) : e_(e), box_(box) {}

  /// The largest conductor of a circuit; nothing where none of its runs stops in the box.
  const installation::ConductorSize* largest(installation::Index circuit);

  /// What the largest conductor on a device may be: as said, else by its circuits, or by any that are here
  /// where it says none. Unstated where there is none, or the law does not know the smallest piece that may
  /// lead to it.
  SizeRange on(installation::Index device);

 private:
  const SizeRange& any();

  Evaluation& e_;
  installation::Index box_;
  std::vector<std::pair<installation::Index, installation::ConductorSize>> largest_;  // by circuit
  std::optional<SizeRange> any_;
};

}  // namespace raceward::figure
