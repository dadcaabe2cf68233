// Whether switches and disconnects are rated for the current that they carry, and for the horsepower of
// motors.
//
// Method: a disconnect carries no more than what lies behind it on its circuit; a switch may be in a loop
// from what it switches, so that all of its circuit may hang on it. Whether that much does hang on it tells
// the stop: conductors that end there go on through it. With motors a disconnect needs reserve, and a switch
// may have a share of its rating only; what is rated in horsepower needs none. Without motors a rating of
// that of the overcurrent device is enough in any case.
#include <algorithm>

#include "figure/circuit_tree.hpp"
#include "figure/circuit_use.hpp"
#include "figure/circuit_way.hpp"
#include "figure/devices_by_box.hpp"
#include "figure/facts.hpp"
#include "figure/machines.hpp"
#include "figure/supply.hpp"
#include "figure/surroundings.hpp"
#include "figure/told.hpp"
#include "figure/visits_on.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

constexpr std::string_view a_current = "a current such as 16A";

struct Shares {
  const Parameter *reserve = nullptr, *share = nullptr, *heating = nullptr;
  [[nodiscard]] bool complete() const { return reserve != nullptr && share != nullptr && heating != nullptr; }
};

/// Currents that are added up.
struct Amount {
  std::int64_t motors = 0, plain = 0;
  bool heating = false;
  [[nodiscard]] std::int64_t total() const { return motors + plain; }
};

struct Needed {
  std::int64_t count = 0;
  const Parameter* by = nullptr;
};

/// What a device may carry, at most and at least.
struct Carried {
  Amount most, least;
  MissingId open = 0;       ///< why these differ
  bool unbounded = false;   ///< it may be more than the most
  bool other = false;       ///< receptacles, luminaires, panels
  Index motor = none;       ///< one that certainly is carried
  std::int64_t stated = 0;  ///< what equipment takes by its nameplate
  std::int64_t takes = 0;   ///< what equipment takes at least, motors by the law's tables
};

class Carrying {
 public:
  Carrying(Evaluation& e, Subject s, Index circuit)
      : e_(e),
        device_(e.model.devices[s.index]),
        subject_(s),
        index_(circuit),
        circuit_(e.model.circuits[circuit]) {
    law_ = {e.law.parameter("disconnect-motor-factor", Dimension::none),
            e.law.divisor("switch-motor-share", Dimension::none),
            e.law.parameter("disconnect-heating-factor", Dimension::none)};
  }

  Value needed() {
    if (!law_.complete()) return e_.lacks_law("disconnect-motor-factor");
    const std::int64_t rating = (*device_.rating).count();
    collect();
    const Needed most = needed(carried_.most), least = needed(carried_.least);
    if (!carried_.unbounded && rating >= most.count) return say(carried_.most, most);
    if (carried_.most.motors == 0 && !carried_.most.heating && !machine_open_) {
      const Value device = device_rating_of(e_, index_);
      if (device && rating >= device.count) return device;
    }
    if (rating < carried_.least.total()) return say(carried_.least, least);
    if (rating < least.count) {
      const Value enough = carried_.least.motors != 0 ? by_horsepower() : answer(false);
      if (!enough) return enough;
      if (is_no(enough)) return say(carried_.least, least);
    }
    if (!carried_.unbounded && rating >= carried_.most.total() && carried_.motor != none) {
      const Value enough = by_horsepower();
      if (!enough) open(enough);
      if (is_yes(enough)) return say(carried_.most, {carried_.most.total(), nullptr});
    }
    return carried_.open == 0 ? say(carried_.most, most) : Evaluation::lacks(carried_.open);
  }

  /// 1 where it may switch the motors that it carries, by the horsepower that it is rated for or without one.
  Value fits_motors() {
    const bool certainly = certain(gather());
    if (carried_.most.motors == 0 && !machine_open_) return answer(true);
    const bool known = !machine_open_ && carried_.motor != none;
    if (device_.horsepower == Horsepower::unstated) return fits_unrated(known);
    if (!known) return Evaluation::lacks(carried_.open);
    const auto enough = [&](std::int64_t current) {
      return horsepower_enough(e_, index_, carried_.motor, device_.horsepower, current, subject_);
    };
    const Value all = enough(carried_.most.motors);
    if (!is_no(all)) return all;
    if (untold_) return Evaluation::lacks(carried_.open);
    if (!certainly && !only_motor()) {
      return e_.lacks(subject_, "circuit", "a circuit whose conductors end on it", designer,
                      "which of the motors of its circuit it switches is not said", device_.source);
    }
    const Value least = enough(carried_.least.motors);
    if (!is_no(least)) return Evaluation::lacks(carried_.open);
    if (e_.noting())
      e_.note(FMT_COMPILE("it is rated for {} hp, and its motors take {}"), name_of(device_.horsepower),
              amperes_shown(carried_.least.motors));
    return least;
  }

