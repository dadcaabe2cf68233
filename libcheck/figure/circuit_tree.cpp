#include "figure/circuit_tree.hpp"

#include <algorithm>
#include <tuple>

#include "figure/circuit_way.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

/// How many of its conductors may bring current.
std::uint32_t bringing_current(const Model& model, const Run& run) {
  std::uint32_t count = 0;
  for (Index i = run.conductors.first; i < run.conductors.end(); ++i) {
    const Conductor& c = model.conductors[model.run_conductors[i]];
    if (c.role == Role::ungrounded || c.role == Role::switched || c.role == Role::unstated) count += c.count;
  }
  return count;
}

/// From one place to the next, either way.
struct Step {
  Index from = none, to = none;
  std::uint32_t conductors = 0;
  [[nodiscard]] bool same_way(const Step& other) const { return from == other.from && to == other.to; }
};

struct Trees {
  std::vector<CircuitTree> of;
};

}  // namespace

void CircuitTree::read(const Evaluation& e, Index circuit) {
  ready = true;
  const Model& model = e.model;
  const Index panel = panel_of(e, circuit);
  if (panel == none) return;
  std::vector<Step> steps;
  const Range& runs = model.circuits[circuit].runs;
  for (Index r = runs.first; r < runs.end(); ++r) {
    const Range& stops = model.runs[r].stops;
    const std::uint32_t conductors = bringing_current(model, model.runs[r]);
    if (conductors == 0) continue;
    for (Index i = stops.first; i + 1 < stops.end(); ++i) {
      const Index a = model.stops[i].place, b = model.stops[i + 1].place;
      if (a == b) continue;
      steps.push_back({a, b, conductors});
      steps.push_back({b, a, conductors});
    }
  }
  std::ranges::sort(steps, {}, [](const Step& s) { return std::tuple(s.from, s.to, s.conductors); });
  std::size_t kept = 0;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    if (kept != 0 && steps[kept - 1].same_way(steps[i])) {
      steps[kept - 1].conductors += steps[i].conductors;
    } else {
      steps[kept++] = steps[i];
    }
  }
  steps.resize(kept);
  struct Open {
    std::uint32_t at;
    std::size_t next;  // in steps
    Index from;
  };
  const auto first_step = [&](Index place) {
    return static_cast<std::size_t>(std::ranges::lower_bound(steps, place, {}, &Step::from) - steps.begin());
  };
  std::vector<Open> way;
  const auto enter = [&](Index place, Index from, std::uint32_t conductors) {
    way.push_back({static_cast<std::uint32_t>(places_.size()), first_step(place), from});
    places_.push_back(place);
    end_.push_back(0);
    leading_.push_back(conductors);
  };
  enter(panel, none, 0);
  while (!way.empty()) {
    Open& open = way.back();
    const Index place = places_[open.at];
    if (open.next == steps.size() || steps[open.next].from != place) {
      end_[open.at] = static_cast<std::uint32_t>(places_.size());
      way.pop_back();
      continue;
    }
    const Step& step = steps[open.next++];
    if (step.to == open.from) continue;
    if (places_.size() > steps.size()) break;  // around a ring
    enter(step.to, place, step.conductors);
  }
  // A tree has a step less than places.
  if (!way.empty() || steps.size() != 2 * (places_.size() - 1)) {  // not law: both ways
    places_.clear();
    return;
  }
  for (std::uint32_t i = 0; i < places_.size(); ++i) where_.emplace_back(places_[i], i);
  std::ranges::sort(where_);
}

std::uint32_t CircuitTree::at(Index place) const {
  const auto found = std::ranges::lower_bound(where_, place, {}, &std::pair<Index, std::uint32_t>::first);
  return found == where_.end() || found->first != place ? nowhere : found->second;
}

std::span<const Index> CircuitTree::behind(Index place) const {
  const std::uint32_t first = at(place);
  if (first == nowhere) return {};
  return std::span(places_).subspan(first, end_[first] - first);
}

std::uint32_t CircuitTree::leading_to(Index place) const {
  const std::uint32_t there = at(place);
  return there == nowhere ? 0 : leading_[there];
}

const CircuitTree& circuit_tree(Evaluation& e, Index circuit) {
  auto& trees = e.once<Trees>().of;
  if (trees.empty()) trees.resize(e.model.circuits.size());
  if (!trees[circuit].ready) trees[circuit].read(e, circuit);
  return trees[circuit];
}

}  // namespace raceward::figure
