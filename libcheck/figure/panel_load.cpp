// Loads of panels.
//
// Method: what was calculated counts where it is stated, of the panel or of the circuit that feeds it. Else
// the loads of all circuits that begin at the panel, as volt-amperes: continuous ones and the largest motor
// with the law's part more, motors by the law's currents, welders by their duty cycle, receptacles by the
// law's load for each yoke with its demand; lighting by floor area, where that is stated and makes more than
// the luminaires take. What is not known of them is asked for only where it decides. Of
// a dwelling see dwelling_load.cpp.
#include <algorithm>

#include "figure/circuit_use.hpp"
#include "figure/devices_by_box.hpp"
#include "figure/dwelling_load.hpp"
#include "figure/facts.hpp"
#include "figure/first_by_id.hpp"
#include "figure/lighting_load.hpp"
#include "figure/machines.hpp"
#include "figure/root.hpp"
#include "figure/supply.hpp"
#include "figure/told.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

constexpr std::string_view a_load = "a current such as 60A";

/// What begins at each panel; gone through once.
struct Beginning {
  bool ready = false;
  std::vector<std::vector<Index>> circuits;  // by place
  std::vector<Index> idle;                   // by place: an overcurrent device without a circuit
  std::vector<std::uint8_t> three_poles;     // by place: one of its devices has three
  std::vector<std::uint32_t> yokes;          // by circuit: of its receptacles, at least
  std::vector<std::uint32_t> gathered;       // by circuit: receptacles of yokes with many
  std::vector<Index> uncounted;              // by circuit: one that does not say how many receptacles it has

  std::vector<std::uint8_t> lit;  // by circuit: a luminaire is on it
  std::vector<Index> loose;       // by place: a circuit there that comes from no overcurrent device

  void read(const Model& model, std::int64_t many) {
    ready = true;
    circuits.resize(model.places.size());
    idle.assign(model.places.size(), none);
    three_poles.resize(model.places.size());
    yokes.resize(model.circuits.size());
    gathered.resize(model.circuits.size());
    loose.assign(model.places.size(), none);
    uncounted.assign(model.circuits.size(), none);
    lit.resize(model.circuits.size());
    std::vector<std::uint8_t> used(model.overcurrent_devices.size());
    std::vector<std::pair<Index, std::string_view>> ties;  // whose handle another device shares
    for (Index c = 0; c < model.circuits.size(); ++c) {
      const Index device = model.circuits[c].overcurrent_device;
      if (device == none) {
        if (model.circuits[c].kind != CircuitKind::other) read_loose(model, c);
        continue;
      }
      const OvercurrentDevice& its = model.overcurrent_devices[device];
      used[device] = 1;
      if (!its.handle_tie.empty()) ties.emplace_back(its.panel, its.handle_tie);
      circuits[its.panel].push_back(c);
    }
    std::ranges::sort(ties);
    for (Index d = 0; d < used.size(); ++d) {
      const OvercurrentDevice& device = model.overcurrent_devices[d];
      if (device.poles == most_phases) three_poles[device.panel] = 1;
      const bool tied = std::ranges::binary_search(ties, std::pair{device.panel, device.handle_tie});
      if (used[d] == 0 && !tied) hold_first(model.overcurrent_devices, idle[device.panel], d);
    }
    for (Index d = 0; d < model.devices.size(); ++d) {
      const Device& device = model.devices[d];
      for (Index i = 0; device.kind == DeviceKind::luminaire && i < device.circuits.count; ++i)
        lit[model.device_circuits[device.circuits.first + i]] = 1;
      if (device.kind != DeviceKind::receptacle || device.circuits.count == 0) continue;
      const Index circuit = model.device_circuits[device.circuits.first];
      // Where nothing is said, one for each gang.
      const std::uint32_t its = std::max<std::uint32_t>(1, device.yokes != 0 ? device.yokes : device.gangs);
      if (its == 1 && device.receptacles == 0) hold_first(model.devices, uncounted[circuit], d);
      if (its == 1 && device.receptacles >= many) {  // not law: one
        gathered[circuit] += device.receptacles;
      } else {
        yokes[circuit] += its;
      }
    }
  }

