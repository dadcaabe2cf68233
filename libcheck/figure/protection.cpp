// Protection for people: which receptacles ask for it, and which have it.
//
// Method: what a receptacle is and what supplies it must lie in the reach of the law, and its place must be
// one that the law names: by the use of the area, by damp or wet, or by a sink at hand. Words of documents
// are looked up in tables of the law, of the occupancy first, then of all occupancies.
#include <algorithm>

#include "figure/circuit_use.hpp"
#include "figure/guards.hpp"
#include "figure/logic.hpp"
#include "figure/outlets.hpp"
#include "figure/supply.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

/// What supplies a receptacle.
struct Supply {
  const Device& device;
  Subject at;
  Index circuit;
};

template <class Q>
Value within(Evaluation& e, const Maybe<Q>& quantity, std::int64_t most, Unit unit, Subject of, Offset source,
             std::string_view attribute, std::string_view expects, std::string_view who) {
  if (most == Table::blank) return answer(true);
  if (!quantity.known()) return e.lacks(of, attribute, expects, who, {}, source);
  const bool fits = (*quantity).count() <= most;
  if (e.noting()) {
    e.note(FMT_COMPILE("{} of {}: {} {}"), attribute, outlets::id_of(e, of), text_of(show(*quantity, unit)),
           fits ? "is within " + text_of({most, unit}) : "exceeds " + text_of({most, unit}));
  }
  return answer(fits);
}

Value in_reach(Evaluation& e, const Supply& s, std::string_view phases) {
  const Table* const t = e.law.table("ground-fault-reach");
  const std::uint32_t row = outlets::row_of(e, t, phases);
  if (row == Table::none) return e.lacks_law("ground-fault-reach");
  e.used(t->cite(row));
  if (t->text(row, t->column("asked")) == "no") {
    e.note(FMT_COMPILE("circuit {}: nothing is asked of circuits of {} phase"),
           e.model.circuits[s.circuit].id, phases);
    return answer(false, t->cite(row));
  }
  const auto most = [&](std::string_view column, Dimension dimension) {
    return t->count(row, t->column(column, dimension));
  };
  const Circuit& circuit = e.model.circuits[s.circuit];
  const Subject of_circuit{SubjectKind::circuit, s.circuit};
  Value all = within(e, s.device.voltage, most("voltage", Dimension::voltage), Unit::volt, s.at,
                     s.device.source, "voltage", "a voltage such as 125V", marking);
  all = both(e, all,
             within(e, s.device.rating, most("rating", Dimension::current), Unit::ampere, s.at,
                    s.device.source, "rating", "a current such as 20A", marking));
  const bool beyond =
      circuit.voltage.known() && circuit.to_ground.known() && *circuit.to_ground > *circuit.voltage;
  if (beyond && !is_no(all)) return Evaluation::lacks(voltage_contradicted(e, s.circuit));
  all = both(e, all,
             within(e, circuit.to_ground, most("to-ground", Dimension::voltage), Unit::volt, of_circuit,
                    circuit.source, "voltage-to-ground", "a voltage such as 120V", designer));
  const std::int64_t of_device = most("circuit-rating", Dimension::current);
  if (of_device != Table::blank) all = both(e, all, outlets::rated_at_most(e, s.circuit, of_device));
  return all;
}

/// Whether three phases reach the receptacle: some are on one leg and the grounded conductor of a circuit
/// that has three, or on two of them.
Value three_phases_there(Evaluation& e, const Supply& s) {
  const Value phases = three_phases_of(e, s.circuit);
  if (!is_yes(phases)) return phases;
  const Circuit& circuit = e.model.circuits[s.circuit];
  const Subject of_circuit{SubjectKind::circuit, s.circuit};
  if (ended_at(e, s.circuit, s.device.box).legs < most_phases) return answer(false);
  if (!s.device.voltage.known())
    return e.lacks(s.at, "voltage", "a voltage such as 125V", marking, {}, s.device.source);
  const std::int64_t made_for = (*s.device.voltage).count();
  const auto ask = [&](std::string_view name) {
    return e.lacks(of_circuit, name, "a voltage such as 120V", designer, {}, circuit.source);
  };
  if (!circuit.voltage.known()) return ask("voltage");
  if (!circuit.to_ground.known()) return ask("voltage-to-ground");
  const bool between = voltage_fits(e, made_for, (*circuit.voltage).count());
  if (between || !voltage_fits(e, made_for, (*circuit.to_ground).count())) return phases;
  e.note(
      FMT_COMPILE("circuit {}: made for its voltage to ground, receptacle {} is on one of its three phases"),
      circuit.id, s.device.id);
  return answer(false);
}

