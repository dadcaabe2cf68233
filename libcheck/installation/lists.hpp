// Elements by what they belong to.
#pragma once

#include <algorithm>
#include <span>
#include <vector>

#include "installation/model.hpp"

namespace raceward::installation {

/// A list for each index, all side by side.
struct Lists {
  std::vector<Index> first, items;

  [[nodiscard]] std::span<const Index> at(Index i) const {
    return {items.data() + first[i], first[i + 1] - first[i]};
  }

  /// Each list by what `by` tells of an item.
  template <class By>
  void sort(By by) {
    for (std::size_t i = 1; i < first.size(); ++i) {
      if (first[i] - first[i - 1] > 1)  // not law: several
        std::ranges::sort(items.begin() + first[i - 1], items.begin() + first[i], {}, by);
    }
  }
};

/// each(put) calls put(key, item) for all items, twice in the same order, which the lists keep.
template <class Each>
Lists lists_of(std::size_t keys, Each each) {
  Lists out;
  out.first.assign(keys + 1, 0);
  each([&](Index key, Index) { ++out.first[key + 1]; });
  for (std::size_t i = 1; i <= keys; ++i) out.first[i] += out.first[i - 1];
  out.items.resize(out.first[keys]);
  std::vector<Index> next(out.first.begin(), out.first.end() - 1);
  each([&](Index key, Index item) { out.items[next[key]++] = item; });
  return out;
}

}  // namespace raceward::installation
