// How many conductors in a raceway carry current.
//
// Method: by circuit. Ungrounded conductors count, those after a switch too; of two travelers one; grounding
// and bonding conductors never. A grounded conductor counts where it carries the current of one ungrounded
// conductor, or that of two phases of three; where it carries what two or three leave unbalanced it does not,
// but with three phases of a wye whose load is nonlinear, whose harmonic currents it carries. Control
// conductors count where they carry more than little.
#include "figure/current_carrying.hpp"

#include <algorithm>

#include "figure/grounding_size_law.hpp"
#include "figure/run_contents.hpp"
#include "figure/told.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

struct Runs {
  std::vector<Carrying> carrying;
  std::vector<std::uint8_t> ready;
  std::vector<Range> kinds;
  std::vector<std::uint8_t> listed;
  std::vector<RunKind> items;
};

Carrying sum_run(Evaluation& e, const Run& run) {
  Carrying out;
  if (run.conductors.count == 0) out.missing = without_conductors(e, run);
  bool cables = false;
  for (Index i = run.conductors.first; i < run.conductors.end(); ++i) {
    const Index index = e.model.run_conductors[i];
    const Conductor& c = e.model.conductors[index];
    if (e.model.conductor_kinds[c.kind].cable) {
      cables = true;  // its conductors are listed beside it
      continue;
    }
    switch (c.role) {
      case Role::ungrounded:
        out.ungrounded += c.count;
        break;
      case Role::switched:
        out.switched += c.count;
        break;
      case Role::traveler:
        out.travelers += c.count;
        break;
      case Role::grounded:
        out.grounded += c.count;
        break;
      case Role::control:
        if (c.loaded == YesNo::no) {
          out.idle += c.count;
        } else if (c.loaded == YesNo::yes) {
          out.others += c.count;
        } else {
          out.controls += c.count;
          if (out.control == none || by_id(e, index, out.control)) out.control = index;
        }
        break;
      case Role::spare:
        out.others += c.count;
        break;
      case Role::equipment_grounding:
      case Role::bonding:
      case Role::electrode:
        out.grounding += c.count;
        break;
      case Role::unstated:
        out.missing = e.missing.both(
            out.missing, e.lacks({SubjectKind::conductor, index}, "role",
                                 "what the conductor is for, such as ungrounded", designer, {}, c.source)
                             .missing);
        break;
    }
  }
  if (cables) out.missing = e.missing.both(out.missing, cables_missing(e, run));
  return out;
}

Runs& all_runs(Evaluation& e) {
  auto& all = e.once<Runs>();
  if (all.ready.empty() && !e.model.runs.empty()) {
    all.carrying.resize(e.model.runs.size());
    all.ready.resize(e.model.runs.size());
    all.kinds.resize(e.model.runs.size());
    all.listed.resize(e.model.runs.size());
  }
  return all;
}

}  // namespace

bool takes_load(Role role) {
  return role == Role::ungrounded || role == Role::switched || role == Role::traveler;
}

Carrying& Carrying::operator+=(const Carrying& other) {
  ungrounded += other.ungrounded;
  switched += other.switched;
  travelers += other.travelers;
  grounded += other.grounded;
  others += other.others;
  controls += other.controls;
  idle += other.idle;
  if (control == none) control = other.control;
  grounding += other.grounding;
  return *this;
}

bool by_id(const Evaluation& e, Index a, Index b) {
  const Conductor &first = e.model.conductors[a], &second = e.model.conductors[b];
  if (first.circuit != second.circuit) {
    return id_before(e.model.circuits[first.circuit].id, e.model.circuits[second.circuit].id);
  }
  return id_before(first.id, second.id);
}

const Carrying& carrying_of_run(Evaluation& e, Index run) {
  Runs& all = all_runs(e);
  if (all.ready[run] == 0) {
    all.carrying[run] = sum_run(e, e.model.runs[run]);
    all.ready[run] = 1;
  }
  return all.carrying[run];
}

