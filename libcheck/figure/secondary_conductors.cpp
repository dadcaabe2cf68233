// Conductors from the secondary of a transformer to the overcurrent device that protects them at their end.
//
// Method: what the conductors to a panel carry, those side by side together, must be as much as the panel's
// main, and the law's part of what the primary device lets through, by the ratio of the voltages; a smaller
// part where they are short. Beyond the law's length they need a device in the transformer. Their length is
// that of their raceways and what lies in the enclosures at their ends; where the practice's length for those
// decides, somebody must attest it. Where each wire of the secondary carries as much as the primary shows,
// the primary device may protect them alone.
#include <algorithm>

#include "figure/ampacity_law.hpp"
#include "figure/circuit_use.hpp"
#include "figure/conductor.hpp"
#include "figure/conductor_ampacity.hpp"
#include "figure/conductor_surroundings.hpp"
#include "figure/current_carrying.hpp"
#include "figure/facts.hpp"
#include "figure/machines.hpp"
#include "figure/run_contents.hpp"
#include "figure/shown.hpp"
#include "figure/surroundings.hpp"
#include "figure/transformers.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

constexpr std::int64_t blank = std::numeric_limits<std::int64_t>::max();

Subject wiring_of(const Evaluation& e, Index run) {
  return {SubjectKind::circuit, e.model.runs[run].circuit};
}

/// What is missing of the wiring of a secondary before anything can be told of it.
MissingId open_of(Evaluation& e, const Secondary& to) {
  MissingId missing = 0;
  for (const Index run : to.runs) {
    const Index circuit = e.model.runs[run].circuit;
    missing = e.missing.both(missing, roles_missing(e, e.model.circuits[circuit]));
    missing = e.missing.both(missing, cables_missing(e, e.model.runs[run]));
    missing = e.missing.both(missing, unknown_way(e, circuit));
    if (e.in.routes.run_hops[run].count != 0 || missing != 0) continue;
    missing = e.lacks(wiring_of(e, run), "via", "the raceways that the run takes", designer, {},
                      e.model.circuits[circuit].source)
                  .missing;
  }
  return missing;
}

/// Conductors of a secondary by what they are.
struct Wires {
  std::uint32_t ungrounded = 0, grounded = 0;
  bool alike = true;
  Index first = none;  ///< ungrounded
};

Wires wires_of(const Evaluation& e, const Secondary& to) {
  Wires out;
  for (const Index run : to.runs) {
    const Range& conductors = e.model.runs[run].conductors;
    for (Index i = conductors.first; i < conductors.end(); ++i) {
      const Index index = e.model.run_conductors[i];
      const Conductor& c = e.model.conductors[index];
      if (c.role == Role::grounded) out.grounded += c.count;
      if (c.role != Role::ungrounded) continue;
      out.ungrounded += c.count;
      if (out.first == none) out.first = index;
      out.alike = out.alike && c.kind == e.model.conductors[out.first].kind;
    }
  }
  return out;
}

using Sets = SecondarySets;

Sets sets_of(Evaluation& e, Index transformer, const Secondary& to) {
  const MissingId open = open_of(e, to);
  if (open != 0) return {1, open};
  const Windings windings = machine_of(e, transformer).windings;
  if (windings == Windings::unstated)
    return {1, lacks_of(e, transformer, "windings", "a word such as delta-wye").missing};
  const Wires wires = wires_of(e, to);
  // Where a secondary has no point of its own for it, one of its wires is the grounded one.
  const bool of_all =
      windings == Windings::two_wire || windings == Windings::delta_delta || windings == Windings::wye_delta;
  const bool one_phase = windings == Windings::two_wire || windings == Windings::three_wire;
  const std::uint32_t each = one_phase ? most_phases - 1 : most_phases;
  const std::uint32_t all = of_all ? wires.ungrounded + wires.grounded : wires.ungrounded;
  const std::uint32_t sets = all / each;
  const Subject at = wiring_of(e, to.runs.front());
  const auto lack = [&](std::string_view expects, std::string why) {
    return Sets{1,
                e.lacks(at, "conductor", expects, designer, std::move(why), e.model.circuits[at.index].source)
                    .missing};
  };
  if (sets == 0 || all % each != 0 || wires.ungrounded % sets != 0) {
    return lack(
        "the conductors of each phase of the secondary",
        fmt::format(FMT_COMPILE("{} ungrounded and {} grounded conductors lead to {}, and a secondary that "
                                "is {} has others"),
                    wires.ungrounded, wires.grounded, e.model.places[to.panel].id, name_of(windings)));
  }
  if (sets == 1) return {};
  const Parameter* const smallest = e.law.parameter("smallest-parallel-conductor");
  if (smallest == nullptr || !smallest->is_word)
    return {1, e.lacks_law("smallest-parallel-conductor").missing};
  if (!wires.alike) return lack("sets of like conductors", "those in parallel are not alike");
  const ConductorSize size = e.model.conductor_kinds[e.model.conductors[wires.first].kind].size;
  if (by_gauge(size) && size < term_spelt<ConductorSize>(smallest->text))
    return lack("one conductor for each phase", "those side by side are too small to be in parallel");
  return {sets, 0};
}

