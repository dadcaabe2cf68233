#include "figure/longest_way.hpp"

#include <algorithm>

namespace raceward::figure {

std::optional<std::int64_t> longest_way(const std::vector<Link>& links, std::uint32_t nodes) {
  std::vector<std::uint32_t> first(nodes + 1), left(nodes), of_node(links.size() * 2);
  for (const Link& link : links) {
    ++left[link.a];
    ++left[link.b];
  }
  for (std::uint32_t n = 0; n < nodes; ++n) first[n + 1] = first[n] + left[n];
  std::vector<std::uint32_t> next(first.begin(), first.end() - 1);
  for (std::uint32_t i = 0; i < links.size(); ++i) {
    of_node[next[links[i].a]++] = i;
    of_node[next[links[i].b]++] = i;
  }

  // Take off leaves until nothing is left: each passes on the heaviest path that ends in it.
  std::vector<std::int64_t> ending(nodes);
  std::vector<std::uint32_t> leaves;
  std::vector<std::uint8_t> taken(links.size());
  for (std::uint32_t n = 0; n < nodes; ++n) {
    if (left[n] == 1) leaves.push_back(n);
  }
  std::int64_t longest = 0;
  std::size_t done = 0;
  for (std::size_t at = 0; at < leaves.size(); ++at) {
    const std::uint32_t leaf = leaves[at];
    for (std::uint32_t i = first[leaf]; i < first[leaf + 1]; ++i) {
      const std::uint32_t number = of_node[i];
      if (taken[number] != 0) continue;
      taken[number] = 1;
      ++done;
      const Link& link = links[number];
      const std::uint32_t other = link.a == leaf ? link.b : link.a;
      const std::int64_t reach = ending[leaf] + link.weight;
      longest = std::max(longest, ending[other] + reach);
      ending[other] = std::max(ending[other], reach);
      if (--left[other] == 1) leaves.push_back(other);
    }
  }
  if (done != links.size()) return std::nullopt;
  return longest;
}

}  // namespace raceward::figure