Value in_reach(Evaluation& e, const Supply& s) {
  const Value phases = three_phases_there(e, s);
  if (phases) return in_reach(e, s, is_yes(phases) ? "three" : "single");
  const Value single = in_reach(e, s, "single"), three = in_reach(e, s, "three");
  if (is_yes(single) == is_yes(three) && is_no(single) == is_no(three)) return single;
  return phases;
}

/// What a word of the law asks of a receptacle there.
Value answer_of(Evaluation& e, const Device& device, Subject at, const outlets::Row& row,
                std::string_view word) {
  const std::string_view says = row.text("asked");
  const installation::Area& area = e.model.areas[row.area];
  const Subject of_area{SubjectKind::area, row.area};
  if (says == "yes" || says == "no") {
    e.note(FMT_COMPILE("area {} is {}: protection is {}"), area.id, word,
           says == "yes" ? "asked for" : "not asked for by that");
    return answer(says == "yes", row.cite());
  }
  if (says == "unfinished") {
    if (area.finished == YesNo::unstated)
      return e.lacks(of_area, "finished", "yes or no", designer, {}, area.source);
    const bool asked = area.finished == YesNo::no;
    e.note(FMT_COMPILE("area {} is {}, {}: protection is {}"), area.id, word,
           asked ? "unfinished" : "finished", asked ? "asked for" : "not asked for by that");
    return answer(asked, row.cite());
  }
  if (says == "countertop") {
    if (device.countertop == YesNo::unstated) return e.lacks(at, "countertop", "yes or no", designer);
    const bool asked = device.countertop == YesNo::yes;
    e.note(FMT_COMPILE("area {} is {}, and the receptacle serves {} countertop: protection is {}"), area.id,
           word, asked ? "a" : "no", asked ? "asked for" : "not asked for by that");
    return answer(asked, row.cite());
  }
  if (says == "unclear") {
    return e.lacks(of_area, row.attribute, "a word that tells more", designer, std::string(row.text("words")),
                   area.source);
  }
  return e.lacks_law(row.table->name);
}

Value asked_by_use(Evaluation& e, const Device& device, Subject at, Index area) {
  const installation::Area& a = e.model.areas[area];
  if (a.use == AreaUse::unstated)
    return e.lacks({SubjectKind::area, area}, "use", "a word such as garage", designer, {}, a.source);
  const outlets::Row row = outlets::find(e, "ground-fault-places", area, "use", name_of(a.use));
  return row.known() ? answer_of(e, device, at, row, name_of(a.use)) : e.lacks_law("ground-fault-places");
}

Value asked_by_location(Evaluation& e, const Device& device, Subject at, Index area) {
  const installation::Area& a = e.model.areas[area];
  bool any = false;
  for (const Term& term : terms_of(Location{})) {
    const outlets::Row row = outlets::find(e, "ground-fault-locations", area, "location", term.spelling);
    if (!row.known()) return e.lacks_law("ground-fault-locations");
    if (a.location != Location::unstated && name_of(a.location) == term.spelling)
      return answer_of(e, device, at, row, term.spelling);
    any = any || row.text("asked") != "no";
  }
  if (!any) return answer(false);
  return e.lacks({SubjectKind::area, area}, "location", "dry, damp or wet", installer, {}, a.source);
}

