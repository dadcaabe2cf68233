// Where bonding jumpers lie: in the raceway that they bridge, along it, or elsewhere.
//
// Method: one that names a raceway, or joins two places that a raceway joins, lies in it or outside. What
// lies inside takes room there with its insulation, which a jumper does not say: then it is asked for as a
// conductor.
#include "figure/jumper_routing.hpp"

#include <algorithm>

#include "figure/facts.hpp"
#include "figure/grounding_electrode.hpp"
#include "figure/jumpers_by_place.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

constexpr std::string_view a_routing = "inside, along or apart: where it lies, seen from the raceway";

/// From one end of the raceway to the other.
bool spans(const BondingJumper& jumper, const Raceway& raceway) {
  const Index from = raceway.ends[0].place, to = raceway.ends[1].place;
  return (jumper.from == from && jumper.to == to) || (jumper.from == to && jumper.to == from);
}

}  // namespace

MissingId jumpers_inside(Evaluation& e, Index raceway) {
  const Raceway& r = e.model.raceways[raceway];
  MissingId missing = 0;
  for (const Index j : jumpers_into(e, r.ends[0].place)) {
    const BondingJumper& jumper = e.model.bonding_jumpers[j];
    const bool other = jumper.raceway != none && jumper.raceway != raceway;
    if (other || !spans(jumper, r)) continue;
    const Subject at{SubjectKind::bonding_jumper, j};
    if (jumper.routing == JumperRouting::unstated) {
      const Value lack =
          e.lacks(at, "routing", a_routing, installer, "in a raceway it takes room", jumper.source);
      missing = e.missing.both(missing, lack.missing);
    } else if (jumper.routing == JumperRouting::inside) {
      const Value lack = e.lacks(
          at, "routing", "along or apart; in the raceway it is written as a conductor, whose area is known",
          designer,
          fmt::format(FMT_COMPILE("it is said to lie in raceway {} or its enclosures, and takes room there"),
                      r.id),
          jumper.source);
      missing = e.missing.both(missing, lack.missing);
    }
  }
  return missing;
}

namespace compute {

Value jumper_outside_asked(Evaluation& e, Subject s) {
  const BondingJumper& jumper = e.model.bonding_jumpers[s.index];
  for (const Index place : {jumper.from, jumper.to})
    if (place != none && grounding::is_electrode(e, place)) return answer(false);
  bool of_raceway = jumper.raceway != none;
  if (!of_raceway) {
    for (const Adjacent& way : e.in.graph.at(jumper.from)) of_raceway = of_raceway || way.place == jumper.to;
  }
  if (!of_raceway || jumper.routing == JumperRouting::inside) return answer(false);
  if (jumper.routing == JumperRouting::unstated)
    return e.lacks(s, "routing", a_routing, installer, {}, jumper.source);
  return answer(true);
}

Value jumper_along(Evaluation& e, Subject s) {
  const BondingJumper& jumper = e.model.bonding_jumpers[s.index];
  if (jumper.routing == JumperRouting::unstated)
    return e.lacks(s, "routing", a_routing, installer, {}, jumper.source);
  return answer(jumper.routing != JumperRouting::apart);
}

Value jumper_length(Evaluation& e, Subject s) {
  return given(e, s, e.model.bonding_jumpers[s.index].length, Unit::foot, "length", "a length such as 2ft",
               installer_tape);
}

Value jumper_length_limit(Evaluation& e, Subject) {
  return set_by_law(e, "bonding-jumper-length", Dimension::length);
}

}  // namespace compute

}  // namespace raceward::figure
