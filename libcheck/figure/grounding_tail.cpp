// Whether equipment grounding conductors that go on in a box hang on a device there.
//
// Method: in each box with a device the ends of a circuit's grounding conductors are counted: two for a run
// that goes on, one for one that begins or ends. Where two or more are on terminals, the device joins them.
// docs/figures/grounding.md tells it in words.
#include <algorithm>

#include "figure/devices_by_box.hpp"
#include "figure/facts.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

/// `perhaps`: or may, since the role of a conductor is not said.
bool holds_grounding(const Model& model, const Run& run, bool perhaps) {
  const auto first = model.run_conductors.begin() + run.conductors.first;
  return std::any_of(first, first + run.conductors.count, [&](Index conductor) {
    const Role role = model.conductors[conductor].role;
    return role == Role::equipment_grounding || role == Role::bonding || (perhaps && role == Role::unstated);
  });
}

/// A terminal block joins; it is no device that is taken out.
bool holds_device(Evaluation& e, Index box) {
  return std::ranges::any_of(devices_in(e, box), [&](Index device) {
    return e.model.devices[device].kind != DeviceKind::terminal_block;
  });
}

/// Ends of a circuit's grounding conductors in a box with a device.
struct Ends {
  Index place = none;
  std::uint32_t on_terminals = 0;  // said of the grounding conductors themselves
  std::uint32_t perhaps = 0;       // said of the conductors of the run, or of none
  std::uint32_t all = 0;
  Index stop = none;  // the first that does not say that they are joined
};

std::vector<Ends> ends_of(Evaluation& e, const Circuit& circuit, bool perhaps = false) {
  const Model& model = e.model;
  std::vector<Ends> each;
  for (Index r = circuit.runs.first; r < circuit.runs.end(); ++r) {
    const Run& run = model.runs[r];
    if (!holds_grounding(model, run, perhaps)) continue;
    for (Index s = run.stops.first; s < run.stops.end(); ++s) {
      const Stop& stop = model.stops[s];
      if (stop.place == none || model.places[stop.place].kind != PlaceKind::box) continue;
      if (!holds_device(e, stop.place)) continue;
      Ends at{.place = stop.place, .all = s != run.stops.first && s + 1 != run.stops.end() ? 2U : 1U};
      const bool said = stop.grounding != StopTreatment::unstated;
      const StopTreatment treatment = said ? stop.grounding : stop.ungrounded;
      const bool joined = treatment != StopTreatment::terminated && treatment != StopTreatment::unstated;
      if (!joined) (said ? at.on_terminals : at.perhaps) = at.all;
      if (!joined) at.stop = s;
      each.push_back(at);
    }
  }
  std::ranges::stable_sort(each, {}, &Ends::place);
  std::vector<Ends> out;
  for (const Ends& at : each) {
    if (out.empty() || out.back().place != at.place) {
      out.push_back(at);
      continue;
    }
    out.back().on_terminals += at.on_terminals;
    out.back().perhaps += at.perhaps;
    out.back().all += at.all;
    if (out.back().stop == none) out.back().stop = at.stop;
  }
  std::erase_if(out, [](const Ends& at) { return at.all < 2; });
  // The first with a fault is told: by name, so that the order of elements says nothing.
  std::ranges::sort(out, {}, [&](const Ends& at) { return model.places[at.place].id; });
  return out;
}

}  // namespace

Value grounding_goes_on(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  const auto boxes = ends_of(e, circuit);
  const auto ends = [](const std::vector<Ends>& of) {
    std::uint32_t sum = 0;
    for (const Ends& at : of) sum += at.all;
    return sum;
  };
  if (const MissingId roles = roles_missing(e, circuit);
      roles != 0 && ends(boxes) < ends(ends_of(e, circuit, true))) {
    return Evaluation::lacks(roles);
  }
  return Evaluation::value(number(static_cast<std::int64_t>(boxes.size())).count());
}

Value grounding_by_device(Evaluation& e, Subject s) {
  MissingId missing = 0;
  for (const Ends& at : ends_of(e, e.model.circuits[s.index])) {
    const std::string_view box = e.model.places[at.place].id;
    if (at.on_terminals >= 2) {
      e.note(FMT_COMPILE("in {} grounding conductors go on from terminals: {} ends on them"), box,
             at.on_terminals);
      Value value = answer(true);
      value.place = {SubjectKind::box, at.place};
      return value;
    }
    if (at.on_terminals + at.perhaps == 0) {
      e.note(FMT_COMPILE("in {} all grounding conductors are joined: {} ends"), box, at.all);
      continue;
    }
    const Value lack =
        e.lacks({SubjectKind::box, at.place}, "grounding",
                "spliced where they are joined with each other or on the box, terminated where each ends on "
                "the device",
                installer, "conductors end on terminals there and go on", e.model.stops[at.stop].source);
    missing = e.missing.both(missing, lack.missing);
  }
  return missing == 0 ? answer(false) : Evaluation::lacks(missing);
}

}  // namespace raceward::figure::compute
