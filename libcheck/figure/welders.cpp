// Circuits of arc welders: what they carry, and how large their overcurrent device may be.
//
// Method: the effective current of the rating plate; where none is marked, the rated primary current times
// the law's factor for the duty cycle. Several welders on one circuit seldom work at once: the law's shares,
// the largest first. The overcurrent device may be a multiple of the rated primary current, and of what the
// conductors carry.
#include <algorithm>
#include <vector>

#include "figure/circuit_use.hpp"
#include "figure/facts.hpp"
#include "figure/first_by_id.hpp"
#include "figure/machines.hpp"
#include "figure/surroundings.hpp"
#include "figure/told.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

constexpr std::string_view a_current = "a current such as 16A";

/// Row of the smallest duty cycle that is not below.
std::uint32_t duty_row(const Table& t, std::int64_t duty) {
  const std::uint32_t up_to = t.column("up-to", Dimension::none);
  std::uint32_t best = Table::none;
  for (std::uint32_t row = 0; row < t.row_count(); ++row) {
    const std::int64_t its = t.count(row, up_to);
    if (its >= duty && (best == Table::none || its < t.count(best, up_to))) best = row;
  }
  return best;
}

/// Rated primary current times the law's factor for the duty cycle.
Value by_duty_cycle(Evaluation& e, Index place, std::int64_t load, bool generator) {
  const Machine& plate = machine_of(e, place);
  const Table* const t = e.law.table("welder-duty");
  if (t == nullptr) return e.lacks_law("welder-duty");
  const std::uint32_t row = duty_row(*t, (*plate.duty_cycle).count());
  const std::int64_t factor =
      row == Table::none ? Table::blank
                         : t->count(row, t->column(generator ? "generator" : "arc", Dimension::none));
  if (factor == Table::blank) return e.lacks_law("welder-duty");
  const std::int64_t current = share_of(factor, load);
  e.used(t->cite(row));
  if (e.noting()) {
    e.note(FMT_COMPILE("welder {}: {} x {} at a duty cycle of {} = {} ({})"), e.model.places[place].id,
           text_of({factor, Unit::one}), amperes_shown(load), text_of(show(*plate.duty_cycle, Unit::percent)),
           amperes_shown(current), e.cited(t->cite(row)));
  }
  return Evaluation::value(current, t->cite(row));
}

/// Current that the conductors of one welder carry, of which kind it may be.
Value effective(Evaluation& e, Index place, bool generator) {
  const Machine& plate = machine_of(e, place);
  const Place& welder = e.model.places[place];
  MissingId missing = 0;
  Value load;
  if (welder.rating.known()) {
    load = load_stated(e, place);
    missing = load.missing;
  } else if (!plate.effective_current.known()) {
    missing = lacks_of(e, place, "load", "its rated primary current, such as 40A").missing;
  }
  if (!plate.effective_current.known() && !plate.duty_cycle.known()) {
    const Value lack = lacks_of(e, place, "duty-cycle", "a share such as 40%, or else effective-current");
    missing = e.missing.both(missing, lack.missing);
  }
  if (missing != 0) return Evaluation::lacks(missing);
  const bool both = welder.rating.known() && plate.duty_cycle.known();
  const Value by_duty = both ? by_duty_cycle(e, place, load.count, generator) : Value{};
  if (!plate.effective_current.known() || !by_duty) return by_duty;
  const std::int64_t current = (*plate.effective_current).count();
  if (welder.rating.known() && current > load.count) {
    return lacks_of(e, place, "effective-current", a_current,
                    "it is said to be more than the rated primary current, its load");
  }
  if (both && with_tolerance(e, current) < by_duty.count) {
    return lacks_of(e, place, "effective-current", a_current,
                    fmt::format(FMT_COMPILE("it is said to be {}, and its duty cycle makes {}"),
                                amperes_shown(current), amperes_shown(by_duty.count)));
  }
  if (e.noting()) e.note(FMT_COMPILE("welder {}: {} by its plate"), welder.id, amperes_shown(current));
  return Evaluation::value(current);
}

Value lacks_load(Evaluation& e, Index circuit, std::string why) {
  return e.lacks({SubjectKind::circuit, circuit}, "load", "the current that it is to carry", designer,
                 std::move(why), e.model.circuits[circuit].source);
}

