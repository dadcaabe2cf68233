#include "figure/machines.hpp"

#include <algorithm>
#include <map>
#include <utility>

#include "figure/ampacity_law.hpp"
#include "figure/circuit_use.hpp"
#include "figure/grounding_electrode.hpp"
#include "figure/logic.hpp"
#include "figure/root.hpp"
#include "figure/sorted.hpp"
#include "figure/supply.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

/// Equipment by circuit, side by side.
struct OnCircuits {
  bool ready = false;
  std::vector<Index> first, places;  // places[first[c]] to places[first[c + 1]]
  std::vector<const End*> of;        // beside places, by id
  std::vector<Index> loose;          // by id
  /// Circuits, and equipment that is plugged in where they are said to be on the receptacle.
  std::vector<std::pair<Index, Index>> perhaps;
  /// Boxes, and equipment that is plugged in there where the receptacle says no circuit; and circuits that
  /// stop in such a box.
  std::vector<std::pair<Index, Index>> in_box, boxes;

  void read(Evaluation& e) {
    ready = true;
    first.resize(e.model.circuits.size() + 1);
    for (const End& end : ends(e).all()) {
      if (takes_nothing(e, end.place)) continue;
      ++first[end.circuit + 1];
      of.push_back(&end);
    }
    for (std::size_t c = 1; c < first.size(); ++c) first[c] += first[c - 1];
    std::ranges::sort(of, {},
                      [&](const End* end) { return std::pair(end->circuit, e.model.places[end->place].id); });
    for (const End* const end : of) places.push_back(end->place);
    for (Index p = 0; p < e.model.places.size(); ++p) {
      if (is_loose(e, p)) loose.push_back(p);
      const Index device = receptacle_of(e.model, p);
      if (device == none) continue;
      const Device& at = e.model.devices[device];
      for (Index i = at.circuits.first; i < at.circuits.end(); ++i)
        if (ends(e).at(e.model.device_circuits[i], p) == nullptr)
          perhaps.emplace_back(e.model.device_circuits[i], p);
      if (at.circuits.count == 0 && at.box != none) in_box.emplace_back(at.box, p);
    }
    std::ranges::sort(loose, {}, [&](Index p) { return e.model.places[p].id; });
    sort_once(perhaps);
    sort_once(in_box);
    for (std::size_t i = 0; i < in_box.size(); ++i) {
      const Index box = in_box[i].first;
      if (i != 0 && in_box[i - 1].first == box) continue;
      for (const Visit& visit : e.in.routes.visits_at(box))
        if (visit.stop != none) boxes.emplace_back(e.model.runs[visit.run].circuit, box);
    }
    sort_once(boxes);
  }

 private:
  static void sort_once(std::vector<std::pair<Index, Index>>& pairs) {
    std::ranges::sort(pairs);
    pairs.erase(std::unique(pairs.begin(), pairs.end()), pairs.end());
  }
};

struct Groups {
  bool ready = false;
  std::vector<Group> of_row;
  const Table* table = nullptr;

  void read(const Law& law) {
    ready = true;
    table = law.table("protection-otherwise");
    if (table == nullptr) return;
    const std::uint32_t column = table->column("group");
    for (std::uint32_t row = 0; row < table->row_count(); ++row)
      of_row.push_back(spelt(table->text(row, column)));
  }

 private:
  static Group spelt(std::string_view word) {
    if (word.empty()) return Group::plain;
    if (word == "part") return Group::part;
    if (word == "motor") return Group::motor;
    if (word == "compressor") return Group::compressor;
    if (word == "arc-welder") return Group::arc_welder;
    if (word == "generator-welder") return Group::generator_welder;
    return word == "welder" ? Group::welder : Group::other;
  }
};

const OnCircuits& on_circuits(Evaluation& e) {
  auto& on = e.once<OnCircuits>();
  if (!on.ready) on.read(e);
  return on;
}

}  // namespace

Group group_of(Evaluation& e, Index place) {
  auto& groups = e.once<Groups>();
  if (!groups.ready) groups.read(e.law);
  const std::string_view kind = e.model.places[place].equipment_kind;
  if (groups.table == nullptr || kind.empty()) return Group::unknown;
  const std::uint32_t row = groups.table->find({kind});
  const Group group = row == Table::none ? Group::unknown : groups.of_row[row];
  if (machine_of(e, place).horsepower == Horsepower::unstated) return group;
  switch (group) {
    case Group::unknown:
    case Group::plain:
      return Group::motor;  // what has the rating of one
    case Group::welder:
      return Group::generator_welder;
    case Group::arc_welder:
      return Group::unknown;  // no motor is in it
    default:
      return group;
  }
}

