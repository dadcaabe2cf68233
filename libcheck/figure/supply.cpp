#include "figure/supply.hpp"

#include <algorithm>
#include <optional>

#include "figure/facts.hpp"
#include "figure/logic.hpp"
#include "figure/machines.hpp"
#include "figure/root.hpp"
#include "figure/run_contents.hpp"
#include "figure/sorted.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

bool passes(const Stop& stop) {
  return stop.ungrounded == StopTreatment::through || stop.ungrounded == StopTreatment::looped;
}

bool grounds(const Conductor& conductor) {
  const Role role = conductor.role;
  return role == Role::equipment_grounding || role == Role::bonding || role == Role::electrode ||
         role == Role::spare;
}

/// Of the circuit's conductors those for grounding only.
bool only_grounds(const Model& model, const Run& run) {
  for (Index i = run.conductors.first; i < run.conductors.end(); ++i)
    if (!grounds(model.conductors[model.run_conductors[i]])) return false;
  return run.conductors.count < model.circuits[run.circuit].conductors.count;
}

/// Conductors of a circuit that are together somewhere.
struct Counted {
  std::uint32_t hot = 0, open = 0;  ///< ungrounded; not said
  bool grounded = false;
  bool side_by_side = false;  ///< all of them, in a panel or in one run
  std::vector<Index> unsaid;  ///< those whose role is not said

  [[nodiscard]] std::uint32_t most() const { return hot + open; }
};

Counted count(const Model& model, std::vector<Index>& conductors, bool switched) {
  std::ranges::sort(conductors);
  conductors.erase(std::unique(conductors.begin(), conductors.end()), conductors.end());
  Counted out;
  for (const Index i : conductors) {
    const Conductor& conductor = model.conductors[i];
    out.grounded = out.grounded || conductor.role == Role::grounded;
    if (conductor.role == Role::ungrounded || (switched && conductor.role == Role::switched))
      out.hot += conductor.count;
    if (conductor.role != Role::unstated || model.conductor_kinds[conductor.kind].cable) continue;
    out.open += conductor.count;
    out.unsaid.push_back(i);
  }
  return out;
}

void add(const Model& model, const Run& run, std::vector<Index>& conductors) {
  const auto first = model.run_conductors.begin() + run.conductors.first;
  conductors.insert(conductors.end(), first, first + run.conductors.count);
}

/// Where circuits begin: in their panels, or where no run goes there, anywhere. Found as they are asked for.
struct Sources {
  std::vector<Counted> of;
  std::vector<std::uint8_t> known;

  const Counted& read(const Model& model, Index index) {
    of.resize(model.circuits.size());
    known.resize(model.circuits.size());
    if (known[index] != 0) return of[index];
    known[index] = 1;
    const Circuit& circuit = model.circuits[index];
    const Index device = circuit.overcurrent_device;
    const Index panel = device == none ? none : model.overcurrent_devices[device].panel;
    std::vector<Index> conductors;
    for (Index r = circuit.runs.first; r < circuit.runs.end() && panel != none; ++r) {
      const Range& stops = model.runs[r].stops;
      const auto first = model.stops.begin() + stops.first;
      const bool there =
          std::any_of(first, first + stops.count, [&](const Stop& s) { return s.place == panel; });
      if (there) add(model, model.runs[r], conductors);
    }
    of[index] = count(model, conductors, false);
    of[index].side_by_side = true;
    if (of[index].most() != 0) return of[index];
    conductors.clear();
    for (Index c = circuit.conductors.first; c < circuit.conductors.end(); ++c) conductors.push_back(c);
    of[index] = count(model, conductors, false);
    for (Index r = circuit.runs.first; r < circuit.runs.end() && !of[index].side_by_side; ++r) {
      conductors.clear();
      add(model, model.runs[r], conductors);
      of[index].side_by_side = count(model, conductors, false).most() == of[index].most();
    }
    return of[index];
  }
};

