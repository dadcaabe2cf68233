// Parts of sorted lists.
#pragma once

#include <algorithm>
#include <span>
#include <vector>

namespace raceward::figure {

/// The items of a list, sorted by this member or what is told of them, that have it so. What
/// std::ranges::equal_range gives, clang 14 cannot compile.
template <class Item, class Key, class By>
std::span<const Item> equal_in(const std::vector<Item>& sorted, const Key& key, By by) {
  const auto first = std::ranges::lower_bound(sorted, key, {}, by);
  const auto end = std::ranges::upper_bound(sorted, key, {}, by);
  return {first, end};
}

}  // namespace raceward::figure
