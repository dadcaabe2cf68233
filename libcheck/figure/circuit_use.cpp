#include "figure/circuit_use.hpp"

#include <algorithm>

#include "figure/attested.hpp"
#include "figure/first_by_id.hpp"
#include "figure/lighting_load.hpp"
#include "figure/logic.hpp"
#include "figure/machines.hpp"
#include "figure/sorted.hpp"
#include "figure/supply.hpp"
#include "figure/told.hpp"
#include "figure/visits_on.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

/// Poles that a circuit takes, as its ungrounded conductors tell; 0 where they do not.
std::uint32_t poles_taken(Evaluation& e, Index index) {
  const Circuit& circuit = e.model.circuits[index];
  for (Index c = circuit.conductors.first; c < circuit.conductors.end(); ++c) {
    const Conductor& conductor = e.model.conductors[c];
    if (conductor.role == Role::unstated && !e.model.conductor_kinds[conductor.kind].cable) return 0;
  }
  return ungrounded_at_source(e, index) / std::max<std::uint32_t>(1, circuit.parallel);
}

void add(const Model& model, OnCircuit& sum, const OnCircuit& one) {
  sum.outlets += one.outlets;
  sum.receptacles += one.receptacles;
  sum.taken += one.taken;
  sum.perhaps_taken += one.perhaps_taken;
  sum.other += one.other;
  hold_first(model.devices, sum.uncounted, one.uncounted);
  hold_first(model.devices, sum.unplaced, one.unplaced);
  hold_first(model.devices, sum.unplaced_receptacle, one.unplaced_receptacle);
}

}  // namespace

void CircuitUse::read_groups(Evaluation& e) {
  const Model& model = e.model;
  group_.assign(model.circuits.size(), none);
  std::vector<std::vector<Index>> of_device(model.overcurrent_devices.size());
  std::vector<std::pair<Index, Index>> loose;  // a panel, and a circuit there without overcurrent device
  for (Index c = 0; c < model.circuits.size(); ++c) {
    const Circuit& circuit = model.circuits[c];
    if (circuit.overcurrent_device != none) of_device[circuit.overcurrent_device].push_back(c);
    if (circuit.overcurrent_device != none || circuit.kind == CircuitKind::other) continue;
    for (Index r = circuit.runs.first; r < circuit.runs.end(); ++r) {
      const Range& stops = model.runs[r].stops;
      for (Index i = stops.first; i < stops.end(); ++i)
        if (model.places[model.stops[i].place].kind == PlaceKind::panel)
          loose.emplace_back(model.stops[i].place, c);
    }
  }
  std::ranges::sort(loose);
  loose.erase(std::unique(loose.begin(), loose.end()), loose.end());
  for (Index d = 0; d < of_device.size(); ++d) {
    const OvercurrentDevice& device = model.overcurrent_devices[d];
    const auto beside = equal_in(loose, device.panel, &std::pair<Index, Index>::first);
    const bool alone = of_device[d].size() == 1;  // not law: one
    if (of_device[d].empty() || (alone && beside.empty())) continue;
    Group group{std::move(of_device[d]), {}, !beside.empty()};
    // Of one pole, or where each takes all of them, they share them. With no more conductors than poles each
    // has its own.
    std::uint32_t taken = 0;
    bool each_all = true, known = device.poles != 0;
    for (const Index c : group.circuits) {
      const std::uint32_t one = poles_taken(e, c);
      known = known && (one != 0 || device.poles == 1);
      taken += one;
      each_all = each_all && one >= device.poles;
      add(model, group.on, own_[c]);
    }
    const bool share = known && (device.poles == 1 || each_all);
    if (!group.open && known && !share && taken <= device.poles) continue;
    group.open = group.open || !share;
    for (const Index c : group.circuits) group_[c] = static_cast<Index>(groups_.size());
    for (const auto& [panel, c] : beside) group.circuits.push_back(c);
    std::ranges::sort(group.circuits, {}, [&](Index c) { return model.circuits[c].id; });
    groups_.push_back(std::move(group));
  }
}

