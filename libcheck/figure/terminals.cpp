// How many conductors lie under a terminal: of overcurrent devices, of receptacles and switches, and of the
// bars of panels.
//
// Method: as stated; or by counting the conductors that end there. Where there are no more of them than
// poles, each has one of its own; receptacles and switches have two terminals for each.
#include <algorithm>
#include <map>
#include <span>
#include <utility>

#include "figure/circuit_use.hpp"
#include "figure/current_carrying.hpp"
#include "figure/devices_by_box.hpp"
#include "figure/facts.hpp"
#include "figure/run_contents.hpp"
#include "figure/unwritten.hpp"
#include "figure/visits_on.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

/// Ends of conductors in panels. One pass over the runs for all of them.
struct Ends {
  bool ready = false;
  std::vector<std::uint32_t> ungrounded;     // by overcurrent device
  std::vector<std::uint32_t> grounded;       // by place
  std::vector<Index> unclear;                // by place: a conductor without a role, the first by id
  std::vector<MissingId> cables, cables_at;  // by overcurrent device, by place: what cables bring
  std::vector<MissingId> unwritten;          // by overcurrent device: of its circuits

  void read(Evaluation& e) {
    ready = true;
    const Model& model = e.model;
    ungrounded.resize(model.overcurrent_devices.size());
    grounded.resize(model.places.size());
    unclear.assign(model.places.size(), none);
    cables.resize(model.overcurrent_devices.size());
    cables_at.resize(model.places.size());
    unwritten.resize(model.overcurrent_devices.size());
    for (Index c = 0; c < model.circuits.size(); ++c) {
      const Index device = model.circuits[c].overcurrent_device;
      if (device != none) unwritten[device] = e.missing.both(unwritten[device], unwritten_of(e, c));
    }
    for (const Run& run : model.runs) {
      const Circuit& circuit = model.circuits[run.circuit];
      const Index device = circuit.overcurrent_device;
      for (Index s = run.stops.first; s < run.stops.end(); ++s) {
        const Stop& stop = model.stops[s];
        if (stop.place == none || model.places[stop.place].kind != PlaceKind::panel) continue;
        const bool passes = s != run.stops.first && s + 1 != run.stops.end();
        if (passes && (stop.ungrounded == StopTreatment::through || stop.ungrounded == StopTreatment::looped))
          continue;
        if (stop.ungrounded == StopTreatment::spliced) continue;
        const std::uint32_t each = passes ? 2 : 1;
        bool brings_cable = false;
        const bool home = device != none && model.overcurrent_devices[device].panel == stop.place;
        for (Index i = run.conductors.first; i < run.conductors.end(); ++i) {
          const Conductor& conductor = model.conductors[model.run_conductors[i]];
          const bool cable = model.conductor_kinds[conductor.kind].cable;
          brings_cable = brings_cable || (cable && conductor.role != Role::control);
          Index& held = unclear[stop.place];
          const bool unsaid = conductor.role == Role::unstated && !cable;
          if (unsaid && (held == none || by_id(e, model.run_conductors[i], held)))
            held = model.run_conductors[i];
          if (conductor.role == Role::grounded) grounded[stop.place] += each * conductor.count;
          if (conductor.role == Role::ungrounded && home) ungrounded[device] += each * conductor.count;
        }
        if (!brings_cable) continue;
        const MissingId missing = cables_missing(e, run);
        cables_at[stop.place] = e.missing.both(cables_at[stop.place], missing);
        if (home) cables[device] = e.missing.both(cables[device], missing);
      }
    }
  }
};

const Ends& ends(Evaluation& e) {
  auto& made = e.once<Ends>();
  if (!made.ready) made.read(e);
  return made;
}

/// Conductors in parallel for each pole of a device, where a circuit of it says so.
struct Sets {
  bool ready = false;
  std::vector<std::uint8_t> of;  // by overcurrent device

  void read(const Model& model) {
    ready = true;
    of.assign(model.overcurrent_devices.size(), 1);
    for (const Circuit& circuit : model.circuits)
      if (circuit.overcurrent_device != none && circuit.parallel > of[circuit.overcurrent_device])
        of[circuit.overcurrent_device] = circuit.parallel;
  }
};

}  // namespace

