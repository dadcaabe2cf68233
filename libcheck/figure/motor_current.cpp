// Current of motors by the law's table.
#include <algorithm>

#include "figure/logic.hpp"
#include "figure/machines.hpp"
#include "figure/supply.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

/// Column of the table of motors for a voltage; none where the law has no such column.
std::uint32_t column_for(Evaluation& e, const Table& motors, std::int64_t voltage) {
  const Table* const t = e.law.table("motor-voltage");
  if (t == nullptr) return Table::none;
  const std::uint32_t from = t->column("from", Dimension::voltage), to = t->column("to", Dimension::voltage);
  for (std::uint32_t row = 0; row < t->row_count(); ++row) {
    if (voltage < t->count(row, from) || voltage > t->count(row, to)) continue;
    return motors.column(t->key(row, 0), Dimension::current);
  }
  return Table::none;
}

/// Power of a motor, its phases, and what it is fed with.
struct Rated {
  Horsepower power{};
  bool three_phases = false;
  std::int64_t made_for = 0, fed_with = 0;
  MissingId horsepower = 0, missing = 0;
};

Value lacks_voltage(Evaluation& e, Index place, std::string why = {}) {
  return lacks_of(e, place, "voltage", "a voltage such as 230V", std::move(why));
}

/// Missing where it is made for other volts than it is fed with.
MissingId volts_denied(Evaluation& e, Index place, std::int64_t made_for, std::int64_t fed_with) {
  if (voltage_fits(e, made_for, fed_with)) return 0;
  return lacks_voltage(e, place,
                       fmt::format(FMT_COMPILE("it is said to be made for {}, and its circuit has {}"),
                                   text_of({made_for, Unit::volt}), text_of({fed_with, Unit::volt})))
      .missing;
}

Rated rated(Evaluation& e, Index circuit, Index place) {
  Rated out;
  out.power = machine_of(e, place).horsepower;
  if (out.power == Horsepower::unstated) {
    out.horsepower =
        lacks_of(e, place, "horsepower", "the rated power of its motor, such as 1-1/2",
                 "the current of the law's table counts, by horsepower, not that of the nameplate")
            .missing;
  }
  const Maybe<Voltage>& own = e.model.places[place].voltage;
  if (!own.known() && !e.model.circuits[circuit].voltage.known()) {
    out.missing = e.missing.both(out.missing, lacks_voltage(e, place).missing);
  } else {
    const Value volts = voltage_at(e, circuit, place);
    out.missing = e.missing.both(out.missing, volts.missing);
    out.fed_with = volts.count;
    out.made_for = own.known() ? (*own).count() : volts.count;
  }
  const Value three = three_phases_at(e, circuit, place);
  out.missing = e.missing.both(out.missing, three.missing);
  out.three_phases = three.count != 0;
  if (out.missing == 0) out.missing = volts_denied(e, place, out.made_for, out.fed_with);
  return out;
}

Value by_table(Evaluation& e, const Table& t, Index place, const Rated& motor, std::int64_t volts) {
  const std::uint32_t column = column_for(e, t, volts);
  if (column == Table::none) {
    return lacks_voltage(
        e, place,
        fmt::format(FMT_COMPILE("the ruleset in force has no motors of {}"), text_of({volts, Unit::volt})));
  }
  const std::string_view phases = motor.three_phases ? "three phases" : "one phase";
  const std::uint32_t row = t.find({motor.three_phases ? "three" : "one", name_of(motor.power)});
  const std::int64_t current = row == Table::none ? Table::blank : t.count(row, column);
  if (current != Table::blank) return Evaluation::value(current, t.cite(row));
  return lacks_of(e, place, "horsepower", "a rating of such motors",
                  fmt::format(FMT_COMPILE("the ruleset in force has no motor of {} hp at {} with {}"),
                              name_of(motor.power), text_of({volts, Unit::volt}), phases));
}

}  // namespace

MissingId nameplate_beyond(Evaluation& e, Index place, std::int64_t by_table) {
  const Place& motor = e.model.places[place];
  const Parameter* const factor = e.law.parameter("practice-motor-nameplate", Dimension::none);
  const std::int64_t most = factor == nullptr ? Table::blank : share_of(factor->value.count, by_table);
  const bool by_power = !motor.rating.known() && motor.power.known();
  const std::int64_t volts = volts_of(e, none, place);
  const std::int64_t said = motor.rating.known() ? (*motor.rating).count()
                            : by_power           ? current_of((*motor.power).count(), volts, true)
                                                 : 0;
  if (most == Table::blank || said <= most) return 0;
  return lacks_of(
             e, place, "horsepower", "the rated power of its motor, such as 1-1/2",
             fmt::format(FMT_COMPILE("{} {}, and motors of {} hp take {}"),
                         by_power ? "its power makes" : "its nameplate is said to give", amperes_shown(said),
                         name_of(machine_of(e, place).horsepower), amperes_shown(by_table)))
      .missing;
}