 private:
  [[nodiscard]] bool disconnects() const { return device_.kind == DeviceKind::disconnect; }
  void open(const Value& lack) { carried_.open = e_.missing.both(carried_.open, lack.missing); }
  Value lacks_load(std::string why = {}) {
    return e_.lacks(subject_, "load", a_current, designer, std::move(why), device_.source);
  }

  [[nodiscard]] Needed needed(const Amount& amount) const {
    Needed out{amount.total(), nullptr};
    const auto raise = [&](std::int64_t to, const Parameter* by) {
      if (to > out.count) out = {to, by};
    };
    if (disconnects() && amount.motors != 0)
      raise(share_of(law_.reserve->value.count, amount.total()), law_.reserve);
    if (disconnects() && amount.heating)
      raise(share_of(law_.heating->value.count, amount.total()), law_.heating);
    if (!disconnects() && amount.motors != 0)
      raise(detail::saturate(wide_int{amount.motors} * number(1).count() / law_.share->value.count),
            law_.share);
    return out;
  }

  Value say(const Amount& amount, const Needed& needed) {
    if (e_.noting()) {
      if (needed.by == nullptr) {
        e_.note(FMT_COMPILE("it carries {}"), amperes_shown(amount.total()));
      } else if (needed.by == law_.share) {
        e_.note(FMT_COMPILE("motors of {} / {} = {}"), amperes_shown(amount.motors), needed.by->text,
                amperes_shown(needed.count));
      } else {
        e_.note(FMT_COMPILE("{} x {} = {}"), needed.by->text, amperes_shown(amount.total()),
                amperes_shown(needed.count));
      }
    }
    if (needed.by == nullptr) return Evaluation::value(needed.count);
    e_.used(needed.by->cite);
    return Evaluation::value(needed.count, needed.by->cite);
  }

  /// 1 where it is rated for the horsepower of the motors that it carries, 0 where it is not.
  Value by_horsepower() {
    if (device_.horsepower == Horsepower::unstated) {
      const Value lack = e_.lacks(
          subject_, "horsepower", "the horsepower that it is rated for, such as 10", marking,
          "what is rated for the horsepower of its motor needs no reserve of current", device_.source);
      return Evaluation::lacks(e_.missing.both(lack.missing, powers_));
    }
    const auto enough_for = [&](std::int64_t current) {
      return horsepower_enough(e_, index_, carried_.motor, device_.horsepower, current, subject_);
    };
    const Value enough = enough_for(carried_.most.total());
    if (is_no(enough) && carried_.open != 0 && !is_no(enough_for(carried_.least.total())))
      return Evaluation::lacks(carried_.open);
    if (is_yes(enough) && e_.noting())
      e_.note(FMT_COMPILE("rated for {} hp, which is enough for {}"), name_of(device_.horsepower),
              amperes_shown(carried_.most.total()));
    return enough;
  }

  /// All that it may carry, and whether that is all of the circuit.
  bool gather() {
    std::span<const Index> places;
    if (disconnects()) places = circuit_tree(e_, index_).behind(device_.box);
    const bool told = !places.empty();
    untold_ = disconnects() && !told && circuit_.overcurrent_device == none;
    if (untold_) {
      open(e_.lacks({SubjectKind::circuit, index_}, "protected-by", "the id of an overcurrent device",
                    designer, "what of it is behind the disconnect cannot be told without it",
                    circuit_.source));
    }
    if (told) {
      for (const Index place : told_by_id(e_, e_.model.places, places)) add_place(place);
    } else {
      for (const Index place : told_by_id(e_, e_.model.places, equipment_on(e_, index_)))
        add_equipment(place);
      carried_.other = circuit_use(e_).own(index_).other != 0 || circuit_.kind == CircuitKind::feeder;
    }
    const OnCircuit& on = circuit_use(e_).own(index_);
    carried_.other = carried_.other || on.unplaced != none;
    carried_.takes = std::max(carried_.stated, carried_.least.total() + by_table_);
    return !told || places.size() >= circuit_tree(e_, index_).all().size();
  }