/// The least that one of its ungrounded conductors carries at terminals of a temperature and as it lies.
Value least_of(Evaluation& e, const Secondary& to, std::int64_t terminals, Open open) {
  MissingId missing = 0;
  Value least = Evaluation::value(blank);
  for (const Index run : to.runs) {
    const Range& conductors = e.model.runs[run].conductors;
    for (Index i = conductors.first; i < conductors.end(); ++i) {
      const Index index = e.model.run_conductors[i];
      if (e.model.conductors[index].role != Role::ungrounded) continue;
      const MissingId row = lacks_ampacity_row(e, index);
      missing = e.missing.both(missing, row);
      if (row != 0) continue;
      for (const Value& one : {ampacity_at(e, index, terminals), ampacity_along(e, run, index, open)}) {
        missing = e.missing.both(missing, one.missing);
        const bool first =
            one && one.count == least.count && least.count != blank && by_id(e, index, least.place.index);
        if (!one || (one.count >= least.count && !first)) continue;
        least = one;
        least.place = {SubjectKind::conductor, index};
      }
    }
  }
  return missing != 0 ? Evaluation::lacks(missing) : least;
}

/// What its conductors carry together, at terminals of a temperature.
Value carried(Evaluation& e, const Secondary& to, const Sets& sets, std::int64_t terminals, Open open) {
  Value least = least_of(e, to, terminals, open);
  if (!least) return least;
  if (e.noting()) {
    e.used(least.cite);
    e.note(FMT_COMPILE("conductor {} of the secondary carries {}, at terminals of {} and as it lies{}"),
           e.model.conductors[least.place.index].id, amperes_of(least.count),
           text_of({terminals, Unit::celsius}),
           sets.count == 1 ? std::string() : fmt::format(FMT_COMPILE("; {} side by side"), sets.count));
  }
  least.count = detail::saturate(wide_int{least.count} * sets.count);
  return least;
}

/// The same where a current is needed: what is open of where they lie is asked for only where it decides.
Value carried_for(Evaluation& e, const Secondary& to, const Sets& sets, std::int64_t terminals,
                  std::int64_t needed) {
  const Value exact = carried(e, to, sets, terminals, Open::asked);
  if (exact) return exact;
  const Value least = carried(e, to, sets, terminals, Open::worst);
  if (least && least.count >= needed) return least;
  const Value most = carried(e, to, sets, terminals, Open::best);
  return most && most.count < needed ? most : exact;
}

/// Temperature of terminals, and whether it was marked.
struct Terminals {
  std::int64_t taken = 0, best = 0;
  Index unmarked = none;  ///< wiring that does not say it
  MissingId missing = 0;
};

Terminals terminals_of(Evaluation& e, const Secondary& to, std::int64_t main) {
  const Parameter* const small = e.law.parameter("terminal-temperature", Dimension::temperature);
  const Parameter* const large = e.law.parameter("terminal-temperature-large", Dimension::temperature);
  const Parameter* const marked = e.law.parameter("terminal-temperature-marked", Dimension::temperature);
  const Parameter* const up_to = e.law.parameter("terminal-current", Dimension::current);
  if (small == nullptr || large == nullptr || marked == nullptr || up_to == nullptr)
    return {0, 0, none, e.lacks_law("terminal-temperature").missing};
  Terminals out{blank, blank, none, 0};
  for (const Index run : to.runs) {
    const Index index = e.model.runs[run].circuit;
    const Maybe<Temperature>& said = e.model.circuits[index].marked_terminals;
    const std::int64_t as_law = (main > up_to->value.count ? large : small)->value.count;
    out.taken = std::min(out.taken, said.known() ? (*said).count() : as_law);
    out.best = std::min(out.best, said.known() ? (*said).count() : std::max(as_law, marked->value.count));
    if (!said.known() && out.unmarked == none) out.unmarked = index;
  }
  return out;
}

