// Equipment and its circuit: the disconnecting means, the voltage.
//
// Method: a disconnect on its circuit in the equipment's own compartment, or a disconnecting means that the
// document says is in sight, or the plug of its cord; for some kinds an overcurrent device that can be locked
// open.
#include <algorithm>

#include "figure/circuit_use.hpp"
#include "figure/devices_by_box.hpp"
#include "figure/facts.hpp"
#include "figure/first_by_id.hpp"
#include "figure/machines.hpp"
#include "figure/supply.hpp"
#include "figure/surroundings.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

struct Row {
  const Table* table = nullptr;
  std::uint32_t row = Table::none;
  [[nodiscard]] std::string_view says(std::string_view column) const {
    return table->text(row, table->column(column));
  }
};

Row disconnect_row(Evaluation& e, Index place) {
  Row out{e.law.table("equipment-disconnect"), Table::none};
  const std::string_view kind = e.model.places[place].equipment_kind;
  if (out.table == nullptr || kind.empty()) return out;
  out.row = out.table->find({kind});
  const bool not_asked = out.row == Table::none || out.says("asked") == "no";
  if (not_asked && group_of(e, place) == Group::motor) out.row = out.table->find({"motor"});
  return out;
}

/// The overcurrent device opens all ungrounded conductors that reach the equipment.
Value opens_all(Evaluation& e, Subject s, Index circuit) {
  const Index index = e.model.circuits[circuit].overcurrent_device;
  const OvercurrentDevice& device = e.model.overcurrent_devices[index];
  if (!device.handle_tie.empty()) return answer(true);
  const Value ungrounded = ungrounded_at(e, circuit, s.index);
  if (ungrounded && ungrounded.count == 1) return answer(true);  // not law: one
  const Subject at{SubjectKind::overcurrent_device, index};
  if (device.poles == 0) return e.lacks(at, "poles", "1, 2 or 3", marking, {}, device.source);
  constexpr std::uint8_t most = 3;  // not law: poles that devices have
  if (device.poles >= most) return answer(true);
  if (!ungrounded) return ungrounded;
  if (device.poles >= ungrounded.count) return answer(true);
  return e.lacks(
      at, "poles", "1, 2 or 3", marking,
      fmt::format(FMT_COMPILE("it has {}, and {} ungrounded conductors of its circuit lead to {}"),
                  device.poles == 1 ? "one pole" : "two poles", ungrounded.count, e.model.places[s.index].id),
      device.source);
}

/// The overcurrent device of its circuit can be locked open.
Value locked_open(Evaluation& e, Subject s) {
  const Index circuit = circuit_use(e).feeding(s.index);
  if (circuit == none) return lacks_one_circuit(e, s.index);
  const End& end = *ends(e).at(circuit, s.index);
  if (!end.said) return lacks_end_of(e, circuit, end.stop);
  if (e.model.circuits[circuit].kind == CircuitKind::unstated) {
    return e.lacks({SubjectKind::circuit, circuit}, "kind", "branch or feeder", designer, {},
                   e.model.circuits[circuit].source);
  }
  const Index index = e.model.circuits[circuit].overcurrent_device;
  if (index == none) {
    return e.lacks({SubjectKind::circuit, circuit}, "protected-by", "the id of an overcurrent device",
                   designer, {}, e.model.circuits[circuit].source);
  }
  const OvercurrentDevice& device = e.model.overcurrent_devices[index];
  const Subject at{SubjectKind::overcurrent_device, index};
  if (device.lockable == YesNo::unstated)
    return e.lacks(at, "lockable", "yes or no", installer, {}, device.source);
  if (e.noting())
    e.note(FMT_COMPILE("overcurrent device {} {} be locked open"), device.id,
           device.lockable == YesNo::yes ? "can" : "cannot");
  return both(e, answer(device.lockable == YesNo::yes), opens_all(e, s, circuit));
}