 private:
  void read_loose(const Model& model, Index c) {
    const Range& runs = model.circuits[c].runs;
    for (Index r = runs.first; r < runs.end(); ++r) {
      const Range& stops = model.runs[r].stops;
      for (Index i = stops.first; i < stops.end(); ++i) {
        const Index place = model.stops[i].place;
        if (model.places[place].kind == PlaceKind::panel && model.places[place].fed_by != c)
          hold_first(model.circuits, loose[place], c);
      }
    }
  }
};

/// What the law adds.
struct LoadLaw {
  const Parameter *continuous = nullptr, *motor = nullptr, *yoke = nullptr, *full = nullptr, *rest = nullptr;
  const Parameter *each = nullptr, *many = nullptr;  // of a yoke with so many receptacles

  void read(const Law& law) {
    continuous = law.parameter("continuous-conductor-factor", Dimension::none);
    motor = law.parameter("motor-conductor-factor", Dimension::none);
    yoke = law.parameter("receptacle-load", Dimension::power);
    full = law.parameter("receptacle-load-full", Dimension::power);
    rest = law.parameter("receptacle-load-rest", Dimension::none);
    each = law.parameter("receptacle-load-each", Dimension::power);
    many = law.parameter("receptacle-load-many", Dimension::none);
  }
  [[nodiscard]] bool complete() const {
    return continuous != nullptr && motor != nullptr && yoke != nullptr && full != nullptr &&
           rest != nullptr && each != nullptr && many != nullptr;
  }
};

const Beginning& beginning(Evaluation& e) {
  auto& made = e.once<Beginning>();
  if (!made.ready) made.read(e.model, e.of_law<LoadLaw>().many->value.count / number(1).count());
  return made;
}

/// Those that begin in a panel.
ToldIndices told_circuits(Evaluation& e, Index panel) {
  return told_by_id(e, e.model.circuits, std::span<const Index>(beginning(e).circuits[panel]));
}

std::int64_t power_of(std::int64_t current, std::int64_t volts, bool three_phases) {
  const wide_int one_phase = wide_int{current} * volts / amperes(1).count();
  return detail::saturate(three_phases ? one_phase * root_of_three / number(1).count() : one_phase);
}

/// Volt-amperes of circuits, at least and at most.
struct Sum {
  std::int64_t least = 0, most = 0;  // without receptacles by the yoke
  std::int64_t yokes_least = 0;      // of receptacles by the yoke
  std::int64_t motor = 0;            // of the largest motor, at most
  std::int64_t motor_least = 0;      // at least
  MissingId missing = 0;             // of what is not counted
  MissingId open = 0;                // what would tell whether it is the least or the most
  std::int64_t largest = 0;          // current of a single circuit
  // Of circuits of luminaires alone, within these; of those that feed other things too.
  std::int64_t lamps_least = 0, lamps_most = 0, perhaps_lamps = 0;
  bool lamps_continuous = false, lamps_not = false;  // some are said to be, and not to be
  bool perhaps_continuous = false;                   // of what may be luminaires, some may be
};

/// Luminaires on a circuit: none, luminaires alone, or other things as well; perhaps, where nothing is said
/// to be on it, or of something not what it is.
enum class Lit : std::uint8_t { no, perhaps, alone, among_others };

Lit lit(Evaluation& e, Index c) {
  const auto on = equipment_on(e, c);
  const auto lamp = [&](Index place) { return luminaire_in(e, place); };
  const OnCircuit& own = circuit_use(e).own(c);
  if (beginning(e).lit[c] == 0 && std::ranges::none_of(on, lamp)) {
    const auto unknown = [&](Index place) { return group_of(e, place) == Group::unknown; };
    const bool nothing = on.empty() && own.receptacles == 0;
    return nothing || std::ranges::any_of(on, unknown) ? Lit::perhaps : Lit::no;
  }
  const bool others = own.receptacles != 0 || own.unplaced != none || !std::ranges::all_of(on, lamp);
  return others ? Lit::among_others : Lit::alone;
}

