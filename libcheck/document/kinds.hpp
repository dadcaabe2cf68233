// Small tables for conductors: kinds that are kept once, ids within one circuit.
#pragma once

#include <tsl/robin_map.h>

#include <cstdint>
#include <string_view>
#include <vector>

#include "installation/model.hpp"

namespace raceward::document {

/// Keeps each kind of conductor once.
class KindTable {
 public:
  explicit KindTable(std::vector<installation::ConductorKind>& kinds) : kinds_(kinds) {}

  installation::Index intern(const installation::ConductorKind& kind) {
    if (last_ != installation::none && kinds_[last_] == kind) return last_;
    const auto [at, is_new] = numbers_.try_emplace(kind, static_cast<installation::Index>(kinds_.size()));
    if (is_new) kinds_.push_back(kind);
    return last_ = at->second;
  }

 private:
  struct Hash {
    std::size_t operator()(const installation::ConductorKind& k) const {
      std::uint64_t h = std::uint64_t{static_cast<std::uint8_t>(k.size)} |
                        std::uint64_t{static_cast<std::uint8_t>(k.material)} << 8 |
                        std::uint64_t{static_cast<std::uint8_t>(k.construction)} << 16 |
                        std::uint64_t{k.cable} << 24;
      for (const std::uint64_t part : {k.insulations, static_cast<std::uint64_t>(k.diameter.raw)}) {
        h = (h ^ part) * 0x9e3779b97f4a7c15U;
        h ^= h >> 32;
      }
      return static_cast<std::size_t>(h);
    }
  };
  std::vector<installation::ConductorKind>& kinds_;
  tsl::robin_map<installation::ConductorKind, installation::Index, Hash> numbers_;
  installation::Index last_ = installation::none;
};

/// Ids of the conductors of one circuit. Few are compared one by one; many get a table.
class LocalIds {
 public:
  void clear() {
    ids_.clear();
    table_.clear();
  }
  [[nodiscard]] std::size_t size() const { return ids_.size(); }
  [[nodiscard]] const std::vector<std::string_view>& ids() const { return ids_; }
  /// The number of an id, or none.
  [[nodiscard]] installation::Index find(std::string_view id) const {
    if (ids_.size() > few) {
      const auto at = table_.find(id);
      return at == table_.end() ? installation::none : at->second;
    }
    for (std::size_t i = 0; i < ids_.size(); ++i)
      if (ids_[i] == id) return static_cast<installation::Index>(i);
    return installation::none;
  }
  /// Enters an id under the next number, even where it is there already (the first one is found then).
  void add(std::string_view id) {
    ids_.push_back(id);
    if (ids_.size() <= few) return;
    if (table_.empty())
      for (std::size_t i = 0; i + 1 < ids_.size(); ++i)
        table_.try_emplace(ids_[i], static_cast<installation::Index>(i));
    table_.try_emplace(id, static_cast<installation::Index>(ids_.size() - 1));
  }

 private:
  static constexpr std::size_t few = 16;
  std::vector<std::string_view> ids_;
  tsl::robin_map<std::string_view, installation::Index> table_;
};

}  // namespace raceward::document
