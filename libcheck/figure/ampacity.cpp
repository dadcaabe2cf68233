// Ampacity of a circuit's ungrounded conductors.
//
// Method: at the terminals, the table's ampacity in the column of the terminals' temperature, or of the
// insulation's where that is lower, without factors. Where they lie, the ampacity in the column of the
// insulation, times what the surroundings and the number of conductors in the raceway leave. The conductor
// and the raceway where it is least decide; those of a phase in parallel carry so many times as much. Whole
// microamperes, rounded down.
#include <algorithm>

#include "figure/circuit_use.hpp"
#include "figure/conductor.hpp"
#include "figure/conductor_ampacity.hpp"
#include "figure/conductor_surroundings.hpp"
#include "figure/current_carrying.hpp"
#include "figure/facts.hpp"
#include "figure/logic.hpp"
#include "figure/shown.hpp"
#include "figure/supply.hpp"
#include "figure/tap.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

constexpr std::int64_t one = number(1).count();

/// What a conductor must tell for its row of the table.
MissingId lacks_row_of(Evaluation& e, Index conductor) {
  const Conductor& c = e.model.conductors[conductor];
  const ConductorKind& kind = e.model.conductor_kinds[c.kind];
  const Subject at{SubjectKind::conductor, conductor};
  MissingId missing = 0;
  if (!by_gauge(kind.size)) {
    missing =
        e.lacks(at, "size", "a size such as 12 AWG", marking,
                kind.size == ConductorSize::unstated ? "" : "the ruleset in force gives sizes by gauge only",
                c.source)
            .missing;
  }
  if (kind.material == ConductorMaterial::unstated) {
    missing = e.missing.both(
        missing,
        e.lacks(at, "material", "copper, aluminum or copper-clad-aluminum", marking, {}, c.source).missing);
  }
  return missing;
}

/// The same of all conductors of the run that are of its kind: each of them has to be mended.
MissingId lacks_row(Evaluation& e, Index run, Index conductor) {
  const ConductorKind& kind = e.model.conductor_kinds[e.model.conductors[conductor].kind];
  if (by_gauge(kind.size) && kind.material != ConductorMaterial::unstated) return 0;
  MissingId missing = 0;
  const Range& conductors = e.model.runs[run].conductors;
  for (Index i = conductors.first; i < conductors.end(); ++i) {
    const Index other = e.model.run_conductors[i];
    if (e.model.conductors[other].kind != e.model.conductors[conductor].kind) continue;
    if (takes_load(e.model.conductors[other].role)) missing = e.missing.both(missing, lacks_row_of(e, other));
  }
  return missing;
}

Value row_of(Evaluation& e, Index conductor, std::int64_t rating) {
  const ConductorKind& kind = e.model.conductor_kinds[e.model.conductors[conductor].kind];
  const auto row = ampacity_law(e).ampacity(metal_of(kind.material), kind.size, rating);
  if (row) return Evaluation::value(row->count, row->cite);
  return e.lacks(Subject{}, "ampacity", "a row for this conductor", ruleset_author,
                 fmt::format(FMT_COMPILE("the ruleset in force gives no ampacity for {} {} at {}"),
                             name_of(kind.material), words_of_kind(e, kind), celsius_of(rating)));
}

/// Conductors of each phase that share its current; what is missing where that is not known.
struct Sets {
  std::int64_t count = 1;  // not law: a conductor alone
  MissingId missing = 0;
};

Sets sets_of(Evaluation& e, Subject s) {
  const MissingId open = side_by_side(e, s);
  const Circuit& circuit = e.model.circuits[s.index];
  const bool alone = circuit.parallel < 2;                                   // not law: sets
  if (alone && (open != 0 || large_ungrounded(e, s) < 2)) return {1, open};  // not law: a set
  const Value sets = e.get_aside(Id::conductors_in_parallel, s);
  if (alone) return {1, sets.missing};
  const Value alike = e.get_aside(Id::parallel_alike, s), small = e.get_aside(Id::small_in_parallel, s);
  if (!sets || !alike || !small)
    return {1, e.missing.both(sets.missing, e.missing.both(alike.missing, small.missing))};
  std::uint32_t ungrounded = 0;
  bool others = false;
  for (Index c = circuit.conductors.first; c < circuit.conductors.end(); ++c) {
    const Role role = e.model.conductors[c].role;
    if (role == Role::ungrounded) ungrounded += e.model.conductors[c].count;
    others = others || (takes_load(role) && role != Role::ungrounded);
  }
  // Others may go on where the sets end, and share nothing.
  const bool all_begin = !others && ungrounded == ungrounded_at_source(e, s.index);
  if (!is_yes(alike) || small.count != 0 || !all_begin) return {1, open};
  const Index index = circuit.overcurrent_device;
  const std::uint32_t phases = ungrounded / circuit.parallel;
  const OvercurrentDevice* const device = index == none ? nullptr : &e.model.overcurrent_devices[index];
  const bool poles = device != nullptr && !device->fuse && device->handle_tie.empty() && device->poles != 0;
  if (phases > most_phases || (poles && phases > device->poles)) {
    return {1, e.lacks(s, "parallel", "how many conductors of each phase are in parallel", designer,
                       fmt::format(FMT_COMPILE("{} ungrounded conductors make {} phase{} then, which its "
                                               "overcurrent device does not have"),
                                   ungrounded, phases, phases == 1 ? "" : "s"),
                       circuit.source)
                   .missing};
  }
  return {circuit.parallel, 0};
}