  [[nodiscard]] const Parameter* power_of_law(std::string_view name) const {
    const Parameter* const power = e_.law.parameter(name);
    return power != nullptr && power->is_word ? power : nullptr;
  }
  /// Whether a motor is so small that a switch without horsepower may do; unstated where its own decides.
  YesNo is_small(Index place, const MotorCurrent& current) {
    const Parameter* const power = power_of_law("general-use-switch-horsepower");
    const Parameter* const volts = e_.law.parameter("general-use-switch-voltage", Dimension::voltage);
    const Horsepower own = machine_of(e_, place).horsepower;
    const Horsepower least = own != Horsepower::unstated ? own : current.least_power,
                     most = own != Horsepower::unstated ? own : current.most_power;
    if (power == nullptr || volts == nullptr || least == Horsepower::unstated ||
        current.volts > volts->value.count || least > term_spelt<Horsepower>(power->text))
      return YesNo::no;
    return most <= term_spelt<Horsepower>(power->text) ? YesNo::yes : YesNo::unstated;
  }

  /// Of one that is rated for no horsepower, or does not say for which.
  Value fits_unrated(bool known) {
    const Parameter* const factor = e_.law.parameter("general-use-switch-factor", Dimension::none);
    if (!law_.complete() || factor == nullptr) return e_.lacks_law("general-use-switch-factor");
    if (attested(e_, Attested::no_horsepower, device_.id)) {
      e_.note(FMT_COMPILE("attested: it is of a kind that needs no rating in horsepower"));
      return answer(true);
    }
    const Value lack = e_.lacks(
        subject_, "horsepower", "the horsepower that it is rated for, such as 10", marking,
        fmt::format(
            FMT_COMPILE("a motor {} behind it; where it is a circuit breaker, a molded-case switch or "
                        "another that needs none, <attest fact=\"{}\"> says so"),
            known ? "is" : "may be", word_of(Attested::no_horsepower)),
        device_.source);
    if (!known) return Evaluation::lacks(e_.missing.both(carried_.open, lack.missing));
    const Value lack_either =
        small_ != YesNo::no ? Evaluation::lacks(e_.missing.both(lack.missing, powers_)) : lack;
    if (small_ != YesNo::yes || !device_.rating.known()) return lack_either;
    const std::int64_t motors = carried_.most.motors, rating = (*device_.rating).count();
    const bool snap = device_.kind == DeviceKind::switch_;
    const std::int64_t needed =
        snap ? detail::saturate(wide_int{motors} * number(1).count() / law_.share->value.count)
             : share_of(factor->value.count, motors);
    if (rating < needed) return lack_either;
    for (const Parameter* const up_to : {power_of_law("general-use-switch-horsepower"),
                                         e_.law.parameter("general-use-switch-voltage", Dimension::voltage)})
      e_.used(up_to->cite);
    const CitationId cite = snap ? law_.share->cite : factor->cite;
    e_.used(cite);
    if (e_.noting())
      e_.note(
          FMT_COMPILE("so small a motor needs no switch that is rated in horsepower: {} are enough for {}"),
          amperes_shown(rating), amperes_shown(motors));
    return answer(true, cite);
  }

  void collect() {
    const bool all = gather();
    if (const MissingId perhaps = may_be_on(e_, index_); perhaps != 0) {
      open(Evaluation::lacks(perhaps));
      machine_open_ = carried_.unbounded = true;
    }
    add_others(all);
    const bool certainly = certain(all);
    if (device_.load.known()) {
      as_stated((*device_.load).count(), certainly);
    } else if (!certainly) {
      carried_.least = {};
      if (!untold_) open(lacks_load("how much of its circuit's load it carries is not said"));
    }
  }

  void add_place(Index place) {
    const Place& at = e_.model.places[place];
    if (at.kind == PlaceKind::panel) carried_.other = true;
    if (at.kind == PlaceKind::equipment && ends(e_).at(index_, place) != nullptr && !takes_nothing(e_, place))
      add_equipment(place);
    for (const Index d : devices_on(e_, place, index_)) {
      const DeviceKind kind = e_.model.devices[d].kind;
      if (kind != DeviceKind::receptacle && kind != DeviceKind::luminaire) continue;
      carried_.other = true;
      for (const Index plugged : plugged_into(e_, d))
        if (!takes_nothing(e_, plugged)) add_equipment(plugged);
    }
  }