void CircuitUse::read(Evaluation& e) {
  ready = true;
  const Model& model = e.model;
  own_.resize(model.circuits.size());
  feeding_.assign(model.places.size(), none);
  several_.assign(model.places.size(), 0);
  for (const End& end : ends(e).all()) {
    if (feeding_[end.place] != none && feeding_[end.place] != end.circuit) several_[end.place] = 1;
    feeding_[end.place] = end.circuit;
  }
  first_fed_.assign(model.places.size() + 1, 0);
  for (const End& end : ends(e).all()) ++first_fed_[end.place + 1];
  for (std::size_t p = 1; p < first_fed_.size(); ++p) first_fed_[p] += first_fed_[p - 1];
  fed_.resize(ends(e).all().size());
  std::vector<Index> next(first_fed_.begin(), first_fed_.end() - 1);
  for (const End& end : ends(e).all()) fed_[next[end.place]++] = end.circuit;
  for (Index p = 0; p < model.places.size(); ++p)
    std::ranges::sort(fed_.begin() + first_fed_[p], fed_.begin() + first_fed_[p + 1], {},
                      [&](Index c) { return model.circuits[c].id; });
  for (Index p = 0; p < model.places.size(); ++p) {
    if (feeding(p) == none || takes_nothing(e, p)) continue;
    OnCircuit& on = own_[feeding(p)];
    const Place& equipment = model.places[p];
    if (receptacle_of(model, p) == none) ++on.outlets;  // the receptacle is the outlet else
    const bool known = equipment.rating.known();
    if (equipment.continuous == YesNo::yes && known) on.continuous += (*equipment.rating).count();
    if (equipment.continuous == YesNo::unstated || (equipment.continuous == YesNo::yes && !known))
      hold_first(model.places, on.unknown, p);
    if (!known) continue;
    if (on.largest == none || *equipment.rating > *model.places[on.largest].rating)
      on.largest = p;
    else if (*equipment.rating == *model.places[on.largest].rating)
      hold_first(model.places, on.largest, p);
  }
  std::vector<Index> unplaced(model.places.size(), none), unplaced_receptacle = unplaced;
  for (Index d = 0; d < model.devices.size(); ++d) {
    const Device& device = model.devices[d];
    if (device.kind != DeviceKind::receptacle && device.kind != DeviceKind::luminaire) continue;
    const bool receptacle = device.kind == DeviceKind::receptacle;
    if (device.circuits.count == 0) hold_first(model.devices, unplaced[device.box], d);
    if (device.circuits.count == 0 && receptacle)
      hold_first(model.devices, unplaced_receptacle[device.box], d);
    for (Index i = device.circuits.first; i < device.circuits.end(); ++i) {
      OnCircuit& on = own_[model.device_circuits[i]];
      const bool used = receptacle && !plugged_into(e, d).empty();
      const bool taken = used && device.receptacles == 1;  // not law: single
      on.perhaps_taken += used && device.receptacles == 0 ? 1 : 0;
      ++on.outlets;
      on.taken += taken ? 1 : 0;
      on.other += taken ? 0 : 1;
      hold_first(model.devices, on.outlet, d);
      if (!receptacle) continue;
      on.receptacles += std::max<std::uint32_t>(1, device.receptacles);
      if (device.receptacles == 0) hold_first(model.devices, on.uncounted, d);
    }
  }
  for (const Run& run : model.runs) {
    for (Index i = run.stops.first; i < run.stops.end(); ++i) {
      const Index place = model.stops[i].place;
      hold_first(model.devices, own_[run.circuit].unplaced, unplaced[place]);
      hold_first(model.devices, own_[run.circuit].unplaced_receptacle, unplaced_receptacle[place]);
    }
  }
  read_groups(e);
}

Value lacks_circuit_of(Evaluation& e, Index device) {
  return e.lacks({SubjectKind::device, device}, "circuit", "ids of the circuits on its terminals", designer,
                 {}, e.model.devices[device].source);
}

Value circuits_come(Evaluation& e, Index index) {
  const Device& device = e.model.devices[index];
  const Subject at{SubjectKind::device, index};
  if (device.circuits.count == 0)
    return e.lacks(at, "circuit", "ids of the circuits on its terminals", designer, {}, device.source);
  MissingId missing = 0;
  for (Index i = device.circuits.first; i < device.circuits.end(); ++i) {
    const Index c = e.model.device_circuits[i];
    const auto stops = [&](Index v) { return e.in.routes.visits[v].stop != none; };
    if (e.model.circuits[c].kind == CircuitKind::other ||
        std::ranges::any_of(visits_on(e, device.box, c), stops))
      continue;
    const Value lack =
        e.lacks(at, "circuit", "ids of circuits that have a stop in its box", designer,
                fmt::format(FMT_COMPILE("circuit {} is said to be on its terminals, and has no stop in {}"),
                            e.model.circuits[c].id, e.model.places[device.box].id),
                device.source);
    missing = e.missing.both(missing, lack.missing);
  }
  if (missing != 0) return Evaluation::lacks(missing);
  return Evaluation::value(number(1).count());  // not law: yes
}