/// What the conductors of each phase carry together. Alike, each takes its share.
Value together(Evaluation& e, Subject s, Value least) {
  const Sets sets = sets_of(e, s);
  if (!least || sets.count == 1 || sets.missing != 0) return least;  // not law: alone
  const std::int64_t sum = detail::saturate(wide_int{least.count} * sets.count);
  if (e.noting())
    e.note(FMT_COMPILE("{} in parallel: {} x {} = {}"), sets.count, sets.count, amperes_of(least.count),
           amperes_of(sum));
  least.count = sum;
  return least;
}

/// Asks `of` about each kind of conductor that takes the circuit's load, once a run: the least of the
/// answers.
template <class Of>
Value least_of(Evaluation& e, Subject s, Of of) {
  const Circuit& circuit = e.model.circuits[s.index];
  MissingId missing = e.missing.both(unknown_way(e, s.index), sets_of(e, s).missing);
  Value least;
  AskedTaps asked;
  bool any = false;
  for (const Index run : told_runs(e, circuit.runs)) {
    missing = e.missing.both(missing, carrying_of_run(e, run).missing);
    for (const RunKind& each : told_kinds_of_run(e, run)) {
      if (!each.power) continue;
      const MissingId lack =
          e.missing.both(lacks_row(e, run, each.conductor), may_be_feeder_tap(e, s.index, each.conductor));
      const Value one_of = lack != 0 ? Evaluation::lacks(lack) : of(run, each.conductor);
      missing = e.missing.both(missing, one_of.missing);
      if (one_of) {
        // A tap carries what its outlet takes, and no more of the circuit.
        const Value part = part_of_circuit(e, s.index, each.conductor, one_of.count, asked);
        missing = e.missing.both(missing, part.missing);
        if (!part || part.count == 0) continue;
      }
      if (!one_of) continue;
      if (any && one_of.count > least.count) continue;
      if (any && one_of.count == least.count && by_id(e, least.place.index, each.conductor)) continue;
      least = one_of;
      least.place = {SubjectKind::conductor, each.conductor};
      any = true;
    }
  }
  if (missing != 0) return Evaluation::lacks(missing);
  if (!any) {
    return e.lacks(s, "conductor", "its ungrounded conductors", designer,
                   "no ungrounded conductor of it is written");
  }
  return least;
}

Value at_terminals(Evaluation& e, Subject s, const Value& terminals) {
  if (!terminals) return terminals;
  Value least =
      least_of(e, s, [&](Index, Index conductor) { return ampacity_at(e, conductor, terminals.count); });
  if (least && e.noting()) {
    e.used(least.cite);
    e.note(FMT_COMPILE("conductor {} carries {} at terminals of {} ({})"),
           e.model.conductors[least.place.index].id, amperes_of(least.count), celsius_of(terminals.count),
           e.cited(least.cite));
  }
  return together(e, s, least);
}

/// The temperature that terminals are good for where no marking says more.
Value unmarked_terminals(Evaluation& e, Subject s) {
  const Parameter* const small = e.law.parameter("terminal-temperature", Dimension::temperature);
  const Parameter* const large = e.law.parameter("terminal-temperature-large", Dimension::temperature);
  const Parameter* const up_to = e.law.parameter("terminal-current", Dimension::current);
  if (small == nullptr || large == nullptr || up_to == nullptr) return e.lacks_law("terminal-temperature");
  const Value rating = device_rating_of(e, s.index);
  if (!rating) return rating;
  const Parameter* const of = rating.count > up_to->value.count ? large : small;
  return Evaluation::value(of->value.count, of->cite);
}

