// Transformers and their overcurrent protection.
//
// Method: rated currents follow from the power, the voltages and the phases of the windings. The device of
// the primary circuit is held to the law's share of the rated primary current; to the larger share where the
// device that all of the secondary current passes is within its own share of the rated secondary current.
#include "figure/transformers.hpp"

#include <algorithm>

#include "figure/ampacity_law.hpp"
#include "figure/circuit_use.hpp"
#include "figure/facts.hpp"
#include "figure/machines.hpp"
#include "figure/supply.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

constexpr std::string_view a_transformer = "transformer";

/// Whether the conductors of a run may be those of a secondary: wiring of power that somebody calls
/// ungrounded, or does not say what it is for.
bool may_bring_power(const Model& model, const Run& run) {
  const Circuit& circuit = model.circuits[run.circuit];
  if (circuit.kind != CircuitKind::other || circuit.overcurrent_device != none ||
      circuit.system == System::class_2 || circuit.system == System::communications)
    return false;
  for (Index i = run.conductors.first; i < run.conductors.end(); ++i) {
    const Role role = model.conductors[model.run_conductors[i]].role;
    if (role == Role::ungrounded || role == Role::unstated) return true;
  }
  return false;
}

struct AllSecondaries {
  bool ready = false;
  std::vector<SecondaryRun> runs;  // by equipment, then id of the wiring
  std::vector<Index> first;        // by place

  void read(const Model& model) {
    ready = true;
    for (Index r = 0; r < model.runs.size(); ++r) {
      const Run& run = model.runs[r];
      if (run.stops.count == 0 || !may_bring_power(model, run)) continue;
      const Index begin = model.stops[run.stops.first].place, end = model.stops[run.stops.end() - 1].place;
      add(model, r, begin, end);
      if (end != begin) add(model, r, end, begin);
    }
    std::ranges::stable_sort(runs, [&](const SecondaryRun& a, const SecondaryRun& b) {
      const auto id = [&](const SecondaryRun& of) { return model.circuits[model.runs[of.run].circuit].id; };
      return a.from != b.from ? a.from < b.from : id(a) < id(b);
    });
    first.assign(model.places.size() + 1, 0);
    for (const SecondaryRun& each : runs) ++first[each.from + 1];
    for (std::size_t p = 1; p < first.size(); ++p) first[p] += first[p - 1];
  }

 private:
  void add(const Model& model, Index run, Index from, Index to) {
    if (from == none || model.places[from].kind != PlaceKind::equipment) return;
    const bool panel = to != none && model.places[to].kind == PlaceKind::panel;
    runs.push_back({from, run, panel ? to : none});
  }
};

std::uint32_t phases_of(Windings windings) {
  constexpr std::uint32_t one = 1;  // not law: phases
  return windings == Windings::two_wire || windings == Windings::three_wire ? one : most_phases;
}

/// What the windings are, or what is missing or contradicted of them.
MissingId lacks_windings(Evaluation& e, Index place, Index circuit) {
  const Windings windings = machine_of(e, place).windings;
  constexpr std::string_view a_word = "a word such as delta-wye";
  if (windings == Windings::unstated) return lacks_of(e, place, "windings", a_word).missing;
  const Value three = three_phases_at(e, circuit, place);
  if (!three || is_yes(three) == (phases_of(windings) == most_phases)) return 0;
  return lacks_of(e, place, "windings", a_word,
                  fmt::format(FMT_COMPILE("it is said to be {}, and {} of circuit {} feed{} it"),
                              name_of(windings), is_yes(three) ? "three phases" : "one phase",
                              e.model.circuits[circuit].id, is_yes(three) ? "" : "s"))
      .missing;
}