const Counted& source(Evaluation& e, Index circuit) { return e.once<Sources>().read(e.model, circuit); }

Counted there(Evaluation& e, Index circuit, Index place) {
  std::vector<Index> conductors;
  if (const End* const end = ends(e).at(circuit, place)) {
    for (const Index run : ends(e).runs(*end)) add(e.model, e.model.runs[run], conductors);
    return count(e.model, conductors, true);
  }
  const Circuit& c = e.model.circuits[circuit];
  for (Index i = c.conductors.first; i < c.conductors.end(); ++i) conductors.push_back(i);
  return count(e.model, conductors, false);
}

/// Of all of them, or that there are ungrounded ones.
Value lacks_role(Evaluation& e, Index circuit, std::span<const Index> unsaid, const std::string& why) {
  if (unsaid.empty()) {
    return e.lacks({SubjectKind::circuit, circuit}, "conductor", "its ungrounded conductors", designer, why,
                   e.model.circuits[circuit].source);
  }
  std::vector<MissingId> each;
  for (const Index conductor : unsaid) {
    each.push_back(e.lacks({SubjectKind::conductor, conductor}, "role",
                           "what the conductor is for, such as ungrounded", designer, why,
                           e.model.conductors[conductor].source)
                       .missing);
  }
  return Evaluation::lacks(e.missing.all(each));
}

Value lacks_volts(Evaluation& e, Index circuit, std::string_view attribute, std::string why = {}) {
  return e.lacks({SubjectKind::circuit, circuit}, attribute, "a voltage such as 120V", designer,
                 std::move(why), e.model.circuits[circuit].source);
}

/// Ungrounded conductors that reach the place, at least and at most: there are no more of them there than
/// begin at the panel.
struct Sets {
  std::uint32_t least = 0, most = 0;
  std::vector<Index> unsaid;
};

Sets sets_at(Evaluation& e, Index circuit, Index place) {
  const Counted at = there(e, circuit, place);
  const Counted& from = source(e, circuit);
  const std::uint32_t each = std::max<std::uint32_t>(1, e.model.circuits[circuit].parallel);
  return {std::min(at.hot, from.hot) / each, std::min(at.most(), from.most()) / each,
          at.unsaid.empty() ? from.unsaid : at.unsaid};
}

/// Between one ungrounded conductor and a grounded one.
Value voltage_to_ground(Evaluation& e, Index circuit) {
  const Circuit& c = e.model.circuits[circuit];
  const Counted& from = source(e, circuit);
  const bool alone = from.hot == 1 && from.open == 0;  // not law: one
  if (!c.to_ground.known()) {
    if (alone && c.voltage.known()) return Evaluation::value((*c.voltage).count());
    return lacks_volts(e, circuit, "voltage-to-ground");
  }
  if (alone && c.voltage.known() && *c.voltage != *c.to_ground) {
    return lacks_volts(
        e, circuit, "voltage",
        fmt::format(FMT_COMPILE("it has one ungrounded conductor and a grounded one, {} between "
                                "them, and is said to be of {}"),
                    text_of(show(*c.to_ground, Unit::volt)), text_of(show(*c.voltage, Unit::volt))));
  }
  return Evaluation::value((*c.to_ground).count());
}

/// Whether so many, three or more, make three phases.
Value of_three(Evaluation& e, Index circuit, std::uint32_t least, std::uint32_t most) {
  const Circuit& c = e.model.circuits[circuit];
  if (most > most_phases) {
    return e.lacks(
        {SubjectKind::circuit, circuit}, "parallel", "how many conductors of each phase are in parallel",
        designer, fmt::format(FMT_COMPILE("{} ungrounded conductors make neither one phase nor three"), most),
        c.source);
  }
  const std::uint32_t poles = poles_of(e.model, circuit);
  if (poles == 0 || poles >= most_phases) return answer(true);
  const OvercurrentDevice& device = e.model.overcurrent_devices[c.overcurrent_device];
  return e.lacks({SubjectKind::overcurrent_device, c.overcurrent_device}, "poles", "1, 2 or 3", marking,
                 fmt::format(FMT_COMPILE("it has {}, and {} ungrounded conductors begin at it"),
                             poles == 1 ? "one pole" : "two poles", least),
                 device.source);
}

}  // namespace