Ended ended_at(Evaluation& e, Index c, Index place) {
  const Model& model = e.model;
  Ended out;
  std::vector<Index> legs;
  for (const Index v : visits_on(e, place, c)) {
    const Visit& visit = e.in.routes.visits[v];
    const Run& run = model.runs[visit.run];
    if (visit.stop == none) continue;
    const StopTreatment how = model.stops[visit.stop].ungrounded;
    if (how == StopTreatment::through) continue;
    for (Index k = run.conductors.first; k < run.conductors.end(); ++k) {
      const Index one = model.run_conductors[k];
      const Role role = model.conductors[one].role;
      if (role == Role::grounded && how == StopTreatment::unstated) {
        out.open = visit.stop;
      } else if (role == Role::grounded) {
        out.grounded = true;
      }
      if (role == Role::unstated) ++out.legs;
      if (role != Role::ungrounded && role != Role::switched) continue;
      legs.push_back(one);
      out.legs += model.conductors[one].count - 1u;
    }
  }
  std::ranges::sort(legs);
  legs.erase(std::unique(legs.begin(), legs.end()), legs.end());
  out.legs += legs.size();
  return out;
}

Value lacks_receptacle_count(Evaluation& e, Index device) {
  return e.lacks({SubjectKind::device, device}, "receptacles", "how many it holds, 1 or 2", marking, {},
                 e.model.devices[device].source);
}

Value lacks_sharing(Evaluation& e, Index circuit) {
  const Index index = e.model.circuits[circuit].overcurrent_device;
  const OvercurrentDevice& device = e.model.overcurrent_devices[index];
  MissingId missing = 0;
  std::size_t here = 0;
  for (const Index c : circuit_use(e).may_share(circuit)) {
    const Circuit& other = e.model.circuits[c];
    if (other.overcurrent_device == index) ++here;
    if (other.overcurrent_device != none) continue;
    const Value lack =
        e.lacks({SubjectKind::circuit, c}, "protected-by", "the id of an overcurrent device", designer,
                "it may begin at the overcurrent device of another circuit, and count with it", other.source);
    missing = e.missing.both(missing, lack.missing);
  }
  if (missing != 0 && here == 1) return Evaluation::lacks(missing);  // not law: itself
  const Value lack = e.lacks(
      {SubjectKind::overcurrent_device, index}, "poles",
      device.poles == 0 ? "how many, 1, 2 or 3"
                        : "one for each conductor, or one circuit in the place of those that share one",
      designer, "several circuits begin at it, and which of them share a pole is not said", device.source);
  return Evaluation::lacks(e.missing.both(missing, lack.missing));
}

void note_sharing(Evaluation& e, Index circuit) {
  const auto all = circuit_use(e).together(circuit);
  if (!e.noting() || all.size() < 2) return;  // not law: itself
  std::string ids;
  for (const Index c : all) {
    if (!ids.empty()) ids += ", ";
    ids += e.model.circuits[c].id;
  }
  e.note(FMT_COMPILE("these circuits begin at the same pole of {} and count as one: {}"),
         e.model.overcurrent_devices[e.model.circuits[circuit].overcurrent_device].id, ids);
}

Value lacks_end_of(Evaluation& e, Index circuit, Index stop) {
  const bool said = e.model.stops[stop].ungrounded != StopTreatment::unstated;
  return e.lacks({SubjectKind::circuit, circuit}, "conductors", "spliced, terminated, through or looped",
                 installer, said ? "they are said to go on, and no run leads on from there" : "",
                 e.model.stops[stop].source);
}