MissingId lacks_power(Evaluation& e, Index place, Index circuit) {
  const Place& transformer = e.model.places[place];
  if (!transformer.power.known()) return lacks_of(e, place, "power", "its rating, such as 45kVA").missing;
  const std::int64_t volts = volts_of(e, none, place);
  if (!transformer.rating.known() || volts == 0 || lacks_windings(e, place, circuit) != 0) return 0;
  const std::int64_t by_power = current_of((*transformer.power).count(), volts,
                                           phases_of(machine_of(e, place).windings) == most_phases);
  const std::int64_t load = (*transformer.rating).count(), most = with_tolerance(e, by_power);
  if (most == Table::blank || load <= most) return 0;
  return lacks_of(e, place, "power", "its rating, such as 45kVA",
                  fmt::format(FMT_COMPILE("it is said to take {}, and its power at its voltage makes {}"),
                              amperes_shown(load), amperes_shown(by_power)))
      .missing;
}

Value rated_current(Evaluation& e, Index place, std::int64_t volts, std::string_view of) {
  const bool three = phases_of(machine_of(e, place).windings) == most_phases;
  const Power power = *e.model.places[place].power;
  const std::int64_t current = current_of(power.count(), volts, three);
  if (e.noting()) {
    e.note(FMT_COMPILE("rated {} current: {} / ({}{}) = {}"), of, text_of(show(power, Unit::volt_ampere)),
           three ? "root of three x " : "", text_of(show(Voltage::steps(volts), Unit::volt)),
           amperes_shown(current));
  }
  return Evaluation::value(current);
}

/// Shares that the law sets for rated currents of a size.
struct Shares {
  std::int64_t below = 0;  ///< of the rated current; the last row has none
  std::int64_t alone = 0, with_secondary = 0, secondary = 0;
  bool next = false;  ///< the next standard rating may be taken
  CitationId cite = no_citation;
};

struct ProtectionLaw {
  std::vector<Shares> rows;

  void read(const Law& law) {
    const Table* const t = law.table("transformer-protection");
    for (std::uint32_t row = 0; t != nullptr && row < t->row_count(); ++row) {
      const auto share = [&](std::string_view column) {
        return t->count(row, t->column(column, Dimension::none));
      };
      const std::int64_t below = t->count(row, t->column("below", Dimension::current));
      rows.push_back({below == Table::blank ? std::numeric_limits<std::int64_t>::max() : below,
                      share("alone"), share("with-secondary"), share("secondary"),
                      t->text(row, t->column("next")) == "yes", t->cite(row)});
    }
    std::ranges::sort(rows, {}, &Shares::below);
  }
};

const Shares* shares_of(Evaluation& e, std::int64_t current) {
  const auto& rows = e.of_law<ProtectionLaw>().rows;
  const auto row = std::ranges::find_if(rows, [&](const Shares& each) { return current < each.below; });
  return row == rows.end() ? nullptr : &*row;
}

Value share_limit(Evaluation& e, const Shares& shares, std::int64_t share, bool next, bool fuse,
                  std::int64_t current, std::string_view of) {
  const std::int64_t most = share_of(share, current);
  e.used(shares.cite);
  if (e.noting()) {
    e.note(FMT_COMPILE("{}: {} of {} = {} ({})"), of, text_of({share, Unit::percent}), amperes_shown(current),
           amperes_shown(most), e.cited(shares.cite));
  }
  if (!next) return Evaluation::value(most, shares.cite);
  const Value standard = next_standard(e, most, fuse);
  if (!standard) return standard;
  if (standard.count != most && e.noting())
    e.note(FMT_COMPILE("the next standard rating: {}"), amperes_shown(standard.count));
  return Evaluation::value(standard.count, shares.cite);
}

/// What of a transformer's primary counts for its protection.
struct Protected {
  Index circuit = none;
  std::int64_t current = 0;  ///< rated
  std::int64_t rating = 0;   ///< of the device
  bool fuse = false;
  const Shares* shares = nullptr;
  MissingId missing = 0;
};

/// The law's table ends at a voltage.
MissingId beyond_voltage(Evaluation& e, std::int64_t volts) {
  const Parameter* const most = e.law.parameter("transformer-voltage", Dimension::voltage);
  if (most == nullptr || volts > most->value.count) return e.lacks_law("transformer-protection").missing;
  return 0;
}

