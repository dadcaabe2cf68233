// Loads of dwellings.
//
// Method: lighting by floor area, and so much for each circuit of small appliances and of the laundry; then
// the appliances by their nameplates. The standard method gives each kind of load its own demand and takes
// heating or air conditioning, whichever is more. The optional one, for supplies that are large enough, gives
// all but these one demand. What is not known is counted at least and at most, and asked for only where that
// decides.
#include "figure/dwelling_load.hpp"

#include <algorithm>
#include <limits>

#include "figure/circuit_use.hpp"
#include "figure/facts.hpp"
#include "figure/machines.hpp"
#include "figure/supply.hpp"
#include "figure/surroundings.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

enum class Part : std::uint8_t {
  covered,  ///< floor area and circuits of small appliances tell it
  fixed,
  cooking,
  dryer,
  central_heating,
  heater,
  cooling,
  unclear,  ///< no method here
  other,
};

struct DwellingLaw {
  const Parameter *area = nullptr, *circuit = nullptr, *small_least = nullptr, *laundry_least = nullptr;
  const Parameter *full = nullptr, *next = nullptr, *next_share = nullptr, *rest = nullptr;
  const Parameter *fixed_least = nullptr, *fixed_many = nullptr, *fixed_share = nullptr;
  const Parameter *dryer = nullptr, *range = nullptr, *range_most = nullptr;
  const Parameter *optional_least = nullptr, *optional_full = nullptr, *optional_rest = nullptr;
  const Parameter *heating = nullptr, *heaters_many = nullptr, *heaters = nullptr;
  const Parameter *plugged = nullptr, *continuous = nullptr, *motor = nullptr;
  const Table* kinds = nullptr;
  std::vector<Part> of_row;
  bool complete = true;

  void read(const Law& law) {
    const auto get = [&](const Parameter*& into, std::string_view name, Dimension dimension) {
      into = law.parameter(name, dimension);
      complete = complete && into != nullptr;
    };
    get(area, "dwelling-lighting", Dimension::power);
    get(circuit, "dwelling-circuit-load", Dimension::power);
    get(small_least, "dwelling-appliance-circuits", Dimension::none);
    get(laundry_least, "dwelling-laundry-circuits", Dimension::none);
    get(full, "dwelling-demand-full", Dimension::power);
    get(next, "dwelling-demand-next", Dimension::power);
    get(next_share, "dwelling-demand-share", Dimension::none);
    get(rest, "dwelling-demand-rest", Dimension::none);
    get(fixed_least, "dwelling-fixed-least", Dimension::power);
    get(fixed_many, "dwelling-fixed-many", Dimension::none);
    get(fixed_share, "dwelling-fixed-share", Dimension::none);
    get(dryer, "dwelling-dryer", Dimension::power);
    get(range, "dwelling-range", Dimension::power);
    get(range_most, "dwelling-range-most", Dimension::power);
    get(optional_least, "dwelling-optional-least", Dimension::current);
    get(optional_full, "dwelling-optional-full", Dimension::power);
    get(optional_rest, "dwelling-optional-rest", Dimension::none);
    get(heating, "dwelling-optional-heating", Dimension::none);
    get(heaters_many, "dwelling-optional-heaters-many", Dimension::none);
    get(heaters, "dwelling-optional-heaters", Dimension::none);
    get(plugged, "dwelling-plugged-device", Dimension::current);
    get(continuous, "continuous-conductor-factor", Dimension::none);
    get(motor, "motor-conductor-factor", Dimension::none);
    kinds = law.table("dwelling-equipment");
    complete = complete && kinds != nullptr;
    if (kinds == nullptr) return;
    const std::uint32_t part = kinds->column("part");
    for (std::uint32_t row = 0; row < kinds->row_count(); ++row)
      of_row.push_back(spelt(kinds->text(row, part)));
  }

 private:
  static Part spelt(std::string_view word) {
    if (word == "covered") return Part::covered;
    if (word == "fixed") return Part::fixed;
    if (word == "cooking") return Part::cooking;
    if (word == "dryer") return Part::dryer;
    if (word == "central-heating") return Part::central_heating;
    if (word == "heater") return Part::heater;
    return word == "air-conditioning" ? Part::cooling : Part::unclear;
  }
};

/// What is known at least, and at most.
struct Bounds {
  std::int64_t least = 0, most = 0;
};

std::int64_t counted(const Parameter* p) { return p->value.count / number(1).count(); }
std::string shown(std::int64_t power) { return text_of({power, Unit::volt_ampere}); }

