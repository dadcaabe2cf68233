// Ids of a document, and what bears them.
#pragma once

#include <bit>
#include <cstdint>
#include <cstring>
#include <string_view>
#include <vector>

#include "document/words.hpp"
#include "installation/model.hpp"
#include "raceward/subject.hpp"

namespace raceward::document {

/// The id of a subject as the model keeps it; empty for kinds without ids.
std::string_view id_text(const installation::Model& model, Subject subject);

/// A flat table with open addressing. Ids of up to eight bytes are the key themselves, so that looking them
/// up touches one slot and no text. Callers hash ahead and prefetch: see for_each_ahead.
class IdTable {
 public:
  /// Room for so many ids. Ids are read with word_padding bytes behind them.
  IdTable(const installation::Model& model, std::size_t ids);

  struct Key {
    std::uint64_t bits = 0;   ///< the id itself, or its hash where it is longer than eight bytes
    std::uint64_t place = 0;  ///< where to look first
    bool is_hash = false;
  };
  [[nodiscard]] Key key(std::string_view id) const {
    Key k;
    if (id.size() <= 8) {
      if (!id.empty()) {
        std::memcpy(&k.bits, id.data(), 8);
        k.bits &= ~std::uint64_t{0} >> (64 - 8 * id.size());
      }
    } else {
      k.is_hash = true;
      k.bits = hash_long(id);
    }
    k.place = spread(k.bits) >> shift_;
    return k;
  }
  void prefetch(const Key& key) const { __builtin_prefetch(&slots_[key.place]); }

  /// What bears the id, or nothing.
  struct Found {
    Subject subject;
    bool found = false;
  };
  [[nodiscard]] Found find(const Key& key, std::string_view id) const;
  /// Enters an id; where another subject bears it already, answers that one and changes nothing.
  Found insert(const Key& key, std::string_view id, Subject subject);

 private:
  static constexpr std::uint8_t free = 0, packed = 1, hashed = 2;
  struct Slot {
    std::uint64_t bits = 0;
    std::uint32_t index = 0;
    SubjectKind kind{};
    std::uint8_t state = free;
  };
  // A longer way than this through the table is no accident; see spread_anew.
  static constexpr std::size_t longest_way = 512;

  [[nodiscard]] std::uint64_t spread(std::uint64_t bits) const {
    bits = (bits ^ seed_) * 0x9e3779b97f4a7c15U;
    bits ^= bits >> 32;
    return bits * 0xd6e8feb86659fd93U;
  }
  [[nodiscard]] std::uint64_t hash_long(std::string_view id) const;
  [[nodiscard]] bool matches(const Slot& slot, const Key& key, std::string_view id) const;
  void spread_anew();

  const installation::Model& model_;
  std::vector<Slot> slots_;
  std::uint64_t mask_ = 0, seed_ = 0;
  unsigned shift_ = 0;
  bool spread_again_ = false;
};

/// Calls `each(key, i)` for i from `first` to before `last`, with the slots of the next few fetched ahead,
/// and the ids of those behind them: each stands in another place of the file. `id(i)` is the i-th id.
template <class Id, class Each>
void for_each_ahead(const IdTable& table, std::size_t first, std::size_t last, const Id& id,
                    const Each& each) {
  constexpr std::size_t ahead = 16;
  IdTable::Key keys[ahead];
  for (std::size_t from = first; from < last; from += ahead) {
    const std::size_t to = from + ahead < last ? from + ahead : last;
    for (std::size_t i = to; i < last && i < to + ahead; ++i) __builtin_prefetch(id(i).data());
    for (std::size_t i = from; i < to; ++i) table.prefetch(keys[i - from] = table.key(id(i)));
    for (std::size_t i = from; i < to; ++i) each(keys[i - from], i);
  }
}

}  // namespace raceward::document
