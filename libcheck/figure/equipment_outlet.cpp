// Ground-fault protection of outlets that equipment is wired to: outdoors, in garages and the like.
//
// Method: as for receptacles, by the use of the area and what supplies it. It must come from ahead of it.
#include "figure/circuit_use.hpp"
#include "figure/guards.hpp"
#include "figure/logic.hpp"
#include "figure/machines.hpp"
#include "figure/outlets.hpp"
#include "figure/supply.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

Value lacks_circuit(Evaluation& e, Subject s) {
  return e.lacks(
      s, "run", "a circuit whose run ends there", designer,
      circuit_use(e).several_feed(s.index) ? "several circuits end there" : "no circuit ends there");
}

Value asked_by_use(Evaluation& e, Index area) {
  const installation::Area& a = e.model.areas[area];
  const Subject of_area{SubjectKind::area, area};
  if (a.use == AreaUse::unstated)
    return e.lacks(of_area, "use", "a word such as outdoors", designer, {}, a.source);
  const outlets::Row row = outlets::find(e, "equipment-outlet-places", area, "use", name_of(a.use));
  if (!row.known()) return e.lacks_law("equipment-outlet-places");
  const std::string_view says = row.text("asked");
  if (says == "unclear")
    return e.lacks(of_area, "use", "a word that tells more", designer, std::string(row.text("words")),
                   a.source);
  e.note(FMT_COMPILE("area {} is {}: protection is {}"), a.id, name_of(a.use),
         says == "yes" ? "asked for" : "not asked for");
  return answer(says == "yes", row.cite());
}

/// One phase, and no more than the limits to ground and of the circuit.
Value in_reach(Evaluation& e, Index place, Index c) {
  const Parameter* const volts = e.law.parameter("equipment-outlet-to-ground", Dimension::voltage);
  const Parameter* const amperes = e.law.parameter("equipment-outlet-rating", Dimension::current);
  if (volts == nullptr || amperes == nullptr)
    return e.lacks_law("equipment-outlet-to-ground and equipment-outlet-rating");
  const Circuit& circuit = e.model.circuits[c];
  const Subject of{SubjectKind::circuit, c};
  const Value three = three_phases_at(e, c, place);
  Value all = three ? answer(is_no(three)) : three;
  all = both(e, all, outlets::rated_at_most(e, c, amperes->value.count));
  const Value to_ground =
      circuit.to_ground.known()
          ? answer((*circuit.to_ground).count() <= volts->value.count)
          : e.lacks(of, "voltage-to-ground", "a voltage such as 120V", designer, {}, circuit.source);
  return both(e, all, to_ground);
}

/// Some kinds ask for it wherever they are.
Value asked_by_kind(Evaluation& e, Subject s, Index c) {
  const Table* const t = e.law.table("equipment-outlet-kinds");
  const Place& equipment = e.model.places[s.index];
  if (t == nullptr) return answer(false);
  if (equipment.equipment_kind.empty()) return e.lacks(s, "kind", "a word such as dishwasher", designer);
  const std::uint32_t row = outlets::row_of(e, t, equipment.equipment_kind);
  if (row == Table::none) return answer(false);
  e.used(t->cite(row));
  if (c == none) return lacks_circuit(e, s);
  const Circuit& circuit = e.model.circuits[c];
  const std::int64_t most = t->count(row, t->column("to-ground", Dimension::voltage));
  const Value to_ground = circuit.to_ground.known()
                              ? answer((*circuit.to_ground).count() <= most)
                              : e.lacks({SubjectKind::circuit, c}, "voltage-to-ground",
                                        "a voltage such as 120V", designer, {}, circuit.source);
  const Value asked = both(
      e, to_ground, outlets::rated_at_most(e, c, t->count(row, t->column("rating", Dimension::current))));
  return is_yes(asked) ? answer(true, t->cite(row)) : asked;
}

/// Some kinds are excepted for a time, or may be.
Value not_excepted(Evaluation& e, Subject s) {
  const Table* const t = e.law.table("equipment-outlet-exception");
  if (t == nullptr) return e.lacks_law("equipment-outlet-exception");
  const Place& equipment = e.model.places[s.index];
  if (equipment.equipment_kind.empty()) return e.lacks(s, "kind", "a word such as compressor", designer);
  const std::uint32_t row = t->find({equipment.equipment_kind});
  if (row == Table::none) return answer(true);
  e.used(t->cite(row));
  return e.lacks(s, "kind", "a word that tells more", designer,
                 std::string(t->text(row, t->column("words"))));
}

}  // namespace

namespace {

Value asked_by_place(Evaluation& e, Subject s, Index circuit) {
  if (receptacle_of(e.model, s.index) != none) return answer(false);  // asked of the receptacle
  const Index area = e.model.places[s.index].area;
  const Value place = area == none ? outlets::lacks_area(e, s.index) : asked_by_use(e, area);
  if (is_no(place)) return place;
  Value asked = both(e, place, circuit == none ? lacks_circuit(e, s) : in_reach(e, s.index, circuit));
  if (is_no(asked)) return asked;
  asked = both(e, asked, not_excepted(e, s));
  return is_yes(asked) ? answer(true, place.cite) : asked;
}

}  // namespace

Value equipment_outlet_asked(Evaluation& e, Subject s) {
  if (e.model.occupancy == Occupancy::unstated) return outlets::lacks_occupancy(e);
  const Index circuit = circuit_use(e).feeding(s.index);
  if (circuit == none && !circuit_use(e).several_feed(s.index)) return e.get(Id::equipment_on_circuits, s);
  if (circuit != none && takes_nothing(e, s.index) && !equipment_on(e, circuit).empty())
    return answer(false);  // the outlet is at what it switches
  const Value kind = asked_by_kind(e, s, circuit);
  return is_yes(kind) ? kind : either(e, kind, asked_by_place(e, s, circuit));
}

Value equipment_outlet_protected(Evaluation& e, Subject s) {
  if (const Index receptacle = receptacle_of(e.model, s.index); receptacle != none)
    return e.get(Id::ground_fault_protected, {SubjectKind::device, receptacle});
  const Index circuit = circuit_use(e).feeding(s.index);
  return circuit == none ? lacks_circuit(e, s) : circuit_guarded(e, Guard::ground_fault, circuit);
}

}  // namespace raceward::figure::compute