/// Of a dwelling the floor area tells the load of receptacles.
bool receptacles_by_yoke(const Evaluation& e, Index panel) {
  return e.model.occupancy != Occupancy::dwelling || e.model.places[panel].building == Building::other;
}

void add_circuit(Evaluation& e, Index c, const LoadLaw& law, bool by_yoke, Sum& sum) {
  const Circuit& circuit = e.model.circuits[c];
  const Subject s{SubjectKind::circuit, c};
  const auto lacks = [&](const Value& lack) { sum.missing = e.missing.both(sum.missing, lack.missing); };
  if (!circuit.load.known())
    lacks(e.lacks(s, "load", "the current that it is to carry", designer, {}, circuit.source));
  if (!circuit.voltage.known())
    lacks(e.lacks(s, "voltage", "a voltage such as 120V", designer, {}, circuit.source));
  if (const MissingId wrong = voltage_contradicted(e, c); wrong != 0) lacks(Evaluation::lacks(wrong));
  const OnCircuit& on = circuit_use(e).own(c);
  if (on.unplaced != none) lacks(lacks_circuit_of(e, on.unplaced));
  if (const MissingId perhaps = may_be_on(e, c); perhaps != 0) lacks(Evaluation::lacks(perhaps));
  if (const MissingId roles = roles_missing(e, circuit); roles != 0) lacks(Evaluation::lacks(roles));
  if (!circuit.load.known() || !circuit.voltage.known()) return;
  const std::int64_t volts = (*circuit.voltage).count();
  const std::uint32_t hots = ungrounded_at_source(e, c);
  if (circuit.parallel == 0 && hots > most_phases) {
    lacks(e.lacks(s, "parallel", "how many conductors of each phase are in parallel", designer, {},
                  circuit.source));
  }
  const bool three = hots / std::max<std::uint32_t>(1, circuit.parallel) == most_phases;
  const auto power = [&](std::int64_t current) { return power_of(current, volts, three); };
  std::int64_t motors = 0, motors_least = 0, motors_stated = 0, welders = 0, others = 0;
  std::vector<std::pair<Index, std::int64_t>> plugged;  // receptacles, and what takes power from each
  bool any_welder = false;
  for (const Index place : told_by_id(e, e.model.places, equipment_on(e, c))) {
    const Group group = group_of(e, place);
    const Maybe<Current>& load = e.model.places[place].rating;
    if (receptacle_of(e.model, place) != none && circuit_use(e).several_feed(place)) {
      lacks(lacks_one_circuit(e, place));
      continue;
    }
    if (const Index d = receptacle_of(e.model, place); d != none && load.known())
      plugged.emplace_back(d, power((*load).count()));
    if (is_motor(group)) {
      const MotorCurrent current = motor_current(e, c, place);
      if (!current.most) lacks(current.most);
      // Where its own voltage and that of its circuit tell two currents the larger one counts.
      const std::int64_t least = current.marked == 0 ? current.most.count : current.low();
      motors += current.high();
      motors_least += least;
      if (least != current.high())
        sum.open = e.missing.both(sum.open, lacks_motor_reading(e, place, current).missing);
      motors_stated += load.known() ? (*load).count() : current.most.count;
      sum.motor = std::max(sum.motor, power(current.high()));
      sum.motor_least = std::max(sum.motor_least, power(least));
    } else if (is_welder(group)) {
      any_welder = true;
    } else if (group == Group::unknown) {
      lacks(lacks_kind(e, place));
    } else if (load.known()) {
      others += (*load).count();
    } else {
      lacks(lacks_of(e, place, "load", "a current such as 16A"));
    }
  }
  if (any_welder) {
    const Value counted = e.get_aside(Id::welder_current_counted, s);
    if (!counted) lacks(counted);
    welders = counted.count;  // with what else is on the circuit
  }
  const std::int64_t stated = (*circuit.load).count();
  // The others: what the circuit is said to carry beside its motors, and no less than they say themselves.
  const std::int64_t beside =
      any_welder ? welders : std::max(others, std::max<std::int64_t>(0, stated - motors_stated));
  const std::int64_t all_yokes =
      by_yoke && !any_welder ? detail::saturate(wide_int{law.yoke->value.count} * beginning(e).yokes[c] +
                                                wide_int{law.each->value.count} * beginning(e).gathered[c])
                             : 0;
  // Of a receptacle with something written in it, the yoke or that counts, whichever is more.
  std::int64_t counted_twice = 0;
  std::ranges::sort(plugged);
  for (std::size_t i = 0; i < plugged.size();) {
    std::int64_t takes = 0;
    const std::size_t first = i;
    for (; i < plugged.size() && plugged[i].first == plugged[first].first; ++i) takes += plugged[i].second;
    counted_twice += std::min(takes, law.yoke->value.count);
  }
  const std::int64_t yokes = std::max<std::int64_t>(0, all_yokes - (all_yokes == 0 ? 0 : counted_twice));
  const std::int64_t rest = std::max(power(others), power(beside) - yokes);
  const std::int64_t all_more = share_of(law.continuous->value.count, rest) - rest;
  const std::int64_t part = std::min(power(on.continuous), rest);
  const std::int64_t part_more = any_welder ? 0 : share_of(law.continuous->value.count, part) - part;
  const bool whole = circuit.continuous == YesNo::yes && !any_welder;
  const bool told = any_welder || circuit.continuous == YesNo::yes ||
                    (circuit.continuous == YesNo::no && on.unknown == none);
  const std::int64_t least = rest + (whole ? all_more : part_more),
                     most = rest + (whole || !told ? all_more : part_more);
  sum.least += power(motors_least) + least;
  sum.most += power(motors) + most;
  const Lit lamps = lit(e, c);
  if (lamps == Lit::alone) {
    sum.lamps_least += least;
    sum.lamps_most += most;
  } else if (lamps != Lit::no) {
    sum.perhaps_lamps += least;
  }
  if (lamps == Lit::perhaps && circuit.continuous != YesNo::no) sum.perhaps_continuous = true;
  if (lamps == Lit::alone || lamps == Lit::among_others) {
    sum.lamps_continuous = sum.lamps_continuous || circuit.continuous != YesNo::no;
    sum.lamps_not = sum.lamps_not || circuit.continuous != YesNo::yes;
  }
  sum.yokes_least += yokes;
  sum.largest = std::max(sum.largest, motors_least + beside);
  if (!told) {
    const Value lack = circuit.continuous == YesNo::unstated
                           ? e.lacks(s, "continuous", "yes or no", designer, {}, circuit.source)
                           : e.lacks(equipment_at(on.unknown), "continuous", "yes or no", designer, {},
                                     e.model.places[on.unknown].source);
    sum.open = e.missing.both(sum.open, lack.missing);
  }
  if (by_yoke && beginning(e).uncounted[c] != none)
    lacks(lacks_receptacle_count(e, beginning(e).uncounted[c]));
}

