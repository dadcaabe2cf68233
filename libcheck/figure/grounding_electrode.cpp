#include "figure/grounding_electrode.hpp"

#include <algorithm>
#include <utility>

#include "figure/sorted.hpp"

namespace raceward::figure::grounding {

using namespace installation;

namespace {

struct Electrodes {
  bool ready = false;
  std::vector<std::uint8_t> at;  // by place

  void read(const Evaluation& e) {
    ready = true;
    at.assign(e.model.places.size(), 0);
    for (Index place = 0; place < at.size(); ++place) {
      if (e.model.places[place].kind == PlaceKind::equipment) at[place] = reached(e, place) ? 1 : 0;
    }
    follow_jumpers(e);
  }

 private:
  /// From one electrode to the next, however the jumpers stand in the document.
  void follow_jumpers(const Evaluation& e) {
    std::vector<std::pair<Index, Index>> steps;
    for (const BondingJumper& jumper : e.model.bonding_jumpers) {
      if (jumper.from == none || jumper.to == none) continue;
      steps.emplace_back(jumper.from, jumper.to);
      steps.emplace_back(jumper.to, jumper.from);
    }
    std::ranges::sort(steps);
    std::vector<Index> open;
    for (Index place = 0; place < at.size() && !steps.empty(); ++place)
      if (at[place] != 0) open.push_back(place);
    while (!open.empty()) {
      const Index one = open.back();
      open.pop_back();
      for (const auto& step : equal_in(steps, one, &std::pair<Index, Index>::first)) {
        const Index other = step.second;
        const bool alone = e.in.routes.visits_at(other).empty() && e.in.graph.at(other).empty();
        if (at[other] != 0 || e.model.places[other].kind != PlaceKind::equipment || !alone) continue;
        at[other] = 1;
        open.push_back(other);
      }
    }
  }

  static bool reached(const Evaluation& e, Index place) {
    bool any = false;
    for (const Visit& visit : e.in.routes.visits_at(place)) {
      const Range& conductors = e.model.runs[visit.run].conductors;
      for (Index i = conductors.first; i < conductors.end(); ++i) {
        if (e.model.conductors[e.model.run_conductors[i]].role != Role::electrode) return false;
        any = true;
      }
    }
    return any;
  }
};

}  // namespace

bool is_electrode(Evaluation& e, Index place) {
  auto& electrodes = e.once<Electrodes>();
  if (!electrodes.ready) electrodes.read(e);
  return electrodes.at[place] != 0;
}

}  // namespace raceward::figure::grounding
