#include "figure/circuit_tree.hpp"

#include <algorithm>

#include "figure/circuit_way.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

bool brings_current(const Model& model, const Run& run) {
  const auto first = model.run_conductors.begin() + run.conductors.first;
  return std::any_of(first, first + run.conductors.count, [&](Index i) {
    const Role role = model.conductors[i].role;
    return role == Role::ungrounded || role == Role::switched || role == Role::unstated;
  });
}

struct Trees {
  std::vector<CircuitTree> of;
};

}  // namespace

void CircuitTree::read(const Evaluation& e, Index circuit) {
  ready = true;
  const Model& model = e.model;
  const Index panel = panel_of(e, circuit);
  if (panel == none) return;
  std::vector<std::pair<Index, Index>> steps;  // both ways
  const Range& runs = model.circuits[circuit].runs;
  for (Index r = runs.first; r < runs.end(); ++r) {
    const Range& stops = model.runs[r].stops;
    if (!brings_current(model, model.runs[r])) continue;
    for (Index i = stops.first; i + 1 < stops.end(); ++i) {
      const Index a = model.stops[i].place, b = model.stops[i + 1].place;
      if (a == b) continue;
      steps.emplace_back(a, b);
      steps.emplace_back(b, a);
    }
  }
  std::ranges::sort(steps);
  steps.erase(std::unique(steps.begin(), steps.end()), steps.end());
  struct Open {
    std::uint32_t at;
    std::size_t next;  // in steps
    Index from;
  };
  const auto first_step = [&](Index place) {
    return static_cast<std::size_t>(
        std::ranges::lower_bound(steps, place, {}, &std::pair<Index, Index>::first) - steps.begin());
  };
  std::vector<Open> way;
  const auto enter = [&](Index place, Index from) {
    way.push_back({static_cast<std::uint32_t>(places_.size()), first_step(place), from});
    places_.push_back(place);
    end_.push_back(0);
  };
  enter(panel, none);
  while (!way.empty()) {
    Open& open = way.back();
    const Index place = places_[open.at];
    if (open.next == steps.size() || steps[open.next].first != place) {
      end_[open.at] = static_cast<std::uint32_t>(places_.size());
      way.pop_back();
      continue;
    }
    const Index to = steps[open.next++].second;
    if (to == open.from) continue;
    if (places_.size() > steps.size()) break;  // around a ring
    enter(to, place);
  }
  // A tree has a step less than places.
  if (!way.empty() || steps.size() != 2 * (places_.size() - 1)) {  // not law: both ways
    places_.clear();
    return;
  }
  for (std::uint32_t i = 0; i < places_.size(); ++i) where_.emplace_back(places_[i], i);
  std::ranges::sort(where_);
}

std::span<const Index> CircuitTree::behind(Index place) const {
  const auto found = std::ranges::lower_bound(where_, place, {}, &std::pair<Index, std::uint32_t>::first);
  if (places_.empty() || found == where_.end() || found->first != place) return {};
  return std::span(places_).subspan(found->second, end_[found->second] - found->second);
}

const CircuitTree& circuit_tree(Evaluation& e, Index circuit) {
  auto& trees = e.once<Trees>().of;
  if (trees.empty()) trees.resize(e.model.circuits.size());
  if (!trees[circuit].ready) trees[circuit].read(e, circuit);
  return trees[circuit];
}

}  // namespace raceward::figure