Protected protected_by(Evaluation& e, Index place) {
  const Primary primary = primary_of(e, place);
  Protected out{primary.circuit, 0, 0, false, nullptr, primary.missing};
  if (out.missing != 0) return out;
  const auto add = [&](MissingId missing) { out.missing = e.missing.both(out.missing, missing); };
  const Value rating = device_rating_of(e, out.circuit);
  add(rating.missing);
  add(lacks_windings(e, place, out.circuit));
  add(lacks_power(e, place, out.circuit));
  const Maybe<Voltage>& voltage = e.model.places[place].voltage;
  if (!voltage.known())
    add(lacks_of(e, place, "voltage", "the voltage of its primary, such as 480V").missing);
  if (out.missing != 0) return out;
  add(beyond_voltage(e, (*voltage).count()));
  out.current = rated_current(e, place, (*voltage).count(), "primary").count;
  out.rating = rating.count;
  out.fuse = e.model.overcurrent_devices[e.model.circuits[out.circuit].overcurrent_device].fuse;
  out.shares = shares_of(e, out.current);
  if (out.shares == nullptr) add(e.lacks_law("transformer-protection").missing);
  return out;
}

Value alone_limit(Evaluation& e, const Protected& p) {
  return share_limit(e, *p.shares, p.shares->alone, p.shares->next, p.fuse, p.current,
                     "a primary device alone");
}

/// Whether the device that all of the secondary current passes is within its share: 1 or 0.
Value secondary_within(Evaluation& e, Index place) {
  const Secondaries secondaries = secondaries_of(e, place);
  if (secondaries.missing != 0) return Evaluation::lacks(secondaries.missing);
  if (secondaries.all.size() != 1) {  // not law: one
    return e.lacks(equipment_at(place), "wiring", "one panel whose main all of its secondary current passes",
                   designer, "its secondary conductors lead to several panels", e.model.places[place].source);
  }
  const Secondary& to = secondaries.all.front();
  const Place& panel = e.model.places[to.panel];
  const Ratio ratio = ratio_of(e, place, to);
  if (ratio.missing != 0) return Evaluation::lacks(ratio.missing);
  const Value main = given(e, {SubjectKind::panel, to.panel}, panel.main, Unit::ampere, "main",
                           "a current such as 100A", marking);
  if (!main) return main;
  const std::int64_t current = rated_current(e, place, ratio.secondary, "secondary").count;
  const Shares* const shares = shares_of(e, current);
  if (shares == nullptr || beyond_voltage(e, ratio.secondary) != 0)
    return e.lacks_law("transformer-protection");
  const Value most =
      share_limit(e, *shares, shares->secondary, shares->next, false, current, "the device of its secondary");
  if (!most) return most;
  const bool within = main.count <= most.count;
  if (e.noting())
    e.note(FMT_COMPILE("the main of panel {}, {}, is {}"), panel.id, amperes_shown(main.count),
           within ? "within that" : "more than that");
  return answer(within, shares->cite);
}

}  // namespace

std::span<const SecondaryRun> secondary_runs(Evaluation& e, Index equipment) {
  auto& all = e.once<AllSecondaries>();
  if (!all.ready) all.read(e.model);
  return {all.runs.data() + all.first[equipment], all.runs.data() + all.first[equipment + 1]};
}

Secondaries secondaries_of(Evaluation& e, Index transformer) {
  Secondaries out;
  const auto runs = secondary_runs(e, transformer);
  if (runs.empty()) {
    out.missing =
        e.lacks(equipment_at(transformer), "wiring", "its secondary conductors, as wiring from it to a panel",
                designer, {}, e.model.places[transformer].source)
            .missing;
  }
  for (const SecondaryRun& each : runs) {
    const Index index = e.model.runs[each.run].circuit;
    const Circuit& wiring = e.model.circuits[index];
    if (each.panel == none) {
      const Value lack = e.lacks({SubjectKind::circuit, index}, "run", "a panel with a main where it ends",
                                 designer, "it leads from a transformer, and not to a panel", wiring.source);
      out.missing = e.missing.both(out.missing, lack.missing);
      continue;
    }
    const auto same = std::ranges::find(out.all, each.panel, &Secondary::panel);
    if (same != out.all.end())
      same->runs.push_back(each.run);
    else
      out.all.push_back({each.panel, {each.run}});
  }
  return out;
}

