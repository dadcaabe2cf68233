// Whether switches, disconnects and receptacles are made for the voltage of their circuits.
//
// Method: a device is rated for a voltage at least: that between the ungrounded conductors where there are
// several and no grounded one, else that to ground. At a receptacle those count that end in its box. Of a
// disconnect with several ungrounded conductors beside a grounded one it is asked which.
#include <algorithm>

#include "figure/circuit_use.hpp"
#include "figure/facts.hpp"
#include "figure/run_contents.hpp"
#include "figure/supply.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

/// Whether devices of a kind are rated for a voltage, and where the law says so.
Value is_rated(Evaluation& e, DeviceKind kind) {
  for (const std::string_view name :
       {"voltage-rated-switches", "voltage-rated-disconnects", "voltage-rated-receptacles"}) {
    const Parameter* const kinds = e.law.parameter(name);
    if (kinds == nullptr || !kinds->is_word) return e.lacks_law(name);
    if (is_one_of(kinds->text, name_of(kind))) return answer(true, kinds->cite);
  }
  return answer(false);
}

Value lacks_voltage(Evaluation& e, Index circuit, std::string_view attribute, std::string why = {}) {
  return e.lacks({SubjectKind::circuit, circuit}, attribute, "a voltage such as 120V", designer,
                 std::move(why), e.model.circuits[circuit].source);
}

Value fits(Evaluation& e, Subject s, Index c) {
  const Device& device = e.model.devices[s.index];
  const Circuit& circuit = e.model.circuits[c];
  const Value own = given(e, s, device.voltage, Unit::volt, "voltage", "a voltage such as 120V", marking);
  if (!own) return own;
  const auto enough = [&](std::int64_t volts) { return own.count >= volts; };
  const auto say = [&](bool yes, std::int64_t volts) {
    e.note(FMT_COMPILE("circuit {} brings it {}"), circuit.id, text_of({volts, Unit::volt}));
    return answer(yes);
  };
  if (const MissingId wrong = voltage_contradicted(e, c); wrong != 0) return Evaluation::lacks(wrong);
  // Whatever it is on, no more than the larger of the two.
  if (circuit.voltage.known() && circuit.to_ground.known()) {
    const std::int64_t most = std::max((*circuit.voltage).count(), (*circuit.to_ground).count());
    if (enough(most)) return say(true, most);
  }
  const std::uint32_t each = std::max<std::uint32_t>(1, circuit.parallel);
  const bool several = ungrounded_at_source(e, c) > each;
  MissingId roles = roles_missing(e, circuit);
  const auto first = e.model.conductors.begin() + circuit.conductors.first;
  const bool grounded = std::any_of(first, first + circuit.conductors.count,
                                    [](const Conductor& one) { return one.role == Role::grounded; });
  for (Index r = circuit.runs.first; r < circuit.runs.end(); ++r)
    roles = e.missing.both(roles, cables_missing(e, e.model.runs[r]));
  if (roles != 0) return Evaluation::lacks(roles);
  if (ungrounded_at_source(e, c) == 0) {
    return e.lacks({SubjectKind::circuit, c}, "conductor", "its ungrounded conductors", designer,
                   "which voltage reaches the device cannot be told without them", circuit.source);
  }
  const Ended here = device.kind == DeviceKind::receptacle ? ended_at(e, c, device.box) : Ended{};
  const bool without = device.kind == DeviceKind::receptacle && !here.grounded;
  if (without && here.open != none) return lacks_end_of(e, c, here.open);
  if (without && here.legs < 2) {  // not law: the current goes back by another one
    return e.lacks({SubjectKind::circuit, c}, "stop", "where its grounded conductor ends", designer,
                   fmt::format(FMT_COMPILE("no two conductors of it that carry current end in {}"),
                               e.model.places[device.box].id),
                   circuit.source);
  }
  if (several && (without || !grounded)) {
    if (!circuit.voltage.known()) return lacks_voltage(e, c, "voltage");
    return say(enough((*circuit.voltage).count()), (*circuit.voltage).count());
  }
  if (!circuit.to_ground.known()) return lacks_voltage(e, c, "voltage-to-ground");
  const std::int64_t to_ground = (*circuit.to_ground).count();
  if (!several) {
    if (!enough(to_ground) || !circuit.voltage.known() || *circuit.voltage == *circuit.to_ground)
      return say(enough(to_ground), to_ground);
    return lacks_voltage(
        e, c, "voltage",
        fmt::format(FMT_COMPILE("it has one ungrounded conductor of {} to ground, and is said "
                                "to be of {}"),
                    text_of({to_ground, Unit::volt}), text_of(show(*circuit.voltage, Unit::volt))));
  }
  if (!circuit.voltage.known()) return lacks_voltage(e, c, "voltage");
  if (!enough(to_ground)) {
    if (is_high_leg(e, own.count, (*circuit.voltage).count(), to_ground)) {
      return lacks_voltage(
          e, c, "voltage-to-ground",
          "of three conductors one has more to ground than the others, and which of them the "
          "device is on is not said");
    }
    return say(false, to_ground);
  }
  if (device.kind != DeviceKind::disconnect) return say(true, to_ground);
  return e.lacks(s, "circuit", "a circuit with the conductors that it switches", designer,
                 "it is made for the voltage to ground, and whether it switches one ungrounded conductor or "
                 "several is not said");
}

}  // namespace

Value device_voltage_asked(Evaluation& e, Subject s) { return is_rated(e, e.model.devices[s.index].kind); }

Value device_voltage_fits(Evaluation& e, Subject s) {
  const Device& device = e.model.devices[s.index];
  const Value rated = is_rated(e, device.kind);
  if (!is_yes(rated)) return rated ? answer(true) : rated;
  e.used(rated.cite);
  if (const Value come = circuits_come(e, s.index); !come) return come;
  Value all = answer(true);
  for (Index i = device.circuits.first; i < device.circuits.end(); ++i) {
    const Index c = e.model.device_circuits[i];
    if (e.model.circuits[c].kind == CircuitKind::other) continue;
    all = both(e, all, fits(e, s, c));
  }
  return all;
}

}  // namespace raceward::figure::compute
