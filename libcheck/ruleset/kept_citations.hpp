// Citations of a law that something in it stands on.
#pragma once

#include <utility>
#include <vector>

#include "raceward/law.hpp"

namespace raceward::ruleset {

/// Each citation of a law, or of a scope of one.
template <class Holder, class Use>
void each_citation(Holder& holder, Use use) {
  for (Parameter& p : holder.parameters) use(p.cite);
  for (RuleSetting& r : holder.rules) {
    for (CitationId& id : r.cites) use(id);
  }
  for (Table& t : holder.tables) {
    for (Table::Removed& r : t.removed) use(r.cite);
    for (std::uint32_t row = 0; row < t.row_count(); ++row) {
      CitationId id = t.cite(row);
      use(id);
      t.set_cite(row, id);
    }
  }
}

/// Keeps the citations that something stands on: a layer leaves behind those of what it replaced.
class Kept {
 public:
  Kept(Law& law, std::vector<Citation> all)
      : law_(law), all_(std::move(all)), to_(all_.size(), no_citation) {}

  void keep() {
    each([&](CitationId& id) {
      if (id < to_.size()) to_[id] = 0;
    });
    CitationId next = 0;
    for (std::size_t i = 0; i < all_.size(); ++i) {
      if (to_[i] == no_citation) continue;
      to_[i] = next++;
      law_.citations.push_back(std::move(all_[i]));
    }
    each([&](CitationId& id) {
      if (id < to_.size()) id = to_[id];
    });
  }

 private:
  template <class Use>
  void each(Use use) {
    each_citation(law_, use);
    for (Scope& scope : law_.scopes) each_citation(scope, use);
  }

  Law& law_;
  std::vector<Citation> all_;
  std::vector<CitationId> to_;
};

}  // namespace raceward::ruleset