Value lacks_one_circuit(Evaluation& e, Index place) {
  if (const Index device = receptacle_of(e.model, place); device != none) {
    if (const Value come = circuits_come(e, device); !come) return come;
    return e.lacks({SubjectKind::device, device}, "circuit", "one circuit", designer,
                   fmt::format(FMT_COMPILE("which of its circuits {} takes is not said; write each half of a "
                                           "receptacle with several as a device of its own"),
                               e.model.places[place].id),
                   e.model.devices[device].source);
  }
  return e.lacks({SubjectKind::equipment, place}, "run", "one circuit whose run ends there", designer,
                 circuit_use(e).several_feed(place)
                     ? "several circuits end there, and what each of them feeds is not said"
                     : "",
                 e.model.places[place].source);
}

const CircuitUse& circuit_use(Evaluation& e) {
  auto& use = e.once<CircuitUse>();
  if (!use.ready) use.read(e);
  return use;
}

MissingId outlets_of_feeder(Evaluation& e, Index circuit) {
  const Circuit& c = e.model.circuits[circuit];
  const Index outlet = circuit_use(e).own(circuit).outlet;
  if (c.kind != CircuitKind::feeder || outlet == none) return 0;
  return e
      .lacks({SubjectKind::circuit, circuit}, "kind", "branch or feeder", designer,
             fmt::format(FMT_COMPILE("it is said to be a feeder, and {} {} is on it"),
                         name_of(e.model.devices[outlet].kind), e.model.devices[outlet].id),
             c.source)
      .missing;
}

namespace {

/// Panels by the circuit that feeds them: that of the largest calculated load.
struct Behind {
  bool ready = false;
  std::vector<Index> panel;  // by circuit
};

}  // namespace

Index panel_beyond_load(Evaluation& e, Index circuit) {
  auto& behind = e.once<Behind>();
  const Model& model = e.model;
  if (!behind.ready) {
    behind.ready = true;
    behind.panel.assign(model.circuits.size(), none);
    for (Index p = 0; p < model.places.size(); ++p) {
      const Place& panel = model.places[p];
      if (panel.fed_by == none || !panel.calculated_load.known()) continue;
      Index& held = behind.panel[panel.fed_by];
      if (held == none || *panel.calculated_load > *model.places[held].calculated_load)
        held = p;
      else if (*panel.calculated_load == *model.places[held].calculated_load)
        hold_first(model.places, held, p);
    }
  }
  const Index p = behind.panel[circuit];
  const Circuit& c = model.circuits[circuit];
  if (p == none || !c.load.known()) return none;
  const Place& panel = model.places[p];
  const bool other_voltage = panel.voltage.known() && c.voltage.known() && *panel.voltage != *c.voltage;
  return !other_voltage && *panel.calculated_load > *c.load ? p : none;
}

MissingId load_behind_contradicted(Evaluation& e, Index circuit) {
  const Index p = panel_beyond_load(e, circuit);
  if (p == none) return 0;
  const Circuit& c = e.model.circuits[circuit];
  const Place& panel = e.model.places[p];
  return e
      .lacks({SubjectKind::circuit, circuit}, "load", "a current such as 16A", designer,
             fmt::format(
                 FMT_COMPILE("it is said to be {}, and panel {} that it feeds has a calculated load of {}"),
                 text_of(show(*c.load, Unit::ampere)), panel.id,
                 text_of(show(*panel.calculated_load, Unit::ampere))),
             c.source)
      .missing;
}

namespace {

/// Of what less than the nameplate may count as the load of its circuit.
bool may_count_less(Evaluation& e, Index place) {
  const Table* const kinds = e.law.table("dwelling-equipment");
  if (kinds == nullptr || is_welder(group_of(e, place))) return true;
  if (!is_no(e.get_aside(Id::is_transformer, {SubjectKind::equipment, place}))) return true;
  const std::uint32_t row = kinds->find({e.model.places[place].equipment_kind});
  return row != Table::none && kinds->text(row, kinds->column("part")) == "cooking";
}

/// What its power makes of current at its voltage, at least; 0 where that is not known.
std::int64_t current_by_power(Evaluation& e, Index circuit, Index place) {
  const Place& equipment = e.model.places[place];
  const std::int64_t volts = volts_of(e, circuit, place);
  if (!equipment.power.known() || volts == 0) return 0;
  const Value three = three_phases_at(e, circuit, place);
  return current_of((*equipment.power).count(), volts, !three || three.count != 0);
}

}  // namespace