  void add_equipment(Index place) {
    const Group group = group_of(e_, place);
    if (circuit_use(e_).several_feed(place)) {
      open(lacks_one_circuit(e_, place));
      const Value load = load_stated(e_, place);
      machine_open_ = true;
      carried_.unbounded = carried_.unbounded || !load;
      carried_.most.motors += load.count;
      small_ = YesNo::no;
      return;
    }
    if (e_.model.places[place].rating.known()) carried_.stated += (*e_.model.places[place].rating).count();
    if (is_motor(group)) {
      add_motor(place);
      return;
    }
    if (is_welder(group) && machine_of(e_, place).effective_current.known()) {
      const std::int64_t effective = (*machine_of(e_, place).effective_current).count();
      carried_.most.plain += effective;
      carried_.least.plain += effective;
      return;
    }
    const Value load = load_stated(e_, place);
    open(load);
    carried_.unbounded = carried_.unbounded || !load;
    carried_.most.plain += load.count;
    if (group == Group::unknown) {  // a motor may count with more
      open(lacks_kind(e_, place));
      machine_open_ = carried_.unbounded = true;
    }
    if (is_welder(group)) {
      open(lacks_of(e_, place, "effective-current", a_current));
    } else {
      carried_.least.plain += load.count;
    }
    if (!disconnects()) return;
    const Value heating = e_.get_aside(Id::heating_asked, equipment_at(place));
    open(heating);
    carried_.most.heating = carried_.most.heating || !is_no(heating);
    carried_.least.heating = carried_.least.heating || is_yes(heating);
  }

  void add_motor(Index place) {
    const MotorCurrent current = full_load(e_, index_, place);
    if (!current.most) {
      open(current.most);
      machine_open_ = carried_.unbounded = true;
      return;
    }
    carried_.motor = place;
    const YesNo small = is_small(place, current);
    if (small == YesNo::no || small_ == YesNo::yes) small_ = small;
    powers_ = e_.missing.both(powers_, current.horsepower);
    carried_.most.motors += current.high();
    carried_.least.motors += current.low();
    if (current.marked != 0) by_table_ += std::max<std::int64_t>(0, current.least - current.low());
    if (current.low() != current.high()) open(lacks_motor_reading(e_, place, current));
  }

  /// What the circuit's load says besides.
  void add_others(bool all) {
    const bool feeds_nothing = carried_.most.total() == 0 && !carried_.unbounded;
    if (!carried_.other && !feeds_nothing) return;
    if (!circuit_.load.known()) {
      carried_.unbounded = true;
      open(e_.lacks({SubjectKind::circuit, index_}, "load", a_current, designer, {}, circuit_.source));
      return;
    }
    const std::int64_t load = (*circuit_.load).count();
    if (e_.noting())
      e_.note(FMT_COMPILE("circuit {} is said to carry {}"), circuit_.id, text_of({load, Unit::ampere}));
    const std::int64_t more =
        std::max<std::int64_t>(0, load - std::max(carried_.stated, carried_.least.total()));
    if (more == 0) return;
    carried_.most.plain += more;
    if (all) {
      carried_.least.plain += more;
    } else {
      open(lacks_load("how much of its circuit's load it carries is not said"));
    }
  }

  /// Whether its circuit feeds nothing but one motor: then that is what it switches, if its conductors do not
  /// pass by the device.
  [[nodiscard]] bool only_motor() {
    const OnCircuit& on = circuit_use(e_).own(index_);
    if (on.outlets != 1 || on.unplaced != none || carried_.motor == none) return false;  // not law: one
    return std::ranges::any_of(visits_on(e_, device_.box, index_), [&](Index v) {
      const Visit& visit = e_.in.routes.visits[v];
      if (visit.stop == none) return false;
      const StopTreatment how = e_.model.stops[visit.stop].ungrounded;
      const Range& held = e_.model.runs[visit.run].conductors;
      const auto first = e_.model.run_conductors.begin() + held.first;
      const bool power = std::any_of(first, first + held.count, [&](Index c) {
        return e_.model.conductors[c].role == Role::ungrounded;
      });
      return power && how != StopTreatment::unstated && how != StopTreatment::through;
    });
  }