/// A disconnect in its own compartment, or one said to be in sight. A switch may be a thermostat: whether it
/// disconnects is for the document to say.
Value in_sight(Evaluation& e, Subject s) {
  const YesNo said = machine_of(e, s.index).disconnect_in_sight;
  if (said == YesNo::yes) return stated(e, s, said, "disconnect-in-sight", installer);
  const Index circuit = circuit_use(e).feeding(s.index);
  MissingId missing = 0;
  Index first = none;
  for (const Index d : devices_in(e, s.index)) {
    const Device& device = e.model.devices[d];
    if (device.kind != DeviceKind::disconnect) continue;
    if (device.circuits.count == 0) missing = e.missing.both(missing, lacks_circuit_of(e, d).missing);
    if (device.circuits.count != 0 && circuit == none)
      missing = e.missing.both(missing, lacks_one_circuit(e, s.index).missing);
    if (circuit != none && is_on(e.model, device, circuit)) hold_first(e.model.devices, first, d);
  }
  if (first != none) {
    const Device& device = e.model.devices[first];
    if (said == YesNo::no) {
      return lacks_of(e, s.index, "disconnect-in-sight", "yes or no",
                      fmt::format(FMT_COMPILE("none is said to be in sight, and {} is in it"), device.id));
    }
    e.note(FMT_COMPILE("{} {} is in it"), name_of(device.kind), device.id);
    return answer(true);
  }
  if (missing != 0) return Evaluation::lacks(missing);
  return stated(e, s, said, "disconnect-in-sight", installer);
}

/// The plug of its cord, where one can reach it. To draw it a larger motor, which the receptacle must be
/// rated for, may have to be switched off under load.
Value by_plug(Evaluation& e, Subject s) {
  const Index receptacle = receptacle_of(e.model, s.index);
  const Table* const t = e.law.table("plug-disconnects");
  if (receptacle == none || t == nullptr) return answer(false);
  const Group group = group_of(e, s.index);
  if (group == Group::unknown) return lacks_kind(e, s.index);
  const std::uint32_t row = t->find({group == Group::motor        ? "motor"
                                     : group == Group::compressor ? "compressor"
                                                                  : "other"});
  if (row == Table::none) return answer(false);
  const Device& device = e.model.devices[receptacle];
  const Horsepower own = machine_of(e, s.index).horsepower;
  const std::string_view free = t->text(row, t->column("up-to"));
  Value suited = answer(true);
  if (!free.empty() && (own == Horsepower::unstated || own > term_spelt<Horsepower>(free))) {
    const Subject at{SubjectKind::device, receptacle};
    if (device.horsepower == Horsepower::unstated) {
      suited = e.lacks(at, "horsepower", "its rating in horsepower, such as 2", marking,
                       "the plug of a larger motor is its disconnecting means only where it is rated for it",
                       device.source);
    } else if (own == Horsepower::unstated) {
      suited = lacks_of(e, s.index, "horsepower", "a rated power such as 1-1/2");
    } else {
      suited = answer(device.horsepower >= own);
    }
  }
  const Value plug = both(e, suited, e.get(Id::within_reach, place_at(e, device.box)));
  if (!is_yes(plug)) return plug;
  e.used(t->cite(row));
  if (e.noting()) e.note(FMT_COMPILE("the plug in receptacle {} is its disconnecting means"), device.id);
  return answer(true, t->cite(row));
}

/// By what it takes at its voltage; with three phases that makes more.
Value small_by_load(Evaluation& e, Index circuit, Index place, std::int64_t load, std::int64_t most) {
  const std::int64_t volts = volts_of(e, circuit, place);
  if (load <= current_of(most, volts, true)) return answer(true);
  if (load > current_of(most, volts, false)) return answer(false);
  if (circuit == none) return lacks_one_circuit(e, place);
  const Value three = three_phases_at(e, circuit, place);
  return three ? answer(is_no(three)) : three;
}

/// A small appliance, by its power or what it takes at its voltage.
Value is_small(Evaluation& e, Subject s) {
  const Parameter* const small = e.law.parameter("small-appliance", Dimension::power);
  if (small == nullptr) return e.lacks_law("small-appliance");
  const Place& appliance = e.model.places[s.index];
  const std::int64_t most = small->value.count;
  const Index circuit = circuit_use(e).feeding(s.index);
  const std::int64_t volts = volts_of(e, circuit, s.index);
  const bool by_power = appliance.power.known() && (*appliance.power).count() <= most;
  const auto lacks_power = [&](std::string why) {
    return lacks_of(e, s.index, "power", "a power such as 250VA", std::move(why));
  };
  Value small_enough = answer(by_power);
  if (appliance.rating.known() && volts != 0) {
    const Value load = load_stated(e, s.index);
    if (!load) return load;
    if (by_power && load.count > with_tolerance(e, current_of(most, volts, false))) {
      return lacks_power(
          fmt::format(FMT_COMPILE("it is said to be {}, and its load of {} at {} makes more than {}"),
                      text_of(show(*appliance.power, Unit::volt_ampere)), amperes_shown(load.count),
                      text_of({volts, Unit::volt}), small->text));
    }
    if (!appliance.power.known()) small_enough = small_by_load(e, circuit, s.index, load.count, most);
  } else if (!appliance.power.known()) {
    return lacks_power("an appliance of little power needs none");
  }
  if (!is_yes(small_enough)) return small_enough;
  e.used(small->cite);
  e.note(FMT_COMPILE("of {} at most: its overcurrent device is enough"), small->text);
  return answer(true, small->cite);
}

