// Raceways that bonding jumpers go through or along.
//
// Method: raceways from one place of a jumper to the other; where there are none, the way through the
// spanning forest, whose raceways are all on any way as far as each is alone in its block. A raceway that a
// jumper names is the one that it takes, where it joins both places; else it is on the way, or ends at a
// place of the jumper and is bonded there.
#include "figure/jumper_way.hpp"

#include <algorithm>

#include "figure/raceway_kinds.hpp"
#include "installation/lists.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

/// From one end of the raceway to the other.
bool spans(const BondingJumper& jumper, const Raceway& raceway) {
  const Index from = raceway.ends[0].place, to = raceway.ends[1].place;
  return (jumper.from == from && jumper.to == to) || (jumper.from == to && jumper.to == from);
}

/// What lies outside takes no room in a raceway.
bool may_lie_inside(const BondingJumper& jumper) {
  return jumper.routing == JumperRouting::inside || jumper.routing == JumperRouting::unstated;
}

/// Raceways that ways may pass, of all jumpers together.
constexpr std::uint64_t per_element = 64, at_least = 4096;  // not law: limits of the engine

struct Found {
  Joining joining = Joining::nothing;
  bool strays = false;
  Range raceways;
};

struct Ways {
  bool ready = false;
  std::vector<Found> of;        // by jumper
  std::vector<Index> raceways;  // of all of them
  Lists at;                     // by raceway
  std::vector<Index> perhaps;   // by block: the first jumper by id that may lie in it
  Index unfollowed = none;      // one whose way is longer than the engine follows
};

class Finder {
 public:
  Finder(Evaluation& e, Ways& ways)
      : model_(e.model),
        graph_(e.in.graph),
        ways_(ways),
        // Shared by all, so that the whole stays linear.
        budget_(per_element * (std::uint64_t{e.model.raceways.size()} + e.model.bonding_jumpers.size()) +
                at_least) {}

  void find() {
    ways_.perhaps.assign(graph_.block_count, none);
    ways_.of.resize(model_.bonding_jumpers.size());
    for (Index j = 0; j < ways_.of.size(); ++j) {
      Found& found = ways_.of[j];
      const auto first = static_cast<Index>(ways_.raceways.size());
      find(j, found);
      found.raceways = {first, static_cast<Index>(ways_.raceways.size()) - first};
    }
    ways_.at = lists_of(model_.raceways.size(), [&](auto put) {
      for (Index j = 0; j < ways_.of.size(); ++j) {
        const Range& on_way = ways_.of[j].raceways;
        for (Index i = on_way.first; i < on_way.end(); ++i) put(ways_.raceways[i], j);
        if (ways_.of[j].strays) put(model_.bonding_jumpers[j].raceway, j);
      }
    });
  }

 private:
  void find(Index j, Found& found) {
    const BondingJumper& jumper = model_.bonding_jumpers[j];
    if (jumper.from == none || jumper.to == none) {
      found.joining = Joining::at_end;
      return;
    }
    if (jumper.raceway != none && spans(jumper, model_.raceways[jumper.raceway])) {
      found.joining = Joining::one_way;
      ways_.raceways.push_back(jumper.raceway);
      return;
    }
    const bool joined = graph_.component[jumper.from] == graph_.component[jumper.to];
    const bool followed = joined && climb(jumper.from, jumper.to);
    const bool named = jumper.raceway != none;
    const bool on_way = named && joined && (!followed || passes(jumper.raceway));
    found.strays = named && !on_way && !is_metal(model_.raceways[jumper.raceway].type);
    if (!joined) return;
    if (!on_way && directly(jumper, found)) return;
    found.joining = followed && blocks_.empty() ? Joining::one_way : Joining::several_ways;
    if (found.joining == Joining::one_way) {
      ways_.raceways.insert(ways_.raceways.end(), way_.begin(), way_.end());
      return;
    }
    if (!may_lie_inside(jumper)) return;
    if (!followed) first_by_id(ways_.unfollowed, j);
    if (!followed) return;
    for (const Index raceway : way_) first_by_id(ways_.perhaps[graph_.block[raceway]], j);
    for (const Index block : blocks_) first_by_id(ways_.perhaps[block], j);
  }

  /// Raceways from one place to the other.
  bool directly(const BondingJumper& jumper, Found& found) {
    const bool fewer = graph_.at(jumper.from).size() <= graph_.at(jumper.to).size();
    const Index here = fewer ? jumper.from : jumper.to, there = fewer ? jumper.to : jumper.from;
    std::uint32_t count = 0;
    for (const Adjacent& way : graph_.at(here)) {
      if (way.place != there) continue;
      ways_.raceways.push_back(way.raceway);
      ++count;
    }
    if (count != 0) found.joining = count == 1 ? Joining::one_way : Joining::side_by_side;
    return count != 0;
  }

  /// Leaves what is on any way, and blocks in which there is a choice.
  bool climb(Index a, Index b) {
    way_.clear();
    blocks_.clear();
    while (a != b) {
      if (budget_ == 0) return false;
      --budget_;
      Index& at = graph_.depth[a] >= graph_.depth[b] ? a : b;
      const Index raceway = graph_.parent_raceway[at];
      if (graph_.bridge[raceway] != 0) {
        way_.push_back(raceway);
      } else {
        blocks_.push_back(graph_.block[raceway]);
      }
      at = graph_.parent_place[at];
    }
    return true;
  }

  [[nodiscard]] bool passes(Index raceway) const {
    return std::ranges::find(way_, raceway) != way_.end() ||
           std::ranges::find(blocks_, graph_.block[raceway]) != blocks_.end();
  }

  void first_by_id(Index& first, Index jumper) {
    const auto& jumpers = model_.bonding_jumpers;
    if (first == none || jumpers[jumper].id < jumpers[first].id) first = jumper;
  }

  const Model& model_;
  const Graph& graph_;
  Ways& ways_;
  std::uint64_t budget_;
  std::vector<Index> way_, blocks_;  // of the jumper in hand
};

Ways& ways(Evaluation& e) {
  auto& made = e.once<Ways>();
  if (!made.ready) {
    made.ready = true;
    Finder(e, made).find();
  }
  return made;
}

}  // namespace

JumperWay way_of_jumper(Evaluation& e, Index jumper) {
  const Ways& all = ways(e);
  const Found& found = all.of[jumper];
  const std::span<const Index> raceways(all.raceways);
  return {found.joining, raceways.subspan(found.raceways.first, found.raceways.count), found.strays};
}

std::span<const Index> jumpers_at(Evaluation& e, Index raceway) {
  return e.model.bonding_jumpers.empty() ? std::span<const Index>{} : ways(e).at.at(raceway);
}

Index jumper_perhaps_in(Evaluation& e, Index raceway) {
  if (e.model.bonding_jumpers.empty()) return none;
  const Ways& all = ways(e);
  const Index perhaps = all.perhaps[e.in.graph.block[raceway]];
  return perhaps != none ? perhaps : all.unfollowed;
}

}  // namespace raceward::figure
