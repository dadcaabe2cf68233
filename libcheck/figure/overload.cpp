// Overload protection of motors: what keeps a motor from carrying too much for long.
//
// Method: a protector in the motor is enough. A relay or heaters are set to a share of the nameplate's
// current, a larger one where the motor is marked for it. Overcurrent devices of motor circuits are too large
// for it.
#include "figure/circuit_use.hpp"
#include "figure/facts.hpp"
#include "figure/machines.hpp"
#include "figure/surroundings.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

constexpr std::string_view a_current = "a current such as 16A";

const Parameter* ratio(const Evaluation& e, std::string_view name) {
  return e.law.parameter(name, Dimension::none);
}

}  // namespace

Value overload_asked(Evaluation& e, Subject s) {
  const Group group = group_of(e, s.index);
  if (is_furniture(e, s.index)) return takes_nothing(e);
  return group == Group::unknown ? lacks_kind(e, s.index) : answer(group == Group::motor);
}

Value overload_provided(Evaluation& e, Subject s) {
  const Machine& machine = machine_of(e, s.index);
  if (group_of(e, s.index) == Group::unknown && machine.overload == Overload::unstated)
    return lacks_kind(e, s.index);
  if (machine.overload == Overload::unstated)
    return lacks_of(e, s.index, "overload", "integral, relay or none");
  if (machine.overload != Overload::relay && machine.overload_setting.known()) {
    return lacks_of(e, s.index, "overload", "integral, relay or none",
                    fmt::format(FMT_COMPILE("it is said to be {}, and a relay has a setting"),
                                name_of(machine.overload)));
  }
  e.note(FMT_COMPILE("stated: overload is {}"), name_of(machine.overload));
  if (machine.overload != Overload::none) return answer(true);
  const Parameter* const small = e.law.parameter("overload-small-motor");
  if (small == nullptr) return e.lacks_law("overload-small-motor");
  if (machine.horsepower > term_spelt<Horsepower>(small->text)) return answer(false, small->cite);
  if (machine.horsepower == Horsepower::unstated)
    return lacks_of(e, s.index, "horsepower", "the rated power of its motor, such as 1-1/2");
  return lacks_of(
      e, s.index, "overload", "integral or relay",
      fmt::format(FMT_COMPILE("of motors up to {} hp, whether one starts by itself and stays in its place "
                              "decides, and documents have no word for it"),
                  small->text));
}

Value overload_setting(Evaluation& e, Subject s) {
  const Machine& machine = machine_of(e, s.index);
  if (machine.overload != Overload::relay) return Evaluation::value(0);
  return given(e, s, machine.overload_setting, Unit::ampere, "overload-setting", a_current, marking);
}

Value overload_limit(Evaluation& e, Subject s) {
  const Machine& machine = machine_of(e, s.index);
  if (machine.overload != Overload::relay) return Evaluation::value(0);
  const Place& motor = e.model.places[s.index];
  if (!motor.rating.known())
    return lacks_of(e, s.index, "load", "the full-load current of the nameplate, such as 16A");
  const bool no_smaller = attested(e, Attested::no_smaller_overload, motor.id);
  const Parameter* const marked = ratio(e, "overload-marked-factor");
  const Parameter* const larger = ratio(e, no_smaller ? "overload-factor-most" : "overload-factor");
  const Parameter* const largest =
      ratio(e, no_smaller ? "overload-factor-service-most" : "overload-factor-service");
  if (marked == nullptr || larger == nullptr || largest == nullptr) return e.lacks_law("overload-factor");
  const Value stated = load_stated(e, s.index);
  if (!stated) return stated;
  if (const Index circuit = circuit_use(e).feeding(s.index); circuit != none) {
    // Whether the nameplate can be that of such a motor; what the table lacks for it is asked by other rules.
    const Value by_table = motor_by_table(e, circuit, s.index).most;
    const MissingId beyond = by_table ? nameplate_beyond(e, s.index, by_table.count) : 0;
    if (beyond != 0) return Evaluation::lacks(beyond);
  }
  const std::int64_t load = stated.count;
  const auto limit_by = [&](const Parameter& factor) { return share_of(factor.value.count, load); };
  const bool rise = attested(e, Attested::rise_of_40c, motor.id);
  if (!machine.service_factor.known() && !rise && machine.overload_setting.known() &&
      (*machine.overload_setting).count() > limit_by(*larger) &&
      (*machine.overload_setting).count() <= limit_by(*largest)) {
    return lacks_of(e, s.index, "service-factor", "a number such as 1.15, or 1 where none is marked");
  }
  const bool serves =
      (machine.service_factor.known() && (*machine.service_factor).count() >= marked->value.count) || rise;
  const Parameter& factor = serves ? *largest : *larger;
  e.used(factor.cite);
  const std::int64_t limit = limit_by(factor);
  if (machine.overload_setting.known() && (*machine.overload_setting).count() > limit) {
    const Value set = Evaluation::value((*machine.overload_setting).count());
    if (!no_smaller || !serves)
      e.detail(set,
               unless_attested(no_smaller ? Attested::rise_of_40c : Attested::no_smaller_overload, motor.id));
  }
  if (e.noting())
    e.note(FMT_COMPILE("{} x {} of the nameplate = {}{}"), factor.text, amperes_shown(load),
           amperes_shown(limit), serves ? ", for its service factor or temperature rise" : "");
  return Evaluation::value(limit, factor.cite);
}

}  // namespace raceward::figure::compute