/// Vehicle chargers are asked for one by their current or their voltage to ground.
Value is_large_charger(Evaluation& e, Subject s, CitationId cite) {
  const Parameter* const amperes = e.law.parameter("charger-current", Dimension::current);
  const Parameter* const volts = e.law.parameter("charger-to-ground", Dimension::voltage);
  if (amperes == nullptr || volts == nullptr) return e.lacks_law("charger-current and charger-to-ground");
  const Value load = load_stated(e, s.index);
  const Value large = load ? answer(load.count > amperes->value.count) : load;
  const Index c = circuit_use(e).feeding(s.index);
  Value high;
  if (c == none) {
    high = lacks_one_circuit(e, s.index);
  } else if (const Circuit& circuit = e.model.circuits[c]; circuit.to_ground.known()) {
    high = answer((*circuit.to_ground).count() > volts->value.count);
  } else {
    high = e.lacks({SubjectKind::circuit, c}, "voltage-to-ground", "a voltage such as 120V", designer, {},
                   circuit.source);
  }
  const Value asked = either(e, large, high);
  if (asked && e.noting())
    e.note(FMT_COMPILE("a vehicle charger is asked for one above {} or {} to ground"), amperes->text,
           volts->text);
  return asked ? answer(is_yes(asked), cite) : asked;
}

}  // namespace

Value disconnect_asked(Evaluation& e, Subject s) {
  if (is_furniture(e, s.index)) return takes_nothing(e);
  const Row row = disconnect_row(e, s.index);
  if (row.table == nullptr) return e.lacks_law("equipment-disconnect");
  if (row.row == Table::none) return lacks_kind(e, s.index);
  const CitationId cite = row.table->cite(row.row);
  e.used(cite);
  if (row.says("asked") == "large") return is_large_charger(e, s, cite);
  return answer(row.says("asked") == "yes", cite);
}

Value disconnect_provided(Evaluation& e, Subject s) {
  const Value plug = by_plug(e, s);
  if (is_yes(plug)) return plug;
  Value seen = in_sight(e, s);
  if (is_yes(seen)) return seen;
  seen = either(e, plug, seen);
  const Row row = disconnect_row(e, s.index);
  if (row.row == Table::none) return seen;
  const Value small = row.says("small") == "yes" ? is_small(e, s) : answer(false);
  if (is_yes(small)) return small;
  const std::string_view lockable = row.says("lockable");
  if (lockable != "yes" && lockable != "special" && lockable != "marked") return either(e, seen, small);
  const std::string_view id = e.model.places[s.index].id;
  Value locked = locked_open(e, s);
  if (lockable == "special") {
    // In place of one in sight only where that is impracticable or adds a hazard.
    const bool special = attested(e, Attested::disconnect_impracticable, id);
    if (!special) {
      const Value none = either(e, seen, small);
      if (is_no(none)) e.detail(none, unless_attested(Attested::disconnect_impracticable, id));
      return none;
    }
    e.note(FMT_COMPILE("attested: a disconnecting means in sight is impracticable or adds a hazard"));
  }
  if (lockable == "marked") {
    const bool marked = attested(e, Attested::disconnect_marked, id);
    if (marked) e.note(FMT_COMPILE("attested: where its disconnecting means is is marked on it"));
    const Value asked = marked ? answer(true)
                               : lacks_of(e, s.index, "attest",
                                          "<attest fact=\"disconnect-location-marked\"> where that is so",
                                          "out of sight its place must be marked on the equipment");
    locked = both(e, locked, asked);
  }
  return either(e, either(e, seen, small), locked);
}

Value equipment_on_circuits(Evaluation& e, Subject s) {
  if (circuit_use(e).several_feed(s.index) || circuit_use(e).feeding(s.index) != none) return answer(true);
  const Index receptacle = receptacle_of(e.model, s.index);
  if (is_loose(e, s.index)) return lacks_receptacle_of(e, s.index);
  if (receptacle == none) return answer(false);
  const Value come = circuits_come(e, receptacle);
  return come ? answer(false) : come;
}