std::vector<CircuitCarrying> carrying_in(Evaluation& e, Index raceway) {
  std::vector<CircuitCarrying> out;
  for (const Index run : e.in.routes.runs_in(raceway)) {
    out.push_back({e.model.runs[run].circuit, carrying_of_run(e, run)});
  }
  std::stable_sort(out.begin(), out.end(),
                   [](const CircuitCarrying& a, const CircuitCarrying& b) { return a.circuit < b.circuit; });
  std::size_t kept = 0;
  for (std::size_t i = 0; i < out.size(); ++i) {
    if (kept != 0 && out[kept - 1].circuit == out[i].circuit) {
      out[kept - 1].laid += out[i].laid;
      out[kept - 1].laid.missing = e.missing.both(out[kept - 1].laid.missing, out[i].laid.missing);
    } else {
      out[kept++] = out[i];
    }
  }
  out.resize(kept);
  return out;
}

std::span<const RunKind> kinds_of_run(Evaluation& e, Index run) {
  Runs& all = all_runs(e);
  if (all.listed[run] == 0) {
    all.listed[run] = 1;
    std::vector<RunKind> kinds;
    const Range& conductors = e.model.runs[run].conductors;
    for (Index i = conductors.first; i < conductors.end(); ++i) {
      const Index index = e.model.run_conductors[i];
      const Conductor& c = e.model.conductors[index];
      if (e.model.conductor_kinds[c.kind].cable) continue;
      const bool ground =
          c.role == Role::equipment_grounding || c.role == Role::bonding || c.role == Role::electrode;
      kinds.push_back({c.kind, index, takes_load(c.role), ground});
    }
    std::sort(kinds.begin(), kinds.end(), [&](const RunKind& a, const RunKind& b) {
      return a.kind != b.kind ? a.kind < b.kind : by_id(e, a.conductor, b.conductor);
    });
    const auto first = static_cast<Index>(all.items.size());
    for (const RunKind& each : kinds) {
      if (all.items.size() > first && all.items.back().kind == each.kind) {
        RunKind& same = all.items.back();
        if (each.power && !same.power) same.conductor = each.conductor;
        same.power = same.power || each.power;
        same.grounding = same.grounding && each.grounding;
      } else {
        all.items.push_back(each);
      }
    }
    all.kinds[run] = {first, static_cast<Index>(all.items.size()) - first};
  }
  return {all.items.data() + all.kinds[run].first, all.kinds[run].count};
}

Told<RunKind> told_kinds_of_run(Evaluation& e, Index run) {
  return told_by(e, kinds_of_run(e, run),
                 [&e](const RunKind& each) { return id_key(e.model.conductors[each.conductor].id); });
}

namespace {

/// An ambiguous step of each run, where it has one; gone through once a check.
struct Ways {
  bool ready = false;
  std::vector<Index> ambiguity;  // by run
};

}  // namespace

std::int64_t large_ungrounded(const Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  const Parameter* const smallest = e.law.parameter("smallest-parallel-conductor");
  if (smallest == nullptr || !smallest->is_word) return 0;
  const auto size = term_spelt<ConductorSize>(smallest->text);
  std::int64_t large = 0;
  for (Index c = circuit.conductors.first; c < circuit.conductors.end(); ++c) {
    const Conductor& conductor = e.model.conductors[c];
    if (conductor.role != Role::ungrounded) continue;
    const ConductorSize its = e.model.conductor_kinds[conductor.kind].size;
    if (by_gauge(its) && its >= size) large += conductor.count;
  }
  return large;
}

MissingId side_by_side(Evaluation& e, Subject s) {
  const Parameter* const smallest = e.law.parameter("smallest-parallel-conductor");
  if (smallest == nullptr || !smallest->is_word) return e.lacks_law("smallest-parallel-conductor").missing;
  if (large_ungrounded(e, s) <= most_phases) return 0;
  return e
      .lacks(s, "conductor", "one element for each phase", designer,
             "it has more ungrounded conductors than phases, and which of them share a current is not said")
      .missing;
}

bool way_known(const Evaluation& e, Index run) {
  const Run& r = e.model.runs[run];
  const Range& hops = e.in.routes.run_hops[run];
  if (r.stops.count < 2) return false;  // not law: from one to another
  Index at = e.model.stops[r.stops.first].place;
  for (Index h = hops.first; h < hops.end(); ++h) {
    if (e.in.routes.hops[h].from != at) return false;
    at = e.in.routes.hops[h].to;
  }
  return at == e.model.stops[r.stops.end() - 1].place;
}