/// Receptacles that are counted by the yoke: the first of them wholly, the rest by its demand.
std::int64_t demand_of(const LoadLaw& law, std::int64_t yokes) {
  const std::int64_t full = std::min(yokes, law.full->value.count);
  return full + share_of(law.rest->value.count, yokes - full);
}

/// Three phases, one, or not known.
YesNo three_phases(Evaluation& e, Index panel) {
  const Place& place = e.model.places[panel];
  if (beginning(e).three_poles[panel] != 0) return YesNo::yes;
  if (place.fed_by != none) {
    const std::uint32_t each = std::max<std::uint32_t>(1, e.model.circuits[place.fed_by].parallel);
    const std::uint32_t count = ungrounded_at_source(e, place.fed_by) / each;
    return count == most_phases ? YesNo::yes : count == 0 ? YesNo::unstated : YesNo::no;
  }
  for (const Index c : beginning(e).circuits[panel]) {
    const Circuit& circuit = e.model.circuits[c];
    const bool known = circuit.voltage.known() && circuit.to_ground.known() && place.voltage.known();
    if (!known) continue;
    const std::int64_t volts = (*place.voltage).count();
    const bool one_pole = e.model.overcurrent_devices[circuit.overcurrent_device].poles == 1;  // not law: one
    const bool two_wires = one_pole && (*circuit.voltage).count() == volts;
    if (two_wires || 2 * (*circuit.to_ground).count() == volts) return YesNo::no;  // not law: halves
  }
  return YesNo::unstated;
}