/// Not judged by its length: its device is in the transformer, or it lies outdoors.
bool length_is_free(Evaluation& e, Index transformer) {
  return machine_of(e, transformer).secondary_protected == YesNo::yes ||
         attested(e, Attested::secondary_outside, e.model.places[transformer].id);
}

/// The longest of its runs, in raceways.
Value length_of(Evaluation& e, const Secondary& to) {
  MissingId missing = open_of(e, to);
  std::int64_t longest = 0;
  for (const Index run : to.runs) {
    std::int64_t sum = 0;
    const Range& hops = e.in.routes.run_hops[run];
    for (Index hop = hops.first; hop < hops.end(); ++hop) {
      const Value one =
          e.get_aside(Id::raceway_length, {SubjectKind::raceway, e.in.routes.hops[hop].raceway});
      missing = e.missing.both(missing, one.missing);
      sum += one.count;
    }
    longest = std::max(longest, sum);
  }
  return missing != 0 ? Evaluation::lacks(missing) : Evaluation::value(longest);
}

/// Whether conductors that lie so long in raceways keep within a limit, with what lies in the enclosures at
/// their ends: 1; 0 where the raceways alone are longer.
Value keeps_within(Evaluation& e, Index transformer, std::int64_t in_raceways, const Parameter& limit) {
  const Parameter* const at_ends = e.law.parameter("practice-length-in-enclosures", Dimension::length);
  if (at_ends == nullptr) return e.lacks_law("practice-length-in-enclosures");
  if (in_raceways > limit.value.count) return answer(false);
  const std::string in = e.text_of({in_raceways, Unit::foot}),
                    most = e.text_of({limit.value.count, Unit::foot});
  if (in_raceways <= limit.value.count - at_ends->value.count) {
    e.used(at_ends->cite);
    if (e.noting())
      e.note(FMT_COMPILE("{} in raceways and at most {} at their ends are no more than {}"), in,
             e.text_of({at_ends->value.count, Unit::foot}), most);
    return answer(true);
  }
  if (attested(e, Attested::short_enough, e.model.places[transformer].id)) {
    e.note(FMT_COMPILE("{} in raceways; attested: with their ends they are no more than {}"), in, most);
    return answer(true);
  }
  return e.lacks(
      equipment_at(transformer), "attest", "<attest fact=\"short-enough-with-ends\"> where that is so",
      installer_tape,
      fmt::format(
          FMT_COMPILE("its secondary conductors lie {} in raceways, and whether they are at most {} long "
                      "with what lies in the enclosures at their ends is not said"),
          in, most),
      e.model.places[transformer].source);
}

/// A current of the primary as the secondary sees it, divided; rounded up.
std::int64_t seen(std::int64_t current, const Ratio& ratio, std::int64_t divisor) {
  const wide_int below = wide_int{ratio.secondary} * divisor;
  return detail::saturate((wide_int{current} * ratio.primary * number(1).count() + below - 1) / below);
}

/// What the conductors of one secondary carry, and what they must.
struct Judged {
  Value ampacity, needed;
  [[nodiscard]] std::int64_t margin() const { return ampacity.count - needed.count; }
};

/// The part of the primary device's rating that they must carry.
Value part_of_primary(Evaluation& e, Index transformer, const Secondary& to, std::int64_t carries) {
  const Parameter* const shorter = e.law.parameter("secondary-length-short", Dimension::length);
  const Parameter* const divisor = e.law.divisor("secondary-divisor", Dimension::none);
  const Parameter* const divisor_short = e.law.divisor("secondary-divisor-short", Dimension::none);
  if (shorter == nullptr || divisor == nullptr || divisor_short == nullptr)
    return e.lacks_law("secondary-divisor");
  const Primary primary = primary_of(e, transformer);
  const Ratio ratio = ratio_of(e, transformer, to);
  if (primary.missing != 0 || ratio.missing != 0)
    return Evaluation::lacks(e.missing.both(primary.missing, ratio.missing));
  const Value rating = device_rating_of(e, primary.circuit);
  if (!rating) return rating;
  const std::int64_t least = seen(rating.count, ratio, divisor_short->value.count),
                     most = seen(rating.count, ratio, divisor->value.count);
  const bool either = carries >= most || carries < least;  // whatever their length
  const Value length = length_of(e, to);
  const Value near = length ? keeps_within(e, transformer, length.count, *shorter) : length;
  if (!near && !either) return near;
  const bool short_enough = near ? is_yes(near) : carries < least;
  const Parameter& by = short_enough ? *divisor_short : *divisor;
  const std::int64_t needed = short_enough ? least : most;
  e.used(by.cite);
  if (short_enough) e.used(shorter->cite);
  if (e.noting()) {
    e.note(FMT_COMPILE("primary device of {} x {} / {} / {} = {} ({})"), amperes_of(rating.count),
           text_of(show(Voltage::steps(ratio.primary), Unit::volt)),
           text_of(show(Voltage::steps(ratio.secondary), Unit::volt)), text_of({by.value.count, Unit::one}),
           amperes_of(needed), e.cited(by.cite));
  }
  return Evaluation::value(needed, by.cite);
}

