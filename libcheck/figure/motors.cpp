// Circuits of motors and motor-compressors: what they carry, and how large their overcurrent device may be.
//
// Method: a motor counts with the current of the law's table for its horsepower and voltage, not with that of
// its nameplate; a motor-compressor with its own. The largest of them counts more. The overcurrent device is
// there for short circuits and lets the motor start, so it may be a multiple of that current. Equipment
// marked with the ampacity and the device of its circuit goes by its marking.
#include <algorithm>

#include "figure/circuit_use.hpp"
#include "figure/facts.hpp"
#include "figure/machines.hpp"
#include "figure/supply.hpp"
#include "figure/surroundings.hpp"
#include "figure/told.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure {

using namespace installation;

MotorCurrent full_load(Evaluation& e, Index circuit, Index place) {
  if (group_of(e, place) == Group::motor) return motor_current(e, circuit, place);
  const Place& equipment = e.model.places[place];
  if (!equipment.rating.known()) {
    return {
        lacks_of(e, place, "load", "its rated-load current, or branch-circuit selection current if larger")};
  }
  const Value load = load_stated(e, place);
  if (load && e.noting())
    e.note(FMT_COMPILE("{}: {} by its nameplate"), equipment.id, amperes_shown(load.count));
  return {load, load.count};
}

std::int64_t motor_current_open(Evaluation& e, Index circuit) {
  const Parameter* const factor = e.law.parameter("motor-conductor-factor", Dimension::none);
  std::int64_t open = 0;
  for (const Index place : equipment_on(e, circuit)) {
    if (group_of(e, place) != Group::motor || machine_of(e, place).minimum_ampacity.known()) continue;
    const MotorCurrent motor = motor_reading(e, circuit, place);
    if (motor.marked != 0) open += motor.high() - motor.low();
  }
  return factor == nullptr ? open : share_of(factor->value.count, open);
}