Value lacks_calculated(Evaluation& e, Subject s, std::string why) {
  return e.lacks(s, "calculated-load", a_load, designer, std::move(why));
}

/// The load that somebody calculated, without the working; missing where nobody did.
Value stated_load(Evaluation& e, Subject s, std::string why = {}) {
  const Place& panel = e.model.places[s.index];
  if (panel.calculated_load.known()) return Evaluation::value((*panel.calculated_load).count());
  if (panel.fed_by == none) return lacks_calculated(e, s, std::move(why));
  return e.get_aside(Id::circuit_load_counted, {SubjectKind::circuit, panel.fed_by});
}

/// Why the circuits of the document may not be all that the panel supplies.
std::string not_all(Evaluation& e, Subject s) {
  if (e.model.places[s.index].devices_complete != YesNo::yes)
    return "whether all of its overcurrent devices are in the document is not said";
  if (const Index c = beginning(e).loose[s.index]; c != none)
    return fmt::format(FMT_COMPILE("circuit {} of it comes from no overcurrent device"),
                       e.model.circuits[c].id);
  if (const Index idle = beginning(e).idle[s.index]; idle != none) {
    return fmt::format(FMT_COMPILE("no circuit of the document comes from overcurrent device {}"),
                       e.model.overcurrent_devices[idle].id);
  }
  if (e.model.occupancy == Occupancy::unstated)
    return "whether it is of a dwelling, whose floor area tells it, is not said";
  return {};
}

/// Premises whose general lighting counts by floor area at least, which the loads of circuits do not tell.
bool lit_by_area(Evaluation& e, Subject s) {
  const Parameter* const words = e.law.parameter("lighting-by-area");
  if (words == nullptr || !is_one_of(words->text, name_of(e.model.occupancy))) return false;
  const auto& circuits = beginning(e).circuits[s.index];
  const bool lights = std::ranges::any_of(circuits, [&](Index c) {
    const Lit lamps = lit(e, c);
    return lamps == Lit::alone || lamps == Lit::among_others;
  });
  if (lights) e.used(words->cite);
  return lights;
}

/// What lighting by floor area adds to the loads of the circuits, at least and at most.
struct Added {
  std::int64_t least = 0, most = 0;
};

Added lighting_adds(const AreaLoad& area, const Sum& sum) {
  if (!area.known) return {};
  const std::int64_t more = share_of(area.factor->value.count, area.lighting);
  // Where no luminaire is on a circuit, whether lighting is continuous is not known.
  const bool all = sum.lamps_continuous && !sum.lamps_not,
             none_is = sum.lamps_not && !sum.lamps_continuous && !sum.perhaps_continuous;
  const std::int64_t least = all ? more : area.lighting, most = none_is ? area.lighting : more;
  return {std::max<std::int64_t>(0, least - sum.lamps_least - sum.perhaps_lamps),
          std::max<std::int64_t>(0, most - sum.lamps_most)};
}

