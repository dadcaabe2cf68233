#include "figure/grounding_electrode.hpp"

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
    for (const BondingJumper& jumper : e.model.bonding_jumpers) {
      for (const auto& [one, other] :
           {std::pair{jumper.from, jumper.to}, std::pair{jumper.to, jumper.from}}) {
        if (one == none || other == none || at[one] == 0) continue;
        const bool alone = e.in.routes.visits_at(other).empty() && e.in.graph.at(other).empty();
        if (e.model.places[other].kind == PlaceKind::equipment && alone) at[other] = 1;
      }
    }
  }

 private:
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