/// Volt-amperes of what the circuits are there for and feed.
struct Loads {
  std::int64_t small = 0, laundry = 0, unsaid = 0;  // circuits of two wires
  std::int64_t fixed = 0, fixed_small = 0, fixed_count = 0;
  std::int64_t cooking = 0, cooking_count = 0;
  std::int64_t dryers = 0, dryers_plates = 0;
  std::int64_t central = 0, central_count = 0, heaters = 0, heaters_count = 0, cooling = 0;
  Bounds other, other_counted;  // counted: with what continuous ones add
  Bounds motor;                 // the largest
  std::int64_t cooling_motor = 0;
  MissingId missing = 0, open = 0;
};

class Reckoning {
 public:
  Reckoning(Evaluation& e, Subject panel, const DwellingLaw& law) : e_(e), panel_(panel), law_(law) {}

  void add(Index circuit);
  Value decide(const Value& limit);

 private:
  struct Method {
    Bounds load;
    MissingId missing = 0, open = 0;
    bool applies = true;
  };
  void lacks(const Value& v) { loads_.missing = e_.missing.both(loads_.missing, v.missing); }
  void open(const Value& v) { loads_.open = e_.missing.both(loads_.open, v.missing); }
  Value lacks_calculated(std::string why) {
    return e_.lacks(panel_, "calculated-load", "a current such as 60A", designer, std::move(why));
  }
  void add_equipment(Index circuit, Index place);
  void add_outlets(Index circuit, std::size_t equipment);
  [[nodiscard]] std::int64_t general(bool most) const;
  [[nodiscard]] std::int64_t demand(std::int64_t general) const;
  Method standard();
  Method optional();
  Bounds optional_heating(MissingId& open);
  void tell(const Method& method, std::string_view called);

  Evaluation& e_;
  Subject panel_;
  const DwellingLaw& law_;
  Loads loads_;
};

void Reckoning::add_equipment(Index c, Index place) {
  const std::uint32_t row = law_.kinds->find({e_.model.places[place].equipment_kind});
  const Part part = row == Table::none ? Part::other : law_.of_row[row];
  if (row != Table::none) e_.used(law_.kinds->cite(row));
  if (part == Part::covered) return;
  const Group group = group_of(e_, place);
  const bool called = !e_.model.places[place].equipment_kind.empty();
  if (part == Part::other && (group == Group::unknown || !called)) return lacks(lacks_kind(e_, place));
  if (part == Part::unclear ||
      (part == Part::other && group != Group::plain && group != Group::part && group != Group::motor)) {
    return lacks(lacks_calculated(
        fmt::format(FMT_COMPILE("how much of {} counts, which is of kind {}, no method here says"),
                    e_.model.places[place].id, e_.model.places[place].equipment_kind)));
  }
  if (circuit_use(e_).several_feed(place)) return lacks(lacks_one_circuit(e_, place));
  const Value volts = voltage_at(e_, c, place);
  if (!volts) return lacks(volts);
  MotorCurrent amps{load_stated(e_, place)};
  amps.least = amps.most.count;
  if (part == Part::other && group == Group::motor) amps = motor_current(e_, c, place);
  if (!amps.most) return lacks(amps.most);
  if (amps.marked != 0 && amps.low() != amps.high()) open(lacks_motor_reading(e_, place, amps));
  const auto power_of = [&](std::int64_t current) {
    return (Voltage::steps(volts.count) * Current::steps(current)).count();
  };
  // Where its own voltage and that of its circuit tell two currents the larger one counts.
  const std::int64_t power = power_of(amps.high()),
                     power_least = power_of(amps.marked == 0 ? amps.most.count : amps.low());
  switch (part) {
    case Part::fixed:
      e_.used(law_.fixed_least->cite);
      if (power < law_.fixed_least->value.count) {
        loads_.fixed_small += power;
      } else {
        loads_.fixed += power;
        ++loads_.fixed_count;
      }
      break;
    case Part::cooking:
      loads_.cooking += power;
      ++loads_.cooking_count;
      break;
    case Part::dryer:
      loads_.dryers_plates += power;
      loads_.dryers += std::max(power, law_.dryer->value.count);
      break;
    case Part::central_heating:
      loads_.central += power;
      ++loads_.central_count;
      break;
    case Part::heater:
      loads_.heaters += power;
      ++loads_.heaters_count;
      break;
    case Part::cooling:
      loads_.cooling += power;
      loads_.cooling_motor = std::max(loads_.cooling_motor, power);
      break;
    default: {
      if (group == Group::motor) {
        loads_.motor.most = std::max(loads_.motor.most, power);
        loads_.motor.least = std::max(loads_.motor.least, power_least);
      }
      const YesNo continuous = e_.model.places[place].continuous;
      const auto more = [&](std::int64_t than) { return share_of(law_.continuous->value.count, than); };
      loads_.other.most += power;
      loads_.other.least += power_least;
      loads_.other_counted.least += continuous == YesNo::yes ? more(power_least) : power_least;
      loads_.other_counted.most += continuous == YesNo::no ? power : more(power);
      if (continuous == YesNo::unstated)
        open(e_.lacks(equipment_at(place), "continuous", "yes or no", designer, {},
                      e_.model.places[place].source));
      break;
    }
  }
}