bool is_high_leg(Evaluation& e, std::int64_t made_for, std::int64_t volts, std::int64_t to_ground) {
  const Table* const t = e.law.table("high-leg");
  for (std::uint32_t row = 0; t != nullptr && row < t->row_count(); ++row) {
    const auto at = [&](std::string_view column) {
      return t->count(row, t->column(column, Dimension::voltage));
    };
    if (volts < at("from") || volts > at("to") || to_ground < at("to-ground-from") ||
        to_ground > at("to-ground-to") || !voltage_fits(e, made_for, at("others")))
      continue;
    e.used(t->cite(row));
    return true;
  }
  return false;
}

bool is_on(const Model& model, const Device& device, Index circuit) {
  const auto first = model.device_circuits.begin() + device.circuits.first;
  return std::find(first, first + device.circuits.count, circuit) != first + device.circuits.count;
}

namespace {

struct Plugged {
  bool ready = false;
  std::vector<Index> devices, places;  // side by side, by device and id
};

}  // namespace

std::span<const Index> plugged_into(Evaluation& e, Index device) {
  auto& all = e.once<Plugged>();
  if (!all.ready) {
    all.ready = true;
    for (Index p = 0; p < e.model.places.size(); ++p)
      if (receptacle_of(e.model, p) != none) all.places.push_back(p);
    std::ranges::sort(all.places, {},
                      [&](Index p) { return std::pair(receptacle_of(e.model, p), e.model.places[p].id); });
    for (const Index p : all.places) all.devices.push_back(receptacle_of(e.model, p));
  }
  const auto first = std::ranges::lower_bound(all.devices, device) - all.devices.begin();
  const auto end = std::ranges::upper_bound(all.devices, device) - all.devices.begin();
  return {all.places.data() + first, all.places.data() + end};
}

std::uint32_t poles_of(const Model& model, Index circuit) {
  const Index index = model.circuits[circuit].overcurrent_device;
  if (index == none) return 0;
  const OvercurrentDevice& device = model.overcurrent_devices[index];
  return device.fuse || !device.handle_tie.empty() ? 0 : device.poles;
}