namespace {

/// What of its equipment runs at once, all of which the circuit is said to carry less than: heaters and the
/// like, of which the law has no rules of their own.
MissingId sum_contradicted(Evaluation& e, Index c) {
  const Circuit& circuit = e.model.circuits[c];
  if (circuit.kind == CircuitKind::feeder || attested(e, Attested::loads_apart, circuit.id)) return 0;
  const std::int64_t load = (*circuit.load).count(), most = with_tolerance(e, load);
  std::int64_t sum = 0;
  std::vector<Index> places;
  for (const Index place : equipment_on(e, c)) {
    const Place& equipment = e.model.places[place];
    // What is plugged in here and there need not run at once.
    const bool counts = group_of(e, place) == Group::plain && !circuit_use(e).several_feed(place) &&
                        receptacle_of(e.model, place) == none && !may_count_less(e, place) &&
                        equipment.rating.known();
    if (!counts) continue;
    sum += (*equipment.rating).count();
    places.push_back(place);
  }
  if (places.size() < 2 || most == Table::blank || sum <= most) return 0;  // not law: one is told by itself
  // Each of several legs may carry a part.
  const auto first = e.model.conductors.begin() + circuit.conductors.first;
  const bool grounded = std::any_of(first, first + circuit.conductors.count,
                                    [](const Conductor& one) { return one.role == Role::grounded; });
  const bool legs = ungrounded_at_source(e, c) > std::max<std::uint32_t>(1, circuit.parallel);
  if (legs && grounded && circuit.multiwire != YesNo::no) return 0;
  if (!is_no(three_phases_of(e, c))) return 0;
  std::string ids;
  for (const Index place : told_by_id(e, e.model.places, places)) {
    ids += ids.empty() ? "" : ", ";
    ids += e.model.places[place].id;
  }
  const std::string why =
      fmt::format(FMT_COMPILE("circuit {} is said to carry {}, and {} on it take {} together"), circuit.id,
                  amperes_shown(load), ids, amperes_shown(sum));
  MissingId missing =
      e.lacks({SubjectKind::circuit, c}, "load",
              "a current such as 16A, or <attest fact=\"loads-apart\"> where they do not run at once",
              designer, why, circuit.source)
          .missing;
  for (const Index place : told_by_id(e, e.model.places, places)) {
    missing =
        e.missing.both(missing, e.lacks({SubjectKind::equipment, place}, "load", "a current such as 16A",
                                        marking, why, e.model.places[place].source)
                                    .missing);
  }
  return missing;
}

/// Panels whose floor area is said, by the circuit that feeds them.
struct Floors {
  bool ready = false;
  std::vector<std::pair<Index, Index>> panels;  // circuit and panel, sorted

  void read(const Model& model) {
    ready = true;
    for (Index p = 0; p < model.places.size(); ++p) {
      const Place& panel = model.places[p];
      if (panel.fed_by != none && panel.floor_square_feet != 0 && panel.floor_use != FloorUse::unstated)
        panels.emplace_back(panel.fed_by, p);
    }
    std::ranges::sort(panels);
  }
};

/// What is contradicted where the floor area of a panel makes more than its feeder is said to carry.
MissingId floor_contradicted(Evaluation& e, Index c) {
  auto& floors = e.once<Floors>();
  if (!floors.ready) floors.read(e.model);
  const auto fed = equal_in(floors.panels, c, &std::pair<Index, Index>::first);
  if (fed.empty() || e.model.occupancy == Occupancy::dwelling || e.model.occupancy == Occupancy::unstated)
    return 0;
  const Circuit& circuit = e.model.circuits[c];
  const Parameter* const factor = e.law.divisor("continuous-conductor-factor", Dimension::none);
  const std::int64_t load = (*circuit.load).count(), most = with_tolerance(e, load);
  if (factor == nullptr || most == Table::blank) return 0;
  MissingId missing = 0;
  for (const auto& [feeder, p] : fed) {
    const Place& panel = e.model.places[p];
    if (!panel.voltage.known()) continue;
    const AreaLoad area = load_by_area(e, {SubjectKind::panel, p});
    if (!area.known) continue;
    // The law's numbers may hold what continuous loads add, which a stated load does not.
    const bool holds = area.factor->value.count <= number(1).count();
    const std::int64_t power =
        holds ? detail::saturate(wide_int{area.lighting} * number(1).count() / factor->value.count)
              : area.lighting;
    const Value three = three_phases_of(e, c);
    const std::int64_t makes = current_of(power, (*panel.voltage).count(), !is_no(three));
    if (makes <= most) continue;
    const Value a = e.lacks(
        {SubjectKind::circuit, c}, "load", "a current such as 60A", designer,
        fmt::format(FMT_COMPILE("it is said to be {}, and the lighting by floor area of panel {} makes {}"),
                    amperes_shown(load), panel.id, amperes_shown(makes)),
        circuit.source);
    const Value b =
        e.lacks({SubjectKind::panel, p}, "floor-square-feet", "the floor area that it supplies", designer,
                fmt::format(FMT_COMPILE("its lighting makes {}, and its feeder is said to carry {}"),
                            amperes_shown(makes), amperes_shown(load)),
                panel.source);
    missing = e.missing.both(missing, e.missing.both(a.missing, b.missing));
  }
  return missing;
}

}  // namespace

