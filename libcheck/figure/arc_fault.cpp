// Arc-fault protection: which outlets and devices of dwellings ask for it, and which have it.
//
// Method: as for ground-fault protection, by the use of the area and what supplies the outlet.
#include "figure/circuit_use.hpp"
#include "figure/guards.hpp"
#include "figure/logic.hpp"
#include "figure/outlets.hpp"
#include "figure/supply.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

bool is_outlet(DeviceKind kind) {
  return kind == DeviceKind::receptacle || kind == DeviceKind::switch_ || kind == DeviceKind::dimmer ||
         kind == DeviceKind::luminaire;
}

/// Above a nominal voltage of the law; a circuit may be called by what its receptacles are rated for.
bool above(Evaluation& e, Voltage volts, const Parameter& nominal) {
  return volts.count() > nominal.value.count && !voltage_fits(e, volts.count(), nominal.value.count);
}

Value in_reach(Evaluation& e, Index c) {
  const Parameter* const volts = e.law.parameter("arc-fault-voltage", Dimension::voltage);
  const Parameter* const amperes = e.law.parameter("arc-fault-rating", Dimension::current);
  if (volts == nullptr || amperes == nullptr) return e.lacks_law("arc-fault-voltage and arc-fault-rating");
  e.used(volts->cite);
  e.used(amperes->cite);
  const Circuit& circuit = e.model.circuits[c];
  if (!circuit.voltage.known()) {
    return both(e, outlets::rated_at_most(e, c, amperes->value.count),
                e.lacks({SubjectKind::circuit, c}, "voltage", "a voltage such as 120V", designer, {},
                        circuit.source));
  }
  if (above(e, *circuit.voltage, *volts)) {
    // Between the legs of a multiwire circuit there is more than its outlets take.
    const Value legs = e.get_aside(Id::multiwire, {SubjectKind::circuit, c});
    if (!legs) return both(e, outlets::rated_at_most(e, c, amperes->value.count), legs);
    const bool to_neutral =
        is_yes(legs) && circuit.to_ground.known() && !above(e, *circuit.to_ground, *volts);
    if (is_yes(legs) && !circuit.to_ground.known()) {
      return both(e, outlets::rated_at_most(e, c, amperes->value.count),
                  e.lacks({SubjectKind::circuit, c}, "voltage-to-ground", "a voltage such as 120V", designer,
                          {}, circuit.source));
    }
    if (!to_neutral) {
      if (e.noting())
        e.note(FMT_COMPILE("circuit {}: {} exceeds {}"), circuit.id,
               text_of(show(*circuit.voltage, Unit::volt)), volts->text);
      return answer(false);
    }
  }
  return outlets::rated_at_most(e, c, amperes->value.count);
}

Value asked_by_use(Evaluation& e, Index area) {
  const installation::Area& a = e.model.areas[area];
  const Subject of_area{SubjectKind::area, area};
  if (a.use == AreaUse::unstated)
    return e.lacks(of_area, "use", "a word such as garage", designer, {}, a.source);
  const outlets::Row row = outlets::find(e, "arc-fault-places", area, "use", name_of(a.use));
  if (!row.known()) return e.lacks_law("arc-fault-places");
  const std::string_view says = row.text("asked");
  if (says == "unclear")
    return e.lacks(of_area, "use", "a word that tells more", designer, std::string(row.text("words")),
                   a.source);
  if (says == "finished" && a.finished == YesNo::unstated)
    return e.lacks(of_area, "finished", "yes or no", designer, {}, a.source);
  const bool asked = says == "yes" || (says == "finished" && a.finished == YesNo::yes);
  e.note(FMT_COMPILE("area {} is {}: arc-fault protection is {}"), a.id, name_of(a.use),
         asked ? "asked for" : "not asked for");
  return answer(asked, row.cite());
}

}  // namespace

Value arc_fault_asked(Evaluation& e, Subject s) {
  const Device& device = e.model.devices[s.index];
  if (!is_outlet(device.kind)) return answer(false);
  if (e.model.occupancy == Occupancy::unstated) return outlets::lacks_occupancy(e);
  const Index area = e.model.places[device.box].area;
  const Value place = area == none ? outlets::lacks_area(e, device.box) : asked_by_use(e, area);
  if (is_no(place)) return place;
  Value reach = answer(false);
  const Value come = circuits_come(e, s.index);
  if (!come) reach = come;
  for (Index i = device.circuits.first; come && i < device.circuits.end(); ++i)
    reach = either(e, reach, in_reach(e, e.model.device_circuits[i]));
  const Value asked = both(e, place, reach);
  return is_yes(asked) ? answer(true, place.cite) : asked;
}

Value arc_fault_protected(Evaluation& e, Subject s) { return guarded(e, Guard::arc_fault, s.index); }

}  // namespace raceward::figure::compute