bool takes_nothing(Evaluation& e, Index place) {
  const Maybe<Current>& load = e.model.places[place].rating;
  return (!load.known() || (*load).count() == 0) && group_of(e, place) == Group::part;
}

Value lacks_of(Evaluation& e, Index place, std::string_view attribute, std::string_view expects,
               std::string why) {
  return e.lacks(equipment_at(place), attribute, expects, marking, std::move(why),
                 e.model.places[place].source);
}

Value lacks_kind(Evaluation& e, Index place) {
  const std::string_view kind = e.model.places[place].equipment_kind;
  const Horsepower power = machine_of(e, place).horsepower;
  if (!kind.empty() && power != Horsepower::unstated) {
    return lacks_of(e, place, "kind", "a word for what it is",
                    fmt::format(FMT_COMPILE("it is said to have a motor of {} hp, and a {} has none"),
                                name_of(power), kind));
  }
  return lacks_of(
      e, place, "kind", "one of the words that docs/document.md lists, such as kiln",
      kind.empty()
          ? std::string()
          : fmt::format(FMT_COMPILE("whether rules of motors or welders hold for a kind called {} is not in "
                                    "the ruleset in force"),
                        kind));
}

namespace {

bool says_no_power(Evaluation& e, Index place) {
  const Place& at = e.model.places[place];
  return at.rating.known() && (*at.rating).count() == 0 && !at.power.known() &&
         group_of(e, place) == Group::plain;
}

}  // namespace

bool is_furniture(Evaluation& e, Index place) {
  const Place& at = e.model.places[place];
  const Parameter* const words = e.law.parameter("furniture");
  if (words == nullptr || at.kind != PlaceKind::equipment || !is_one_of(words->text, at.equipment_kind))
    return false;
  const Machine& machine = machine_of(e, place);
  const bool takes = (at.rating.known() && (*at.rating).count() != 0) || at.power.known() ||
                     at.voltage.known() || machine.horsepower != Horsepower::unstated ||
                     machine.minimum_ampacity.known() || machine.maximum_overcurrent.known() ||
                     machine.appliance == YesNo::yes || machine.overload != Overload::unstated ||
                     machine.service_factor.known() || machine.overload_setting.known() ||
                     machine.duty_cycle.known() || machine.effective_current.known() ||
                     at.continuous == YesNo::yes || machine.disconnect_in_sight != YesNo::unstated;
  return !takes && receptacle_of(e.model, place) == none && e.in.graph.at(place).empty();
}

Value takes_nothing(Evaluation& e) {
  e.used(e.law.parameter("furniture")->cite);
  return answer(false);
}

bool is_loose(Evaluation& e, Index place) {
  const Place& at = e.model.places[place];
  return at.kind == PlaceKind::equipment && receptacle_of(e.model, place) == none &&
         !says_no_power(e, place) && !is_furniture(e, place) && e.in.graph.at(place).empty() &&
         !takes_nothing(e, place) && !grounding::is_electrode(e, place);
}

Value lacks_receptacle_of(Evaluation& e, Index place) {
  return e.lacks(equipment_at(place), "plugged-into",
                 "the id of the receptacle, where it has a cord; else write the raceways to it", installer,
                 "nothing that is written leads to it", e.model.places[place].source);
}

