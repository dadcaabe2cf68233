// Parts of sorted lists.
#pragma once

#include <algorithm>
#include <span>
#include <utility>
#include <vector>

#include "installation/model.hpp"

namespace raceward::figure {

/// The items of a list, sorted by this member, that have it so. What std::ranges::equal_range gives, clang 14
/// cannot compile.
template <class Item, class Key>
std::span<const Item> equal_in(const std::vector<Item>& sorted, Key key, Key Item::*member) {
  const auto first = std::ranges::lower_bound(sorted, key, {}, member);
  const auto end = std::ranges::upper_bound(sorted, key, {}, member);
  return {first, end};
}

/// Elements in the order that their ids count in, shorter ones first, so that B2 comes before B10: for
/// working that must not depend on the order of a document.
template <class Element>
void sort_by_id(const std::vector<Element>& all, std::span<installation::Index> of) {
  std::ranges::sort(of, {}, [&](installation::Index i) { return std::pair(all[i].id.size(), all[i].id); });
}

}  // namespace raceward::figure