void Reckoning::add_outlets(Index c, std::size_t equipment) {
  const Circuit& circuit = e_.model.circuits[c];
  const Subject s{SubjectKind::circuit, c};
  const OnCircuit& on = circuit_use(e_).own(c);
  const auto lacks_service = [&](std::string why) {
    return e_.lacks(s, "serves", "general, small-appliance, laundry or equipment", designer, std::move(why),
                    circuit.source);
  };
  // A circuit of three wires counts as two.
  const std::int64_t each = std::max<std::int64_t>(1, ungrounded_at_source(e_, c));
  switch (circuit.serves) {
    case CircuitService::small_appliance:
      loads_.small += each;
      break;
    case CircuitService::laundry:
      loads_.laundry += each;
      break;
    case CircuitService::equipment:
      if (equipment == 0) lacks(lacks_service("it is said to be there for equipment, and none is on it"));
      if (on.receptacles != on.taken)
        lacks(lacks_service("it is said to be there for equipment alone, and a receptacle is on it"));
      break;
    case CircuitService::unstated:
      loads_.unsaid += each;
      open(lacks_service({}));
      if (equipment == 0 && on.other == 0) lacks(lacks_service("nothing of this document is on it"));
      break;
    default:
      break;
  }
  // Floor area tells what is plugged in on ordinary circuits alone: not a range, nor a dryer.
  if (on.receptacles == on.taken && equipment != 0) return;
  if (circuit.serves == CircuitService::equipment) return;
  const Value rating = device_rating_of(e_, c);
  if (!rating) return lacks(rating);
  if (rating.count > law_.plugged->value.count) {
    lacks(lacks_calculated(fmt::format(FMT_COMPILE("floor area does not tell what circuit {} of {} feeds"),
                                       circuit.id, amperes_shown(rating.count))));
  }
  if (!circuit.voltage.known())
    return lacks(e_.lacks(s, "voltage", "a voltage such as 120V", designer, {}, circuit.source));
  if (!circuit.to_ground.known())
    return lacks(e_.lacks(s, "voltage-to-ground", "a voltage such as 120V", designer, {}, circuit.source));
  if (*circuit.voltage <= *circuit.to_ground || circuit.multiwire == YesNo::yes) return;
  if (circuit.multiwire == YesNo::unstated)
    return lacks(e_.lacks(s, "multiwire", "yes or no", designer, {}, circuit.source));
  lacks(lacks_calculated(fmt::format(FMT_COMPILE("floor area does not tell what circuit {} of {} feeds"),
                                     circuit.id, e_.text_of(show(*circuit.voltage, Unit::volt)))));
}

void Reckoning::add(Index c) {
  const Circuit& circuit = e_.model.circuits[c];
  if (circuit.kind == CircuitKind::unstated)
    return lacks(
        e_.lacks({SubjectKind::circuit, c}, "kind", "branch or feeder", designer, {}, circuit.source));
  if (circuit.kind == CircuitKind::feeder) {
    return lacks(lacks_calculated(fmt::format(
        FMT_COMPILE("circuit {} is a feeder, and what is behind it is not counted here"), circuit.id)));
  }
  if (const MissingId roles = roles_missing(e_, circuit); roles != 0) lacks(Evaluation::lacks(roles));
  if (const Index device = circuit_use(e_).own(c).unplaced; device != none)
    lacks(lacks_circuit_of(e_, device));
  // Floor area and small-appliance circuits tell what is plugged in beside other things and is moved about.
  const OnCircuit& on = circuit_use(e_).own(c);
  const bool told = circuit.serves != CircuitService::equipment && on.receptacles != on.taken;
  if (const MissingId perhaps = may_be_on(e_, c); perhaps != 0) lacks(Evaluation::lacks(perhaps));
  const auto moves = [&](Index place) {
    if (receptacle_of(e_.model, place) == none) return false;
    if (e_.model.places[place].equipment_kind.empty()) lacks(lacks_kind(e_, place));
    const std::uint32_t row = law_.kinds->find({e_.model.places[place].equipment_kind});
    return row == Table::none || law_.of_row[row] == Part::heater;
  };
  if (told && on.perhaps_taken != 0) lacks(lacks_receptacle_count(e_, on.uncounted));
  std::size_t counted = 0;
  for (const Index place : told_by_id(e_, e_.model.places, equipment_on(e_, c))) {
    if (told && moves(place)) continue;
    add_equipment(c, place);
    ++counted;
  }
  add_outlets(c, counted);
}