void Ends::read(const Model& model) {
  ready = true;
  struct Found {
    Index circuit, place, stop, run;
    bool passes, said;
  };
  std::vector<Found> found;
  for (Index r = 0; r < model.runs.size(); ++r) {
    const Run& run = model.runs[r];
    if (model.circuits[run.circuit].kind == CircuitKind::other || only_grounds(model, run)) continue;
    for (Index i = run.stops.first; i < run.stops.end(); ++i) {
      const Stop& stop = model.stops[i];
      if (model.places[stop.place].kind != PlaceKind::equipment) continue;
      const bool inside = i != run.stops.first && i + 1 != run.stops.end();
      if (inside && passes(stop)) continue;
      const bool said = !passes(stop) && stop.ungrounded != StopTreatment::unstated;
      found.push_back({run.circuit, stop.place, i, r, passes(stop), said});
    }
  }
  // What is plugged in ends the circuits of its receptacle, where these come to its box.
  using At = std::pair<Index, Index>;         // a box and a circuit
  std::vector<std::pair<At, Index>> plugged;  // and equipment that is plugged in there
  for (Index p = 0; p < model.places.size(); ++p) {
    const Index device = receptacle_of(model, p);
    if (device == none) continue;
    const Device& at = model.devices[device];
    for (Index i = at.circuits.first; i < at.circuits.end(); ++i)
      plugged.emplace_back(At{at.box, model.device_circuits[i]}, p);
  }
  std::ranges::sort(plugged);
  plugged.erase(std::unique(plugged.begin(), plugged.end()), plugged.end());
  for (Index r = 0; r < model.runs.size() && !plugged.empty(); ++r) {
    const Run& run = model.runs[r];
    if (model.circuits[run.circuit].kind == CircuitKind::other || only_grounds(model, run)) continue;
    for (Index i = run.stops.first; i < run.stops.end(); ++i)
      for (const auto& [at, p] :
           equal_in(plugged, At{model.stops[i].place, run.circuit}, &std::pair<At, Index>::first))
        found.push_back({run.circuit, p, i, r, false, true});
  }
  const auto key = [](const Found& f) { return std::pair{f.circuit, f.place}; };
  std::ranges::stable_sort(found, {}, key);
  first_.assign(model.circuits.size() + 1, 0);
  for (std::size_t i = 0; i < found.size();) {
    std::size_t next = i;
    End end{found[i].circuit, found[i].place, found[i].stop, false, 0, 0};
    end.first = static_cast<std::uint32_t>(runs_.size());
    bool all_pass = true;
    for (; next < found.size() && key(found[next]) == key(found[i]); ++next) {
      const Found& f = found[next];
      runs_.push_back(f.run);
      all_pass = all_pass && f.passes;
      if (f.said && !end.said) end.stop = f.stop;
      end.said = end.said || f.said;
    }
    end.count = static_cast<std::uint32_t>(next - i);
    i = next;
    // Where one run passes to another one it goes on; where there is none, it cannot.
    if (all_pass && end.count > 1) continue;
    ends_.push_back(end);
    ++first_[end.circuit + 1];
  }
  for (std::size_t c = 1; c < first_.size(); ++c) first_[c] += first_[c - 1];
}

const End* Ends::at(Index circuit, Index place) const {
  const auto of_circuit = of(circuit);
  const auto found = std::ranges::lower_bound(of_circuit, place, {}, &End::place);
  return found == of_circuit.end() || found->place != place ? nullptr : &*found;
}

const Ends& ends(Evaluation& e) {
  auto& all = e.once<Ends>();
  if (!all.ready) all.read(e.model);
  return all;
}

std::uint32_t ungrounded_at_source(Evaluation& e, Index circuit) { return source(e, circuit).hot; }

Value ungrounded_at(Evaluation& e, Index circuit, Index place) {
  const Sets sets = sets_at(e, circuit, place);
  if (sets.least == sets.most && sets.most != 0) return Evaluation::value(sets.least);
  return lacks_role(e, circuit, sets.unsaid,
                    "how many ungrounded conductors there are cannot be told without it");
}

Value three_phases_of(Evaluation& e, Index circuit) {
  const Circuit& c = e.model.circuits[circuit];
  const Counted& from = source(e, circuit);
  const std::uint32_t each = std::max<std::uint32_t>(1, c.parallel);
  if (from.hot != 0 && from.most() / each < most_phases) return answer(false);
  if (from.hot / each < most_phases) {
    return lacks_role(e, circuit, from.unsaid,
                      "whether the circuit is of one phase or three cannot be told without it");
  }
  if (!from.side_by_side) {
    // Some may lead on where others end: then there are fewer phases than conductors.
    const bool begins = c.overcurrent_device != none;
    return e.lacks({SubjectKind::circuit, circuit}, begins ? "run" : "protected-by",
                   begins ? "runs that begin at its panel" : "the id of an overcurrent device", designer,
                   "how many of its ungrounded conductors begin side by side cannot be told without it",
                   c.source);
  }
  return of_three(e, circuit, from.hot / each, from.most() / each);
}

Value three_phases_at(Evaluation& e, Index circuit, Index place) {
  const Circuit& c = e.model.circuits[circuit];
  const Maybe<Voltage>& made_for = e.model.places[place].voltage;
  if (made_for.known() && c.voltage.known() && c.to_ground.known() && there(e, circuit, place).grounded &&
      !voltage_fits(e, (*made_for).count(), (*c.voltage).count()) &&
      voltage_fits(e, (*made_for).count(), (*c.to_ground).count()))
    return answer(false);  // between one of them and the grounded conductor
  const Sets sets = sets_at(e, circuit, place);
  if (sets.most != 0 && sets.most < most_phases) return answer(false);
  if (sets.least < most_phases) {
    return lacks_role(e, circuit, sets.unsaid,
                      "whether the circuit is of one phase or three cannot be told without it");
  }
  return of_three(e, circuit, sets.least, sets.most);
}

