// The way of every run through the raceways, step by step from stop to stop.
//
// A step walks from block to block, not from place to place: between two places every path passes the same
// blocks, so the step has one path exactly where each of them is a single raceway. A ring of a thousand boxes
// is one step.
#include <algorithm>
#include <tuple>
#include <utility>

#include "installation/derived.hpp"

namespace raceward::installation {

namespace {

/// Per block: its place nearest the root of the spanning forest. All ways out of the block towards the root
/// pass it.
std::vector<Index> tops_of_blocks(const Graph& graph) {
  std::vector<Index> tops(graph.block_count, none);
  for (Index place = 0; place < graph.parent_place.size(); ++place) {
    const Index parent = graph.parent_place[place];
    if (parent == none) continue;
    const Index block = graph.block[graph.parent_raceway[place]];
    const Index above = graph.parent_raceway[parent];
    if (above == none || graph.block[above] != block) tops[block] = parent;
  }
  return tops;
}

class Router {
 public:
  Router(const Model& model, const Graph& graph)
      : model_(model),
        graph_(graph),
        tops_(tops_of_blocks(graph)),
        budget_(64 * (std::uint64_t{model.raceways.size()} + model.stops.size()) + 4096),
        steps_(model.stops.size()) {}

  Routes route() {
    out_.block_ambiguity.assign(graph_.block_count, none);
    out_.hops.reserve(model_.stops.size());
    out_.run_hops.reserve(model_.runs.size());
    for (const Run& run : model_.runs) {
      Range hops{size(), 0};
      for (Index s = run.stops.first; s < run.stops.end(); ++s) {
        const Index before = size();
        const bool first = s == run.stops.first;
        if (model_.stops[s].via.count != 0) {
          follow_via(s, first ? none : model_.stops[s - 1].place);
        } else if (!first) {
          find_way(run, s, model_.stops[s - 1].place, model_.stops[s].place);
        }
        if (size() > before) {
          out_.hops.back().stop = s;
          steps_[s] = {before, size() - before};
        }
      }
      hops.count = size() - hops.first;
      out_.run_hops.push_back(hops);
    }
    list_runs_in_raceways();
    list_visits();
    return std::move(out_);
  }

 private:
  [[nodiscard]] Index size() const { return static_cast<Index>(out_.hops.size()); }
  void fault(RouteFault::Kind kind, Index stop, Index via = none) {
    out_.faults.push_back({kind, stop, via});
  }

  void follow_via(Index stop, Index at) {
    const std::size_t before = out_.hops.size();
    const Range via = model_.stops[stop].via;
    const Index to = model_.stops[stop].place;
    for (Index i = via.first; i < via.end(); ++i) {
      const Index raceway = model_.via[i];
      const auto& ends = model_.raceways[raceway].ends;
      const bool last = i + 1 == via.end();
      const Index next = ends[0].place == at ? ends[1].place : ends[0].place;
      if ((ends[0].place != at && ends[1].place != at) || (last && next != to)) {
        out_.hops.resize(before);
        fault(RouteFault::Kind::via_does_not_lead, stop, raceway);
        return;
      }
      out_.hops.push_back({raceway, at, next, none});
      at = next;
    }
  }

  void find_way(const Run& run, Index stop, Index from, Index to) {
    if (from == to || graph_.component[from] != graph_.component[to]) {
      fault(RouteFault::Kind::not_joined, stop);
      return;
    }
    if (climb(stop, from, to) && !blocks_.empty()) ambiguous(run, stop);
  }

  /// Walks both places up to where they meet. Leaves hops, or the blocks passed where one of them offers a
  /// choice.
  bool climb(Index stop, Index a, Index b) {
    const std::size_t before = out_.hops.size();
    blocks_.clear();
    descent_.clear();
    bool choice = false;
    while (a != b) {
      if (budget_ == 0) {
        out_.hops.resize(before);
        fault(RouteFault::Kind::too_long, stop);
        return false;
      }
      --budget_;
      const bool from_a = graph_.depth[a] >= graph_.depth[b];
      Index& at = from_a ? a : b;
      const Index raceway = graph_.parent_raceway[at];
      const Index above = tops_[graph_.block[raceway]];
      blocks_.push_back(graph_.block[raceway]);
      if (graph_.bridge[raceway] == 0) {
        choice = true;
      } else if (from_a) {
        out_.hops.push_back({raceway, at, above, none});
      } else {
        descent_.push_back({raceway, above, at, none});
      }
      at = above;
    }
    if (choice) {
      out_.hops.resize(before);
    } else {
      blocks_.clear();
      out_.hops.insert(out_.hops.end(), descent_.rbegin(), descent_.rend());
    }
    return true;
  }