MissingId unknown_way(Evaluation& e, Index circuit) {
  auto& ways = e.once<Ways>();
  if (!ways.ready) {
    ways.ready = true;
    ways.ambiguity.assign(e.model.runs.size(), none);
    const auto& steps = e.in.routes.ambiguities;
    for (std::size_t i = 0; i < steps.size(); ++i) ways.ambiguity[steps[i].run] = static_cast<Index>(i);
  }
  MissingId missing = 0;
  const Range& runs = e.model.circuits[circuit].runs;
  for (Index run = runs.first; run < runs.end(); ++run) {
    if (ways.ambiguity[run] == none) continue;
    const Ambiguity& step = e.in.routes.ambiguities[ways.ambiguity[run]];
    const Value lack =
        e.lacks({SubjectKind::circuit, circuit}, "via", "the raceways that the run takes", designer,
                fmt::format(FMT_COMPILE("more than one way leads to {}"),
                            e.model.places[e.model.stops[step.stop].place].id),
                e.model.stops[step.stop].source);
    missing = e.missing.both(missing, lack.missing);
  }
  return missing;
}

namespace {

/// Voltages between its ungrounded conductors and to ground. Wiring outside circuits is of a system, which
/// says them.
struct Volts {
  std::int64_t between = 0, to_ground = 0;
  MissingId missing = 0;
};

Volts volts_of(Evaluation& e, Index index) {
  const Circuit& circuit = e.model.circuits[index];
  const Subject at{SubjectKind::circuit, index};
  const bool wiring = circuit.kind == CircuitKind::other && circuit.overcurrent_device == none;
  const Maybe<Voltage>& volts = wiring ? circuit.system_voltage : circuit.voltage;
  const Maybe<Voltage>& volts_to_ground = wiring ? circuit.system_to_ground : circuit.to_ground;
  Volts out;
  if (!volts.known()) {
    out.missing = e.lacks(at, wiring ? "system-voltage" : "voltage",
                          "the voltage between its ungrounded conductors", designer)
                      .missing;
  }
  if (!volts_to_ground.known()) {
    const Value lack = e.lacks(at, wiring ? "system-voltage-to-ground" : "voltage-to-ground",
                               "a voltage such as 120V", designer);
    out.missing = e.missing.both(out.missing, lack.missing);
  }
  if (out.missing != 0) return out;
  out.between = (*volts).count();
  out.to_ground = (*volts_to_ground).count();
  if (out.between <= out.to_ground) {
    out.missing =
        e.lacks(at, wiring ? "system-voltage" : "voltage", "the voltage between its ungrounded conductors",
                designer, "it has several of them, and its voltage is stated as that to ground")
            .missing;
  }
  return out;
}

/// With three phases of a wye, whose voltages are as the root of three to one: the voltage to ground of a
/// delta is half of that between phases, or nearly as much.
bool is_wye(const Volts& v) {
  return v.between < 2 * v.to_ground && 2 * v.between >= 3 * v.to_ground;  // not law: about the root of three
}

/// How many of its grounded conductors count, of a circuit that lays so many into a raceway.
Value grounded_that_count(Evaluation& e, const CircuitCarrying& each, Open open) {
  const Circuit& circuit = e.model.circuits[each.circuit];
  const Carrying& laid = each.laid;
  if (laid.grounded == 0) return Evaluation::value(0);
  const std::int64_t phases = laid.ungrounded / laid.grounded;
  const auto say = [&](std::string_view why, std::int64_t count) {
    e.note(FMT_COMPILE("circuit {}: of {} grounded conductors {} count, {}"), circuit.id, laid.grounded,
           count, why);
    return Evaluation::value(count);
  };
  // With one ungrounded conductor each, or none beside it, each carries the whole current.
  if (phases < 2) return say("for they carry what one ungrounded conductor does", laid.grounded);
  if (phases == 2) {
    const Volts volts = volts_of(e, each.circuit);
    if (volts.missing != 0) return Evaluation::lacks(volts.missing);
    if (volts.between >= 2 * volts.to_ground)
      return say("for two ungrounded conductors leave it what is unbalanced", 0);
    return say("for between two phases of three it carries about as much as they do", laid.grounded);
  }
  const Parameter* const harmonic = e.law.parameter("nonlinear-neutral");
  const auto unbalanced = [&] {
    return say("for three ungrounded conductors leave it what is unbalanced", 0);
  };
  if (harmonic == nullptr || harmonic->text != "counts" || circuit.nonlinear == YesNo::no)
    return unbalanced();
  const Volts volts = volts_of(e, each.circuit);
  if (volts.missing == 0 && !is_wye(volts)) return unbalanced();
  if (circuit.nonlinear == YesNo::yes) {
    if (volts.missing != 0) return Evaluation::lacks(volts.missing);
    e.used(harmonic->cite);
    return say("for most of the load is nonlinear, and its harmonic currents meet there", laid.grounded);
  }
  if (open == Open::asked) {
    return e.lacks({SubjectKind::circuit, each.circuit}, "nonlinear", "yes or no", designer,
                   "where most of its load is nonlinear, its grounded conductor counts as carrying current");
  }
  return Evaluation::value(open == Open::worst ? laid.grounded : 0);
}

/// How many of its control conductors count.
Value controls_that_count(Evaluation& e, const CircuitCarrying& each, Open open) {
  const Carrying& laid = each.laid;
  const std::int64_t all = laid.controls + laid.idle;
  if (all == 0) return Evaluation::value(0);
  const Parameter* const law = e.law.parameter("control-conductors");
  if (law == nullptr || law->text != "count-if-loaded") return Evaluation::value(all);
  if (laid.idle != 0) {
    e.used(law->cite);
    e.note(FMT_COMPILE("circuit {}: {} control conductors do not count, for they carry little ({})"),
           e.model.circuits[each.circuit].id, laid.idle, e.cited(law->cite));
  }
  if (laid.controls == 0) return Evaluation::value(0);
  if (open == Open::asked) {
    return e.lacks({SubjectKind::conductor, laid.control}, "loaded", "yes or no", designer,
                   "control conductors that carry little do not count among those that heat each other",
                   e.model.conductors[laid.control].source);
  }
  return Evaluation::value(open == Open::worst ? laid.controls : 0);
}

Value count_in(Evaluation& e, Index raceway, Open open) {
  const Value laid = e.get_aside(Id::conductors_in_raceway, {SubjectKind::raceway, raceway});
  if (!laid) return laid;
  std::int64_t count = 0;
  MissingId missing = 0;
  const std::vector<CircuitCarrying> all = carrying_in(e, raceway);
  const auto by_circuit = [&](const CircuitCarrying& c) { return id_key(e.model.circuits[c.circuit].id); };
  for (const CircuitCarrying& each : told_by(e, all, by_circuit)) {
    missing = e.missing.both(missing, each.laid.missing);
    const Value grounded = grounded_that_count(e, each, open);
    const Value controls = controls_that_count(e, each, open);
    missing = e.missing.both(missing, e.missing.both(grounded.missing, controls.missing));
    count += each.laid.hot() + each.laid.others + grounded.count + controls.count;
  }
  if (missing != 0) return Evaluation::lacks(missing);
  e.note(FMT_COMPILE("conductors that carry current in raceway {}: {}"), e.model.raceways[raceway].id, count);
  return Evaluation::value(number(count).count());
}

struct Counted {
  std::vector<Value> worst, best;
  std::vector<std::uint8_t> ready;
};

}  // namespace

Value carrying_count(Evaluation& e, Index raceway, Open open) {
  if (open == Open::asked) return e.get(Id::current_carrying_conductors, {SubjectKind::raceway, raceway});
  auto& all = e.once<Counted>();
  if (all.ready.empty()) {
    all.worst.resize(e.model.raceways.size());
    all.best.resize(e.model.raceways.size());
    all.ready.resize(e.model.raceways.size());
  }
  if (all.ready[raceway] == 0) {
    all.worst[raceway] = count_in(e, raceway, Open::worst);
    all.best[raceway] = count_in(e, raceway, Open::best);
    all.ready[raceway] = 1;
  }
  return open == Open::worst ? all.worst[raceway] : all.best[raceway];
}

namespace compute {

Value current_carrying_conductors(Evaluation& e, Subject s) { return count_in(e, s.index, Open::asked); }

}  // namespace compute
}  // namespace raceward::figure