LoadContradicted load_contradicted(Evaluation& e, Index c) {
  const Circuit& circuit = e.model.circuits[c];
  if (!circuit.load.known()) return {};
  bool only_more = true;
  const std::int64_t load = (*circuit.load).count(), most = with_tolerance(e, load);
  MissingId missing = 0;
  for (const Index place : equipment_on(e, c)) {
    const Place& equipment = e.model.places[place];
    const std::int64_t own = equipment.rating.known() ? (*equipment.rating).count() : 0,
                       by_power = current_by_power(e, c, place);
    const bool own_wrong = own != 0 && most != Table::blank && by_power > with_tolerance(e, own);
    const bool counts = !may_count_less(e, place);
    const bool by_load = counts && own > load, too_much = counts && most != Table::blank && by_power > most;
    if (!own_wrong && !by_load && !too_much) continue;
    only_more = only_more && !own_wrong;
    const Subject at{SubjectKind::equipment, place};
    if (own_wrong || by_load) {
      const Value lack = e.lacks(
          at, "load", "a current such as 16A", marking,
          own_wrong ? fmt::format(FMT_COMPILE("it is said to be {}, and its power at its voltage makes {}"),
                                  amperes_shown(own), amperes_shown(by_power))
                    : fmt::format(FMT_COMPILE("it is said to be {}, and all of circuit {} {}"),
                                  amperes_shown(own), circuit.id, amperes_shown(load)),
          equipment.source);
      missing = e.missing.both(missing, lack.missing);
    }
    if (own_wrong || (too_much && !by_load)) {
      const Value lack = e.lacks(
          at, "power", "a power such as 4.5kW", marking,
          fmt::format(FMT_COMPILE("at its voltage it makes {}"), amperes_shown(by_power)), equipment.source);
      missing = e.missing.both(missing, lack.missing);
    }
    if (!by_load && !too_much) continue;
    const Value lack =
        e.lacks({SubjectKind::circuit, c}, "load", "a current such as 16A", designer,
                fmt::format(FMT_COMPILE("it is said to be {}, and equipment {} on it takes {}"),
                            amperes_shown(load), equipment.id, amperes_shown(std::max(own, by_power))),
                circuit.source);
    missing = e.missing.both(missing, lack.missing);
  }
  if (missing == 0) missing = sum_contradicted(e, c);
  return {e.missing.both(missing, floor_contradicted(e, c)), only_more};
}

MissingId load_on_contradicted(Evaluation& e, Index c) { return load_contradicted(e, c).missing; }

Value device_rating_of(Evaluation& e, Index c) {
  const Circuit& circuit = e.model.circuits[c];
  if (circuit.overcurrent_device == none) {
    return e.lacks({SubjectKind::circuit, c}, "protected-by", "the id of an overcurrent device", designer, {},
                   circuit.source);
  }
  const OvercurrentDevice& device = e.model.overcurrent_devices[circuit.overcurrent_device];
  if (!device.rating.known()) {
    return e.lacks({SubjectKind::overcurrent_device, circuit.overcurrent_device}, "rating",
                   "a current such as 20A", marking, {}, device.source);
  }
  if (e.noting())
    e.note(FMT_COMPILE("overcurrent device {}: {}"), device.id, text_of(show(*device.rating, Unit::ampere)));
  return Evaluation::value((*device.rating).count());
}

}  // namespace raceward::figure