Value wires_per_terminal(Evaluation& e, Subject s) {
  const OvercurrentDevice& device = e.model.overcurrent_devices[s.index];
  if (device.wires_per_terminal != 0) {
    e.note(FMT_COMPILE("stated: wires-per-terminal is {}"), device.wires_per_terminal);
    return Evaluation::value(number(device.wires_per_terminal).count());
  }
  const std::uint32_t count = ends(e).ungrounded[s.index];
  if (const MissingId cables = ends(e).cables[s.index]; cables != 0) return Evaluation::lacks(cables);
  if (const MissingId open = ends(e).unwritten[s.index]; open != 0) return Evaluation::lacks(open);
  if (count <= 1) return Evaluation::value(number(count).count());
  if (device.poles == 0) return e.lacks(s, "poles", "how many, 1 or 2", marking);
  e.note(FMT_COMPILE("ungrounded conductors of its circuits that end at it: {}, on poles: {}"), count,
         device.poles);
  if (count <= device.poles) return Evaluation::value(number(1).count());
  auto& sets = e.once<Sets>();
  if (!sets.ready) sets.read(e.model);
  // Lugs for conductors in parallel have a hole for each.
  if (sets.of[s.index] > 1 && count <= std::uint32_t{device.poles} * sets.of[s.index])
    return Evaluation::value(number(1).count());
  return e.lacks(
      s, "wires-per-terminal", "how many conductors are under one terminal", installer,
      fmt::format(
          FMT_COMPILE("so many ungrounded conductors end at its poles, or are joined before: {}; poles: {}"),
          count, device.poles));
}

Value wires_per_terminal_limit(Evaluation& e, Subject s) {
  const OvercurrentDevice& device = e.model.overcurrent_devices[s.index];
  if (device.terminals_made_for != 0) {
    e.note(FMT_COMPILE("stated: terminals-made-for is {}"), device.terminals_made_for);
    return Evaluation::value(number(device.terminals_made_for).count());
  }
  const Value one = set_by_law(e, "wires-per-terminal", Dimension::none);
  const Value has = e.get_aside(Id::wires_per_terminal, s);
  if (!one || !has || has.count <= one.count) return one;
  return e.lacks(s, "terminals-made-for", "how many conductors a terminal is marked for", marking);
}

namespace {

/// Conductors of a circuit that end on devices in a place, those that go on counted twice. What has no role
/// and what a cable brings may be any, and what nobody says of a stop may be that they end there.
struct OnDevices {
  std::uint32_t ungrounded = 0, switched = 0, grounded = 0;
  MissingId open = 0;  // what would tell how many: conductors of cables, what becomes of them, their roles
};
OnDevices on_devices(Evaluation& e, Index circuit, Index place) {
  OnDevices out;
  MissingId cables = 0, stops = 0;
  std::vector<MissingId> roles;
  for (const Index v : visits_on(e, place, circuit)) {
    const Visit& visit = e.in.routes.visits[v];
    const Run& run = e.model.runs[visit.run];
    if (visit.stop == none) continue;
    const StopTreatment how = e.model.stops[visit.stop].ungrounded;
    if (how == StopTreatment::unstated)
      stops = e.missing.both(stops, lacks_end_of(e, circuit, visit.stop).missing);
    if (how != StopTreatment::terminated && how != StopTreatment::unstated) continue;
    const std::uint32_t each = visit.arrives && visit.leaves ? 2 : 1;
    const MissingId unlisted = cables_missing(e, run);
    cables = e.missing.both(cables, unlisted);
    for (Index i = run.conductors.first; i < run.conductors.end(); ++i) {
      const Conductor& conductor = e.model.conductors[e.model.run_conductors[i]];
      const std::uint32_t ends = each * conductor.count;
      const bool cable = e.model.conductor_kinds[conductor.kind].cable;
      const bool open =
          cable ? unlisted != 0 && conductor.role != Role::control : conductor.role == Role::unstated;
      if (open || conductor.role == Role::ungrounded) out.ungrounded += ends;
      if (open || conductor.role == Role::switched) out.switched += ends;
      if (open || conductor.role == Role::grounded) out.grounded += ends;
      if (!open || cable) continue;
      const Value lack =
          e.lacks({SubjectKind::conductor, e.model.run_conductors[i]}, "role",
                  "what the conductor is for, such as grounded", designer, {}, conductor.source);
      roles.push_back(lack.missing);
    }
  }
  // One after the other: what is known of the first may settle the next.
  out.open = cables != 0 ? cables : stops != 0 ? stops : e.missing.all(roles);
  return out;
}

bool has_terminals(DeviceKind kind) { return kind == DeviceKind::receptacle || kind == DeviceKind::switch_; }

/// Receptacles and switches of a place that may be on a circuit.
std::uint32_t sharing(Evaluation& e, Index place, Index circuit) {
  const auto shares = [&](Index d) { return has_terminals(e.model.devices[d].kind); };
  return static_cast<std::uint32_t>(std::ranges::count_if(devices_on(e, place, circuit), shares));
}

/// Whether more conductors of a circuit end on devices there than these usually have terminals for.
bool crowded(Evaluation& e, Index place, Index circuit, const OnDevices& on) {
  constexpr std::uint32_t terminals = 2;  // not law: screws for each leg
  const Index source = e.model.circuits[circuit].overcurrent_device;
  const std::uint32_t poles =
      source == none ? 1 : std::max<std::uint32_t>(1, e.model.overcurrent_devices[source].poles);
  const std::uint32_t room = terminals * std::max<std::uint32_t>(1, sharing(e, place, circuit));
  return std::max(on.ungrounded, on.switched) > room * poles || on.grounded > room;
}

/// The same of any circuit that comes to a place.
bool any_crowded(Evaluation& e, Index place) {
  const auto [found, fresh] = e.once<std::map<Index, bool>>().try_emplace(place, false);
  if (!fresh) return found->second;
  Index last = none;
  for (const Visit& visit : e.in.routes.visits_at(place)) {
    const Index circuit = e.model.runs[visit.run].circuit;
    if (std::exchange(last, circuit) == circuit) continue;
    if (!crowded(e, place, circuit, on_devices(e, circuit, place))) continue;
    found->second = true;
    break;
  }
  return found->second;
}

}  // namespace