bool voltage_fits(Evaluation& e, std::int64_t made_for, std::int64_t volts, bool used) {
  if (made_for == volts) return true;
  const Table* const t = e.law.table("equipment-voltage");
  for (std::uint32_t row = 0; t != nullptr && row < t->row_count(); ++row) {
    const auto at = [&](std::string_view column) {
      return t->count(row, t->column(column, Dimension::voltage));
    };
    if (volts < at("from") || volts > at("to") || made_for < at("made-from") || made_for > at("made-to"))
      continue;
    if (used) e.used(t->cite(row));
    return true;
  }
  return false;
}

namespace {

/// Whether two voltages are names of the same one.
bool same_nominal(Evaluation& e, std::int64_t a, std::int64_t b) {
  if (a == b) return true;
  const Table* const t = e.law.table("equipment-voltage");
  for (std::uint32_t row = 0; t != nullptr && row < t->row_count(); ++row) {
    const std::int64_t from = t->count(row, t->column("from", Dimension::voltage)),
                       to = t->count(row, t->column("to", Dimension::voltage));
    if (std::min(a, b) >= from && std::max(a, b) <= to) return true;
  }
  return false;
}

/// Whether a system may have so many volts between its conductors, and so many between one and a grounded
/// one: all of them, half, or by the root of three; or those of a high leg. What the law names no voltages of
/// may.
bool may_be_to_ground(Evaluation& e, std::int64_t between, std::int64_t to_ground) {
  if (same_nominal(e, between, to_ground)) return true;
  const Table* const t = e.law.table("equipment-voltage");
  if (t == nullptr) return true;
  const auto named = [&](std::int64_t volts) -> std::pair<std::int64_t, std::int64_t> {
    for (std::uint32_t row = 0; row < t->row_count(); ++row) {
      const std::int64_t from = t->count(row, t->column("from", Dimension::voltage)),
                         to = t->count(row, t->column("to", Dimension::voltage));
      if (volts >= from && volts <= to) return {from, to};
    }
    return {0, 0};
  };
  const auto lines = named(between), ground = named(to_ground);
  if (lines.second == 0 || ground.second == 0) return true;
  const auto meet = [&](std::int64_t times) {
    const auto scaled = [&](std::int64_t volts) {
      return detail::saturate(wide_int{volts} * times / number(1).count());
    };
    return scaled(ground.first) <= with_tolerance(e, lines.second) &&
           with_tolerance(e, scaled(ground.second)) >= lines.first;
  };
  if (meet(number(2).count()) || meet(root_of_three)) return true;  // not law: halves
  const Table* const legs = e.law.table("high-leg");
  for (std::uint32_t row = 0; legs != nullptr && row < legs->row_count(); ++row) {
    const auto at = [&](std::string_view column) {
      return legs->count(row, legs->column(column, Dimension::voltage));
    };
    if (between >= at("from") && between <= at("to") && to_ground >= at("to-ground-from") &&
        to_ground <= at("to-ground-to"))
      return true;
  }
  return false;
}

/// What is contradicted where its conductors have another voltage than is said. REQUIRES: its voltage is
/// said, and its overcurrent device.
MissingId by_conductors(Evaluation& e, Index circuit) {
  const Circuit& c = e.model.circuits[circuit];
  const Counted& from = source(e, circuit);
  const std::uint32_t each = std::max<std::uint32_t>(1, c.parallel);
  if (from.open != 0 || from.hot == 0 || !from.side_by_side || roles_missing(e, c) != 0) return 0;
  for (Index r = c.runs.first; r < c.runs.end(); ++r)
    if (cables_missing(e, e.model.runs[r]) != 0) return 0;
  const auto first = e.model.conductors.begin() + c.conductors.first;
  const bool grounded = std::any_of(first, first + c.conductors.count,
                                    [](const Conductor& one) { return one.role == Role::grounded; });
  const Place& panel = e.model.places[e.model.overcurrent_devices[c.overcurrent_device].panel];
  const std::int64_t volts = (*c.voltage).count();
  const Subject s{SubjectKind::circuit, circuit};
  const auto both = [&](std::string_view other, std::string_view expects, std::string why) {
    const Value a = e.lacks(s, "voltage", "a voltage such as 120V", designer, why, c.source),
                b = e.lacks(s, other, expects, designer, std::move(why), c.source);
    return e.missing.both(a.missing, b.missing);
  };
  if (from.hot == 1 && each == 1 && grounded && c.to_ground.known() && volts > (*c.to_ground).count()) {
    return both("conductor", "its ungrounded conductors, each with its role",
                fmt::format(FMT_COMPILE("it is said to be {}, and one ungrounded conductor beside a grounded "
                                        "one has that to ground, {}"),
                            text_of(show(*c.voltage, Unit::volt)), text_of(show(*c.to_ground, Unit::volt))));
  }
  // Beside a grounded conductor, or of more than two, the voltage to ground may be what is said.
  const bool two = from.hot == 2 * each && !grounded;  // not law: two of them
  const bool more =
      from.hot >= 2 * each && c.to_ground.known() && !same_nominal(e, volts, (*c.to_ground).count());
  const bool between = panel.voltage.known() && (two || more);
  if (between && volts < (*panel.voltage).count() && !same_nominal(e, volts, (*panel.voltage).count())) {
    return both("conductor", "its conductors, each with its role",
                fmt::format(FMT_COMPILE("it is said to be {}, and between ungrounded conductors is that of "
                                        "panel {}, {}"),
                            text_of(show(*c.voltage, Unit::volt)), panel.id,
                            text_of(show(*panel.voltage, Unit::volt))));
  }
  return 0;
}

/// Whether one ungrounded conductor and a grounded one begin in its panel, and nothing else that may be one.
bool one_beside_grounded(Evaluation& e, Index circuit) {
  const Circuit& c = e.model.circuits[circuit];
  const Counted& from = source(e, circuit);
  return from.hot == std::max<std::uint32_t>(1, c.parallel) && from.open == 0 && from.grounded &&
         roles_missing(e, c) == 0;
}

/// What is contradicted where a circuit has more volts than the panel where it begins, or one ungrounded
/// conductor beside a grounded one has volts that no such system has; 0 where nothing is.
MissingId beyond_panel(Evaluation& e, Index circuit) {
  const Circuit& c = e.model.circuits[circuit];
  const Index index = e.model.overcurrent_devices[c.overcurrent_device].panel;
  const Place& panel = e.model.places[index];
  if (!panel.voltage.known()) return 0;
  const std::int64_t volts = (*c.voltage).count(), bars = (*panel.voltage).count();
  if (volts > bars ? same_nominal(e, volts, bars)
                   : !one_beside_grounded(e, circuit) || may_be_to_ground(e, bars, volts))
    return 0;
  const Value a = lacks_volts(
                  e, circuit, "voltage",
                  fmt::format(FMT_COMPILE("it is said to be {}, and panel {} that it begins in {}"),
                              text_of(show(*c.voltage, Unit::volt)), panel.id,
                              text_of(show(*panel.voltage, Unit::volt)))),
              b = e.lacks({SubjectKind::panel, index}, "voltage", "a voltage such as 240V", designer,
                          fmt::format(FMT_COMPILE("it is said to be {}, and circuit {} that begins in it {}"),
                                      text_of(show(*panel.voltage, Unit::volt)), c.id,
                                      text_of(show(*c.voltage, Unit::volt))),
                          panel.source);
  return e.missing.both(a.missing, b.missing);
}

}  // namespace