Value share_in(Evaluation& e, Index raceway, Open open) {
  return open == Open::asked ? e.get_aside(Id::conductor_adjustment, {SubjectKind::raceway, raceway})
                             : adjustment_in(e, raceway, open);
}

/// What is left of a conductor's ampacity in one raceway.
Value in_raceway(Evaluation& e, Index raceway, Index conductor, Open open) {
  const Value limit = insulation_limit(e, raceway, conductor),
              ambient = ambient_of(e, raceway, conductor, open), share = share_in(e, raceway, open);
  if (!limit || !ambient || !share) {
    return Evaluation::lacks(e.missing.both(limit.missing, e.missing.both(ambient.missing, share.missing)));
  }
  if (limit.count == 0) {
    const Conductor& c = e.model.conductors[conductor];
    return e.lacks(
        {SubjectKind::conductor, conductor}, "insulation", "a mark that is made for where it lies", marking,
        fmt::format(FMT_COMPILE("{} is not made for where raceway {} runs"),
                    words_of_kind(e, e.model.conductor_kinds[c.kind]), e.model.raceways[raceway].id),
        c.source);
  }
  if (ambient.count >= limit.count) return Evaluation::value(0, limit.cite);
  const Value row = row_of(e, conductor, limit.count);
  if (!row) return row;
  const auto factor = ampacity_law(e).correction(ambient.count, limit.count);
  if (!factor) {
    return e.lacks(Subject{}, "ambient-correction", "a factor for this temperature", ruleset_author,
                   fmt::format(FMT_COMPILE("the ruleset in force gives none for {} and insulation of {}"),
                               celsius_of(ambient.count), celsius_of(limit.count)));
  }
  const wide_int left = wide_int{row.count} * factor->count * share.count / (wide_int{one} * one);
  return Evaluation::value(detail::saturate(left), row.cite);
}

bool holds(const Model& model, const Run& run, Index conductor) {
  const auto first = model.run_conductors.begin() + run.conductors.first, end = first + run.conductors.count;
  return std::find(first, end, conductor) != end;
}

/// A stretch of a run: what a conductor carries there, and how long it is.
struct Stretch {
  std::int64_t carries = 0;
  std::int64_t length = 0;
  Index raceway = none;
  std::int64_t share = 0;  ///< what the number of conductors in it leaves
};

/// What a run carries as a whole: as much as its weakest stretch, or as one of the others where the law lets
/// weaker ones be passed over because they are short and hot. Those that are weaker because they hold more
/// conductors are not: for these the law has nipples. As if all were short where `at_best`. REQUIRES: not
/// empty.
Stretch carried_by(Evaluation& e, std::vector<Stretch>& run, bool at_best) {
  std::ranges::stable_sort(run, {}, &Stretch::carries);
  const Parameter* const most = e.law.parameter("short-stretch", Dimension::length);
  const Parameter* const share = e.law.parameter("short-stretch-share", Dimension::none);
  const Parameter* const of = e.law.parameter("short-stretch-of");
  if (most == nullptr || share == nullptr || of == nullptr) return run.front();
  wide_int whole = 0, weaker = 0;
  for (const Stretch& s : run) whole += s.length;
  std::size_t at = 0;
  std::int64_t fullest = run.front().share;
  for (std::size_t i = 0; i + 1 < run.size(); ++i) {
    weaker += run[i].length;
    fullest = std::min(fullest, run[i].share);
    if (run[i + 1].carries == run[i].carries) continue;
    if (fullest < run[i + 1].share) break;
    const wide_int measure = of->text == "higher" ? whole - weaker : whole;
    if (at_best) {
      at = i + 1;
      continue;
    }
    if (weaker > most->value.count || weaker * one > measure * share->value.count) break;
    at = i + 1;
  }
  return run[at];
}

void note_raceway(Evaluation& e, Index raceway, Index conductor, std::int64_t left) {
  const Subject in{SubjectKind::raceway, raceway};
  e.get(Id::raceway_ambient, in);
  const Value ambient = ambient_of(e, raceway, conductor, Open::asked);
  const Value share = e.get(Id::conductor_adjustment, in);
  const Value limit = insulation_limit(e, raceway, conductor);
  const Value row = row_of(e, conductor, limit.count);
  const auto factor = ampacity_law(e).correction(ambient.count, limit.count);
  e.used(row.cite);
  if (!factor) return;
  e.used(factor->cite);
  e.note(FMT_COMPILE("conductor {} in raceway {}: {} at {} ({}) x {} ({}) x {} = {}"),
         e.model.conductors[conductor].id, e.model.raceways[raceway].id, amperes_of(row.count),
         celsius_of(limit.count), e.cited(row.cite), decimal_of({factor->count, Unit::one}),
         e.cited(factor->cite), shown_percent(Number::steps(share.count)), amperes_of(left));
}

