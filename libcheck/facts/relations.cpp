#include "facts/relations.hpp"

#include <algorithm>

#include "facts/shape.hpp"
#include "figure/circuit_use.hpp"
#include "figure/panel_circuits.hpp"

namespace raceward::facts {

using installation::Index;
using installation::none;

namespace {

using Kind = SubjectKind;

/// Circuits that do not say what protects them, by the panel where they may begin.
struct Unprotected {
  bool ready = false;
  Index anywhere = none;        // one that says not even where it begins
  std::vector<Index> at_place;  // the first of them; none: there is none

  void read(const installation::Model& model) {
    ready = true;
    at_place.assign(model.places.size(), none);
    for (Index i = 0; i < model.circuits.size(); ++i) {
      const installation::Circuit& circuit = model.circuits[i];
      if (circuit.overcurrent_device != none || circuit.kind == installation::CircuitKind::other) continue;
      if (circuit.runs.count == 0 && anywhere == none) anywhere = i;
      for (Index r = circuit.runs.first; r < circuit.runs.end(); ++r) {
        const installation::Range stops = model.runs[r].stops;
        if (stops.count == 0) continue;
        Index& at = at_place[model.stops[stops.first].place];
        if (at == none) at = i;
      }
    }
  }
};

template <class Open>
MissingId joined(figure::Evaluation& e, std::size_t count, Open open) {
  constexpr int most = 8;  // not law: more need not be read at once
  MissingId out = 0;
  int named = 0;
  for (Index i = 0; i < count && named < most; ++i) {
    const MissingId one = open(e, i);
    if (one == 0) continue;
    out = out == 0 ? one : e.missing.both(out, one);
    ++named;
  }
  return out;
}

bool in_circuit(Kind k) { return k == Kind::circuit || k == Kind::conductor; }
bool holds_devices(Kind k) { return is_place(k) && k != Kind::conduit_body && k != Kind::joint; }

/// One way; the others follow from it.
bool leads(Kind of, Kind to) {
  switch (of) {
    case Kind::area:
      return is_place(to) || to == Kind::raceway || to == Kind::device || to == Kind::overcurrent_device ||
             in_circuit(to) || to == Kind::bonding_jumper;
    case Kind::raceway:
      return is_place(to) || in_circuit(to) || to == Kind::overcurrent_device || to == Kind::device ||
             to == Kind::bonding_jumper;
    case Kind::circuit:
    case Kind::conductor:
      return is_place(to) || in_circuit(to) || to == Kind::overcurrent_device || to == Kind::device;
    case Kind::device:
      return holds_devices(to) || to == Kind::overcurrent_device;
    case Kind::overcurrent_device:
      return to == Kind::panel || to == Kind::place;
    case Kind::bonding_jumper:
      return is_place(to);
    default:
      return false;
  }
}

}  // namespace

bool related(Kind of, Kind to) {
  if (of == Kind::attestation || to == Kind::attestation) return false;
  if (of == to || of == Kind::installation || to == Kind::installation) return true;
  if (is_place(of) && is_place(to)) return of == Kind::place || to == Kind::place;
  // Of raceways in a row all that is asked that is asked of each; only a raceway leads back to them.
  if (of == Kind::pull_section) return to == Kind::raceway || related(Kind::raceway, to);
  if (to == Kind::pull_section) return of == Kind::raceway;
  // What protects the circuits at a place may be asked of the place, and not which boxes a breaker feeds.
  if (to == Kind::overcurrent_device && is_place(of)) return true;
  return leads(of, to) || leads(to, of);
}

std::string related_to(Kind of) {
  std::string out;
  for (std::uint8_t k = 0; k < subject_kind_count; ++k) {
    const auto kind = static_cast<Kind>(k);
    if (kind != Kind::place && related(of, kind))
      out += (out.empty() ? "" : ", ") + std::string(word_of(kind));
  }
  return out;
}

MissingId devices_open(figure::Evaluation& e, Index panel) {
  if (e.model.places[panel].devices_complete == installation::YesNo::yes) return 0;
  return figure::all_devices_written(e, {Kind::panel, panel}).missing;
}

MissingId outlets_open(figure::Evaluation& e, Index area) {
  const installation::YesNo all = e.model.areas[area].outlets_complete;
  if (all == installation::YesNo::yes) return 0;
  return e
      .lacks({Kind::area, area}, "outlets-complete",
             "yes or no: whether the document has all receptacles that are in it", figure::designer,
             all == installation::YesNo::no ? "it says that the document has not all of them" : std::string{})
      .missing;
}

MissingId all_outlets_open(figure::Evaluation& e) { return joined(e, e.model.areas.size(), outlets_open); }

MissingId all_devices_open(figure::Evaluation& e) {
  return joined(e, e.model.places.size(), [](figure::Evaluation& each, Index place) {
    return each.model.places[place].kind == installation::PlaceKind::panel ? devices_open(each, place) : 0;
  });
}

MissingId protected_open(figure::Evaluation& e, Index device) {
  auto& all = e.once<Unprotected>();
  if (!all.ready) all.read(e.model);
  const Index here = all.at_place[e.model.overcurrent_devices[device].panel];
  const Index circuit = here != none ? here : all.anywhere;
  if (circuit == none) return 0;
  return e
      .lacks({Kind::circuit, circuit}, "protected-by", "the id of its overcurrent device", figure::designer)
      .missing;
}

MissingId ways_open(figure::Evaluation& e, Subject s) {
  const bool raceway = s.kind == Kind::raceway;
  return e.get(raceway ? figure::Id::conductors_in_raceway : figure::Id::raceways_of_circuit, s).missing;
}

MissingId loads_open(figure::Evaluation& e, Index circuit) {
  const Index unplaced = figure::circuit_use(e).on(circuit).unplaced;
  return unplaced == none ? 0 : figure::lacks_circuit_of(e, unplaced).missing;
}

MissingId outlets_open_on(figure::Evaluation& e, Index circuit) {
  const installation::Model& model = e.model;
  std::vector<Index> areas;
  MissingId open = 0;
  const installation::Range runs = model.circuits[circuit].runs;
  if (runs.count == 0)
    return e.lacks({Kind::circuit, circuit}, "run", "the places that it visits", figure::designer).missing;
  for (Index r = runs.first; r < runs.end(); ++r) {
    const installation::Range stops = model.runs[r].stops;
    for (Index s = stops.first; s < stops.end(); ++s) {
      const Index place = model.stops[s].place;
      if (place == none) continue;
      const installation::Place& at = model.places[place];
      if (at.area != none) {
        areas.push_back(at.area);
      } else if (open == 0 && at.kind == installation::PlaceKind::box) {
        open = e.lacks({Kind::box, place}, "area", "the id of an area", figure::installer).missing;
      }
    }
  }
  std::sort(areas.begin(), areas.end());
  areas.erase(std::unique(areas.begin(), areas.end()), areas.end());
  const MissingId outlets = joined(
      e, areas.size(), [&](figure::Evaluation& each, Index i) { return outlets_open(each, areas[i]); });
  return e.missing.both(open, outlets);
}

}  // namespace raceward::facts