/// All of the circuit; welders of which the kind is open are taken as `open` says. The circuit's load may
/// count welders as they are rated, which leaves least to other outlets, or as they are counted here: `most`.
Value together(Evaluation& e, Index circuit, bool open, bool most) {
  std::vector<std::int64_t> each;
  const Index unplaced = circuit_use(e).own(circuit).unplaced;
  MissingId missing = unplaced != none ? lacks_circuit_of(e, unplaced).missing : 0;
  std::int64_t primary = 0, others = 0, others_stated = 0;
  CitationId cite = no_citation;
  for (const Index place : told_by_id(e, e.model.places, equipment_on(e, circuit))) {
    const Group group = group_of(e, place);
    const Maybe<Current>& load = e.model.places[place].rating;
    if (!is_welder(group)) {
      const Value one = load_for_conductors(e, place);
      missing = e.missing.both(missing, one.missing);
      others += one.count;
      others_stated += load.known() ? (*load).count() : 0;
      continue;
    }
    const Value current =
        effective(e, place, group == Group::generator_welder || (group == Group::welder && open));
    missing = e.missing.both(missing, current.missing);
    each.push_back(current.count);
    primary += load.known() ? (*load).count() : current.count;
    cite = current.cite;
  }
  if (missing != 0) return Evaluation::lacks(missing);
  std::ranges::sort(each, std::greater<>());
  std::int64_t sum = others;
  if (each.size() == 1) {  // not law: one
    sum += each.front();
  } else {
    const Table* const t = e.law.table("welder-group");
    if (t == nullptr || t->row_count() == 0) return e.lacks_law("welder-group");
    const std::uint32_t share = t->column("share", Dimension::none);
    for (std::uint32_t i = 0; i < each.size(); ++i)
      sum += share_of(t->count(std::min(i, t->row_count() - 1), share), each[i]);
    cite = t->cite(0);
    e.used(cite);
    if (e.noting())
      e.note(FMT_COMPILE("{} welders together ({}): {}"), each.size(), e.cited(cite),
             amperes_shown(sum - others));
  }
  if (circuit_use(e).own(circuit).other != 0) {
    const Circuit& c = e.model.circuits[circuit];
    const Subject s{SubjectKind::circuit, circuit};
    if (!c.load.known()) {
      return e.lacks(s, "load", "the current that it is to carry", designer,
                     "other outlets are on the circuit of a welder", c.source);
    }
    const std::int64_t load = (*c.load).count(), as_rated = primary + others_stated;
    if (load < sum - others + others_stated)
      return lacks_load(e, circuit, "it is less than what its welders take");
    std::int64_t outlets = load - (most || load < as_rated ? sum - others + others_stated : as_rated);
    if (outlets != 0 && c.continuous == YesNo::unstated)
      return e.lacks(s, "continuous", "yes or no", designer, {}, c.source);
    const Parameter* const factor = e.law.parameter("continuous-conductor-factor", Dimension::none);
    if (factor == nullptr) return e.lacks_law("continuous-conductor-factor");
    if (c.continuous == YesNo::yes) outlets = share_of(factor->value.count, outlets);
    sum += outlets;
    if (e.noting()) e.note(FMT_COMPILE("and other outlets: {}"), amperes_shown(outlets));
  }
  return Evaluation::value(sum, cite);
}

Index one_of_open_kind(Evaluation& e, Index circuit) {
  Index first = none;
  for (const Index place : equipment_on(e, circuit))
    if (group_of(e, place) == Group::welder) hold_first(e.model.places, first, place);
  return first;
}

/// What the conductors carry: the lesser of the two ampacities.
Value carried(Evaluation& e, Subject s, Id at_terminals) {
  const Value terminals = e.get_aside(at_terminals, s), laid = e.get_aside(Id::ampacity_as_laid, s);
  if (!terminals || !laid) return Evaluation::lacks(e.missing.both(terminals.missing, laid.missing));
  return terminals.count <= laid.count ? terminals : laid;
}

/// A multiple of a current, and the next standard rating where that is none.
Value multiple(Evaluation& e, const Parameter& factor, std::int64_t current, bool fuse, std::string_view of) {
  const std::int64_t most = share_of(factor.value.count, current);
  const Value next = next_standard(e, most, fuse);
  if (!next) return next;
  if (e.noting())
    e.note(FMT_COMPILE("{} x {} {} = {}; standard rating {}"), factor.text, amperes_shown(current), of,
           amperes_shown(most), amperes_shown(next.count));
  return Evaluation::value(next.count, factor.cite);
}