namespace {

/// Whether what is plugged in is made for the voltage of its receptacle, where that tells more than the
/// circuit.
Value fits_receptacle(Evaluation& e, Index place, Index c) {
  const Index receptacle = receptacle_of(e.model, place);
  if (receptacle == none) return answer(true);
  const Device& device = e.model.devices[receptacle];
  const Circuit& circuit = e.model.circuits[c];
  const std::int64_t made_for = (*e.model.places[place].voltage).count();
  const auto fits = [&](const Maybe<Voltage>& volts) {
    return volts.known() && voltage_fits(e, made_for, (*volts).count());
  };
  const bool of_two = circuit.voltage.known() && circuit.to_ground.known() &&
                      *circuit.voltage != *circuit.to_ground &&
                      (fits(circuit.voltage) || fits(circuit.to_ground));
  if (!device.voltage.known())
    return e.lacks({SubjectKind::device, receptacle}, "voltage", "what it is rated for, such as 125V",
                   marking, {}, device.source);
  const std::string shown_volts = text_of(show(*device.voltage, Unit::volt));
  if ((*device.voltage).count() < made_for && !fits(device.voltage)) {
    e.note(FMT_COMPILE("its receptacle {} is of {}"), device.id, shown_volts);
    return answer(false);
  }
  if (!of_two || *device.voltage < *circuit.voltage || fits(circuit.voltage)) return answer(true);
  return e.lacks({SubjectKind::device, receptacle}, "voltage", "what it is rated for, such as 125V", marking,
                 fmt::format(FMT_COMPILE("it is said to be of {}, and what is plugged into it of {}"),
                             shown_volts, text_of({made_for, Unit::volt})),
                 device.source);
}

/// Whether equipment of known voltage is made for that of a circuit that ends at it.
Value fits_circuit(Evaluation& e, Index place, Index c) {
  const Place& equipment = e.model.places[place];
  if (const Value plug = fits_receptacle(e, place, c); !is_yes(plug)) return plug;
  const Value volts = voltage_at(e, c, place);
  if (!volts) return volts;
  const std::int64_t made_for = (*equipment.voltage).count();
  if (e.noting())
    e.note(FMT_COMPILE("made for {}, on a circuit of {}"), text_of(show(*equipment.voltage, Unit::volt)),
           text_of({volts.count, Unit::volt}));
  if (voltage_fits(e, made_for, volts.count, true)) return answer(true);
  // What switches is marked with the largest voltage that it may have, of what is between its lines and a
  // grounded conductor that need not go through it.
  if (group_of(e, place) == Group::part) {
    const Circuit& circuit = e.model.circuits[c];
    const auto first = e.model.conductors.begin() + circuit.conductors.first;
    const bool grounded = std::any_of(first, first + circuit.conductors.count,
                                      [](const Conductor& one) { return one.role == Role::grounded; });
    if (made_for > volts.count) return answer(true);
    if (grounded && circuit.to_ground.known() && made_for >= (*circuit.to_ground).count())
      return answer(true);
  }
  if (e.model.places[place].equipment_kind.empty()) {
    const Value lack = lacks_kind(e, place);
    e.note(FMT_COMPILE("what only switches may be made for another voltage"));
    return lack;
  }
  return answer(false);
}

}  // namespace

/// Whether the equipment is made for the voltage of its circuit, between its conductors or to ground. Where
/// several circuits of different voltages end there, one of them may only tell it what to do.
Value equipment_voltage_fits(Evaluation& e, Subject s) {
  const Table* const t = e.law.table("equipment-voltage");
  if (t == nullptr) return e.lacks_law("equipment-voltage");
  const auto circuits = circuit_use(e).all_feeding(s.index);
  if (circuits.empty()) {
    const Value on = e.get(Id::equipment_on_circuits, s);
    return on ? answer(true) : on;
  }
  if (!e.model.places[s.index].voltage.known())
    return lacks_of(e, s.index, "voltage", "a voltage such as 230V");
  Value all = answer(true), any = answer(false, t->row_count() == 0 ? no_citation : t->cite(0));
  for (const Index c : circuits) {
    const Value one = fits_circuit(e, s.index, c);
    all = both(e, all, one);
    any = either(e, any, one);
  }
  if (circuits.size() == 1 || is_no(any)) return any;  // not law: one
  return is_no(all) ? lacks_one_circuit(e, s.index) : all;
}

}  // namespace raceward::figure::compute