Judged judged(Evaluation& e, Index transformer, const Secondary& to, Open open) {
  const Place& panel = e.model.places[to.panel];
  Judged out;
  const Value main = given(e, {SubjectKind::panel, to.panel}, panel.main, Unit::ampere, "main",
                           "the rating of the overcurrent device that all of its current passes", marking);
  const Sets sets = sets_of(e, transformer, to);
  if (sets.missing != 0 || !main) {
    out.ampacity = Evaluation::lacks(e.missing.both(sets.missing, main.missing));
    out.needed = main;
    return out;
  }
  const Terminals terminals = terminals_of(e, to, main.count);
  out.ampacity = terminals.missing != 0 ? Evaluation::lacks(terminals.missing)
                                        : carried(e, to, sets, terminals.taken, open);
  out.needed = main;
  if (!out.ampacity) return out;
  // More than they carry by the main alone: nothing else can mend that.
  const bool by_main = terminals.unmarked == none && out.ampacity.count < main.count;
  if (!by_main && !length_is_free(e, transformer)) {
    const Value part = part_of_primary(e, transformer, to, out.ampacity.count);
    if (!part || part.count > main.count) out.needed = part;
  }
  if (!out.needed || out.ampacity.count >= out.needed.count || terminals.unmarked == none) return out;
  const Value best = carried(e, to, sets, terminals.best, open);
  if (best && best.count < out.needed.count) return out;
  out.ampacity = best ? e.lacks({SubjectKind::circuit, terminals.unmarked}, "marked-terminals",
                                "the temperature that its terminals are marked for, such as 75C", marking, {},
                                e.model.circuits[terminals.unmarked].source)
                      : best;
  return out;
}

/// The same; what is open of where they lie is asked for only where it decides.
Judged judged(Evaluation& e, Index transformer, const Secondary& to) {
  const Judged exact = judged(e, transformer, to, Open::asked);
  if (exact.ampacity) return exact;
  const Judged least = judged(e, transformer, to, Open::worst);
  if (least.ampacity && least.needed && least.margin() >= 0) return least;
  const Judged most = judged(e, transformer, to, Open::best);
  if (most.ampacity && most.needed && most.margin() < 0) return most;
  // What else is missing is missing either way.
  const MissingId others = e.missing.both(e.missing.both(least.ampacity.missing, least.needed.missing),
                                          e.missing.both(most.ampacity.missing, most.needed.missing));
  return {Evaluation::lacks(e.missing.both(exact.ampacity.missing, others)), exact.needed};
}

/// The one of a transformer's secondaries that falls short most.
Judged tightest(Evaluation& e, Index transformer) {
  const Secondaries secondaries = secondaries_of(e, transformer);
  Judged worst;
  bool any = false;
  MissingId missing = secondaries.missing;
  for (const Secondary& to : secondaries.all) {
    const Judged one = judged(e, transformer, to);
    missing = e.missing.both(missing, e.missing.both(one.ampacity.missing, one.needed.missing));
    if (!one.ampacity || !one.needed || (any && one.margin() >= worst.margin())) continue;
    worst = one;
    any = true;
  }
  // One that is known to fall short decides, whatever the others are.
  if (missing != 0 && (!any || worst.margin() >= 0))
    worst.ampacity = worst.needed = Evaluation::lacks(missing);
  return worst;
}

}  // namespace

SecondarySets secondary_sets(Evaluation& e, Index transformer, const Secondary& to) {
  return sets_of(e, transformer, to);
}