namespace {

MissingId contradicted(Evaluation& e, Index circuit) {
  const Circuit& c = e.model.circuits[circuit];
  if (c.voltage.known() && c.to_ground.known() && *c.voltage < *c.to_ground) {
    const std::string why = fmt::format(
        FMT_COMPILE(
            "it is said to be {}, and to have {} to ground, which is no more than that between conductors"),
        text_of(show(*c.voltage, Unit::volt)), text_of(show(*c.to_ground, Unit::volt)));
    return e.missing.both(lacks_volts(e, circuit, "voltage", why).missing,
                          lacks_volts(e, circuit, "voltage-to-ground", why).missing);
  }
  if (!c.voltage.known() || c.overcurrent_device == none || c.kind == CircuitKind::other) return 0;
  const MissingId wrong = by_conductors(e, circuit);
  return wrong != 0 ? wrong : beyond_panel(e, circuit);
}

/// By circuit: much that is on one asks for it.
struct Contradicted {
  std::vector<std::optional<MissingId>> of;
};

}  // namespace

MissingId voltage_contradicted(Evaluation& e, Index circuit) {
  auto& asked = e.once<Contradicted>().of;
  if (asked.empty()) asked.resize(e.model.circuits.size());
  if (!asked[circuit]) asked[circuit] = contradicted(e, circuit);
  return *asked[circuit];
}

