// The heaviest path through a tree.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

namespace raceward::figure {

struct Link {
  std::uint32_t a = 0, b = 0;  ///< nodes, numbered from 0
  std::int64_t weight = 0;     ///< not negative
};

/// The largest sum of weights along any path that passes no link twice; nothing where links close a ring, so
/// that there is more than one way between two nodes. Linear. REQUIRES: every node is less than `nodes`.
std::optional<std::int64_t> longest_way(const std::vector<Link>& links, std::uint32_t nodes);

}  // namespace raceward::figure
