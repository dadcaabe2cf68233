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
  /// How many conductors that may bring current lie between a place and the one before it on the way from the
  /// panel; 0 where the runs do not tell.
  [[nodiscard]] std::uint32_t leading_to(Index place) const;
  /// Whether the circuit comes to the place, as far as the runs tell.
  [[nodiscard]] bool comes_to(Index place) const { return at(place) != nowhere; }
  /// Whether current comes to the second place through the first, or both are one.
  [[nodiscard]] bool through(Index first, Index second) const {
    const std::uint32_t a = at(first), b = at(second);
    return a != nowhere && b != nowhere && a <= b && b < end_[a];
  }
  /// All places of the circuit but its panel.
  [[nodiscard]] std::span<const Index> all() const {
    return places_.empty() ? std::span<const Index>() : std::span(places_).subspan(1);
  }

 private:
  static constexpr std::uint32_t nowhere = UINT32_MAX;
  [[nodiscard]] std::uint32_t at(Index place) const;  // in places_

  std::vector<Index> places_;                           // each before what it feeds
  std::vector<std::uint32_t> end_;                      // beside places_: behind what it feeds
  std::vector<std::uint32_t> leading_;                  // beside places_: conductors that lead to it
  std::vector<std::pair<Index, std::uint32_t>> where_;  // in places_, by place
};

const CircuitTree& circuit_tree(Evaluation& e, Index circuit);

}  // namespace raceward::figure
