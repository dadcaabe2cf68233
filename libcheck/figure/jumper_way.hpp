// Raceways that bonding jumpers go through or along, from one of their places to the other; found once for a
// check.
#pragma once

#include <span>

#include "figure/figure.hpp"

namespace raceward::figure {

/// How the raceways join the places of a jumper.
enum class Joining : std::uint8_t {
  at_end,        ///< it stays at the end of the raceway that it names
  one_way,       ///< by a single way, or by the raceway that it names
  side_by_side,  ///< each of several from one to the other
  several_ways,  ///< which of them it takes, nobody says
  nothing,       ///< not at all
};

struct JumperWay {
  Joining joining = Joining::nothing;
  std::span<const installation::Index> raceways;  ///< of one way all of them; side by side each
  /// It names a raceway that leads elsewhere, and that is not said to be metal which it could end on.
  bool strays = false;
};
JumperWay way_of_jumper(Evaluation& e, installation::Index jumper);

/// Jumpers of which a raceway is on the way, or that name it and stray.
std::span<const installation::Index> jumpers_at(Evaluation& e, installation::Index raceway);

/// One that may lie in the raceway, by one of several ways; none: no other.
installation::Index jumper_perhaps_in(Evaluation& e, installation::Index raceway);

}  // namespace raceward::figure