MotorCurrent motor_by_table(Evaluation& e, Index circuit, Index place) {
  const Table* const t = e.law.table("motor-current");
  if (t == nullptr) return {e.lacks_law("motor-current")};
  const Rated motor = rated(e, circuit, place);
  if (const MissingId missing = e.missing.both(motor.horsepower, motor.missing); missing != 0)
    return {Evaluation::lacks(missing)};
  const Value own = by_table(e, *t, place, motor, motor.made_for),
              fed = by_table(e, *t, place, motor, motor.fed_with);
  if (!own || !fed) return {Evaluation::lacks(e.missing.both(own.missing, fed.missing))};
  const bool at_own = own.count >= fed.count;
  return {at_own ? own : fed, std::min(own.count, fed.count), at_own ? motor.made_for : motor.fed_with,
          motor.three_phases};
}

namespace {

/// Kinds of motors that are no appliances; null where the law knows no such appliances.
const Parameter* bare_motors(const Evaluation& e) { return e.law.parameter("motor-without-appliance"); }

bool is_bare(const Evaluation& e, Index place) {
  const Parameter* const words = bare_motors(e);
  return words == nullptr || is_one_of(words->text, e.model.places[place].equipment_kind);
}

/// An appliance counts with what it is marked with.
MotorCurrent marked_current(Evaluation& e, Index circuit, Index place) {
  if (is_bare(e, place)) {
    return {lacks_of(e, place, "appliance", "no, or another kind",
                     fmt::format(FMT_COMPILE("it is said to be an appliance, and to be of kind {}"),
                                 e.model.places[place].equipment_kind))};
  }
  const Value load = load_stated(e, place);
  if (!load) return {load};
  const Maybe<Voltage>& own = e.model.places[place].voltage;
  if (own.known() && e.model.circuits[circuit].voltage.known()) {
    const Value fed = voltage_at(e, circuit, place);
    const MissingId denied = fed ? volts_denied(e, place, (*own).count(), fed.count) : fed.missing;
    if (denied != 0) return {Evaluation::lacks(denied)};
  }
  const MotorCurrent by_table = motor_by_table(e, circuit, place);
  const MissingId beyond = by_table.most ? nameplate_beyond(e, place, by_table.most.count) : 0;
  if (beyond != 0) return {Evaluation::lacks(beyond)};
  return {Evaluation::value(load.count, bare_motors(e)->cite), load.count, volts_of(e, circuit, place),
          by_table.three_phases};
}

/// Of a motor that does not say its horsepower, by its nameplate: motors of the table that take no more than
/// that without losses, and no less than a nameplate is believed for. One smaller than all of the table
/// counts with the smallest at most.
MotorCurrent of_any_horsepower(Evaluation& e, Index circuit, Index place) {
  const Table* const t = e.law.table("motor-current");
  const Parameter* const believed = e.law.parameter("practice-motor-nameplate", Dimension::none);
  Rated motor = rated(e, circuit, place);
  const MotorCurrent unknown{Evaluation::lacks(e.missing.both(motor.horsepower, motor.missing))};
  if (t == nullptr || believed == nullptr || motor.missing != 0 || !e.model.places[place].rating.known())
    return unknown;
  const Value load = load_stated(e, place);
  if (!load) return {Evaluation::lacks(e.missing.both(unknown.most.missing, load.missing))};
  const std::int64_t most = with_tolerance(e, load.count);
  MotorCurrent out, smallest;
  for (std::uint32_t row = 0; row < t->row_count(); ++row) {
    if (t->key(row, 0) != (motor.three_phases ? "three" : "one")) continue;
    motor.power = term_spelt<Horsepower>(t->key(row, 1));
    for (const std::int64_t volts : {motor.made_for, motor.fed_with}) {
      const std::uint32_t column = column_for(e, *t, volts);
      const std::int64_t current = column == Table::none ? Table::blank : t->count(row, column);
      if (current == Table::blank) continue;
      MotorCurrent one{Evaluation::value(current, t->cite(row)), current, volts};
      one.least_power = one.most_power = motor.power;
      if (smallest.most.count == 0 || current < smallest.most.count) smallest = one;
      const bool may = current_of(watts_of(motor.power), volts, motor.three_phases) <= most &&
                       load.count <= share_of(believed->value.count, current);
      if (!may) continue;
      if (out.most.count == 0) out = one;
      if (current > out.most.count) {
        out.most = one.most;
        out.volts = volts;
      }
      out.least = std::min(out.least, current);
      out.least_power = std::min(out.least_power, motor.power);
      out.most_power = std::max(out.most_power, motor.power);
    }
  }
  if (out.most.count == 0 && load.count < smallest.most.count) out = smallest;
  if (out.most.count == 0) return unknown;
  out.three_phases = motor.three_phases;
  out.marked = load.count;
  out.horsepower = motor.horsepower;
  return out;
}

}  // namespace

