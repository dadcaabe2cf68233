// Parts of sorted lists.
#pragma once

#include <algorithm>
#include <span>
#include <vector>

namespace raceward::figure {

/// The items of a list, sorted by this member, that have it so. What std::ranges::equal_range gives, clang 14
/// cannot compile.
template <class Item, class Key>
std::span<const Item> equal_in(const std::vector<Item>& sorted, Key key, Key Item::*member) {
  const auto first = std::ranges::lower_bound(sorted, key, {}, member);
  const auto end = std::ranges::upper_bound(sorted, key, {}, member);
  return {first, end};
}

}  // namespace raceward::figure
