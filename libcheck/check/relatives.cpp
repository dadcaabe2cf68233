#include "check/relatives.hpp"

#include <algorithm>

#include "check/subjects.hpp"
#include "figure/devices_by_box.hpp"

namespace raceward::checking {

using installation::none;
using installation::Range;

Relatives::Relatives(figure::Evaluation& e)
    : e_(e),
      model_(e.model),
      devices_on_(model_.circuits.size()),
      protected_by_(model_.overcurrent_devices.size()),
      in_panel_(model_.places.size()) {
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
}

void Relatives::places_of(Subject s, List& out) const {
  if (is_place(s.kind)) return out.push_back(s.index);
  if (s.kind == SubjectKind::device) return out.push_back(model_.devices[s.index].box);
  if (s.kind == SubjectKind::overcurrent_device)
    return out.push_back(model_.overcurrent_devices[s.index].panel);
  if (s.kind == SubjectKind::bonding_jumper) {
    const installation::BondingJumper& jumper = model_.bonding_jumpers[s.index];
    out.push_back(jumper.from);
    return out.push_back(jumper.to);
  }
  if (s.kind == SubjectKind::raceway || s.kind == SubjectKind::pull_section) {
    List raceways;
    raceways_of(s, raceways);
    for (const Index r : raceways) {
      for (const installation::RacewayEnd& end : model_.raceways[r].ends) out.push_back(end.place);
    }
    return;
  }
  List circuits;
  if (s.kind == SubjectKind::circuit || s.kind == SubjectKind::conductor) circuits_of(s, circuits);
  for (const Index c : circuits) {
    const Range runs = model_.circuits[c].runs;
    for (Index r = runs.first; r < runs.end(); ++r) {
      const Range stops = model_.runs[r].stops;
      for (Index at = stops.first; at < stops.end(); ++at) out.push_back(model_.stops[at].place);
    }
  }
}

void Relatives::raceways_of(Subject s, List& out) const {
  if (s.kind == SubjectKind::raceway) return out.push_back(s.index);
  if (s.kind == SubjectKind::bonding_jumper) return out.push_back(model_.bonding_jumpers[s.index].raceway);
  if (s.kind == SubjectKind::pull_section) {
    const Range of = e_.in.sections.sections[s.index].raceways;
    for (Index at = of.first; at < of.end(); ++at) out.push_back(e_.in.sections.raceways[at]);
    return;
  }
  if (is_place(s.kind) || s.kind == SubjectKind::device) {
    List places;
    places_of(s, places);
    for (const Index place : places) {
      if (place == none) continue;
      for (const installation::Adjacent& next : e_.in.graph.at(place)) out.push_back(next.raceway);
    }
    return;
  }
  List circuits;
  if (s.kind == SubjectKind::circuit || s.kind == SubjectKind::conductor) circuits_of(s, circuits);
  for (const Index c : circuits) {
    const Range runs = model_.circuits[c].runs;
    for (Index r = runs.first; r < runs.end(); ++r) {
      const Range hops = e_.in.routes.run_hops[r];
      for (Index at = hops.first; at < hops.end(); ++at) out.push_back(e_.in.routes.hops[at].raceway);
    }
  }
}

void Relatives::circuits_of(Subject s, List& out) const {
  const auto of_run = [&](Index run) {
    if (run != none) out.push_back(model_.runs[run].circuit);
  };
  if (s.kind == SubjectKind::circuit) return out.push_back(s.index);
  if (s.kind == SubjectKind::conductor) return out.push_back(model_.conductors[s.index].circuit);
  if (s.kind == SubjectKind::overcurrent_device) {
    out.insert(out.end(), protected_by_[s.index].begin(), protected_by_[s.index].end());
  } else if (s.kind == SubjectKind::device) {
    const Range on = model_.devices[s.index].circuits;
    for (Index at = on.first; at < on.end(); ++at) out.push_back(model_.device_circuits[at]);
  } else if (s.kind == SubjectKind::raceway || s.kind == SubjectKind::pull_section) {
    List raceways;
    raceways_of(s, raceways);
    for (const Index r : raceways) {
      for (const Index run : e_.in.routes.runs_in(r)) of_run(run);
    }
  } else if (is_place(s.kind)) {
    for (const installation::Visit& visit : e_.in.routes.visits_at(s.index)) of_run(visit.run);
  }
}

void Relatives::devices_of(Subject s, List& out) const {
  if (s.kind == SubjectKind::device) return out.push_back(s.index);
  if (is_place(s.kind)) {
    const auto in = figure::devices_in(e_, s.index);
    out.insert(out.end(), in.begin(), in.end());
    return;
  }
  List circuits;
  circuits_of(s, circuits);
  for (const Index c : circuits) {
    if (c != none) out.insert(out.end(), devices_on_[c].begin(), devices_on_[c].end());
  }
}

void Relatives::overcurrent_devices_of(Subject s, List& out) const {
  if (s.kind == SubjectKind::overcurrent_device) return out.push_back(s.index);
  if (s.kind == SubjectKind::panel) {
    out.insert(out.end(), in_panel_[s.index].begin(), in_panel_[s.index].end());
    return;
  }
  List circuits;
  circuits_of(s, circuits);
  for (const Index c : circuits) {
    if (c != none) out.push_back(model_.circuits[c].overcurrent_device);
  }
}

std::vector<Subject> Relatives::of(Subject s, SubjectKind kind, Subject& unsure, bool& is_unsure) {
  if (kind == SubjectKind::installation) return {{kind, 0}};
  if (kind == s.kind) return {s};
  if (s.kind == SubjectKind::installation) return subjects_of(e_.in, kind);
  List found;
  if (kind == SubjectKind::area) {
    if (s.kind == SubjectKind::raceway || s.kind == SubjectKind::pull_section) {
      List raceways;
      raceways_of(s, raceways);
      for (const Index r : raceways) {
        found.push_back(model_.raceways[r].area);
        if (found.back() == none) unsure = {SubjectKind::raceway, r}, is_unsure = true;
      }
    } else {
      List places;
      places_of(s, places);
      for (const Index p : places) {
        if (p == none) continue;
        found.push_back(model_.places[p].area);
        if (found.back() == none)
          unsure = {installation::subject_kind(model_.places[p].kind), p}, is_unsure = true;
      }
    }
  } else if (is_place(kind)) {
    List places;
    places_of(s, places);
    for (const Index p : places) {
      if (p != none && installation::subject_kind(model_.places[p].kind) == kind) found.push_back(p);
    }
  } else if (kind == SubjectKind::raceway) {
    raceways_of(s, found);
  } else if (kind == SubjectKind::circuit) {
    circuits_of(s, found);
  } else if (kind == SubjectKind::device) {
    devices_of(s, found);
  } else if (kind == SubjectKind::overcurrent_device) {
    overcurrent_devices_of(s, found);
  } else if (kind == SubjectKind::conductor) {
    List circuits;
    circuits_of(s, circuits);
    for (const Index c : circuits) {
      if (c == none) continue;
      const Range all = model_.circuits[c].conductors;
      for (Index at = all.first; at < all.end(); ++at) found.push_back(at);
    }
  } else if (kind == SubjectKind::pull_section && s.kind == SubjectKind::raceway) {
    found.push_back(e_.in.sections.section_of[s.index]);
  }
  std::sort(found.begin(), found.end());
  found.erase(std::unique(found.begin(), found.end()), found.end());
  std::vector<Subject> out;
  for (const Index i : found) {
    if (i != none) out.push_back({kind, i});
  }
  return out;
}

}  // namespace raceward::checking
