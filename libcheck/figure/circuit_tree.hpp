// Which places of a circuit lie behind which, as its runs lead from the panel; found once a check.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "figure/figure.hpp"

namespace raceward::figure {

class CircuitTree {
 public:
  void read(const Evaluation& e, Index circuit);
  bool ready = false;

  /// A place and all that is fed through it, in order of the way; empty where the runs do not tell: they make
  /// a ring, do not begin at the panel, or do not come there.
  [[nodiscard]] std::span<const Index> behind(Index place) const;
  /// All places of the circuit but its panel.
  [[nodiscard]] std::span<const Index> all() const {
    return places_.empty() ? std::span<const Index>() : std::span(places_).subspan(1);
  }

 private:
  std::vector<Index> places_;                           // each before what it feeds
  std::vector<std::uint32_t> end_;                      // beside places_: behind what it feeds
  std::vector<std::pair<Index, std::uint32_t>> where_;  // in places_, by place
};

const CircuitTree& circuit_tree(Evaluation& e, Index circuit);

}  // namespace raceward::figure
