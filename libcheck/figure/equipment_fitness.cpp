// Equipment and its circuit: the disconnecting means, the voltage.
//
// Method: a disconnect or switch in the equipment's own compartment, or a disconnecting means that the
// document says is in sight; for some kinds an overcurrent device that can be locked open.
#include "figure/circuit_use.hpp"
#include "figure/devices_by_box.hpp"
#include "figure/facts.hpp"
#include "figure/machines.hpp"
#include "figure/surroundings.hpp"

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
  if (out.table != nullptr && !kind.empty()) out.row = out.table->find({kind});
  return out;
}

/// The overcurrent device of its circuit can be locked open.
Value locked_open(Evaluation& e, Subject s) {
  const CircuitUse& use = circuit_use(e);
  const Index circuit = use.feeding(s.index);
  if (circuit == none) return lacks_one_circuit(e, s.index);
  const Index stop = use.stop_at(s.index);
  if (e.model.stops[stop].ungrounded == StopTreatment::unstated) return lacks_end_of(e, circuit, stop);
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
  return answer(device.lockable == YesNo::yes);
}

/// In its own compartment, or said to be in sight.
Value in_sight(Evaluation& e, Subject s) {
  for (const Index d : devices_in(e, s.index)) {
    const DeviceKind kind = e.model.devices[d].kind;
    if (kind != DeviceKind::disconnect && kind != DeviceKind::switch_) continue;
    e.note(FMT_COMPILE("{} {} is in it"), name_of(kind), e.model.devices[d].id);
    return answer(true);
  }
  return stated(e, s, machine_of(e, s.index).disconnect_in_sight, "disconnect-in-sight", installer);
}

}  // namespace

Value disconnect_asked(Evaluation& e, Subject s) {
  const Row row = disconnect_row(e, s.index);
  if (row.table == nullptr) return e.lacks_law("equipment-disconnect");
  if (row.row == Table::none) return lacks_kind(e, s.index);
  const CitationId cite = row.table->cite(row.row);
  e.used(cite);
  return answer(row.says("asked") == "yes", cite);
}

Value disconnect_provided(Evaluation& e, Subject s) {
  const Value seen = in_sight(e, s);
  if (is_yes(seen)) return seen;
  const Row row = disconnect_row(e, s.index);
  if (row.row == Table::none) return seen;
  const Place& equipment = e.model.places[s.index];
  const Parameter* const small = e.law.parameter("small-appliance", Dimension::power);
  if (small == nullptr) return e.lacks_law("small-appliance");
  if (row.says("small") == "yes" && equipment.power.known() &&
      (*equipment.power).count() <= small->value.count) {
    e.used(small->cite);
    e.note(FMT_COMPILE("of {} at most: its overcurrent device is enough"), small->text);
    return answer(true, small->cite);
  }
  const std::string_view lockable = row.says("lockable");
  if (lockable != "yes" && lockable != "special") return seen;
  const Value locked = locked_open(e, s);
  if (lockable == "yes") return either(e, seen, locked);
  // In place of one in sight only where that is impracticable or adds a hazard.
  const bool special = attested(e, "disconnect-in-sight-impracticable", e.model.places[s.index].id);
  if (special)
    e.note(FMT_COMPILE("attested: a disconnecting means in sight is impracticable or adds a hazard"));
  return special ? either(e, seen, locked) : seen;
}

Value equipment_on_one_circuit(Evaluation& e, Subject s) {
  return answer(!circuit_use(e).several_feed(s.index) && circuit_use(e).feeding(s.index) != none);
}

/// Whether the equipment is made for the voltage of its circuit, between its conductors or to ground.
Value equipment_voltage_fits(Evaluation& e, Subject s) {
  const Table* const t = e.law.table("equipment-voltage");
  if (t == nullptr) return e.lacks_law("equipment-voltage");
  const Index c = circuit_use(e).feeding(s.index);
  const Place& equipment = e.model.places[s.index];
  if (c == none) return answer(true);
  const Circuit& circuit = e.model.circuits[c];
  if (!equipment.voltage.known()) return lacks_of(e, s.index, "voltage", "a voltage such as 230V");
  if (!circuit.voltage.known())
    return e.lacks({SubjectKind::circuit, c}, "voltage", "a voltage such as 240V", designer, {},
                   circuit.source);
  const std::int64_t made_for = (*equipment.voltage).count();
  const auto fits = [&](const Maybe<Voltage>& of) {
    if (!of.known()) return false;
    const std::int64_t volts = (*of).count();
    if (volts == made_for) return true;
    for (std::uint32_t row = 0; row < t->row_count(); ++row) {
      const auto at = [&](std::string_view column) {
        return t->count(row, t->column(column, Dimension::voltage));
      };
      if (volts < at("from") || volts > at("to") || made_for < at("made-from") || made_for > at("made-to"))
        continue;
      e.used(t->cite(row));
      return true;
    }
    return false;
  };
  bool grounded = false;
  Index untold = none;
  for (Index i = circuit.conductors.first; i < circuit.conductors.end(); ++i) {
    grounded = grounded || e.model.conductors[i].role == Role::grounded;
    if (e.model.conductors[i].role == Role::unstated) untold = i;
  }
  const bool between = fits(circuit.voltage);
  if (!between && !grounded && untold != none && (fits(circuit.to_ground) || !circuit.to_ground.known())) {
    return e.lacks({SubjectKind::conductor, untold}, "role", "what the conductor is for, such as ungrounded",
                   designer, "equipment may be made for the voltage to ground",
                   e.model.conductors[untold].source);
  }
  const bool suits = between || (grounded && fits(circuit.to_ground));
  if (e.noting())
    e.note(FMT_COMPILE("made for {}, on a circuit of {}"), text_of(show(*equipment.voltage, Unit::volt)),
           text_of(show(*circuit.voltage, Unit::volt)));
  if (suits) return answer(true);
  if (grounded && !circuit.to_ground.known())
    return e.lacks({SubjectKind::circuit, c}, "voltage-to-ground", "a voltage such as 120V", designer, {},
                   circuit.source);
  return answer(false, t->row_count() == 0 ? no_citation : t->cite(0));
}

}  // namespace raceward::figure::compute