  void ambiguous(const Run& run, Index stop) {
    const auto index = static_cast<Index>(out_.ambiguities.size());
    out_.ambiguities.push_back({stop, static_cast<Index>(&run - model_.runs.data())});
    for (const Index block : blocks_) {
      Index& held = out_.block_ambiguity[block];
      if (held == none || told_before(model_, out_.ambiguities[index], out_.ambiguities[held])) held = index;
    }
  }

  void list_runs_in_raceways() {
    out_.raceway_first.assign(model_.raceways.size() + 1, 0);
    for (const Hop& hop : out_.hops) ++out_.raceway_first[hop.raceway];
    std::vector<Index> next = slices(out_.raceway_first);
    out_.raceway_runs.resize(out_.hops.size());
    for (Index run = 0; run < out_.run_hops.size(); ++run) {
      const Range hops = out_.run_hops[run];
      for (Index h = hops.first; h < hops.end(); ++h) out_.raceway_runs[next[out_.hops[h].raceway]++] = run;
    }
  }

  void list_visits() {
    out_.place_first.assign(model_.places.size() + 1, 0);
    each_visit([&](Index place, const Visit&) { ++out_.place_first[place]; });
    std::vector<Index> next = slices(out_.place_first);
    out_.visits.resize(out_.place_first.back());
    each_visit([&](Index place, const Visit& visit) { out_.visits[next[place]++] = visit; });
  }

  /// Turns counts, with one more at the end, into where each slice begins; gives a copy to count up while
  /// filling.
  static std::vector<Index> slices(std::vector<Index>& counts) {
    Index sum = 0;
    for (Index& count : counts) sum += std::exchange(count, sum);
    return counts;
  }

  template <class F>
  void each_visit(F&& visit) const {
    for (Index run = 0; run < model_.runs.size(); ++run) {
      const Range stops = model_.runs[run].stops;
      for (Index s = stops.first; s < stops.end(); ++s) {
        const Range step = steps_[s];
        for (Index h = step.first; h + 1 < step.end(); ++h) {
          visit(out_.hops[h].to, Visit{run, none, true, true, h, h + 1});
        }
        const bool arrives = step.count != 0;
        const bool leaves = s + 1 < stops.end() && steps_[s + 1].count != 0;
        visit(model_.stops[s].place, Visit{run, s, arrives, leaves, arrives ? step.end() - 1 : none,
                                           leaves ? steps_[s + 1].first : none});
      }
    }
  }

  const Model& model_;
  const Graph& graph_;
  std::vector<Index> tops_;
  std::uint64_t budget_;       ///< blocks that derived paths may still pass, over all runs
  std::vector<Range> steps_;   ///< per stop: the hops of the step that leads to it
  std::vector<Index> blocks_;  ///< of the step in hand
  std::vector<Hop> descent_;   ///< of the step in hand, from the later stop up
  Routes out_;
};

}  // namespace

bool told_before(const Model& model, const Ambiguity& a, const Ambiguity& b) {
  const auto key = [&](const Ambiguity& each) {
    const Run& run = model.runs[each.run];
    const auto place = [&](Index stop) { return model.places[model.stops[stop].place].id; };
    const bool on_circuit = run.circuit < model.circuits.size();
    return std::tuple(on_circuit ? model.circuits[run.circuit].id : std::string_view{}, place(each.stop),
                      place(std::max(each.stop, run.stops.first + 1) - 1), each.stop - run.stops.first);
  };
  return key(a) < key(b);
}

Routes derive_routes(const Model& model, const Graph& graph) { return Router(model, graph).route(); }

}  // namespace raceward::installation