/// Of all of a dwelling, where floor area and kinds of circuits tell it.
Value load_of_dwelling(Evaluation& e, Subject s, const Value& limit) {
  const Place& panel = e.model.places[s.index];
  if (panel.floor_use != FloorUse::unstated) {
    return e.lacks(s, "floor-use", "nothing: of a dwelling its floor area tells the load", designer,
                   fmt::format(FMT_COMPILE("it is said to be {}, and the installation a dwelling"),
                               name_of(panel.floor_use)),
                   panel.source);
  }
  const std::string why = not_all(e, s);
  if (!why.empty()) return lacks_calculated(e, s, why);
  if (panel.floor_square_feet == 0) {
    const Value load = lacks_calculated(
        e, s, "of a dwelling floor area and kinds of circuits tell it, not the loads of circuits");
    const Value area =
        e.lacks(s, "floor-square-feet", "a whole number, where no calculated-load is given", designer);
    return Evaluation::lacks(e.missing.both(load.missing, area.missing));
  }
  if (panel.building == Building::unstated)
    return e.lacks(s, "building", "same, other or dwelling", installer,
                   "of a dwelling floor area tells the load, and not of another building beside it");
  const YesNo three = three_phases(e, s.index);
  if (three == YesNo::yes)
    return lacks_calculated(e, s, "three phases supply it, and loads of dwellings are known here of one");
  const Value load = dwelling_load(e, s, told_circuits(e, s.index), limit);
  if (load && limit && load.count > limit.count && three == YesNo::unstated)
    return lacks_calculated(e, s, "whether one phase or three supply it is not said, and decides");
  return load;
}

}  // namespace

Value panel_load_limit(Evaluation& e, Subject s) {
  const Place& panel = e.model.places[s.index];
  Value least = e.get(Id::panel_rating, s);
  const auto and_also = [&](const Value& one) {
    const MissingId missing = e.missing.both(least.missing, one.missing);
    if (missing != 0)
      least = Evaluation::lacks(missing);
    else if (one.count < least.count)
      least = one;
  };
  and_also(given(e, s, panel.main, Unit::ampere, "main", "a current such as 100A", marking));
  if (panel.fed_by != none) {
    const Value feeder = device_rating_of(e, panel.fed_by);
    if (feeder && e.noting())
      e.note(FMT_COMPILE("the overcurrent device of what feeds it: {}"), amperes_shown(feeder.count));
    and_also(feeder);
  }
  return least;
}

