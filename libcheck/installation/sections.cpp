// Pull sections: raceways merged over the places where nobody can pull.
//
// Which raceway stands first in the document never shows: sections are the same sets whatever the order, and
// the raceway of the least id decides their direction: that in which it is drawn.
#include <algorithm>
#include <array>
#include <span>

#include "installation/derived.hpp"

namespace raceward::installation {

namespace {

class Builder {
 public:
  Builder(const Model& model, const Graph& graph) : model_(model), graph_(graph) {}

  Sections build() {
    const auto count = static_cast<Index>(model_.raceways.size());
    out_.section_of.assign(count, none);
    out_.sections.reserve(count);
    out_.raceways.reserve(count);
    for (Index r = 0; r < count; ++r) {
      if (out_.section_of[r] == none) add(r);
    }
    return std::move(out_);
  }

 private:
  /// Where a walk along a chain stops.
  enum class Stops : std::uint8_t { at_end, at_branch, where_it_began };

  [[nodiscard]] bool passes(Index place) const {
    return graph_.at(place).size() > 1 && !is_pull_point(model_.places[place]);
  }
  [[nodiscard]] bool before(Index place, Index other) const {
    return model_.places[place].id < model_.places[other].id;
  }
  [[nodiscard]] bool raceway_before(Index raceway, Index other) const {
    const std::string_view a = model_.raceways[raceway].id, b = model_.raceways[other].id;
    return std::pair(a.size(), a) < std::pair(b.size(), b);
  }

  [[nodiscard]] Index first_unsure(std::span<const Index> ends) const {
    for (const Index end : ends) {
      const Place& place = model_.places[end];
      if (place.accessible != YesNo::unstated || place.kind == PlaceKind::joint) continue;
      if (graph_.at(end).size() > 1) return end;  // nothing goes on from where one raceway ends
    }
    return none;
  }

  void add(Index raceway) {
    const auto& ends = model_.raceways[raceway].ends;
    chain_.assign(1, raceway);
    std::array<Index, 2> at = {ends[0].place, ends[1].place};
    if (passes(at[0]) || passes(at[1])) {
      const Stops forward = walk(raceway, at[1]);
      if (forward == Stops::where_it_began) return add_cluster(raceway);
      std::reverse(chain_.begin(), chain_.end());
      if (forward == Stops::at_branch || walk(raceway, at[0]) == Stops::at_branch)
        return add_cluster(raceway);
    }
    add_chain(at);
  }

  /// Goes on from `place`, reached through `raceway`; adds to the chain and moves `place` to where it stops.
  Stops walk(const Index raceway, Index& place) {
    Index through = raceway;
    while (passes(place)) {
      const auto around = graph_.at(place);
      if (around.size() > 2) return Stops::at_branch;
      const Adjacent& next = around[0].raceway == through ? around[1] : around[0];
      if (next.raceway == raceway) return Stops::where_it_began;
      chain_.push_back(next.raceway);
      through = next.raceway;
      place = next.place;
    }
    return Stops::at_end;
  }

  /// `at[0]` is now the end behind the chain's last raceway, `at[1]` the one before its first.
  void add_chain(std::array<Index, 2> at) {
    std::swap(at[0], at[1]);
    if (against_drawing(at[0])) {
      std::swap(at[0], at[1]);
      std::reverse(chain_.begin(), chain_.end());
    }
    emit(at[0], at[1], first_unsure(at), none);
  }

  /// Whether the chain, begun at `place`, passes its raceway of the least id from its `to` to its `from`.
  [[nodiscard]] bool against_drawing(Index place) const {
    Index least = chain_.front();
    bool against = false;
    for (const Index raceway : chain_) {
      const auto& ends = model_.raceways[raceway].ends;
      const bool turned = ends[0].place != place;
      if (raceway == least || raceway_before(raceway, least)) {
        least = raceway;
        against = turned;
      }
      place = ends[turned ? 0 : 1].place;
    }
    return against;
  }

  /// A ring, or a chain that branches, is one section with no direction: its raceways stand in order of their
  /// ids.
  void add_cluster(Index raceway) {
    const auto section = static_cast<Index>(out_.sections.size());
    reached_.resize(model_.places.size());
    std::vector<Index> ends, branches, inner;
    chain_.assign(1, raceway);
    out_.section_of[raceway] = section;
    for (std::size_t i = 0; i < chain_.size(); ++i) {
      for (const RacewayEnd& end : model_.raceways[chain_[i]].ends) {
        if (reached_[end.place] == section + 1) continue;
        reached_[end.place] = section + 1;
        if (!passes(end.place)) {
          ends.push_back(end.place);
          continue;
        }
        inner.push_back(end.place);
        if (graph_.at(end.place).size() > 2) branches.push_back(end.place);
        for (const Adjacent& next : graph_.at(end.place)) {
          if (out_.section_of[next.raceway] != none) continue;
          out_.section_of[next.raceway] = section;
          chain_.push_back(next.raceway);
        }
      }
    }
    const auto by_id = [this](Index a, Index b) { return before(a, b); };
    std::sort(chain_.begin(), chain_.end(), [this](Index a, Index b) { return raceway_before(a, b); });
    std::sort(ends.begin(), ends.end(), by_id);
    const std::vector<Index>& crossings = branches.empty() ? inner : branches;
    const Index branch = *std::min_element(crossings.begin(), crossings.end(), by_id);
    const Index unsure = first_unsure(ends);
    ends.resize(2, branch);
    emit(ends[0], ends[1], unsure, branch);
  }

  void emit(Index from, Index to, Index unsure, Index branch) {
    const auto section = static_cast<Index>(out_.sections.size());
    const Range raceways{static_cast<Index>(out_.raceways.size()), static_cast<Index>(chain_.size())};
    out_.raceways.insert(out_.raceways.end(), chain_.begin(), chain_.end());
    for (const Index raceway : chain_) out_.section_of[raceway] = section;
    out_.sections.push_back({{from, to}, raceways, unsure, branch});
  }

  const Model& model_;
  const Graph& graph_;
  std::vector<Index> chain_;
  std::vector<Index>
      reached_;  ///< per place: 1 + the branching section that reached it last; empty until one does
  Sections out_;
};

}  // namespace

bool is_pull_point(const Place& place) {
  return place.kind != PlaceKind::joint && place.accessible != YesNo::no;
}

Sections derive_sections(const Model& model, const Graph& graph) { return Builder(model, graph).build(); }

}  // namespace raceward::installation
