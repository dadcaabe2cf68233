// Whether equipment grounding conductors that go on in a box hang on a device there.
//
// Method: in each box with a device the ends of a circuit's grounding conductors are counted: two for a run
// that goes on, one for one that begins or ends; isolated conductors, which are joined with no others, by
// themselves. Where two or more are on terminals, the device joins them;
// where one is, and others are joined, or where it is not said of them, it is asked.
// docs/figures/grounding.md tells it in words.
#include <algorithm>
#include <iterator>

#include "figure/devices_by_box.hpp"
#include "figure/ends_by_box.hpp"
#include "figure/facts.hpp"
#include "figure/grounding_network.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

bool is_grounding(Role role) { return role == Role::equipment_grounding || role == Role::bonding; }

/// `perhaps`: or may, since the role of a conductor is not said.
bool holds_grounding(const Model& model, const Run& run, bool isolated, bool perhaps) {
  const auto first = model.run_conductors.begin() + run.conductors.first;
  return std::any_of(first, first + run.conductors.count, [&](Index conductor) {
    const Conductor& c = model.conductors[conductor];
    return (c.isolated == YesNo::yes) == isolated &&
           (is_grounding(c.role) || (perhaps && c.role == Role::unstated));
  });
}

/// What is said of the conductors of such a run is said of these.
bool holds_no_others(const Model& model, const Run& run) {
  const auto first = model.run_conductors.begin() + run.conductors.first;
  return std::all_of(first, first + run.conductors.count,
                     [&](Index c) { return is_grounding(model.conductors[c].role); });
}

/// A terminal block joins; it is no device that is taken out.
bool is_taken_out(const Model& model, Index device) {
  return model.devices[device].kind != DeviceKind::terminal_block;
}

/// Ends of a circuit's grounding conductors in a box with a device.
struct Ends {
  Index place = none;
  std::uint32_t on_terminals = 0;  // said of the grounding conductors themselves
  std::uint32_t perhaps = 0;       // said of the conductors of the run, or of none
  std::uint32_t all = 0;
  struct Stop {
    Index stop;
    bool alone;  // its run holds no others
    Index run = none;
    std::int8_t way = 0;  // 1: its run ends there, -1: it begins there
  };
  std::vector<Stop> said{}, unsaid{};  // stops of ends that are not said to be joined

  void add(const Ends& other) {
    on_terminals += other.on_terminals;
    perhaps += other.perhaps;
    all += other.all;
    said.insert(said.end(), other.said.begin(), other.said.end());
    unsaid.insert(unsaid.end(), other.unsaid.begin(), other.unsaid.end());
  }
};

std::vector<Ends> ends_of(Evaluation& e, const Circuit& circuit, bool perhaps = false) {
  const Model& model = e.model;
  const auto read = [&](const Run& run, Index s, std::uint32_t ends) -> std::optional<Ends> {
    const Stop& stop = model.stops[s];
    const bool device =
        std::ranges::any_of(devices_in(e, stop.place), [&](Index d) { return is_taken_out(model, d); });
    if (!device) return {};
    Ends at{.place = stop.place, .all = ends};
    const bool said = stop.grounding != StopTreatment::unstated ||
                      (stop.ungrounded != StopTreatment::unstated && holds_no_others(model, run));
    const bool own = stop.grounding != StopTreatment::unstated;
    const StopTreatment treatment = own ? stop.grounding : stop.ungrounded;
    const bool joined = treatment != StopTreatment::terminated && treatment != StopTreatment::unstated;
    if (!joined) (said ? at.on_terminals : at.perhaps) = ends;
    const auto way = static_cast<std::int8_t>(ends > 1 ? 0 : s == run.stops.first ? -1 : 1);  // not law: ends
    const auto index = static_cast<Index>(&run - model.runs.data());
    if (!joined) (said ? at.said : at.unsaid).push_back({s, holds_no_others(model, run), index, way});
    return at;
  };
  std::vector<Ends> out;
  for (const bool isolated : {false, true}) {
    const auto boxes = ends_by_box<Ends>(
        model, circuit, [&](const Run& run) { return holds_grounding(model, run, isolated, perhaps); }, read);
    std::ranges::copy_if(boxes, std::back_inserter(out), [](const Ends& at) { return at.all >= 2; });
  }
  return out;
}

/// Two that come side by side, or leave so, may be an isolated one and another, which nothing joins.
MissingId may_be_apart(Evaluation& e, const Ends& at) {
  if (at.on_terminals != 2 || at.said.size() != 2) return 0;  // not law: two of them
  const Ends::Stop &a = at.said.front(), &b = at.said.back();
  if (a.run == b.run || a.way == 0 || a.way != b.way) return 0;
  MissingId missing = 0;
  for (const Index run : {a.run, b.run}) {
    missing = e.missing.both(
        missing, grounding::lacks_isolated(e, e.model.runs[run], "isolated ones are joined with no others"));
  }
  return missing;
}

/// The one device of a circuit in a box; the box where there are several.
Subject device_of(Evaluation& e, Index circuit, Index box) {
  Index only = none;
  for (const Index d : devices_in(e, box)) {
    if (!is_taken_out(e.model, d)) continue;
    const Range& of = e.model.devices[d].circuits;
    const auto first = e.model.device_circuits.begin() + of.first;
    if (of.count != 0 && std::find(first, first + of.count, circuit) == first + of.count) continue;
    if (only != none) return {SubjectKind::box, box};
    only = d;
  }
  return only == none ? Subject{SubjectKind::box, box} : Subject{SubjectKind::device, only};
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
  std::vector<Index> places;
  for (const Ends& at : boxes) places.push_back(at.place);
  std::sort(places.begin(), places.end());
  places.erase(std::unique(places.begin(), places.end()), places.end());
  const auto different = static_cast<std::int64_t>(places.size());
  return Evaluation::value(number(different).count());
}

Value grounding_by_device(Evaluation& e, Subject s) {
  MissingId missing = 0;
  for (const Ends& at : ends_of(e, e.model.circuits[s.index])) {
    const std::string_view box = e.model.places[at.place].id;
    if (const MissingId apart = may_be_apart(e, at); apart != 0) {
      missing = e.missing.both(missing, apart);
      continue;
    }
    if (at.on_terminals >= 2) {
      e.note(FMT_COMPILE("in {} grounding conductors go on from terminals: {} ends on them"), box,
             at.on_terminals);
      Value value = answer(true);
      value.place = device_of(e, s.index, at.place);
      return value;
    }
    if (at.on_terminals + at.perhaps == 0) {
      e.note(FMT_COMPILE("in {} all grounding conductors are joined: {} ends"), box, at.all);
      continue;
    }
    for (const Ends::Stop& each : at.unsaid.empty() ? at.said : at.unsaid) {
      const Value lack = e.lacks(
          {SubjectKind::box, at.place}, each.alone ? "conductors" : "grounding",
          "spliced where they are joined with each other or on the box, terminated where each ends on "
          "the device",
          installer, "conductors end on terminals there and go on", e.model.stops[each.stop].source);
      missing = e.missing.both(missing, lack.missing);
    }
  }
  return missing == 0 ? answer(false) : Evaluation::lacks(missing);
}

}  // namespace raceward::figure::compute