Value device_wires(Evaluation& e, Subject s) {
  const Device& device = e.model.devices[s.index];
  if (device.wires_per_terminal != 0) {
    e.note(FMT_COMPILE("stated: wires-per-terminal is {}"), device.wires_per_terminal);
    return Evaluation::value(number(device.wires_per_terminal).count());
  }
  const Value one = Evaluation::value(number(1).count());  // not law: one
  if (!has_terminals(device.kind)) return one;
  if (device.circuits.count == 0) return any_crowded(e, device.box) ? lacks_circuit_of(e, s.index) : one;
  MissingId missing = 0;
  for (Index i = device.circuits.first; i < device.circuits.end(); ++i) {
    const Index c = e.model.device_circuits[i];
    const OnDevices on = on_devices(e, c, device.box);
    if (!crowded(e, device.box, c, on)) continue;
    missing = e.missing.both(missing, on.open);
    if (on.open != 0) continue;
    const Value lack =
        e.lacks(s, "wires-per-terminal", "how many conductors are under one terminal", installer,
                fmt::format(FMT_COMPILE("more conductors of circuit {} end at its box than receptacles and "
                                        "switches there usually have terminals for"),
                            e.model.circuits[c].id));
    missing = e.missing.both(missing, lack.missing);
  }
  return missing == 0 ? one : Evaluation::lacks(missing);
}

Value device_wires_limit(Evaluation& e, Subject s) {
  const Device& device = e.model.devices[s.index];
  if (device.terminals_made_for != 0) {
    e.note(FMT_COMPILE("stated: terminals-made-for is {}"), device.terminals_made_for);
    return Evaluation::value(number(device.terminals_made_for).count());
  }
  const Value one = set_by_law(e, "wires-per-terminal", Dimension::none);
  const Value has = e.get_aside(Id::device_wires, s);
  if (!one || !has || has.count <= one.count) return one;
  return e.lacks(s, "terminals-made-for", "how many conductors a terminal is marked for", marking);
}

Value neutral_terminals_asked(Evaluation& e, Subject s) {
  const std::uint32_t count = ends(e).grounded[s.index];
  e.note(FMT_COMPILE("grounded conductors that end in it: {}"), count);
  const Index unclear = ends(e).unclear[s.index];
  if (count > 1) return answer(true);
  if (const MissingId cables = ends(e).cables_at[s.index]; cables != 0) return Evaluation::lacks(cables);
  if (unclear == none) return answer(false);
  return e.lacks({SubjectKind::conductor, unclear}, "role", "what the conductor is for, such as grounded",
                 designer, {}, e.model.conductors[unclear].source);
}

Value neutral_terminals(Evaluation& e, Subject s) {
  return stated(e, s, e.model.places[s.index].neutrals_one_each, "neutrals-one-each", installer);
}

}  // namespace raceward::figure::compute