MotorCurrent motor_reading(Evaluation& e, Index circuit, Index place) {
  const YesNo appliance = machine_of(e, place).appliance;
  if (appliance == YesNo::yes && bare_motors(e) != nullptr) return marked_current(e, circuit, place);
  if (machine_of(e, place).horsepower == Horsepower::unstated) return of_any_horsepower(e, circuit, place);
  MotorCurrent current = motor_by_table(e, circuit, place);
  if (!current.most) return current;
  const Place& motor = e.model.places[place];
  MissingId missing = nameplate_beyond(e, place, current.most.count);
  if (motor.rating.known()) missing = e.missing.both(missing, load_stated(e, place).missing);
  if (missing != 0) return {Evaluation::lacks(missing)};
  if (appliance == YesNo::unstated && motor.rating.known() && !is_bare(e, place))
    current.marked = (*motor.rating).count();
  return current;
}

MotorCurrent motor_current(Evaluation& e, Index circuit, Index place) {
  const MotorCurrent current = motor_reading(e, circuit, place);
  if (!current.most) return current;
  const Place& motor = e.model.places[place];
  e.used(current.most.cite);
  if (!e.noting()) return current;
  if (machine_of(e, place).appliance == YesNo::yes && bare_motors(e) != nullptr) {
    e.note(FMT_COMPILE("{}: an appliance that is marked with {} ({})"), motor.id,
           amperes_shown(current.most.count), e.cited(current.most.cite));
    return current;
  }
  if (current.horsepower != 0) {
    e.note(FMT_COMPILE("motor {}: {} by its nameplate; motors that may take that count with {} to {} ({})"),
           motor.id, amperes_shown(current.marked), amperes_shown(current.least),
           amperes_shown(current.most.count), e.cited(current.most.cite));
    return current;
  }
  e.note(FMT_COMPILE("motor {}: {} hp at {}, {}: {} ({})"), motor.id,
         name_of(machine_of(e, place).horsepower), text_of({current.volts, Unit::volt}),
         current.three_phases ? "three phases" : "one phase", amperes_shown(current.most.count),
         e.cited(current.most.cite));
  return current;
}

Value lacks_motor_reading(Evaluation& e, Index place, const MotorCurrent& current) {
  if (current.horsepower != 0) return Evaluation::lacks(current.horsepower);
  if (current.marked == 0 || (current.marked >= current.least && current.marked <= current.most.count))
    return lacks_voltage(e, place, "it is not that of its circuit");
  const Value by_marking = lacks_of(
      e, place, "appliance", "yes or no",
      fmt::format(
          FMT_COMPILE("a listed appliance counts with the current that it is marked with, {}; another "
                      "motor of its horsepower with {}"),
          amperes_shown(current.marked), amperes_shown(current.most.count)));
  if (current.least == current.most.count) return by_marking;
  return Evaluation::lacks(
      e.missing.both(by_marking.missing, lacks_voltage(e, place, "it is not that of its circuit").missing));
}

Value horsepower_enough(Evaluation& e, Index circuit, Index place, Horsepower rated, std::int64_t current,
                        Subject device) {
  const Table* const t = e.law.table("motor-current");
  if (t == nullptr) return e.lacks_law("motor-current");
  const Value volts = voltage_at(e, circuit, place), three = three_phases_at(e, circuit, place);
  if (!volts || !three) return Evaluation::lacks(e.missing.both(volts.missing, three.missing));
  const std::uint32_t column = column_for(e, *t, volts.count);
  const std::uint32_t row = t->find({three.count != 0 ? "three" : "one", name_of(rated)});
  const bool known = column != Table::none && row != Table::none && t->count(row, column) != Table::blank;
  if (!known) {
    return e.lacks(
        device, "horsepower", "a rating of such motors", marking,
        fmt::format(FMT_COMPILE("the ruleset in force has no motor of {} hp at {} with {}"), name_of(rated),
                    text_of({volts.count, Unit::volt}), three.count != 0 ? "three phases" : "one phase"),
        e.model.devices[device.index].source);
  }
  e.used(t->cite(row));
  if (e.noting())
    e.note(FMT_COMPILE("motors of {} hp take {} ({})"), name_of(rated), amperes_shown(t->count(row, column)),
           e.cited(t->cite(row)));
  return answer(t->count(row, column) >= current, t->cite(row));
}

}  // namespace raceward::figure