Value asked_by_sink(Evaluation& e, const Device& device, Subject at, Index area) {
  const Parameter* const near = e.law.parameter("ground-fault-sink-distance", Dimension::length);
  if (near == nullptr) return e.lacks_law("ground-fault-sink-distance");
  const installation::Area& a = e.model.areas[area];
  if (device.sink_distance.known()) {
    const bool at_hand = (*device.sink_distance).count() <= near->value.count;
    if (e.noting())
      e.note(FMT_COMPILE("sink, bathtub or shower at {}, {} {}"),
             e.text_of(show(*device.sink_distance, Unit::foot)), at_hand ? "within" : "beyond", near->text);
    return answer(at_hand, near->cite);
  }
  if (a.sink == YesNo::no) return answer(false);
  if (a.sink == YesNo::unstated)
    return e.lacks({SubjectKind::area, area}, "sink", "yes or no", installer,
                   "near a sink, bathtub or shower protection is asked of receptacles", a.source);
  return e.lacks(at, "sink-distance", "a length such as 7ft", installer_tape);
}

/// Of a lighting outlet, by the use of its area and its voltage.
Value lighting_asked(Evaluation& e, Subject s) {
  const Device& device = e.model.devices[s.index];
  const Table* const t = e.law.table("ground-fault-lighting");
  const Parameter* const most = e.law.parameter("ground-fault-lighting-voltage", Dimension::voltage);
  if (t == nullptr || most == nullptr) return answer(false);
  const Index area = e.model.places[device.box].area;
  if (area == none) return outlets::lacks_area(e, device.box);
  const installation::Area& a = e.model.areas[area];
  if (a.use == AreaUse::unstated)
    return e.lacks({SubjectKind::area, area}, "use", "a word such as garage", designer, {}, a.source);
  if (e.model.occupancy == Occupancy::unstated && outlets::differs_by_occupancy(t, name_of(a.use)))
    return outlets::lacks_occupancy(e);
  const outlets::Row row = outlets::find(e, "ground-fault-lighting", area, "use", name_of(a.use));
  if (!row.known() || row.text("asked") != "yes") return answer(false);
  e.used(most->cite);
  Value low = answer(false);
  if (const Value come = circuits_come(e, s.index); !come) return come;
  for (Index i = device.circuits.first; i < device.circuits.end(); ++i) {
    const Index c = e.model.device_circuits[i];
    const Circuit& circuit = e.model.circuits[c];
    const auto fits = [&](const Maybe<Voltage>& volts) {
      return volts.known() &&
             ((*volts).count() <= most->value.count || voltage_fits(e, (*volts).count(), most->value.count));
    };
    if (device.voltage.known() || fits(circuit.voltage)) {
      low = either(e, low, answer(device.voltage.known() ? fits(device.voltage) : true));
    } else if (!circuit.voltage.known()) {
      low = either(e, low,
                   e.lacks({SubjectKind::circuit, c}, "voltage", "a voltage such as 120V", designer, {},
                           circuit.source));
    } else if (fits(circuit.to_ground) || !circuit.to_ground.known()) {
      low = either(e, low,
                   e.lacks(s, "voltage", "a voltage such as 120V", marking,
                           "it may be on one leg of its circuit", device.source));
    }
  }
  return is_yes(low) ? answer(true, row.cite()) : low;
}

}  // namespace

Value ground_fault_asked(Evaluation& e, Subject s) {
  const Device& device = e.model.devices[s.index];
  if (device.kind == DeviceKind::luminaire) return lighting_asked(e, s);
  if (device.kind != DeviceKind::receptacle) return answer(false);
  if (e.model.occupancy == Occupancy::unstated) return outlets::lacks_occupancy(e);
  Value reach = answer(false);
  const Value come = circuits_come(e, s.index);
  if (!come) reach = come;
  for (Index i = device.circuits.first; come && i < device.circuits.end(); ++i)
    reach = either(e, reach, in_reach(e, {device, s, e.model.device_circuits[i]}));
  if (is_no(reach)) return reach;
  const Index area = e.model.places[device.box].area;
  if (area == none) return both(e, reach, outlets::lacks_area(e, device.box));
  Value place = asked_by_use(e, device, s, area);
  if (!is_yes(place)) place = either(e, place, asked_by_location(e, device, s, area));
  if (!is_yes(place)) place = either(e, place, asked_by_sink(e, device, s, area));
  const Value asked = both(e, place, reach);
  return is_yes(asked) ? answer(true, place.cite) : asked;
}

Value ground_fault_protected(Evaluation& e, Subject s) { return guarded(e, Guard::ground_fault, s.index); }

}  // namespace raceward::figure::compute