namespace {

constexpr std::string_view a_current = "a current such as 16A";
constexpr const char* marked_with_both =
    "what is marked with the ampacity of its circuit is marked with its largest overcurrent device as well";

const Parameter* ratio(const Evaluation& e, std::string_view name) {
  return e.law.parameter(name, Dimension::none);
}

/// The largest share of its current that any overcurrent device may have; 0 where the law has none.
std::int64_t largest_share(const Evaluation& e, Group group) {
  if (group == Group::compressor) {
    const Parameter* const share = ratio(e, "compressor-device-most");
    return share == nullptr ? 0 : share->value.count;
  }
  const Table* const t = e.law.table("motor-protection");
  std::int64_t most = 0;
  for (std::uint32_t row = 0; t != nullptr && row < t->row_count(); ++row)
    most = std::max(most, t->count(row, t->column("most", Dimension::none)));
  return most;
}

/// Whether what it takes is the current of one motor; what holds several and says no horsepower takes more
/// than the largest of them.
bool one_motor(Evaluation& e, Index place) {
  const Group group = group_of(e, place);
  return group == Group::motor ||
         (group == Group::compressor && machine_of(e, place).horsepower != Horsepower::unstated);
}

/// What is contradicted in the marking of equipment with the ampacity and the device of its circuit.
MissingId marking_contradicted(Evaluation& e, Index circuit, Index place) {
  const Machine& marked = machine_of(e, place);
  const Place& equipment = e.model.places[place];
  const auto lack = [&](std::string_view attribute, std::int64_t said, std::string_view than,
                        std::int64_t bound) {
    return lacks_of(e, place, attribute, a_current,
                    fmt::format(FMT_COMPILE("it is said to be {}, {} {}"), amperes_shown(said), than,
                                amperes_shown(bound)))
        .missing;
  };
  MissingId missing = 0;
  std::int64_t takes = 0;
  if (equipment.rating.known()) {
    const Value load = load_stated(e, place);
    missing = load.missing;
    takes = load.count;
  } else if (const std::int64_t volts = volts_of(e, circuit, place); volts != 0) {
    const std::int64_t watts =
        std::max(watts_of(marked.horsepower), equipment.power.known() ? (*equipment.power).count() : 0);
    takes = current_of(watts, volts, true);  // at least: as if of three phases
  }
  if (marked.minimum_ampacity.known()) {
    const std::int64_t ampacity = (*marked.minimum_ampacity).count();
    if (takes > (equipment.rating.known() ? ampacity : with_tolerance(e, ampacity)))
      missing = e.missing.both(missing, lack("minimum-ampacity", ampacity, "and the equipment takes", takes));
    // The conductors of one motor carry more than its current.
    const Parameter* const factor = ratio(e, "motor-conductor-factor");
    const std::int64_t least = factor == nullptr ? 0 : share_of(factor->value.count, takes);
    if (missing == 0 && equipment.rating.known() && one_motor(e, place) &&
        least > with_tolerance(e, ampacity)) {
      missing =
          lack("minimum-ampacity", ampacity, "and the conductors of a motor of its current carry", least);
    }
    if (takes == 0) takes = ampacity;
  }
  if (!marked.maximum_overcurrent.known()) return missing;
  const std::int64_t device = (*marked.maximum_overcurrent).count();
  if (marked.minimum_ampacity.known() && device < (*marked.minimum_ampacity).count()) {
    missing = e.missing.both(missing, lack("maximum-overcurrent", device, "less than minimum-ampacity of",
                                           (*marked.minimum_ampacity).count()));
  }
  const Parameter* const least = e.law.parameter("compressor-device-least", Dimension::current);
  const std::int64_t share = largest_share(e, group_of(e, place));
  if (takes == 0 || least == nullptr || share == 0) return missing;
  const Value most = next_standard(e, std::max(share_of(share, takes), least->value.count), true);
  if (!most || device <= most.count) return missing;
  return e.missing.both(missing, lack("maximum-overcurrent", device,
                                      "and no motor of its current is allowed more than", most.count));
}

/// Currents on the circuit of a motor, added up.
struct Sums {
  std::int64_t sum = 0, largest = 0;
  std::int64_t stated = 0;  ///< as sum, and what is continuous counts once
};

/// What hangs on it: where its motors count by the larger, and by the smaller, of the currents of their
/// nameplates and of the law's table.
struct Load {
  Sums most, least;
  MissingId missing = 0;
  MissingId open = 0;             ///< what would tell by which
  CitationId cite = no_citation;  ///< of the largest
  bool alone = false;             ///< one piece of equipment and no other outlet
};

Load load_of(Evaluation& e, Index circuit) {
  Load load;
  const auto places = equipment_on(e, circuit);
  const OnCircuit& on = circuit_use(e).own(circuit);
  if (on.unplaced != none) load.missing = lacks_circuit_of(e, on.unplaced).missing;
  load.alone = places.size() == 1 && on.other == 0 && on.unplaced == none;  // not law: one
  if (load.alone && machine_of(e, places[0]).minimum_ampacity.known()) {
    load.missing = marking_contradicted(e, circuit, places[0]);
    return load;
  }
  for (const Index place : told_by_id(e, e.model.places, places)) {
    if (!is_motor(group_of(e, place))) {
      const Value one = load_for_conductors(e, place);
      load.missing = e.missing.both(load.missing, one.missing);
      for (Sums* const sums : {&load.most, &load.least}) {
        sums->sum += one.count;
        sums->stated += one ? (*e.model.places[place].rating).count() : 0;
      }
      continue;
    }
    const MotorCurrent current = full_load(e, circuit, place);
    load.missing = e.missing.both(load.missing, current.most.missing);
    // Where its own voltage and that of its circuit tell two currents the larger one counts.
    const std::int64_t most = current.high(),
                       least = current.marked == 0 ? current.most.count : current.low();
    if (least != most) load.open = e.missing.both(load.open, lacks_motor_reading(e, place, current).missing);
    // Of as large ones the first row of the law.
    const bool same = most == load.most.largest && current.most.cite < load.cite;
    if (current.most && (most > load.most.largest || same)) load.cite = current.most.cite;
    const auto add = [](Sums& sums, std::int64_t one) {
      sums.sum += one;
      sums.stated += one;
      sums.largest = std::max(sums.largest, one);
    };
    add(load.most, most);
    add(load.least, least);
  }
  return load;
}

std::int64_t largest_more(const Parameter& factor, std::int64_t largest) {
  return share_of(factor.value.count - number(1).count(), largest);
}

/// What conductors must carry for them.
Value counted(Evaluation& e, Subject s, const Load& load, const Sums& sums, bool tells) {
  const Parameter* const factor = ratio(e, "motor-conductor-factor");
  const Parameter* const continuous = ratio(e, "continuous-conductor-factor");
  if (factor == nullptr || continuous == nullptr) return e.lacks_law("motor-conductor-factor");
  const Circuit& circuit = e.model.circuits[s.index];
  tells = tells && e.noting();
  std::int64_t counted = sums.sum + largest_more(*factor, sums.largest);
  if (tells && load.alone) {
    e.note(FMT_COMPILE("{} x {} = {}"), factor->text, amperes_shown(sums.largest), amperes_shown(counted));
  } else if (tells) {
    e.note(FMT_COMPILE("{} x the largest, {}, and the others: {}"), factor->text, amperes_shown(sums.largest),
           amperes_shown(counted));
  }
  const CitationId cite = load.cite != no_citation ? load.cite : factor->cite;
  if (circuit_use(e).own(s.index).other == 0) return Evaluation::value(counted, cite);
  if (!circuit.load.known()) return e.lacks(s, "load", "the current that it is to carry", designer);
  std::int64_t others = std::max<std::int64_t>(0, (*circuit.load).count() - sums.stated);
  if (others != 0 && circuit.continuous == YesNo::unstated)
    return e.lacks(s, "continuous", "yes or no", designer);
  if (circuit.continuous == YesNo::yes) others = share_of(continuous->value.count, others);
  counted += others;
  if (tells)
    e.note(FMT_COMPILE("other outlets are on it, so that its load is {}: {}{}"),
           amperes_shown((*circuit.load).count()), amperes_shown(counted),
           circuit.continuous == YesNo::yes ? ", the others as continuous" : "");
  return Evaluation::value(counted, cite);
}

/// Whether its conductors carry as much, whatever is not said of them.
bool surely_carry(Evaluation& e, Subject s, std::int64_t current) {
  const Value laid = e.get_aside(Id::ampacity_as_laid_at_least, s),
              terminals = e.get_aside(Id::ampacity_at_terminals, s);
  return laid && terminals && std::min(laid.count, terminals.count) >= current;
}

/// Whether they do not.
bool surely_lack(Evaluation& e, Subject s, std::int64_t current) {
  const Value laid = e.get_aside(Id::ampacity_as_laid_at_most, s),
              best = e.get_aside(Id::ampacity_at_best_terminals, s),
              terminals = e.get_aside(Id::ampacity_at_terminals, s);
  const bool marked = e.model.circuits[s.index].terminals.known();
  return (laid && laid.count < current) || (best && best.count < current) ||
         (marked && terminals && terminals.count < current);
}

/// Share of a motor's current that its overcurrent device may have.
Value device_share(Evaluation& e, std::string_view device, std::int64_t current, bool starts_on_no_smaller) {
  const Table* const t = e.law.table("motor-protection");
  const Parameter* const large = e.law.parameter("motor-large", Dimension::current);
  if (t == nullptr || large == nullptr) return e.lacks_law("motor-protection");
  const std::uint32_t row = t->find({device});
  const std::string_view column = !starts_on_no_smaller          ? "share"
                                  : current > large->value.count ? "most-large"
                                                                 : "most";
  const std::int64_t share = t->count(row, t->column(column, Dimension::none));
  if (share == Table::blank) return e.lacks_law("motor-protection");
  return Evaluation::value(share, t->cite(row));
}

/// Largest overcurrent device of that kind for one motor.
Value motor_limit(Evaluation& e, Index place, std::int64_t current, std::string_view device) {
  const bool no_smaller = attested(e, Attested::no_smaller_device, e.model.places[place].id);
  const Value share = device_share(e, device, current, no_smaller);
  if (!share) return share;
  e.used(share.cite);
  const std::int64_t most = share_of(share.count, current);
  if (e.noting()) {
    e.note(FMT_COMPILE("{} for {}: {} of {} = {} ({}{})"), device, e.model.places[place].id,
           text_of({share.count, Unit::percent}), amperes_shown(current), amperes_shown(most),
           e.cited(share.cite), no_smaller ? "; attested: it does not start on a smaller one" : "");
  }
  if (no_smaller) return Evaluation::value(most, share.cite);
  const Value next = next_standard(e, most, device != "circuit-breaker");
  if (next && next.count != most && e.noting())
    e.note(FMT_COMPILE("the next standard rating: {}"), amperes_shown(next.count));
  return next ? Evaluation::value(next.count, share.cite) : next;
}

/// On an ordinary branch circuit conductors are protected as any others are.
Value protects_conductors(Evaluation& e, Index circuit, std::int64_t rating) {
  const Subject s{SubjectKind::circuit, circuit};
  const Value sure = e.get_aside(Id::largest_overcurrent_device, s);
  if (sure && sure.count >= rating) return Evaluation::value(number(1).count());
  const Value best = e.get_aside(Id::largest_overcurrent_device_at_best, s);
  if ((best && best.count < rating) || (sure && e.model.circuits[circuit].terminals.known())) {
    e.note(
        FMT_COMPILE("it may stand on an ordinary branch circuit, whose conductors would have to carry more"));
    return Evaluation::value(0);
  }
  if (!sure || !best) return Evaluation::lacks(e.missing.both(sure.missing, best.missing));
  return e.lacks(s, "terminal-temperature", "the temperature that its terminals are marked for, such as 75C",
                 marking);
}

/// Largest ordinary branch circuit that a motor-compressor of one phase may be on, by voltage; 0 where none.
Value compressor_branch(Evaluation& e, Index circuit, Index place) {
  const Table* const t = e.law.table("compressor-branch");
  if (t == nullptr) return Evaluation::value(0);
  const Value three = three_phases_at(e, circuit, place), volts = voltage_at(e, circuit, place);
  if (!three) return three;
  if (three.count != 0) return Evaluation::value(0);
  if (!volts) return volts;
  const std::uint32_t from = t->column("from", Dimension::voltage), to = t->column("to", Dimension::voltage);
  for (std::uint32_t row = 0; row < t->row_count(); ++row) {
    if (volts.count >= t->count(row, from) && volts.count <= t->count(row, to))
      return Evaluation::value(t->count(row, t->column("device", Dimension::current)), t->cite(row));
  }
  return Evaluation::value(0);
}

/// Equipment with several motors is marked with its largest device; a motor-compressor alone need not be.
Value compressor_limit(Evaluation& e, Index circuit, Index place, std::int64_t current, std::int64_t rating) {
  const Parameter* const share = ratio(e, "compressor-device");
  const Parameter* const largest = ratio(e, "compressor-device-most");
  const Parameter* const least = e.law.parameter("compressor-device-least", Dimension::current);
  if (share == nullptr || largest == nullptr || least == nullptr) return e.lacks_law("compressor-device");
  const auto limit_by = [&](const Parameter& by) {
    return std::max(share_of(by.value.count, current), least->value.count);
  };
  const Value branch =
      rating > limit_by(*share) ? compressor_branch(e, circuit, place) : Evaluation::value(0);
  if (!branch) return branch;
  const Value ordinary =
      branch.count >= rating ? protects_conductors(e, circuit, rating) : Evaluation::value(0);
  if (!ordinary) return ordinary;
  if (ordinary.count != 0) {
    e.used(branch.cite);
    if (e.noting())
      e.note(FMT_COMPILE("{} may be on a branch circuit of {} at its voltage ({})"), e.model.places[place].id,
             amperes_shown(branch.count), e.cited(branch.cite));
    return branch;
  }
  const bool starts = !attested(e, Attested::no_smaller_device, e.model.places[place].id);
  if (starts && rating > limit_by(*share) && rating <= limit_by(*largest)) {
    return lacks_of(
        e, place, "maximum-overcurrent", a_current,
        fmt::format(FMT_COMPILE("without that marking {} is allowed, and more where it does not start"),
                    amperes_shown(limit_by(*share))));
  }
  const Parameter& used = starts && rating <= limit_by(*share) ? *share : *largest;
  e.used(used.cite);
  if (e.noting()) {
    e.note(FMT_COMPILE("overcurrent device for {}: {} x {}, {} at least = {}"), e.model.places[place].id,
           used.text, amperes_shown(current), least->text, amperes_shown(limit_by(used)));
  }
  return Evaluation::value(limit_by(used), used.cite);
}

/// Largest overcurrent device for one of the circuit's motors alone.
Value limit_by(Evaluation& e, Index circuit, Index place, std::int64_t current, std::int64_t rating) {
  if (group_of(e, place) == Group::compressor) return compressor_limit(e, circuit, place, current, rating);
  const Index index = e.model.circuits[circuit].overcurrent_device;
  const OvercurrentDevice& device = e.model.overcurrent_devices[index];
  if (!device.fuse && device.time_delay != YesNo::unstated) {
    return e.lacks({SubjectKind::overcurrent_device, index}, "kind", "fuse or circuit-breaker", marking,
                   "time-delay is said of it, which fuses have", device.source);
  }
  if (!device.fuse) return motor_limit(e, place, current, "circuit-breaker");
  if (device.time_delay == YesNo::yes) return motor_limit(e, place, current, "time-delay-fuse");
  const Value slow = device.time_delay == YesNo::no ? Evaluation::value(0)
                                                    : motor_limit(e, place, current, "time-delay-fuse");
  if (device.time_delay == YesNo::unstated && slow && rating <= slow.count) return slow;
  const Value fast = motor_limit(e, place, current, "fuse");
  if (device.time_delay == YesNo::no || (fast && rating > fast.count)) return fast;
  return e.lacks({SubjectKind::overcurrent_device, index}, "time-delay", "yes or no", marking, {},
                 device.source);
}

/// The same; where the voltages of motor and circuit make two of it, the one that decides.
Value limit_of(Evaluation& e, Index circuit, Index place, const MotorCurrent& current, std::int64_t rating) {
  const Value most = limit_by(e, circuit, place, current.high(), rating);
  if (!most || current.low() == current.high() || rating > most.count) return most;
  const Value least = limit_by(e, circuit, place, current.low(), rating);
  if (!least || rating <= least.count) return least;
  if (current.marked != 0) return lacks_motor_reading(e, place, current);
  return lacks_of(e, place, "voltage", "a voltage such as 230V",
                  fmt::format(FMT_COMPILE("at its own {} is allowed, at that of its circuit {}"),
                              amperes_shown(least.count), amperes_shown(most.count)));
}

/// Equipment behind an overcurrent device, with the circuit that it is on.
struct Behind {
  Index circuit, place;
};

std::vector<Behind> behind_device_of(Evaluation& e, Index circuit) {
  std::vector<Behind> all;
  for (const Index c : circuit_use(e).together(circuit))
    for (const Index place : told_by_id(e, e.model.places, equipment_on(e, c))) all.push_back({c, place});
  return all;
}

/// Small motors behind the device of an ordinary branch circuit.
Value small_group(Evaluation& e, Index circuit, const std::vector<Behind>& all) {
  const Table* const t = e.law.table("motor-group");
  const Parameter* const most = e.law.parameter("motor-group-current", Dimension::current);
  const Parameter* const power = e.law.parameter("motor-group-power");
  if (t == nullptr || most == nullptr || power == nullptr) return e.lacks_law("motor-group");
  const Maybe<Voltage>& of_circuit = e.model.circuits[circuit].voltage;
  std::int64_t volts = 0;  // the most that any of them is on
  MissingId missing = 0;
  for (const auto& [of, place] : all) {
    const Group group = group_of(e, place);
    if (!is_motor(group)) continue;
    if (group != Group::motor) return Evaluation::value(0);
    const Value on = voltage_at(e, of, place);
    if (!on && !of_circuit.known()) return Evaluation::value(0);
    volts = std::max(volts, on ? on.count : (*of_circuit).count());
    if (machine_of(e, place).horsepower > term_spelt<Horsepower>(power->text)) return Evaluation::value(0);
    const MotorCurrent current = full_load(e, of, place);
    missing = e.missing.both(missing, current.most.missing);
    if (!current.most) continue;
    const std::int64_t least = current.marked == 0 ? current.most.count : current.low();
    if (least > most->value.count) return Evaluation::value(0);
    if (current.high() > most->value.count)
      missing = e.missing.both(missing, lacks_motor_reading(e, place, current).missing);
  }
  if (missing != 0) return Evaluation::lacks(missing);
  const std::uint32_t up_to = t->column("up-to", Dimension::voltage),
                      amperes = t->column("device", Dimension::current);
  for (std::uint32_t row = 0; volts != 0 && row < t->row_count(); ++row) {
    if (volts <= t->count(row, up_to)) return Evaluation::value(t->count(row, amperes), t->cite(row));
  }
  return Evaluation::value(0);
}

}  // namespace

