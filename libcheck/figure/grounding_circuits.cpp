// What the circuits in a raceway ask of it as an equipment grounding conductor.
#include <algorithm>

#include "figure/grounding_asking.hpp"

namespace raceward::figure::grounding {

using namespace installation;

namespace {

/// Whether any circuit of the document may exceed the voltage above which ringed knockouts matter; once a
/// check.
struct Voltages {
  bool ready = false;
  bool any = false;
};

/// Exceeds the limit to ground: yes, no, or not known.
YesNo exceeds(const Circuit& c, const Parameter& limit) {
  if (c.kind == CircuitKind::other) return YesNo::no;  // wiring outside any circuit has no supply of its own
  const std::int64_t most = limit.value.count;
  if (c.to_ground.known()) return (*c.to_ground).count() > most ? YesNo::yes : YesNo::no;
  // A conductor's voltage to ground is never above the voltage between conductors.
  if (c.voltage.known() && (*c.voltage).count() <= most) return YesNo::no;
  return YesNo::unstated;
}

bool any_may_exceed(Evaluation& e, const Parameter& limit) {
  auto& v = e.once<Voltages>();
  if (!v.ready) {
    v.ready = true;
    v.any = std::any_of(e.model.circuits.begin(), e.model.circuits.end(),
                        [&](const Circuit& c) { return exceeds(c, limit) != YesNo::no; });
  }
  return v.any;
}

/// A step of some run that may lead through this raceway; none where all ways are known.
Index ambiguity_at(const Asking& a) {
  const auto& routes = a.e.in.routes;
  const Index block = a.e.in.graph.block[a.index];
  return block < routes.block_ambiguity.size() ? routes.block_ambiguity[block] : none;
}

void lack_route(Asking& a, Index ambiguity) {
  const Ambiguity& step = a.e.in.routes.ambiguities[ambiguity];
  const Index circuit = a.e.model.runs[step.run].circuit;
  a.lack(
      {SubjectKind::circuit, circuit}, "via", "ids of the raceways from the stop before", designer,
      [&] {
        return fmt::format(
            FMT_COMPILE(
                "more than one way leads there, and whether circuit {} lies in raceway {} is not said"),
            a.e.model.circuits[circuit].id, a.raceway.id);
      },
      a.e.model.stops[step.stop].source);
}

void ask_rating(Asking& a, Index index, const EgcRaceway& row) {
  const Circuit& circuit = a.e.model.circuits[index];
  if (a.settled() || circuit.kind == CircuitKind::other) return;
  if (circuit.overcurrent_device == none) {
    a.lack({SubjectKind::circuit, index}, "protected-by", "the id of an overcurrent device", designer);
    return;
  }
  const OvercurrentDevice& device = a.e.model.overcurrent_devices[circuit.overcurrent_device];
  if (!device.rating.known()) {
    a.lack({SubjectKind::overcurrent_device, circuit.overcurrent_device}, "rating", "a current such as 20A",
           marking);
  } else if ((*device.rating).count() > row.rating) {
    a.fail(row.cite, [&] {
      return fmt::format(
          FMT_COMPILE(
              "flexible raceway {} may carry the fault current of overcurrent devices up to {}, and circuit "
              "{} in it has one of {}"),
          a.raceway.id, text_of({row.rating, Unit::ampere}), circuit.id,
          text_of(show(*device.rating, Unit::ampere)));
    });
  }
}

/// Fault current of a circuit that lies elsewhere would pass it, and nobody knows of which.
void lack_circuit(Asking& a, const EgcRaceway& row) {
  a.lack(a.subject(), "run", "a circuit whose conductors lie in it", designer, [&] {
    return fmt::format(FMT_COMPILE("it may carry the fault current of overcurrent devices up to {}, and no "
                                   "circuit is known to lie in "
                                   "it"),
                       text_of({row.rating, Unit::ampere}));
  });
}

/// yes where a circuit in the raceway exceeds the limit, unstated where one may, else no.
YesNo some_exceeds(const Asking& a, const Parameter& limit) {
  YesNo some = YesNo::no;
  for (const Index run : a.e.in.routes.runs_in(a.index)) {
    const YesNo one = exceeds(a.e.model.circuits[a.e.model.runs[run].circuit], limit);
    if (one == YesNo::yes) return one;
    if (one == YesNo::unstated) some = one;
  }
  return some;
}

}  // namespace

void ask_flexible(Asking& a, const EgcRaceway& row) {
  if (a.raceway.movement == YesNo::yes) {
    a.fail(row.cite, [&] {
      return fmt::format(FMT_COMPILE("raceway {} is flexible, and what it serves moves or vibrates in use"),
                         a.raceway.id);
    });
  }
  if (a.raceway.grounding_listed == YesNo::no) {
    a.fail(row.cite, [&] {
      return fmt::format(FMT_COMPILE("flexible raceway {} is not listed for grounding"), a.raceway.id);
    });
  }
  const Index ambiguity = ambiguity_at(a);
  if (row.rating != Table::blank) {
    bool any = ambiguity != none;
    for (const Index run : a.e.in.routes.runs_in(a.index)) {
      const Index circuit = a.e.model.runs[run].circuit;
      any = any || a.e.model.circuits[circuit].kind != CircuitKind::other;
      ask_rating(a, circuit, row);
    }
    if (!any) lack_circuit(a, row);
  }
  if (a.raceway.movement == YesNo::unstated) {
    a.lack(a.subject(), "moves-after-installation",
           "yes or no: whether what it serves moves or vibrates in use", installer);
  }
  if (a.raceway.movement == YesNo::no && a.raceway.flexibility_needed == YesNo::yes) {
    a.lack(a.subject(), "moves-after-installation",
           "yes where it must stay flexible for what moves or vibrates in use, else flexibility-needed no",
           installer, [] {
             return std::string(
                 "it is said that it must stay flexible after installation, and that what it serves neither "
                 "moves nor vibrates");
           });
  }
  if (a.raceway.grounding_listed == YesNo::unstated) {
    a.lack(a.subject(), "listed-for-grounding",
           "yes or no: whether it and its fittings are listed for grounding", marking);
  }
  if (ambiguity != none) lack_route(a, ambiguity);
}

void ask_knockout(Asking& a, const RacewayEnd& end) {
  const Knockout opening = end.knockout;
  const bool rings = opening == Knockout::concentric || opening == Knockout::eccentric;
  if (a.settled() || !(rings || opening == Knockout::oversized || opening == Knockout::unstated)) return;
  const Parameter* limit = a.law.ringed();
  if (limit == nullptr) {
    a.lack(Subject{}, "ringed-knockout-voltage", "a voltage", ruleset_author,
           [] { return std::string("the ruleset in force does not give it"); });
    return;
  }
  if (!any_may_exceed(a.e, *limit)) return;
  const Place& place = a.e.model.places[end.place];
  if (rings && place.ringed_listed == YesNo::yes) return;
  const YesNo above = some_exceeds(a, *limit);
  const Index ambiguity = ambiguity_at(a);
  if (above == YesNo::no && ambiguity == none) return;
  if (opening == Knockout::unstated) {
    a.lack(a.subject(), "knockout", "plain, concentric, eccentric, oversized or hub", installer, end.source);
    return;
  }
  if (above == YesNo::no) {
    lack_route(a, ambiguity);
    return;
  }
  if (above == YesNo::unstated) {
    for (const Index run : a.e.in.routes.runs_in(a.index)) {
      const Index circuit = a.e.model.runs[run].circuit;
      if (exceeds(a.e.model.circuits[circuit], *limit) != YesNo::unstated) continue;
      a.lack({SubjectKind::circuit, circuit}, "voltage-to-ground", "a voltage such as 120V", designer);
    }
    return;
  }
  // Listing is for rings; it says nothing of an opening larger than the fitting. Only boxes can state it.
  if (rings && place.kind == PlaceKind::box && place.ringed_listed == YesNo::unstated) {
    a.lack(place_subject(a.e.model, end.place), "listed-bonding",
           "yes or no: whether its ringed knockouts are listed for bonding", marking);
  } else if (end.bonded == YesNo::unstated) {
    a.lack(a.subject(), "bonded", "yes or no: whether a jumper bonds it to the enclosure", installer,
           end.source);
  } else {
    a.fail(limit->cite, [&] {
      return fmt::format(
          FMT_COMPILE(
              "raceway {} enters {} by an opening larger than its fitting or with rings left ({}), without a "
              "bonding jumper, and holds a circuit of more than {} to ground"),
          a.raceway.id, short_place(a.e.model, end.place), name_of(opening), limit->text);
    });
  }
}

}  // namespace raceward::figure::grounding