namespace {

/// What is missing of all that nothing leads to, by the groups asked for and the voltages of circuits.
struct LooseAsked {
  struct Of {
    bool (*belongs)(Group) = nullptr;
    std::int64_t volts = 0, to_ground = 0;  // 0: not said
    MissingId missing = 0;
  };
  std::vector<Of> all;
};

/// The same of what is plugged in somewhere in a box where no circuit is said.
struct PluggedAsked {
  std::map<std::pair<Index, bool (*)(Group)>, MissingId> of;
};

/// What `lacks` tells of those of the groups, or that may be.
template <class Places, class Lacks>
MissingId lacks_each(Evaluation& e, const Places& places, bool (*belongs)(Group), Lacks lacks) {
  std::vector<MissingId> each;
  for (const Index place : places) {
    const Group group = group_of(e, place);
    if (group == Group::unknown || belongs(group)) each.push_back(lacks(place).missing);
  }
  return each.empty() ? 0 : e.missing.all(each);
}

Value lacks_circuit_plugged(Evaluation& e, Index place) {
  return circuits_come(e, receptacle_of(e.model, place));
}

MissingId may_be_in(Evaluation& e, Index box, bool (*belongs)(Group)) {
  const auto [found, fresh] = e.once<PluggedAsked>().of.try_emplace({box, belongs});
  if (!fresh) return found->second;
  std::vector<Index> places;
  for (const auto& [in, place] : equal_in(on_circuits(e).in_box, box, &std::pair<Index, Index>::first))
    places.push_back(place);
  return found->second =
             lacks_each(e, places, belongs, [&](Index place) { return lacks_circuit_plugged(e, place); });
}

MissingId loose_asked(Evaluation& e, Index circuit, bool (*belongs)(Group)) {
  const Circuit& c = e.model.circuits[circuit];
  const bool sure = c.voltage.known() && c.to_ground.known() && voltage_contradicted(e, circuit) == 0;
  const std::int64_t volts = sure ? (*c.voltage).count() : 0, to_ground = sure ? (*c.to_ground).count() : 0;
  for (const LooseAsked::Of& one : e.once<LooseAsked>().all)
    if (one.belongs == belongs && one.volts == volts && one.to_ground == to_ground) return one.missing;
  std::vector<Index> fitting;
  for (const Index place : on_circuits(e).loose) {
    const Maybe<Voltage>& made_for = e.model.places[place].voltage;
    // A cord of a plug for other voltages goes into no receptacle of these.
    if (!sure || !made_for.known() || voltage_fits(e, (*made_for).count(), volts) ||
        voltage_fits(e, (*made_for).count(), to_ground))
      fitting.push_back(place);
  }
  const MissingId missing =
      lacks_each(e, fitting, belongs, [&](Index place) { return lacks_receptacle_of(e, place); });
  e.once<LooseAsked>().all.push_back({belongs, volts, to_ground, missing});
  return missing;
}

}  // namespace

MissingId may_be_on(Evaluation& e, Index circuit, bool (*belongs)(Group)) {
  const OnCircuits& on = on_circuits(e);
  MissingId missing = 0;
  const OnCircuit& use = circuit_use(e).own(circuit);
  if (!on.loose.empty() && (use.receptacles != 0 || use.unplaced_receptacle != none))
    missing = loose_asked(e, circuit, belongs);
  std::vector<Index> said;
  for (const auto& [of, place] : equal_in(on.perhaps, circuit, &std::pair<Index, Index>::first))
    said.push_back(place);
  missing = e.missing.both(
      missing, lacks_each(e, said, belongs, [&](Index place) { return lacks_circuit_plugged(e, place); }));
  for (const auto& [of, box] : equal_in(on.boxes, circuit, &std::pair<Index, Index>::first))
    missing = e.missing.both(missing, may_be_in(e, box, belongs));
  return missing;
}

std::span<const Index> equipment_on(Evaluation& e, Index circuit) {
  const OnCircuits& on = on_circuits(e);
  return {on.places.data() + on.first[circuit], on.places.data() + on.first[circuit + 1]};
}

Value count_on(Evaluation& e, Index circuit, bool (*belongs)(Group), std::string_view called) {
  MissingId missing = may_be_on(e, circuit, belongs);
  std::int64_t count = 0;
  const OnCircuits& on = on_circuits(e);
  for (Index i = on.first[circuit]; i < on.first[circuit + 1]; ++i) {
    const Index place = on.places[i];
    const Group group = group_of(e, place);
    if (group == Group::unknown) missing = e.missing.both(missing, lacks_kind(e, place).missing);
    if (!belongs(group)) continue;
    ++count;
    e.note(FMT_COMPILE("it feeds {}, a {}"), e.model.places[place].id, e.model.places[place].equipment_kind);
    if (!on.of[i]->said) missing = e.missing.both(missing, lacks_end_of(e, circuit, on.of[i]->stop).missing);
    if (circuit_use(e).several_feed(place))
      missing = e.missing.both(missing, lacks_one_circuit(e, place).missing);
  }
  if (missing != 0) return Evaluation::lacks(missing);
  if (count != 0) e.note(FMT_COMPILE("{} on it: {}"), called, count);
  return Evaluation::value(number(count).count());
}