namespace compute {

Value motors_on_circuit(Evaluation& e, Subject s) { return count_on(e, s.index, is_motor, "motors"); }

Value motor_current_counted(Evaluation& e, Subject s) {
  const Parameter* const factor = ratio(e, "motor-conductor-factor");
  if (factor == nullptr) return e.lacks_law("motor-conductor-factor");
  const auto places = equipment_on(e, s.index);
  const Load load = load_of(e, s.index);
  if (load.alone && machine_of(e, places[0]).minimum_ampacity.known()) {
    if (load.missing != 0) return Evaluation::lacks(load.missing);
    return given(e, equipment_at(places[0]), machine_of(e, places[0]).minimum_ampacity, Unit::ampere,
                 "minimum-ampacity", a_current, marking);
  }
  if (load.missing != 0) return Evaluation::lacks(load.missing);
  if (load.alone && machine_of(e, places[0]).maximum_overcurrent.known())
    return lacks_of(e, places[0], "minimum-ampacity", a_current, marked_with_both);
  e.used(factor->cite);
  if (load.open == 0) return counted(e, s, load, load.most, true);
  const Value most = counted(e, s, load, load.most, false), least = counted(e, s, load, load.least, false);
  if (!most || !least) return most ? least : most;
  const bool sorted = most.count >= least.count;  // what other outlets add may turn them round
  const Sums &larger = sorted ? load.most : load.least, &smaller = sorted ? load.least : load.most;
  if (surely_carry(e, s, std::max(most.count, least.count))) return counted(e, s, load, larger, true);
  if (surely_lack(e, s, std::min(most.count, least.count))) {
    e.note(FMT_COMPILE("by the smaller of what motors are marked with and what the table gives:"));
    return counted(e, s, load, smaller, true);
  }
  MissingId open = load.open;
  const auto hangs_on_terminals = [&](std::int64_t current) {
    return !surely_carry(e, s, current) && !surely_lack(e, s, current);
  };
  if (hangs_on_terminals(most.count) || hangs_on_terminals(least.count))
    open = e.missing.both(open, e.get_aside(Id::terminal_temperature, s).missing);
  return Evaluation::lacks(open);
}

Value motor_device_limit(Evaluation& e, Subject s) {
  const std::vector<Behind> places = behind_device_of(e, s.index);
  const Value rating = device_rating_of(e, s.index);
  if (!rating) return rating;
  const OnCircuit& on = circuit_use(e).on(s.index);
  if (on.unplaced != none) return lacks_circuit_of(e, on.unplaced);
  if (circuit_use(e).sharing_open(s.index)) return lacks_sharing(e, s.index);
  note_sharing(e, s.index);
  const bool alone = places.size() == 1 && on.other == 0;  // not law: one
  if (alone && machine_of(e, places[0].place).maximum_overcurrent.known()) {
    if (const MissingId wrong = marking_contradicted(e, s.index, places[0].place); wrong != 0)
      return Evaluation::lacks(wrong);
    return given(e, equipment_at(places[0].place), machine_of(e, places[0].place).maximum_overcurrent,
                 Unit::ampere, "maximum-overcurrent", a_current, marking);
  }
  if (alone && machine_of(e, places[0].place).minimum_ampacity.known())
    return lacks_of(e, places[0].place, "maximum-overcurrent", a_current, marked_with_both);
  Value least, largest;
  MissingId missing = 0, others_open = 0;
  std::int64_t sum = 0, of_largest = 0, others = 0, most_more = 0;
  MissingId readings = 0;
  bool any = false;
  for (const auto& [of, place] : places) {
    if (!is_motor(group_of(e, place))) {
      const Value load = load_stated(e, place);
      others += load.count;
      others_open = e.missing.both(others_open, load.missing);
      continue;
    }
    const MotorCurrent current = full_load(e, of, place);
    missing = e.missing.both(missing, current.most.missing);
    if (!current.most) continue;
    const Value limit = limit_of(e, of, place, current, rating.count);
    missing = e.missing.both(missing, limit.missing);
    if (!limit) continue;
    sum += current.low();
    most_more += current.high() - current.low();
    if (current.marked != 0 && current.low() != current.high())
      readings = e.missing.both(readings, lacks_motor_reading(e, place, current).missing);
    if (!any || limit.count < least.count) least = limit;
    if (!any || limit.count > largest.count) {
      largest = limit;
      of_largest = current.low();
    }
    any = true;
  }
  if (missing == 0 && rating.count <= least.count) return least;
  const Value small = small_group(e, s.index, places);
  if (!small) return small;
  const Value ordinary =
      rating.count <= small.count ? protects_conductors(e, s.index, rating.count) : Evaluation::value(0);
  if (!ordinary) return ordinary;
  if (ordinary.count != 0) {
    e.used(small.cite);
    e.note(FMT_COMPILE("motors so small may stand behind {}, with others or alone"),
           amperes_shown(small.count));
    return small;
  }
  if (missing != 0) return Evaluation::lacks(missing);
  if (alone) {
    const std::string_view motor = e.model.places[places[0].place].id;
    if (!attested(e, Attested::no_smaller_device, motor))
      e.detail(rating, unless_attested(Attested::no_smaller_device, motor));
    return least;
  }
  const std::string_view id = e.model.circuits[s.index].id;
  if (!attested(e, Attested::group_installation, id)) {
    return e.lacks(
        s, "attest", "<attest fact=\"listed-for-group-installation\"> where that is so", designer,
        "several motors or other loads behind one overcurrent device must be listed for it, or the "
        "device must protect the smallest of them");
  }
  std::int64_t stated = 0;
  for (const Index c : circuit_use(e).together(s.index))
    stated += e.model.circuits[c].load.known() ? (*e.model.circuits[c].load).count() : 0;
  if (on.other != 0) others = std::max(others, stated - sum);
  const std::int64_t together = largest.count + sum - of_largest + others;
  if (others_open != 0 && rating.count > together) return Evaluation::lacks(others_open);
  if (readings != 0 && rating.count > together && rating.count <= together + most_more)
    return Evaluation::lacks(readings);
  if (e.noting())
    e.note(FMT_COMPILE("attested: listed for group installation. The largest device of one motor and the "
                       "currents of the "
                       "others: {}"),
           amperes_shown(together));
  return Evaluation::value(together, largest.cite);
}

}  // namespace compute
}  // namespace raceward::figure