void note_passed_over(Evaluation& e, const std::vector<Stretch>& run, const Stretch& carried) {
  const Parameter* const most = e.law.parameter("short-stretch", Dimension::length);
  for (const std::string_view name : {"short-stretch", "short-stretch-share", "short-stretch-of"})
    e.used(e.law.parameter(name)->cite);
  for (const Stretch& s : run) {
    if (s.carries >= carried.carries) break;
    e.note(FMT_COMPILE("raceway {}: {} for {} only, which is short and does not count ({})"),
           e.model.raceways[s.raceway].id, amperes_of(s.carries), e.text_of({s.length, Unit::foot}),
           e.cited(most->cite));
  }
}

}  // namespace
}  // namespace raceward::figure::compute

namespace raceward::figure {

using namespace installation;

MissingId lacks_ampacity_row(Evaluation& e, Index conductor) { return compute::lacks_row_of(e, conductor); }

Value ampacity_at(Evaluation& e, Index conductor, std::int64_t terminals) {
  const InsulationRating insulation = insulation_rating(e, e.model.conductors[conductor].kind);
  if (!insulation.known) return lacks_insulation(e, conductor);
  return compute::row_of(e, conductor, std::min(terminals, insulation.best()));
}

Value ampacity_along(Evaluation& e, Index run, Index conductor, Open open) {
  MissingId missing = 0;
  MissingId lengths = 0;
  bool differ = false;
  std::vector<compute::Stretch> stretches;
  const Range& hops = e.in.routes.run_hops[run];
  for (Index hop = hops.first; hop < hops.end(); ++hop) {
    const Index raceway = e.in.routes.hops[hop].raceway;
    const Value here = compute::in_raceway(e, raceway, conductor, open);
    missing = e.missing.both(missing, here.missing);
    if (!here) continue;
    const Value share = compute::share_in(e, raceway, open);
    stretches.push_back({here.count, 0, raceway, share.count});
    differ = differ || here.count != stretches.front().carries;
  }
  if (missing != 0) return Evaluation::lacks(missing);
  if (stretches.empty()) return Evaluation::value(std::numeric_limits<std::int64_t>::max());
  compute::Stretch carried = stretches.front();
  if (differ) {
    for (compute::Stretch& s : stretches) {
      const Value length = e.get_aside(Id::raceway_length, {SubjectKind::raceway, s.raceway});
      lengths = e.missing.both(lengths, length.missing);
      s.length = length.count;
    }
    carried = compute::carried_by(e, stretches, lengths != 0);
    // Of unknown length any may be short or not.
    if (lengths != 0 && carried.carries > stretches.front().carries) {
      if (open == Open::asked) return Evaluation::lacks(lengths);
      if (open == Open::worst) carried = stretches.front();
    }
    if (lengths == 0 && carried.carries > stretches.front().carries)
      compute::note_passed_over(e, stretches, carried);
  }
  Value out = Evaluation::value(carried.carries);
  out.place = {SubjectKind::raceway, carried.raceway};
  return out;
}

Value terminals_taken(Evaluation& e, Subject s) {
  const auto& marked = e.model.circuits[s.index].terminals;
  return marked.known() ? Evaluation::value((*marked).count()) : compute::unmarked_terminals(e, s);
}

namespace compute {

Value terminal_temperature(Evaluation& e, Subject s) {
  return given(e, s, e.model.circuits[s.index].terminals, Unit::celsius, "terminal-temperature",
               "the temperature that its terminals are marked for, such as 75C", marking);
}

Value ampacity_at_terminals(Evaluation& e, Subject s) { return at_terminals(e, s, terminals_taken(e, s)); }

Value ampacity_at_best_terminals(Evaluation& e, Subject s) {
  if (e.model.circuits[s.index].terminals.known()) return e.get(Id::ampacity_at_terminals, s);
  const Parameter* const best = e.law.parameter("terminal-temperature-marked", Dimension::temperature);
  if (best == nullptr) return e.lacks_law("terminal-temperature-marked");
  return at_terminals(e, s, Evaluation::value(best->value.count, best->cite));
}

Value ampacity_as_laid(Evaluation& e, Subject s) {
  Index tightest = none;
  Value least = least_of(
      e, s, [&](Index run, Index conductor) { return ampacity_along(e, run, conductor, Open::asked); });
  if (!least) return least;
  // The raceway where it is least, found again: only the working tells it.
  if (e.noting()) {
    const Index conductor = least.place.index;
    const Circuit& circuit = e.model.circuits[s.index];
    for (Index run = circuit.runs.first; run < circuit.runs.end(); ++run) {
      if (!holds(e.model, e.model.runs[run], conductor)) continue;
      const Range& hops = e.in.routes.run_hops[run];
      for (Index hop = hops.first; hop < hops.end(); ++hop) {
        const Index raceway = e.in.routes.hops[hop].raceway;
        if (tightest != none && !id_before(e.model.raceways[raceway].id, e.model.raceways[tightest].id))
          continue;
        const Value here = in_raceway(e, raceway, conductor, Open::asked);
        if (here && here.count == least.count) tightest = raceway;
      }
    }
    if (tightest != none) note_raceway(e, tightest, conductor, least.count);
  }
  return together(e, s, least);
}

namespace {

/// Where all is known that matters, as laid; else at worst or at best.
Value as_laid_at(Evaluation& e, Subject s, Open open) {
  if (const Value known = e.get(Id::ampacity_as_laid, s); known) return known;
  const Value least =
      least_of(e, s, [&](Index run, Index conductor) { return ampacity_along(e, run, conductor, open); });
  if (least && e.noting()) {
    e.note(FMT_COMPILE("conductor {}: {} where it lies, if what is not said of the sun and of its load were "
                       "at its {}"),
           e.model.conductors[least.place.index].id, amperes_of(least.count),
           open == Open::worst ? "worst" : "best");
  }
  return together(e, s, least);
}

}  // namespace

Value ampacity_as_laid_at_least(Evaluation& e, Subject s) { return as_laid_at(e, s, Open::worst); }
Value ampacity_as_laid_at_most(Evaluation& e, Subject s) { return as_laid_at(e, s, Open::best); }

Value circuit_load(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  if (circuit.kind == CircuitKind::other) return Evaluation::value(0);
  if (const MissingId wrong = load_on_contradicted(e, s.index); wrong != 0) return Evaluation::lacks(wrong);
  return given(e, s, circuit.load, Unit::ampere, "load", "the current that it is to carry, such as 12A",
               designer);
}

Value circuit_load_at_least(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  const LoadContradicted wrong =
      circuit.kind == CircuitKind::other ? LoadContradicted{} : load_contradicted(e, s.index);
  if (wrong.missing == 0) return e.get(Id::circuit_load, s);
  if (!wrong.only_more) return Evaluation::lacks(wrong.missing);
  if (e.noting()) e.note(FMT_COMPILE("what is on circuit {} is said to take more than its load"), circuit.id);
  return given(e, s, circuit.load, Unit::ampere, "load", "the current that it is to carry, such as 12A",
               designer);
}

Value circuit_load_counted(Evaluation& e, Subject s) {
  const Value load = e.get(Id::circuit_load, s);
  if (!load) return load;
  if (const MissingId wrong = load_behind_contradicted(e, s.index); wrong != 0)
    return Evaluation::lacks(wrong);
  const YesNo continuous = e.model.circuits[s.index].continuous;
  if (continuous == YesNo::unstated) {
    return e.lacks(s, "continuous", "yes or no", designer);
  }
  if (continuous == YesNo::no) return load;
  const Value most = e.get(Id::circuit_load_at_most, s);
  if (most) {
    e.used(most.cite);
    e.note(FMT_COMPILE("the load is continuous and counts as {} ({})"), amperes_of(most.count),
           e.cited(most.cite));
  }
  return most;
}

Value circuit_load_at_most(Evaluation& e, Subject s) {
  const Value load = e.get_aside(Id::circuit_load, s);
  if (!load) return load;
  const Parameter* const factor = e.law.parameter("continuous-conductor-factor", Dimension::none);
  if (factor == nullptr) return e.lacks_law("continuous-conductor-factor");
  const std::int64_t counted = detail::saturate((wide_int{load.count} * factor->value.count + one - 1) / one);
  const Index panel = panel_beyond_load(e, s.index);
  const std::int64_t behind = panel == none ? 0 : (*e.model.places[panel].calculated_load).count();
  return Evaluation::value(std::max(counted, behind), factor->cite);
}

Value circuit_load_behind(Evaluation& e, Subject s) {
  const Value load = e.get(Id::circuit_load, s);
  const Index panel = load ? panel_beyond_load(e, s.index) : none;
  return panel == none ? load : Evaluation::value((*e.model.places[panel].calculated_load).count());
}

}  // namespace compute
}  // namespace raceward::figure