namespace compute {

Value secondary_by_primary(Evaluation& e, Subject s) {
  const Table* const t = e.law.table("secondary-by-primary");
  if (t == nullptr) return e.lacks_law("secondary-by-primary");
  const Windings windings = machine_of(e, s.index).windings;
  if (windings == Windings::unstated) return lacks_of(e, s.index, "windings", "a word such as delta-wye");
  const std::uint32_t row = t->find({name_of(windings)});
  if (row == Table::none) return e.lacks_law("secondary-by-primary");
  if (t->text(row, t->column("may")) != "yes") return answer(false, t->cite(row));
  const Secondaries secondaries = secondaries_of(e, s.index);
  const Primary primary = primary_of(e, s.index);
  MissingId missing = e.missing.both(secondaries.missing, primary.missing);
  if (missing != 0) return Evaluation::lacks(missing);
  const Value rating = device_rating_of(e, primary.circuit), alone = primary_device_alone(e, s.index);
  if (!rating || !alone) return Evaluation::lacks(e.missing.both(rating.missing, alone.missing));
  if (rating.count > alone.count) return answer(false, alone.cite);
  for (const Secondary& to : secondaries.all) {
    const Sets sets = sets_of(e, s.index, to);
    const Ratio ratio = ratio_of(e, s.index, to);
    const MissingId open = e.missing.both(sets.missing, ratio.missing);
    if (open != 0) {
      missing = e.missing.both(missing, open);
      continue;
    }
    const std::int64_t needed = seen(rating.count, ratio, number(1).count());
    const Terminals terminals = terminals_of(e, to, needed);
    missing = e.missing.both(missing, terminals.missing);
    if (terminals.missing != 0) continue;
    const Value carries = carried_for(e, to, sets, terminals.taken, needed);
    missing = e.missing.both(missing, carries.missing);
    if (!carries || carries.count >= needed) continue;
    const Value best = carried_for(e, to, sets, terminals.best, needed);
    if (best && best.count < needed) return answer(false, t->cite(row));
    missing = e.missing.both(missing, best.missing);
    if (!best) continue;
    missing =
        e.missing.both(missing, e.lacks({SubjectKind::circuit, terminals.unmarked}, "marked-terminals",
                                        "the temperature that its terminals are marked for, such as 75C",
                                        marking, {}, e.model.circuits[terminals.unmarked].source)
                                    .missing);
  }
  if (missing != 0) return Evaluation::lacks(missing);
  e.used(t->cite(row));
  e.note(
      FMT_COMPILE("a secondary that is {}: its conductors carry what the primary device lets through ({})"),
      name_of(windings), e.cited(t->cite(row)));
  return answer(true, t->cite(row));
}

Value secondary_length(Evaluation& e, Subject s) {
  const Parameter* const most = e.law.parameter("secondary-length-most", Dimension::length);
  if (most == nullptr) return e.lacks_law("secondary-length-most");
  if (length_is_free(e, s.index)) {
    e.note(FMT_COMPILE("their length does not count: {}"),
           machine_of(e, s.index).secondary_protected == YesNo::yes
               ? "the overcurrent device is in the transformer's enclosure"
               : "attested: they lie outdoors");
    return Evaluation::value(0);
  }
  const Secondaries secondaries = secondaries_of(e, s.index);
  MissingId missing = secondaries.missing;
  std::int64_t longest = 0;
  for (const Secondary& to : secondaries.all) {
    const Value one = length_of(e, to);
    missing = e.missing.both(missing, one.missing);
    longest = std::max(longest, one.count);
  }
  const Value keeps = keeps_within(e, s.index, longest, *most);
  const bool too_long = keeps && !is_yes(keeps);
  if ((!keeps || too_long) && machine_of(e, s.index).secondary_protected == YesNo::unstated) {
    const Value lack = lacks_of(
        e, s.index, "secondary-protected", "yes or no",
        fmt::format(
            FMT_COMPILE("its secondary conductors {} longer than those may be that no device in it protects"),
            too_long ? "are" : "may be"));
    if (too_long) return lack;
    missing = e.missing.both(missing, lack.missing);
  }
  missing = e.missing.both(missing, keeps.missing);
  if (missing != 0 && !too_long) return Evaluation::lacks(missing);
  if (e.noting())
    e.note(FMT_COMPILE("length of the secondary conductors in raceways: {}"),
           e.text_of({longest, Unit::foot}));
  const Value length = Evaluation::value(longest);
  if (too_long) e.detail(length, unless_attested(Attested::secondary_outside, e.model.places[s.index].id));
  return length;
}

Value secondary_length_limit(Evaluation& e, Subject) {
  const Parameter* const most = e.law.parameter("secondary-length-most", Dimension::length);
  if (most == nullptr) return e.lacks_law("secondary-length-most");
  // Not cited before a verdict compares with it: for short ones another section may be the one that decides.
  return Evaluation::value(most->value.count, most->cite);
}

Value secondary_ampacity(Evaluation& e, Subject s) { return tightest(e, s.index).ampacity; }

Value secondary_ampacity_needed(Evaluation& e, Subject s) { return tightest(e, s.index).needed; }

}  // namespace compute
}  // namespace raceward::figure
