#include "check/relatives.hpp"

#include <algorithm>

#include "check/subjects.hpp"
#include "facts/relations.hpp"
#include "figure/circuit_use.hpp"
#include "figure/devices_by_box.hpp"

namespace raceward::checking {

using installation::none;
using installation::Range;
using Kind = SubjectKind;

Relatives::Relatives(figure::Evaluation& e)
    : e_(e),
      model_(e.model),
      devices_on_(model_.circuits.size()),
      protected_by_(model_.overcurrent_devices.size()),
      in_panel_(model_.places.size()),
      places_in_(model_.areas.size()),
      raceways_in_(model_.areas.size()),
      jumpers_at_(model_.places.size()),
      jumpers_of_(model_.raceways.size()) {
  for (Index i = 0; i < model_.devices.size(); ++i) {
    const Range on = model_.devices[i].circuits;
    for (Index at = on.first; at < on.end(); ++at) {
      if (model_.device_circuits[at] != none) devices_on_[model_.device_circuits[at]].push_back(i);
    }
  }
  for (Index i = 0; i < model_.circuits.size(); ++i) {
    const Index by = model_.circuits[i].overcurrent_device;
    if (by != none) protected_by_[by].push_back(i);
  }
  for (Index i = 0; i < model_.overcurrent_devices.size(); ++i) {
    const Index panel = model_.overcurrent_devices[i].panel;
    if (panel != none) in_panel_[panel].push_back(i);
  }
  for (Index i = 0; i < model_.places.size(); ++i) {
    if (model_.places[i].area != none) {
      places_in_[model_.places[i].area].push_back(i);
    } else if (!some_placeless_) {
      placeless_ = {installation::subject_kind(model_.places[i].kind), i};
      some_placeless_ = true;
    }
  }
  for (Index i = 0; i < model_.raceways.size(); ++i) {
    if (model_.raceways[i].area != none) {
      raceways_in_[model_.raceways[i].area].push_back(i);
    } else if (!some_routeless_) {
      routeless_ = {Kind::raceway, i};
      some_routeless_ = true;
    }
  }
  for (Index i = 0; i < model_.bonding_jumpers.size(); ++i) {
    const installation::BondingJumper& jumper = model_.bonding_jumpers[i];
    for (const Index place : {jumper.from, jumper.to}) {
      if (place != none) jumpers_at_[place].push_back(i);
    }
    if (jumper.raceway != none) jumpers_of_[jumper.raceway].push_back(i);
  }
}

void Relatives::lacks(MissingId more) {
  if (more != 0) found_.open = found_.open == 0 ? more : e_.missing.both(found_.open, more);
}

template <class Each>
void Relatives::of_places_in(Index area, Each each) {
  for (const Index place : places_in_[area])
    each(Subject{installation::subject_kind(model_.places[place].kind), place});
  if (some_placeless_) lacks(e_.lacks(placeless_, "area", "the id of an area", figure::installer).missing);
}

void Relatives::places_of(Subject s, List& out) {
  if (is_place(s.kind)) return out.push_back(s.index);
  if (s.kind == Kind::area) return of_places_in(s.index, [&](Subject place) { out.push_back(place.index); });
  if (s.kind == Kind::device) return out.push_back(model_.devices[s.index].box);
  if (s.kind == Kind::overcurrent_device) return out.push_back(model_.overcurrent_devices[s.index].panel);
  if (s.kind == Kind::bonding_jumper) {
    const installation::BondingJumper& jumper = model_.bonding_jumpers[s.index];
    out.push_back(jumper.from);
    return out.push_back(jumper.to);
  }
  if (s.kind == Kind::raceway || s.kind == Kind::pull_section) {
    List raceways;
    raceways_of(s, raceways);
    for (const Index r : raceways) {
      for (const installation::RacewayEnd& end : model_.raceways[r].ends) out.push_back(end.place);
    }
    return;
  }
  List runs;
  runs_of(s, runs);
  for (const Index r : runs) {
    const Range stops = model_.runs[r].stops;
    for (Index at = stops.first; at < stops.end(); ++at) out.push_back(model_.stops[at].place);
  }
}

void Relatives::raceways_of(Subject s, List& out) {
  if (s.kind == Kind::raceway) return out.push_back(s.index);
  if (s.kind == Kind::bonding_jumper) return out.push_back(model_.bonding_jumpers[s.index].raceway);
  if (s.kind == Kind::pull_section) {
    const Range of = e_.in.sections.sections[s.index].raceways;
    for (Index at = of.first; at < of.end(); ++at) out.push_back(e_.in.sections.raceways[at]);
    return;
  }
  if (s.kind == Kind::area) {
    out.insert(out.end(), raceways_in_[s.index].begin(), raceways_in_[s.index].end());
    if (some_routeless_) lacks(e_.lacks(routeless_, "area", "the id of an area", figure::installer).missing);
    return;
  }
  if (is_place(s.kind) || s.kind == Kind::device) {
    List places;
    places_of(s, places);
    for (const Index place : places) {
      if (place == none) continue;
      for (const installation::Adjacent& next : e_.in.graph.at(place)) out.push_back(next.raceway);
    }
    return;
  }
  List runs;
  runs_of(s, runs);
  for (const Index r : runs) {
    lacks(facts::ways_open(e_, {Kind::circuit, model_.runs[r].circuit}));
    const Range hops = e_.in.routes.run_hops[r];
    for (Index at = hops.first; at < hops.end(); ++at) out.push_back(e_.in.routes.hops[at].raceway);
  }
}

/// Of raceways and places those that pass, of circuits and conductors their own.
void Relatives::runs_of(Subject s, List& out) {
  if (s.kind == Kind::raceway || s.kind == Kind::pull_section) {
    List raceways;
    raceways_of(s, raceways);
    for (const Index r : raceways) {
      lacks(facts::ways_open(e_, {Kind::raceway, r}));
      const auto runs = e_.in.routes.runs_in(r);
      out.insert(out.end(), runs.begin(), runs.end());
    }
    return;
  }
  if (is_place(s.kind)) {
    for (const installation::Visit& visit : e_.in.routes.visits_at(s.index)) out.push_back(visit.run);
    return;
  }
  if (s.kind == Kind::area) return of_places_in(s.index, [&](Subject place) { runs_of(place, out); });
  List circuits;
  circuits_of(s, circuits);
  for (const Index c : circuits) {
    if (c == none) continue;
    const Range runs = model_.circuits[c].runs;
    if (runs.count == 0)
      lacks(e_.lacks({Kind::circuit, c}, "run", "the places that it visits", figure::designer).missing);
    for (Index r = runs.first; r < runs.end(); ++r) {
      const auto first = model_.run_conductors.begin() + model_.runs[r].conductors.first;
      const auto end = first + model_.runs[r].conductors.count;
      if (s.kind != Kind::conductor || std::find(first, end, s.index) != end) out.push_back(r);
    }
  }
}

void Relatives::circuits_of(Subject s, List& out) {
  if (s.kind == Kind::circuit) return out.push_back(s.index);
  if (s.kind == Kind::conductor) return out.push_back(model_.conductors[s.index].circuit);
  if (s.kind == Kind::overcurrent_device) {
    out.insert(out.end(), protected_by_[s.index].begin(), protected_by_[s.index].end());
    return lacks(facts::protected_open(e_, s.index));
  }
  if (s.kind == Kind::device) {
    const Range on = model_.devices[s.index].circuits;
    for (Index at = on.first; at < on.end(); ++at) out.push_back(model_.device_circuits[at]);
    if (on.count == 0) lacks(figure::lacks_circuit_of(e_, s.index).missing);
    return;
  }
  if (s.kind == Kind::area) return of_places_in(s.index, [&](Subject place) { circuits_of(place, out); });
  if (s.kind == Kind::panel) {
    for (const Index device : in_panel_[s.index])
      out.insert(out.end(), protected_by_[device].begin(), protected_by_[device].end());
    lacks(facts::devices_open(e_, s.index));
  }
  List runs;
  runs_of(s, runs);
  for (const Index run : runs) {
    if (run != none) out.push_back(model_.runs[run].circuit);
  }
}

void Relatives::conductors_of(Subject s, List& out) {
  if (s.kind == Kind::device || s.kind == Kind::overcurrent_device || s.kind == Kind::circuit) {
    List circuits;
    circuits_of(s, circuits);
    for (const Index c : circuits) {
      if (c == none) continue;
      const Range all = model_.circuits[c].conductors;
      if (all.count == 0)
        lacks(e_.lacks({Kind::circuit, c}, "conductor", "its conductors", figure::designer).missing);
      for (Index at = all.first; at < all.end(); ++at) out.push_back(at);
    }
    return;
  }
  List runs;
  runs_of(s, runs);
  for (const Index run : runs) {
    const Range of = model_.runs[run].conductors;
    for (Index at = of.first; at < of.end(); ++at) out.push_back(model_.run_conductors[at]);
  }
}

void Relatives::devices_of(Subject s, List& out) {
  if (s.kind == Kind::device) return out.push_back(s.index);
  if (is_place(s.kind)) {
    const auto in = figure::devices_in(e_, s.index);
    out.insert(out.end(), in.begin(), in.end());
    return;
  }
  if (s.kind == Kind::area) {
    found_.open_to_receptacles = facts::outlets_open(e_, s.index);
    return of_places_in(s.index, [&](Subject place) { devices_of(place, out); });
  }
  List circuits;
  circuits_of(s, circuits);
  for (const Index c : circuits) {
    if (c == none) continue;
    out.insert(out.end(), devices_on_[c].begin(), devices_on_[c].end());
    lacks(facts::loads_open(e_, c));
    const MissingId receptacles = facts::outlets_open_on(e_, c);
    found_.open_to_receptacles = e_.missing.both(found_.open_to_receptacles, receptacles);
  }
}

void Relatives::overcurrent_devices_of(Subject s, List& out) {
  if (s.kind == Kind::overcurrent_device) return out.push_back(s.index);
  if (s.kind == Kind::panel) {
    out.insert(out.end(), in_panel_[s.index].begin(), in_panel_[s.index].end());
    return lacks(facts::devices_open(e_, s.index));
  }
  if (s.kind == Kind::area) {
    return of_places_in(s.index, [&](Subject place) {
      if (place.kind == Kind::panel) overcurrent_devices_of(place, out);
    });
  }
  List circuits;
  circuits_of(s, circuits);
  for (const Index c : circuits) {
    if (c == none) continue;
    out.push_back(model_.circuits[c].overcurrent_device);
    if (out.back() == none && model_.circuits[c].kind != installation::CircuitKind::other)
      lacks(e_.lacks({Kind::circuit, c}, "protected-by", "the id of its overcurrent device", figure::designer)
                .missing);
  }
}

void Relatives::bonding_jumpers_of(Subject s, List& out) {
  const auto add = [&](const List& more) { out.insert(out.end(), more.begin(), more.end()); };
  if (is_place(s.kind)) return add(jumpers_at_[s.index]);
  if (s.kind == Kind::area)
    return of_places_in(s.index, [&](Subject place) { add(jumpers_at_[place.index]); });
  List raceways;
  raceways_of(s, raceways);
  for (const Index r : raceways) add(jumpers_of_[r]);
}

void Relatives::areas_of(Subject s, List& out) {
  const auto in = [&](Subject of, Index area) {
    out.push_back(area);
    if (area == none) lacks(e_.lacks(of, "area", "the id of an area", figure::installer).missing);
  };
  List found;
  if (s.kind == Kind::raceway || s.kind == Kind::pull_section) {
    raceways_of(s, found);
    for (const Index r : found) in({Kind::raceway, r}, model_.raceways[r].area);
    return;
  }
  places_of(s, found);
  for (const Index p : found) {
    if (p != none) in({installation::subject_kind(model_.places[p].kind), p}, model_.places[p].area);
  }
}

Related Relatives::of(Subject s, SubjectKind kind) {
  if (kind == Kind::installation) return {{{kind, 0}}};
  if (kind == s.kind || (kind == Kind::place && is_place(s.kind))) return {{s}};
  found_ = {};
  if (s.kind == Kind::installation) {
    found_.subjects = subjects_of(e_.in, kind);
    if (kind == Kind::overcurrent_device) lacks(facts::all_devices_open(e_));
    if (kind == Kind::device) found_.open_to_receptacles = facts::all_outlets_open(e_);
    return std::move(found_);
  }
  List found;
  if (facts::related(s.kind, kind)) {
    if (kind == Kind::area) areas_of(s, found);
    if (is_place(kind)) places_of(s, found);
    if (kind == Kind::raceway) raceways_of(s, found);
    if (kind == Kind::circuit) circuits_of(s, found);
    if (kind == Kind::device) devices_of(s, found);
    if (kind == Kind::overcurrent_device) overcurrent_devices_of(s, found);
    if (kind == Kind::conductor) conductors_of(s, found);
    if (kind == Kind::bonding_jumper) bonding_jumpers_of(s, found);
    if (kind == Kind::pull_section) found.push_back(e_.in.sections.section_of[s.index]);
  }
  std::sort(found.begin(), found.end());
  found.erase(std::unique(found.begin(), found.end()), found.end());
  for (const Index i : found) {
    if (i == none) continue;
    const Kind own = is_place(kind) ? installation::subject_kind(model_.places[i].kind) : kind;
    if (own == kind || kind == Kind::place) found_.subjects.push_back({own, i});
  }
  return std::move(found_);
}

}  // namespace raceward::checking