std::int64_t watts_of(Horsepower power) {
  constexpr std::int64_t watts_in_one = 746;  // not law: watts in a horsepower
  if (power == Horsepower::unstated) return 0;
  std::int64_t whole = 0, digits = 0, above = 0;
  for (const char c : name_of(power)) {  // "7-1/2"
    if (c == '-')
      whole = std::exchange(digits, 0);
    else if (c == '/')
      above = std::exchange(digits, 0);
    else
      digits = digits * 10 + (c - '0');  // not law: digits
  }
  if (above == 0) return (volts(digits * watts_in_one) * amperes(1)).count();
  return (volts((whole * digits + above) * watts_in_one) * amperes(1)).count() /
         std::max<std::int64_t>(1, digits);
}

std::int64_t volts_of(const Evaluation& e, Index circuit, Index place) {
  const Maybe<Voltage>& own = e.model.places[place].voltage;
  if (own.known()) return (*own).count();
  if (circuit == none || !e.model.circuits[circuit].voltage.known()) return 0;
  return (*e.model.circuits[circuit].voltage).count();
}

std::int64_t current_of(std::int64_t watts, std::int64_t volts, bool three_phases) {
  if (volts <= 0) return 0;
  const wide_int one_phase = wide_int{watts} * amperes(1).count() / volts;
  if (!three_phases) return detail::saturate(one_phase);
  return detail::saturate(one_phase * number(1).count() / root_of_three);
}

std::int64_t with_tolerance(const Evaluation& e, std::int64_t current) {
  const Parameter* const tolerance = e.law.parameter("practice-nameplate-tolerance", Dimension::none);
  return tolerance == nullptr ? Table::blank : current + share_of(tolerance->value.count, current);
}

Value load_stated(Evaluation& e, Index place) {
  const Place& equipment = e.model.places[place];
  if (!equipment.rating.known()) return lacks_of(e, place, "load", "a current such as 16A");
  const Value load = Evaluation::value((*equipment.rating).count());
  const Group group = group_of(e, place);
  if (load.count == 0 && group != Group::part && group != Group::plain)
    return lacks_of(e, place, "load", "a current such as 16A", "it is said to take nothing");
  const Horsepower motor = machine_of(e, place).horsepower;
  const Index circuit = circuit_use(e).feeding(place);
  const std::int64_t most = with_tolerance(e, load.count), volts = volts_of(e, circuit, place);
  if ((!equipment.power.known() && motor == Horsepower::unstated) || volts == 0 || most == Table::blank)
    return load;
  // Where phases are not told it may be three, which make less.
  bool three_phases = true;
  if (circuit != none) {
    const Value three = three_phases_at(e, circuit, place);
    three_phases = !three || three.count != 0;
  }
  if (equipment.power.known()) {
    const std::int64_t by_power = current_of((*equipment.power).count(), volts, three_phases);
    if (by_power > most) {
      return lacks_of(e, place, "load", "a current such as 16A",
                      fmt::format(FMT_COMPILE("it is said to be {}, and its power at its voltage makes {}"),
                                  amperes_shown(load.count), amperes_shown(by_power)));
    }
  }
  const std::int64_t by_motor = current_of(watts_of(motor), volts, three_phases);
  if (motor == Horsepower::unstated || by_motor <= most) return load;
  return lacks_of(
      e, place, "load", "a current such as 16A",
      fmt::format(FMT_COMPILE("it is said to be {}, and its motor of {} hp takes {} even without losses"),
                  amperes_shown(load.count), name_of(motor), amperes_shown(by_motor)));
}

Value load_for_conductors(Evaluation& e, Index place) {
  const Place& equipment = e.model.places[place];
  const Parameter* const factor = e.law.parameter("continuous-conductor-factor", Dimension::none);
  if (factor == nullptr) return e.lacks_law("continuous-conductor-factor");
  const Value load = load_stated(e, place);
  if (!load) return load;
  if (equipment.continuous == YesNo::unstated)
    return e.lacks(equipment_at(place), "continuous", "yes or no", designer, {}, equipment.source);
  return equipment.continuous == YesNo::yes ? Evaluation::value(share_of(factor->value.count, load.count))
                                            : load;
}

std::string amperes_shown(std::int64_t count) {
  constexpr std::int64_t step = 10'000;  // not law: 0.01 A
  return text_of({count / step * step, Unit::ampere});
}

Value next_standard(Evaluation& e, std::int64_t current, bool fuse) {
  const auto next = ampacity_law(e).standard(current, fuse);
  if (!next) return e.lacks_law("standard-rating");
  e.used(next->cite);
  return Evaluation::value(next->count, next->cite);
}

}  // namespace raceward::figure