Value panel_load(Evaluation& e, Subject s) {
  const LoadLaw& law = e.of_law<LoadLaw>();
  if (!law.complete()) return e.lacks_law("receptacle-load");
  const Place& panel = e.model.places[s.index];
  const Value limit = e.get_aside(Id::panel_load_limit, s);
  const Value stated = stated_load(e, s);
  Sum sum;
  const bool by_yoke = receptacles_by_yoke(e, s.index);
  for (const Index c : told_circuits(e, s.index)) add_circuit(e, c, law, by_yoke, sum);
  if (panel.calculated_load.known() || stated) {
    if (!stated) return stated;
    if (stated.count < sum.largest) {
      return lacks_calculated(
          e, s,
          fmt::format(FMT_COMPILE("it is said to be {}, and one of its circuits takes {}"),
                      amperes_shown(stated.count), amperes_shown(sum.largest)));
    }
    if (e.noting() && panel.calculated_load.known())
      e.note(FMT_COMPILE("stated: its calculated load is {}"), amperes_shown(stated.count));
    else if (e.noting())
      e.note(FMT_COMPILE("the load of circuit {}, which feeds it: {}"), e.model.circuits[panel.fed_by].id,
             amperes_shown(stated.count));
    return stated;
  }
  if (!panel.voltage.known()) return e.lacks(s, "voltage", "a voltage such as 240V", marking);
  if (!by_yoke && panel.fed_by == none) return load_of_dwelling(e, s, limit);
  const YesNo three = three_phases(e, s.index);
  const auto more_of = [&](std::int64_t motor) { return share_of(law.motor->value.count, motor) - motor; };
  const bool has_area = by_yoke && panel.fed_by == none && e.model.occupancy != Occupancy::dwelling &&
                        (panel.floor_square_feet != 0 || panel.floor_use != FloorUse::unstated);
  const AreaLoad area = has_area ? load_by_area(e, s) : AreaLoad{};
  const Added lighting = lighting_adds(area, sum);
  const std::int64_t yokes = demand_of(law, std::max(sum.yokes_least, area.receptacles)),
                     volts = (*panel.voltage).count();
  sum.least += lighting.least;
  sum.most += lighting.most;
  const std::int64_t least =
                         current_of(sum.least + yokes + more_of(sum.motor_least), volts, three != YesNo::no),
                     most = current_of(sum.most + yokes + more_of(sum.motor), volts, three == YesNo::yes);
  const auto working = [&](std::int64_t count, std::int64_t power, bool phases) {
    const std::int64_t more = more_of(power == sum.least ? sum.motor_least : sum.motor);
    if (e.noting() && sum.yokes_least != 0) {
      e.note(FMT_COMPILE("receptacles: {} for each yoke, {}; with the demand of what is above {}: {} ({})"),
             law.yoke->text, text_of({sum.yokes_least, Unit::volt_ampere}), law.full->text,
             text_of({yokes, Unit::volt_ampere}), e.cited(law.full->cite));
    }
    if (e.noting() && sum.motor != 0)
      e.note(FMT_COMPILE("the largest motor adds {} ({})"), text_of({more, Unit::volt_ampere}),
             e.cited(law.motor->cite));
    const std::int64_t added = power == sum.least ? lighting.least : lighting.most;
    if (e.noting() && added != 0) {
      e.note(FMT_COMPILE("lighting by floor area is more than its circuits of luminaires by {}"),
             text_of({added, Unit::volt_ampere}));
    }
    if (e.noting()) {
      e.note(FMT_COMPILE("its {} circuits together: {}; at {}, {}: {}"),
             beginning(e).circuits[s.index].size(), text_of({power + yokes + more, Unit::volt_ampere}),
             text_of(show(*panel.voltage, Unit::volt)), phases ? "three phases" : "one phase",
             amperes_shown(count));
    }
    e.used(law.continuous->cite);
    e.used(law.yoke->cite);
    return Evaluation::value(count, law.yoke->cite);
  };
  const bool perhaps_dwelling = e.model.occupancy == Occupancy::unstated && panel.building != Building::other;
  if (limit && least > limit.count && by_yoke && perhaps_dwelling) {
    return e.lacks({SubjectKind::installation, 0}, "occupancy", "a word such as dwelling", designer,
                   "of a dwelling floor area and the kinds of its circuits tell the load", e.model.source);
  }
  if (limit && least > limit.count && by_yoke) return working(least, sum.least, three != YesNo::no);
  if (panel.fed_by != none) return stated;  // whoever planned its feeder has calculated it
  const std::string why = not_all(e, s);
  if (!why.empty()) return stated_load(e, s, why);
  if (sum.missing != 0) return Evaluation::lacks(sum.missing);
  if (!area.known && (has_area || lit_by_area(e, s))) {
    const bool no_row = panel.floor_square_feet != 0 && panel.floor_use != FloorUse::unstated;
    const std::string by_area =
        no_row ? fmt::format(FMT_COMPILE("the ruleset in force gives no lighting by floor area for {}, or "
                                         "one with a demand of its own"),
                             name_of(panel.floor_use))
               : "lighting of such premises counts by their floor area at least, which the loads of circuits "
                 "do not tell";
    const MissingId load = lacks_calculated(e, s, by_area).missing;
    return Evaluation::lacks(e.missing.both(load, load_by_area(e, s).missing));
  }
  if (!limit || most <= limit.count) return working(most, sum.most, three == YesNo::yes);
  if (sum.open != 0) return Evaluation::lacks(sum.open);
  if (lighting.least != lighting.most && three != YesNo::unstated) {
    return lacks_calculated(
        e, s,
        "how much of the load of its circuits is lighting, or whether that is continuous, is not said, and "
        "decides beside the lighting by floor area");
  }
  return lacks_calculated(e, s, "whether one phase or three supply it is not said, and decides");
}

}  // namespace raceward::figure::compute