std::int64_t Reckoning::general(bool most) const {
  const std::int64_t more = most ? loads_.unsaid : 0;
  const std::int64_t of_small = counted(law_.small_least), of_laundry = counted(law_.laundry_least);
  // What is not said may be the one or the other; each beyond those that there are at least counts.
  const std::int64_t circuits =
      std::max(std::max(loads_.small + more, of_small) + std::max(loads_.laundry, of_laundry),
               std::max(loads_.small, of_small) + std::max(loads_.laundry + more, of_laundry));
  return detail::saturate(wide_int{law_.area->value.count} * e_.model.places[panel_.index].floor_square_feet +
                          wide_int{law_.circuit->value.count} * circuits);
}

std::int64_t Reckoning::demand(std::int64_t all) const {
  const std::int64_t full = std::min(all, law_.full->value.count);
  const std::int64_t next = std::min(all, law_.next->value.count) - full;
  return full + share_of(law_.next_share->value.count, next) +
         share_of(law_.rest->value.count, all - full - next);
}

Reckoning::Method Reckoning::standard() {
  Method out;
  out.missing = loads_.missing;
  out.open = loads_.open;
  const bool many = loads_.fixed_count >= counted(law_.fixed_many);
  const std::int64_t fixed =
      loads_.fixed_small + (many ? share_of(law_.fixed_share->value.count, loads_.fixed) : loads_.fixed);
  std::int64_t cooking = 0;
  if (loads_.cooking_count != 0) {
    cooking = std::min(loads_.cooking, law_.range->value.count);
    if (loads_.cooking_count > 1 || loads_.cooking > law_.range_most->value.count) {  // not law: one
      out.missing = e_.missing.both(
          out.missing,
          lacks_calculated(
              "of one cooking appliance that takes no more than a range does is known what it counts")
              .missing);
    }
  }
  const auto more_of = [&](std::int64_t motor) { return share_of(law_.motor->value.count, motor) - motor; };
  const auto climate = [&](std::int64_t motor) {
    return std::max(loads_.central + loads_.heaters + more_of(motor),
                    loads_.cooling + more_of(std::max(motor, loads_.cooling_motor)));
  };
  const std::int64_t beside = fixed + cooking + loads_.dryers;
  out.load = {demand(general(false)) + beside + climate(loads_.motor.least) + loads_.other_counted.least,
              demand(general(true)) + beside + climate(loads_.motor.most) + loads_.other_counted.most};
  if (!e_.noting()) return out;
  const std::int64_t all = general(true);
  e_.note(
      FMT_COMPILE("lighting by {} square feet of floor, and circuits of small appliances and laundry: {}"),
      e_.model.places[panel_.index].floor_square_feet, shown(all));
  e_.note(FMT_COMPILE("with its demand: {} ({})"), shown(demand(all)), e_.cited(law_.full->cite));
  if (fixed != 0)
    e_.note(FMT_COMPILE("appliances fastened in place: {} ({})"), shown(fixed),
            e_.cited(law_.fixed_share->cite));
  if (cooking != 0) e_.note(FMT_COMPILE("cooking: {} ({})"), shown(cooking), e_.cited(law_.range->cite));
  if (loads_.dryers != 0)
    e_.note(FMT_COMPILE("dryers: {} ({})"), shown(loads_.dryers), e_.cited(law_.dryer->cite));
  if (climate(loads_.motor.most) != 0)
    e_.note(FMT_COMPILE("heating or air conditioning, with what the largest motor adds: {}"),
            shown(climate(loads_.motor.most)));
  if (loads_.other_counted.most != 0)
    e_.note(FMT_COMPILE("other equipment: {}"), shown(loads_.other_counted.most));
  return out;
}

