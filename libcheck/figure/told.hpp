// The order in which working tells elements: one that does not depend on that of the document.
//
// While nobody asks for the arithmetic everything is gone through as it stands, which costs nothing. What
// decides a verdict must not hang on the order: of equal candidates take the one whose id comes first.
#pragma once

#include <algorithm>
#include <span>
#include <string_view>
#include <type_traits>
#include <utility>
#include <vector>

#include "figure/figure.hpp"

namespace raceward::figure {

/// Ids in the order that they count in, shorter ones first, so that B2 comes before B10.
inline std::pair<std::size_t, std::string_view> id_key(std::string_view id) { return {id.size(), id}; }
inline bool id_before(std::string_view a, std::string_view b) { return id_key(a) < id_key(b); }

/// Indices to go through: of a slice of one of the model's vectors, or of a list.
class ToldIndices {
 public:
  explicit ToldIndices(installation::Range slice) : first_(slice.first), end_(slice.end()) {}
  explicit ToldIndices(std::span<const Index> list)
      : listed_(list.data()), end_(static_cast<Index>(list.size())) {}
  ToldIndices(ToldIndices&&) = default;
  ToldIndices& operator=(ToldIndices&&) = default;
  ToldIndices(const ToldIndices&) = delete;
  ToldIndices& operator=(const ToldIndices&) = delete;
  ~ToldIndices() = default;

  template <class Before>
  void sort(const Before& before) {
    std::vector<Index> sorted(begin(), end());
    std::ranges::stable_sort(sorted, before);
    sorted_ = std::move(sorted);
    listed_ = sorted_.data();
    end_ -= std::exchange(first_, 0);
  }

  class Iterator {
   public:
    using value_type = Index;
    using reference = Index;
    using pointer = const Index*;
    using difference_type = std::ptrdiff_t;
    using iterator_category = std::input_iterator_tag;
    Iterator(const Index* listed, Index at) : listed_(listed), at_(at) {}
    Index operator*() const { return listed_ == nullptr ? at_ : listed_[at_]; }
    Iterator& operator++() {
      ++at_;
      return *this;
    }
    Iterator operator++(int) {
      const Iterator before = *this;
      ++at_;
      return before;
    }
    bool operator==(const Iterator& other) const { return at_ == other.at_; }

   private:
    const Index* listed_;
    Index at_;
  };
  [[nodiscard]] Iterator begin() const { return {listed_, first_}; }
  [[nodiscard]] Iterator end() const { return {listed_, end_}; }

 private:
  std::vector<Index> sorted_;
  const Index* listed_ = nullptr;  // null: the slice itself
  Index first_ = 0, end_ = 0;
};

/// Elements by their ids. `of`: a slice of `all`, or a list of indices of it.
template <class Element, class Indices>
ToldIndices told_by_id(const Evaluation& e, const std::vector<Element>& all, const Indices& of) {
  ToldIndices out(of);
  if (e.noting()) out.sort([&](Index a, Index b) { return id_before(all[a].id, all[b].id); });
  return out;
}

/// Runs, which have no ids: by their circuits, then by their ways and their conductors.
bool run_before(const Evaluation& e, Index a, Index b);
template <class Indices>
ToldIndices told_runs(const Evaluation& e, const Indices& runs) {
  ToldIndices out(runs);
  if (e.noting()) out.sort([&](Index a, Index b) { return run_before(e, a, b); });
  return out;
}

/// Items by a key of theirs; the list must outlive it.
template <class Item>
class Told {
 public:
  template <class Key>
  Told(const Evaluation& e, std::span<const Item> list, const Key& key) : list_(list) {
    if (!e.noting()) return;
    sorted_.assign(list.begin(), list.end());
    std::ranges::stable_sort(sorted_, {}, key);
    list_ = sorted_;
  }
  Told(Told&&) = default;
  Told& operator=(Told&&) = default;
  Told(const Told&) = delete;
  Told& operator=(const Told&) = delete;
  ~Told() = default;

  [[nodiscard]] const Item* begin() const { return list_.data(); }
  [[nodiscard]] const Item* end() const { return list_.data() + list_.size(); }

 private:
  std::vector<Item> sorted_;
  std::span<const Item> list_;
};

/// `key` is called with an item: its id_key, as a rule.
template <class List, class Key>
auto told_by(const Evaluation& e, const List& list, const Key& key) {
  const std::span items(list.data(), list.size());
  using Item = std::remove_const_t<typename decltype(items)::element_type>;
  return Told<Item>(e, items, key);
}

/// Raceways at a place, by their ids.
inline auto told_at(const Evaluation& e, Index place) {
  return told_by(e, e.in.graph.at(place),
                 [&e](const installation::Adjacent& a) { return id_key(e.model.raceways[a.raceway].id); });
}

}  // namespace raceward::figure
