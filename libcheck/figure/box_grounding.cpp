#include "figure/box_grounding.hpp"

#include <algorithm>

#include "figure/current_carrying.hpp"
#include "figure/jumpers_by_place.hpp"
#include "figure/run_contents.hpp"

namespace raceward::figure {

using namespace installation;

GroundingSets grounding_sets(Evaluation& e, Index box, const Allowances& law) {
  GroundingSets sets;
  if (law.isolated->value.count == 0) return sets;
  for (const Visit& visit : e.in.routes.visits_at(box)) {
    const Range conductors = e.model.runs[visit.run].conductors;
    for (Index i = conductors.first; i < conductors.end(); ++i) {
      const Index index = e.model.run_conductors[i];
      const Conductor& c = e.model.conductors[index];
      const ConductorKind& kind = e.model.conductor_kinds[c.kind];
      const bool grounds = c.role == Role::equipment_grounding || c.role == Role::bonding;
      if (!grounds || kind.cable || law.volume[static_cast<std::size_t>(kind.size)] == Table::blank) continue;
      ConductorSize& largest = c.isolated == YesNo::yes ? sets.isolated : sets.plain;
      largest = std::max(largest, kind.size);
      sets.wires += c.count;
      if (c.isolated == YesNo::unstated && (sets.unsaid == none || by_id(e, index, sets.unsaid)))
        sets.unsaid = index;
    }
  }
  for (const Index i : jumpers_into(e, box)) {
    sets.plain = std::max(sets.plain, e.model.bonding_jumpers[i].size);
    ++sets.wires;
  }
  return sets;
}

}  // namespace raceward::figure
