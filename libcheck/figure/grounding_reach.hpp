// What fault current reaches from the source: by certain edges, or by any; and what would tell.
//
// Flexible raceways are limited by their length in the whole path, and some by the sizes of others in it. A
// path keeps the second condition exactly where some size divides it: every flexible raceway is at least that
// size, and asks for no more of the others. So there is a search for each size that a raceway of the document
// asks for.
#pragma once

#include <cstdint>
#include <vector>

#include "figure/grounding_network.hpp"

namespace raceward::figure::grounding {

class Reach {
 public:
  void search_certain(const Network& net);

  [[nodiscard]] bool certain(Node node) const { return certain_[node] != 0; }
  /// Reached where what is unknown is as good as it may be.
  [[nodiscard]] bool possible(const Network& net, Node node);
  /// Shortest flexible length of such paths, in steps. REQUIRES: possible.
  [[nodiscard]] std::int64_t shortest(const Network& net, Node node);
  /// What is missing along one such path: the one with the fewest unknown edges, then the shortest flexible
  /// length, then the fewest edges, then by ids; at most so many unknown edges from the source as a report
  /// can use. REQUIRES: possible and not certain.
  MissingId missing(Evaluation& e, const Network& net, Node node);

  bool ready = false;

 private:
  struct Cost {
    std::uint32_t unknown = UINT32_MAX;
    std::uint32_t hops = 0;
    std::int64_t flexible = 0;
    friend bool operator==(const Cost&, const Cost&) = default;
    [[nodiscard]] bool reached() const { return unknown != UINT32_MAX; }
  };
  struct Told {
    MissingId missing = 0;
    std::uint32_t unknown = 0;
    bool known = false;
  };
  struct Search {
    installation::TradeSize size{};  // that divides
    bool length_first = false;
    std::vector<Cost> costs;
    std::vector<Told> told;  // per node, as far as somebody asked

    [[nodiscard]] bool before(const Cost& a, const Cost& b) const;
  };

  static void run(const Network& net, Search& search);
  std::vector<Search>& searches(const Network& net, bool length_first);
  [[nodiscard]] Search* best(const Network& net, Node node);
  static std::uint32_t edge_to(Evaluation& e, const Network& net, const Search& search, Node node);

  std::vector<installation::TradeSize> sizes_;
  std::vector<std::uint8_t> certain_;
  // Possible ones, made when asked for: by fewest unknown edges, and by shortest flexible length.
  std::vector<Search> by_unknown_, by_length_;
};
Reach& reach(Evaluation& e);

/// Which of two edges into one node is told, whatever the order of elements.
bool told_before(const installation::Model& model, const Edge& a, const Edge& b);

}  // namespace raceward::figure::grounding