  /// Whether all that was collected goes through it.
  [[nodiscard]] bool certain(bool all) {
    const bool several = circuit_use(e_).own(index_).outlets > 1;  // not law: one
    if (untold_ && several) return false;
    if (!disconnects() && (!all || circuit_use(e_).own(index_).outlets > 1)) return false;  // not law: one
    if (const End* const end = ends(e_).at(index_, device_.box)) return end->said && disconnects();
    for (Index r = circuit_.runs.first; r < circuit_.runs.end(); ++r) {
      const Range& stops = e_.model.runs[r].stops;
      for (Index i = stops.first; i < stops.end(); ++i) {
        const Stop& stop = e_.model.stops[i];
        if (stop.place == device_.box && stop.ungrounded == StopTreatment::terminated) return true;
      }
    }
    return false;
  }

  void as_stated(std::int64_t load, bool certainly) {
    if (certainly && load < carried_.takes) {
      carried_.least = {};
      carried_.unbounded = true;
      open(lacks_load(fmt::format(FMT_COMPILE("it is said to be {}, and what is behind it takes {}"),
                                  amperes_shown(load), amperes_shown(carried_.takes))));
      return;
    }
    if (e_.noting()) e_.note(FMT_COMPILE("stated: load is {}"), text_of({load, Unit::ampere}));
    const bool motors = carried_.most.motors != 0 || machine_open_, heating = carried_.most.heating;
    Amount& most = carried_.most;
    // Motors of unknown horsepower may count with more than is said.
    if (powers_ == 0 || load >= most.total()) most = {motors ? load : 0, motors ? 0 : load, heating};
    carried_.least = {carried_.least.motors != 0 ? load : 0, carried_.least.motors != 0 ? 0 : load,
                      carried_.least.heating};
    carried_.unbounded = false;
  }

  Evaluation& e_;
  const Device& device_;
  Subject subject_;
  Index index_;
  const Circuit& circuit_;
  Shares law_;
  Carried carried_;
  bool machine_open_ = false;  ///< it may be a motor
  std::int64_t by_table_ = 0;  ///< how much more motors take than that if they are no appliances
  bool untold_ = false;        ///< where its circuit begins is not said
  YesNo small_ = YesNo::yes;   ///< all motors are so small that a switch without horsepower may do
  MissingId powers_ = 0;       ///< horsepower of motors that do not say it
};

bool switches(DeviceKind kind) {
  return kind == DeviceKind::switch_ || kind == DeviceKind::dimmer || kind == DeviceKind::disconnect;
}

}  // namespace

Value switch_rating_asked(Evaluation& e, Subject s) {
  return answer(switches(e.model.devices[s.index].kind));
}

Value switch_horsepower_asked(Evaluation& e, Subject s) {
  const DeviceKind kind = e.model.devices[s.index].kind;
  return answer(switches(kind) && kind != DeviceKind::dimmer);
}

Value switch_horsepower_fits(Evaluation& e, Subject s) {
  const Device& device = e.model.devices[s.index];
  if (is_no(switch_horsepower_asked(e, s))) return answer(true);
  if (const Value come = circuits_come(e, s.index); !come) return come;
  Value all = answer(true);
  for (Index i = device.circuits.first; i < device.circuits.end(); ++i) {
    const Index c = e.model.device_circuits[i];
    if (e.model.circuits[c].kind != CircuitKind::other) all = both(e, all, Carrying(e, s, c).fits_motors());
  }
  return all;
}

Value switch_rating(Evaluation& e, Subject s) {
  return given(e, s, e.model.devices[s.index].rating, Unit::ampere, "rating", a_current, marking);
}

Value switch_rating_least(Evaluation& e, Subject s) {
  const Device& device = e.model.devices[s.index];
  if (!switches(device.kind)) return Evaluation::value(0);
  if (!device.rating.known()) return e.get_aside(Id::switch_rating, s);
  if (const Value come = circuits_come(e, s.index); !come) return come;
  Value largest = Evaluation::value(0);
  MissingId missing = 0;
  for (Index i = device.circuits.first; i < device.circuits.end(); ++i) {
    const Index c = e.model.device_circuits[i];
    if (e.model.circuits[c].kind == CircuitKind::other) continue;
    const Value one = Carrying(e, s, c).needed();
    missing = e.missing.both(missing, one.missing);
    if (one && one.count > largest.count) largest = one;
  }
  const bool too_small = largest.count > (*device.rating).count();
  return missing == 0 || too_small ? largest : Evaluation::lacks(missing);
}

}  // namespace raceward::figure::compute