Primary primary_of(Evaluation& e, Index transformer) {
  Primary out{circuit_use(e).feeding(transformer), 0};
  if (out.circuit == none) {
    out.missing = lacks_one_circuit(e, transformer).missing;
  } else if (const End* const end = ends(e).at(out.circuit, transformer); end == nullptr || !end->said) {
    out.missing = end == nullptr ? lacks_one_circuit(e, transformer).missing
                                 : lacks_end_of(e, out.circuit, end->stop).missing;
  }
  return out;
}

Ratio ratio_of(Evaluation& e, Index transformer, const Secondary& to) {
  constexpr std::string_view a_voltage = "a voltage such as 208V";
  Ratio out;
  const Place& primary = e.model.places[transformer];
  const Place& panel = e.model.places[to.panel];
  const Subject at{SubjectKind::panel, to.panel};
  if (primary.voltage.known())
    out.primary = (*primary.voltage).count();
  else
    out.missing = lacks_of(e, transformer, "voltage", "the voltage of its primary, such as 480V").missing;
  if (!panel.voltage.known()) {
    out.missing = e.missing.both(out.missing, e.lacks(at, "voltage", a_voltage, marking).missing);
    return out;
  }
  out.secondary = (*panel.voltage).count();
  for (const Index run : to.runs) {
    const Index index = e.model.runs[run].circuit;
    const Circuit& wiring = e.model.circuits[index];
    if (!wiring.system_voltage.known() || *wiring.system_voltage == *panel.voltage) continue;
    const Value lack =
        e.lacks({SubjectKind::circuit, index}, "system-voltage", a_voltage, designer,
                fmt::format(FMT_COMPILE("it is said to be {}, and the panel where it ends is of {}"),
                            text_of(show(*wiring.system_voltage, Unit::volt)),
                            text_of(show(*panel.voltage, Unit::volt))),
                wiring.source);
    out.missing = e.missing.both(out.missing, lack.missing);
  }
  return out;
}

Value primary_device_alone(Evaluation& e, Index transformer) {
  const Protected p = protected_by(e, transformer);
  return p.missing != 0 ? Evaluation::lacks(p.missing) : alone_limit(e, p);
}

namespace compute {

Value is_transformer(Evaluation& e, Subject s) {
  const Place& place = e.model.places[s.index];
  if (place.equipment_kind == a_transformer) return answer(true);
  const Machine& machine = machine_of(e, s.index);
  const bool said = machine.windings != Windings::unstated || machine.secondary_protected != YesNo::unstated;
  const bool open = group_of(e, s.index) == Group::unknown && !secondary_runs(e, s.index).empty();
  if (!said && !open) return answer(false);
  return lacks_of(e, s.index, "kind", "transformer, or what else it is",
                  place.equipment_kind.empty()
                      ? std::string()
                      : fmt::format(FMT_COMPILE("it is called a {}, and {}"), place.equipment_kind,
                                    said ? "has what only a transformer has"
                                         : "whether that is a transformer is not in the ruleset in force"));
}

Value transformer_device(Evaluation& e, Subject s) {
  const Primary primary = primary_of(e, s.index);
  return primary.missing != 0 ? Evaluation::lacks(primary.missing) : device_rating_of(e, primary.circuit);
}

Value transformer_device_limit(Evaluation& e, Subject s) {
  const Protected p = protected_by(e, s.index);
  if (p.missing != 0) return Evaluation::lacks(p.missing);
  const Value alone = alone_limit(e, p);
  if (!alone || p.rating <= alone.count) return alone;
  const Value with = share_limit(e, *p.shares, p.shares->with_secondary, false, p.fuse, p.current,
                                 "where its secondary is protected too");
  if (with.count <= alone.count) return alone;
  if (p.rating > with.count) return with;  // too large for either
  const Value secondary = secondary_within(e, s.index);
  return !secondary ? secondary : is_yes(secondary) ? with : alone;
}

}  // namespace compute
}  // namespace raceward::figure