Value conductors_limit(Evaluation& e, Subject s, const Parameter& factor, std::int64_t rating, bool fuse) {
  const Value carries = carried(e, s, Id::ampacity_at_terminals);
  if (!carries) return carries;
  const Value limit = multiple(e, factor, carries.count, fuse, "that its conductors carry");
  if (!limit || rating <= limit.count || e.model.circuits[s.index].terminals.known()) return limit;
  const Value best = carried(e, s, Id::ampacity_at_best_terminals);
  if (!best) return best;
  const Value at_best = multiple(e, factor, best.count, fuse, "that they carry at best");
  if (!at_best || rating > at_best.count) return limit;
  return e.lacks(s, "terminal-temperature", "the temperature that its terminals are marked for, such as 75C",
                 marking);
}

}  // namespace

namespace compute {

Value welders_on_circuit(Evaluation& e, Subject s) { return count_on(e, s.index, is_welder, "welders"); }

Value welder_current_counted(Evaluation& e, Subject s) {
  const Index open = one_of_open_kind(e, s.index);
  const Value least = together(e, s.index, false, false);
  if (!least) return least;
  // A welder driven by a motor takes more, and so do other outlets where the load counts welders with less
  // than they are rated: what is so is asked only where that decides.
  const Value most = together(e, s.index, open != none, true);
  if (!most || most.count == least.count) return most;
  const Value carries = carried(e, s, Id::ampacity_at_terminals),
              best = carried(e, s, Id::ampacity_at_best_terminals);
  if (carries && carries.count >= most.count) return most;
  if (best && best.count < least.count) return least;
  MissingId missing = 0;
  if (open != none) {
    missing =
        lacks_of(e, open, "kind", "arc-welder, or motor-generator-welder where a motor drives it").missing;
  }
  if (together(e, s.index, false, true).count != least.count) {
    const Value lack = lacks_load(
        e, s.index, "whether it counts welders as they are rated or by their duty cycle is not said");
    missing = e.missing.both(missing, lack.missing);
  }
  return Evaluation::lacks(missing);
}

Value welder_device_limit(Evaluation& e, Subject s) {
  const Parameter* const factor = e.law.parameter("welder-device-factor", Dimension::none);
  const Parameter* const conductors = e.law.parameter("welder-conductor-device-factor", Dimension::none);
  if (factor == nullptr || conductors == nullptr) return e.lacks_law("welder-device-factor");
  const Value rating = device_rating_of(e, s.index);
  if (!rating) return rating;
  e.used(factor->cite);
  const bool fuse = e.model.overcurrent_devices[e.model.circuits[s.index].overcurrent_device].fuse;
  if (circuit_use(e).sharing_open(s.index)) return lacks_sharing(e, s.index);
  note_sharing(e, s.index);
  std::vector<Index> places;
  for (const Index c : circuit_use(e).together(s.index)) {
    for (const Index place : told_by_id(e, e.model.places, equipment_on(e, c))) places.push_back(place);
  }
  Value least;
  std::string_view of_least;
  bool any = false;
  MissingId missing = 0;
  for (const Index place : places) {
    if (!is_welder(group_of(e, place))) continue;
    const Place& welder = e.model.places[place];
    if (attested(e, Attested::welder_device, welder.id)) {
      e.note(FMT_COMPILE("attested: welder {} has an overcurrent device of its own"), welder.id);
      continue;
    }
    const Value load = welder.rating.known()
                           ? load_stated(e, place)
                           : lacks_of(e, place, "load", "its rated primary current, such as 40A");
    const Value limit = load ? multiple(e, *factor, load.count, fuse, "of rated primary current") : load;
    missing = e.missing.both(missing, limit.missing);
    if (!limit) continue;
    if (!any || limit.count < least.count) {
      least = limit;
      of_least = welder.id;
    }
    any = true;
  }
  // One that is known to allow less decides, whatever the others are.
  if (any && rating.count > least.count) {
    e.detail(rating, unless_attested(Attested::welder_device, of_least));
    return least;
  }
  if (missing != 0) return Evaluation::lacks(missing);
  const Value wires = conductors_limit(e, s, *conductors, rating.count, fuse);
  return !wires || !any || wires.count < least.count ? wires : least;
}

}  // namespace compute
}  // namespace raceward::figure
