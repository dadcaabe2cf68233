// The way back of fault current: impedance of the grounding path from each place to the source.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "figure/grounding_network.hpp"

namespace raceward::figure::grounding {

/// Impedance of the path back, in steps of resistance.
struct PathBack {
  std::int64_t most = INT64_MAX;  ///< by what surely carries it and is known; INT64_MAX: by nothing
  std::int64_t least = 0;         ///< if what is unknown is as good as it may be
};

class PathsBack {
 public:
  void build(Evaluation& e);

  [[nodiscard]] PathBack from(Node node) const { return {most_[node], least_[node]}; }
  /// What is missing of the way that would be the least.
  MissingId missing(Evaluation& e, Node node);
  /// Notes each piece of the known way, from the node back to the source.
  void note(Evaluation& e, Node node);

  bool ready = false;

 private:
  struct Piece {
    std::int64_t ohms = 0;
    MissingId missing = 0;
  };
  Piece raceway(Evaluation& e, installation::Index raceway) const;
  void measure_runs(Evaluation& e);
  void measure_run(Evaluation& e, installation::Index run, bool isolated);
  [[nodiscard]] Piece piece(Evaluation& e, const Network& net, const Edge& edge) const;
  /// Of the least way from the source to each node; INT64_MAX: there is none.
  [[nodiscard]] std::vector<std::int64_t> search(const Network& net, bool known) const;
  /// A least way, by what is known or by what may be: its edges from the source, and those to go back by.
  struct Ways {
    std::vector<std::uint32_t> hops;  // by node; empty where nobody asked yet
    std::vector<std::uint32_t> back;  // by node, as far as somebody asked
  };
  [[nodiscard]] std::int64_t cost_of(std::uint32_t edge, const Network& net, bool known) const;
  [[nodiscard]] bool leads(const Network& net, std::uint32_t edge, Node from, bool known) const;
  void count_hops(const Network& net, bool known);
  std::uint32_t edge_back(Evaluation& e, const Network& net, Node node, bool known);
  [[nodiscard]] std::string words(const Evaluation& e, const Edge& edge) const;

  std::vector<Piece> plain_, isolated_;     // by stop: of the conductors from the stop before it
  std::vector<Piece> pieces_;               // by edge
  std::vector<std::int64_t> most_, least_;  // by node
  Ways known_, least_ways_;                 // the latter's hops empty where nothing is open
  struct Told {
    MissingId missing = 0;
    bool known = false;
  };
  std::vector<Told> told_;  // by node, as far as somebody asked
};
PathsBack& paths_back(Evaluation& e);

}  // namespace raceward::figure::grounding