/// All space heating at once, central or not: with few units at one share, with many that are controlled
/// separately at a lower one.
Bounds Reckoning::optional_heating(MissingId& open) {
  const std::int64_t all = loads_.central + loads_.heaters;
  Bounds out{share_of(law_.heating->value.count, all), 0};
  out.most = out.least;
  if (loads_.central_count + loads_.heaters_count < counted(law_.heaters_many) || loads_.heaters == 0)
    return out;
  out.least = share_of(law_.heaters->value.count, all);
  const bool each = attested(e_, Attested::heaters_separate, e_.model.places[panel_.index].id);
  if (each) e_.note(FMT_COMPILE("attested: its heaters are controlled separately"));
  if (loads_.central == 0 && each) {
    out.most = out.least;
  } else if (loads_.central == 0) {
    const Value lack = e_.lacks(
        panel_, "attest", "<attest fact=\"heaters-controlled-separately\"> where each of its heaters is",
        designer, "many heaters count less where each is controlled separately");
    open = e_.missing.both(open, lack.missing);
  } else {
    const Value lack = lacks_calculated(
        "how much less heaters count where central heating is one of many units, no method here says");
    open = e_.missing.both(open, lack.missing);
  }
  return out;
}

Reckoning::Method Reckoning::optional() {
  Method out;
  const Maybe<Current>& main = e_.model.places[panel_.index].main;
  out.applies = main.known() && (*main).count() >= law_.optional_least->value.count;
  if (!out.applies) return out;
  out.missing = loads_.missing;
  out.open = loads_.open;
  const std::int64_t beside = loads_.fixed + loads_.fixed_small + loads_.cooking + loads_.dryers_plates;
  const auto demand_of = [&](std::int64_t all) {
    const std::int64_t full = std::min(all, law_.optional_full->value.count);
    return full + share_of(law_.optional_rest->value.count, all - full);
  };
  const Bounds heating = optional_heating(out.open);
  const auto climate = [&](std::int64_t of_heating) { return std::max(of_heating, loads_.cooling); };
  out.load = {demand_of(general(false) + beside + loads_.other.least) + climate(heating.least),
              demand_of(general(true) + beside + loads_.other.most) + climate(heating.most)};
  if (!e_.noting()) return out;
  const std::int64_t all = general(true) + beside + loads_.other.most;
  e_.note(FMT_COMPILE("all but heating and air conditioning: {}; with its demand: {} ({})"), shown(all),
          shown(demand_of(all)), e_.cited(law_.optional_full->cite));
  if (climate(heating.most) != 0)
    e_.note(FMT_COMPILE("heating or air conditioning: {} ({})"), shown(climate(heating.most)),
            e_.cited(law_.heating->cite));
  return out;
}

void Reckoning::tell(const Method& method, std::string_view called) {
  if (!method.applies || method.missing != 0 || !e_.noting()) return;
  const std::int64_t volts = (*e_.model.places[panel_.index].voltage).count();
  e_.note(FMT_COMPILE("by the {} method: {}, {}"), called, shown(method.load.most),
          amperes_shown(current_of(method.load.most, volts, false)));
}

Value Reckoning::decide(const Value& limit) {
  const Method by_standard = standard();
  tell(by_standard, "standard");
  const Method by_optional = optional();
  tell(by_optional, "optional");
  const std::int64_t volts = (*e_.model.places[panel_.index].voltage).count();
  std::int64_t least = std::numeric_limits<std::int64_t>::max(), most = least;
  MissingId missing = 0, left_open = 0;
  for (const Method* method : {&by_standard, &by_optional}) {
    if (!method->applies) continue;
    missing = e_.missing.both(missing, method->missing);
    left_open = e_.missing.both(left_open, method->open);
    if (method->missing != 0) continue;
    least = std::min(least, current_of(method->load.least, volts, false));
    most = std::min(most, current_of(method->load.most, volts, false));
  }
  e_.used(law_.area->cite);
  e_.used(law_.circuit->cite);
  const bool some = most != std::numeric_limits<std::int64_t>::max();
  if (some && limit && most <= limit.count) return Evaluation::value(most, law_.area->cite);
  if (missing != 0) return Evaluation::lacks(missing);
  if (least == most || (limit && least > limit.count)) return Evaluation::value(least, law_.area->cite);
  return Evaluation::lacks(left_open);
}

}  // namespace

Value dwelling_load(Evaluation& e, Subject panel, const ToldIndices& circuits, const Value& limit) {
  const DwellingLaw& law = e.of_law<DwellingLaw>();
  if (!law.complete) return e.lacks_law("dwelling-lighting");
  Reckoning reckoning(e, panel, law);
  for (const Index c : circuits) reckoning.add(c);
  return reckoning.decide(limit);
}

}  // namespace raceward::figure
