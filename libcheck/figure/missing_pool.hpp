// Missing facts, and sets of them.
#pragma once

#include <cstdint>
#include <deque>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "installation/derived.hpp"
#include "raceward/rule.hpp"

namespace raceward::figure {

/// A fact that is missing or contradictory: an attribute of an element, or a child element.
struct Fact {
  Subject element;
  installation::Offset source = 0;  ///< of the element in the file; 0: take the subject's
  std::string_view name;            ///< attribute or element as written in documents: "trade-size", "support"
  std::string_view expects;         ///< "a length such as 36in"
  std::string_view who;             ///< who could supply it
  std::string why;                  ///< empty for a plain absence; else the contradiction or ambiguity

  friend bool operator==(const Fact&, const Fact&) = default;
};

/// Numbers by a hash of what they stand for: a flat table with open addressing.
class HashSlots {
 public:
  /// The number with that hash that `is` accepts, or none.
  template <class Is>
  [[nodiscard]] std::uint32_t find(std::size_t hash, const Is& is) const {
    if (slots_.empty()) return none;
    for (std::size_t at = place_of(hash); slots_[at].number != none; at = (at + 1) & (slots_.size() - 1)) {
      if (slots_[at].hash == hash && is(slots_[at].number)) return slots_[at].number;
    }
    return none;
  }
  void insert(std::size_t hash, std::uint32_t number);

  static constexpr std::uint32_t none = UINT32_MAX;

 private:
  struct Slot {
    std::size_t hash = 0;
    std::uint32_t number = none;
  };
  void put(Slot slot);
  // Elements that follow one another have hashes that do.
  [[nodiscard]] std::size_t place_of(std::size_t hash) const {
    return (hash * 0x9e3779b97f4a7c15U >> 32) & (slots_.size() - 1);  // not law: spreads the bits
  }

  std::vector<Slot> slots_;  // their number is a power of two, and half of them are free
  std::size_t count_ = 0;
};

/// Sets of facts, each kept once. A set holds at most so many facts as a report can use, the first by their
/// elements' ids, and knows whether there are more: what hangs on thousands of facts costs no more than that.
/// Only undetermined verdicts touch it.
class MissingPool {
 public:
  static constexpr std::size_t most = 64;  // not law: a bound of ours

  explicit MissingPool(const Installation& installation);
  MissingId add(Fact fact);
  MissingId both(MissingId a, MissingId b);
  /// All of them: where they may be many, in the time of one.
  MissingId all(std::span<const MissingId> sets);
  /// Facts of a set, by their elements' ids.
  [[nodiscard]] std::vector<const Fact*> facts(MissingId id) const;
  /// There are more than those.
  [[nodiscard]] bool cut(MissingId id) const { return sets_[id].cut; }
  /// Ids from 0 to one less are sets of this pool.
  [[nodiscard]] std::size_t size() const { return sets_.size(); }

 private:
  struct Set {
    std::size_t first = 0;
    std::uint32_t count = 0;
    bool cut = false;
  };
  [[nodiscard]] std::span<const std::uint32_t> members(MissingId id) const {
    return {members_.data() + sets_[id].first, sets_[id].count};
  }
  [[nodiscard]] const std::string& id_of(std::uint32_t fact) const;
  [[nodiscard]] bool before(std::uint32_t a, std::uint32_t b) const;
  MissingId keep(bool cut);
  MissingId new_set(std::span<const std::uint32_t> facts, bool cut);

  const Installation& in_;
  std::deque<Fact> facts_;
  mutable std::vector<std::string> ids_;  // of the facts' elements, as far as somebody asked
  std::vector<Set> sets_;
  std::vector<MissingId> alone_;        // by fact: the set of it and no other
  std::vector<std::uint32_t> members_;  // facts of all sets, of each in rising order
  std::vector<std::uint32_t> joined_;   // while a set is made
  HashSlots known_facts_, known_sets_;
  struct Joined {
    MissingId a = 0, b = 0, both = 0;
  };
  std::vector<Joined> recent_;  // of each slot the pair that was joined last
};

}  // namespace raceward::figure