Value voltage_at(Evaluation& e, Index circuit, Index place) {
  if (const MissingId wrong = voltage_contradicted(e, circuit); wrong != 0) return Evaluation::lacks(wrong);
  const Circuit& c = e.model.circuits[circuit];
  const Maybe<Voltage>& made_for = e.model.places[place].voltage;
  if (c.voltage.known() && c.to_ground.known() && *c.to_ground > *c.voltage) {
    return lacks_volts(e, circuit, "voltage-to-ground",
                       fmt::format(FMT_COMPILE("it is said to be more than the circuit's voltage of {}"),
                                   text_of(show(*c.voltage, Unit::volt))));
  }
  const Counted at = there(e, circuit, place);
  const std::uint32_t each = std::max<std::uint32_t>(1, c.parallel);
  if (at.hot == each && at.open == 0) {
    const bool back = at.grounded || source(e, circuit).hot == each;  // or by another circuit
    return back ? voltage_to_ground(e, circuit)
                : lacks_role(e, circuit, {},
                             "of several ungrounded conductors one leads there, and no grounded one");
  }
  if (!c.voltage.known()) return lacks_volts(e, circuit, "voltage");
  const std::int64_t between = (*c.voltage).count();
  if (!at.grounded && at.open == 0 && at.hot != 0) return Evaluation::value(between);
  if (!made_for.known()) {
    if (c.to_ground.known() && *c.to_ground == *c.voltage) return Evaluation::value(between);
    return e.lacks({SubjectKind::equipment, place}, "voltage", "a voltage such as 230V", marking,
                   "it may be between two ungrounded conductors, or one and the grounded one",
                   e.model.places[place].source);
  }
  const std::int64_t made = (*made_for).count();
  if (voltage_fits(e, made, between)) return Evaluation::value(between);
  if (c.to_ground.known()) {
    const std::int64_t to_ground = (*c.to_ground).count();
    if (is_high_leg(e, made, between, to_ground)) {
      return lacks_volts(e, circuit, "voltage-to-ground",
                         "of three conductors one has more to ground than the others, and which of them the "
                         "equipment is on is not said");
    }
    if (!voltage_fits(e, made, to_ground)) return Evaluation::value(between);
    if (at.grounded) return Evaluation::value(to_ground);
  } else if (at.grounded) {
    return lacks_volts(e, circuit, "voltage-to-ground");
  }
  return lacks_role(e, circuit, at.unsaid, "equipment may be made for the voltage to ground");
}

}  // namespace raceward::figure
