// How large an overcurrent device the conductors of a circuit allow.
//
// Method: the ampacity at the terminals and as laid, whichever is less. Where that is no standard rating, the
// next one above, up to a rating of the law, but not for a branch circuit with several receptacles. Small
// conductors have limits of their own, whatever their ampacity. A feeder of all of a dwelling may be of more
// than its conductors carry.
#include <algorithm>

#include "figure/ampacity_law.hpp"
#include "figure/circuit_use.hpp"
#include "figure/conductor_ampacity.hpp"
#include "figure/current_carrying.hpp"
#include "figure/fixture_wire.hpp"
#include "figure/machines.hpp"
#include "figure/shown.hpp"
#include "figure/supply.hpp"
#include "figure/surroundings.hpp"
#include "figure/tap.hpp"
#include "figure/told.hpp"
#include "figure/whole_dwelling.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

/// Whether the device may be of the next standard rating: 1 or 0.
Value may_be_next(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  if (const MissingId wrong = outlets_of_feeder(e, s.index); wrong != 0) return Evaluation::lacks(wrong);
  if (circuit.kind == CircuitKind::feeder) return Evaluation::value(1);
  const OnCircuit& on = circuit_use(e).on(s.index);
  const bool several = on.receptacles > 1;
  if (!several && on.unplaced_receptacle != none) return lacks_circuit_of(e, on.unplaced_receptacle);
  if (!several && on.uncounted != none) {
    return lacks_receptacle_count(e, on.uncounted);
  }
  if (!several && circuit_use(e).sharing_open(s.index)) return lacks_sharing(e, s.index);
  if (several && circuit.kind == CircuitKind::unstated) {
    return e.lacks(s, "kind", "branch or feeder", designer);
  }
  note_sharing(e, s.index);
  if (several)
    e.note(FMT_COMPILE("{} receptacles are on it, so its device may not be of the next rating above"),
           on.receptacles);
  return Evaluation::value(several ? 0 : 1);
}

/// 1 where a conductor too small for the device is wire to a luminaire or a tap.
Value allowed_smaller(Evaluation& e, Index circuit, Index conductor, AskedTaps& asked) {
  const Value thin = fixture_wire(e, circuit, conductor);
  if (!thin || thin.count != 0) return thin;
  if (const MissingId open = may_be_feeder_tap(e, circuit, conductor); open != 0)
    return Evaluation::lacks(open);
  return branch_tap(e, circuit, conductor, asked);
}

/// The least limit of its small conductors that are no wires to luminaires and no taps; the largest count
/// where they have none. Of those that do not tell, such as would not allow the device decide.
Value small_limit(Evaluation& e, Subject s, std::int64_t rating) {
  const Circuit& circuit = e.model.circuits[s.index];
  const AmpacityLaw& law = ampacity_law(e);
  Value least = Evaluation::value(std::numeric_limits<std::int64_t>::max());
  if (!law.has_small_conductors()) return e.lacks_law("small-conductor");
  AskedTaps asked;
  MissingId open = 0;  // of wires that may be allowed to luminaires, or be taps
  for (const Index run : told_runs(e, circuit.runs)) {
    for (const RunKind& each : told_kinds_of_run(e, run)) {
      if (!each.power) continue;
      const ConductorKind& kind = e.model.conductor_kinds[each.kind];
      const auto limit = law.small_conductor(kind.material, kind.size);
      if (!limit) continue;
      if (limit->count < rating) {
        const Value allowed = allowed_smaller(e, s.index, each.conductor, asked);
        open = e.missing.both(open, allowed.missing);
        if (!allowed || allowed.count != 0) continue;
      }
      if (limit->count > least.count) continue;
      const bool same = least.cite != no_citation && limit->count == least.count;
      if (same && !by_id(e, each.conductor, least.place.index)) continue;
      least = Evaluation::value(limit->count, limit->cite);
      least.place = {SubjectKind::conductor, each.conductor};
    }
  }
  if (open != 0 && rating <= least.count) return Evaluation::lacks(open);
  if (least.cite != no_citation && e.noting()) {
    e.used(least.cite);
    e.note(FMT_COMPILE("conductor {}: a device of at most {}, whatever its ampacity ({})"),
           e.model.conductors[least.place.index].id, amperes_of(least.count), e.cited(least.cite));
  }
  return least;
}

Value largest_for(Evaluation& e, Subject s, figure::Id at_terminals, const Value& rating) {
  const Value small = small_limit(e, s, rating.count);
  if (!small) return small;
  // Too large for a small conductor: nothing else can mend that.
  if (rating.count > small.count) return small;
  const Value terminals = e.get(at_terminals, s), laid = e.get(Id::ampacity_as_laid, s);
  const auto allowed = [&](const Value& as_laid) {
    if (!terminals || !as_laid) return Evaluation::lacks(e.missing.both(terminals.missing, as_laid.missing));
    const Value& ampacity = terminals.count <= as_laid.count ? terminals : as_laid;
    const Value general = device_allowed(e, s, rating.count, ampacity);
    if (!general || rating.count <= general.count) return general;
    return device_for_dwelling(e, s, rating.count, ampacity, general);
  };
  const Value exact = allowed(laid);
  if (laid || !terminals) return exact;
  // What is open matters only where the device is allowed by one answer and not by the other.
  const Value least = allowed(e.get_aside(Id::ampacity_as_laid_at_least, s));
  if (least && rating.count <= least.count) return allowed(e.get(Id::ampacity_as_laid_at_least, s));
  const Value most = allowed(e.get_aside(Id::ampacity_as_laid_at_most, s));
  if (most && rating.count > most.count) return allowed(e.get(Id::ampacity_as_laid_at_most, s));
  return exact;
}

/// The same; missing where the conductor for which the device is too large may be a tap.
Value largest(Evaluation& e, Subject s, figure::Id at_terminals) {
  const Value rating = device_rating_of(e, s.index);
  if (!rating) return rating;
  const Value allowed = largest_for(e, s, at_terminals, rating);
  if (!allowed || rating.count <= allowed.count || allowed.place.kind != SubjectKind::conductor)
    return allowed;
  const Value tap = branch_tap(e, s.index, allowed.place.index);
  return tap ? allowed : tap;
}

}  // namespace

Value device_allowed(Evaluation& e, Subject s, std::int64_t rating, const Value& ampacity) {
  if (rating <= ampacity.count) return ampacity;
  const Index device = e.model.circuits[s.index].overcurrent_device;
  const auto next =
      ampacity_law(e).standard(ampacity.count, device != none && e.model.overcurrent_devices[device].fuse);
  const Parameter* const most = e.law.parameter("next-rating-largest", Dimension::current);
  if (!next || most == nullptr) return e.lacks_law("standard-rating");
  if (next->count == ampacity.count || next->count > most->value.count) return ampacity;
  const Value may = may_be_next(e, s);
  // Too large for either rating: what is missing makes no difference.
  if (!may) return rating > next->count ? ampacity : may;
  if (may.count == 0) return ampacity;
  e.used(next->cite);
  e.used(most->cite);
  if (e.noting()) {
    e.note(FMT_COMPILE("{} is no standard rating; the next above is {} ({}, {})"), amperes_of(ampacity.count),
           amperes_of(next->count), e.cited(most->cite), e.cited(next->cite));
  }
  Value value = Evaluation::value(next->count, next->cite);
  value.place = ampacity.place;
  return value;
}

namespace {

/// Whether a circuit, and what shares a pole with it, feeds nothing that the general rules are for.
Value feeds_no_others(Evaluation& e, Index circuit) {
  const CircuitUse& use = circuit_use(e);
  MissingId missing = use.sharing_open(circuit) ? lacks_sharing(e, circuit).missing : 0;
  for (const Index c : use.together(circuit)) {
    const OnCircuit& on = use.own(c);
    if (on.other != on.perhaps_taken) return Evaluation::value(0);
    if (on.perhaps_taken != 0)
      missing = e.missing.both(missing, lacks_receptacle_count(e, on.uncounted).missing);
    if (use.own(c).unplaced != none)
      missing = e.missing.both(missing, lacks_circuit_of(e, use.own(c).unplaced).missing);
    for (const Index place : equipment_on(e, c)) {
      const Group group = group_of(e, place);
      if (group == Group::unknown) missing = e.missing.both(missing, lacks_kind(e, place).missing);
      if (group == Group::plain) return Evaluation::value(0);
    }
  }
  return missing != 0 ? Evaluation::lacks(missing) : Evaluation::value(number(1).count());
}

}  // namespace

namespace compute {

Value largest_overcurrent_device(Evaluation& e, Subject s) {
  return largest(e, s, Id::ampacity_at_terminals);
}

Value largest_overcurrent_device_at_best(Evaluation& e, Subject s) {
  return largest(e, s, Id::ampacity_at_best_terminals);
}

Value wholly_a_tap(Evaluation& e, Subject s) { return tap_as_a_whole(e, s.index); }

Value protected_otherwise(Evaluation& e, Subject s) {
  const Table* const t = e.law.table("protection-otherwise");
  if (t == nullptr) return e.lacks_law("protection-otherwise");
  MissingId missing = 0;
  const auto by_place = [&](const End& end) { return id_key(e.model.places[end.place].id); };
  for (const End& end : told_by(e, ends(e).of(s.index), by_place)) {
    const Group group = group_of(e, end.place);
    if (group == Group::plain || group == Group::part) continue;
    if (group == Group::unknown || !end.said) {
      const Value lack =
          group == Group::unknown ? lacks_kind(e, end.place) : lacks_end_of(e, s.index, end.stop);
      missing = e.missing.both(missing, lack.missing);
      continue;
    }
    const installation::Place& place = e.model.places[end.place];
    const bool in_group =
        is_motor(group) && attested(e, Attested::group_installation, e.model.circuits[s.index].id);
    if (!in_group) {
      // Only conductors to such equipment alone go by its rules.
      const Value alone = feeds_no_others(e, s.index);
      missing = e.missing.both(missing, alone.missing);
      if (!alone) continue;
      if (alone.count == 0) {
        e.note(FMT_COMPILE("it feeds {}, a {}, and other outlets, whose conductors go by the general rules"),
               place.id, place.equipment_kind);
        continue;
      }
    }
    const std::uint32_t row = t->find({place.equipment_kind});
    const CitationId cite = row == Table::none ? no_citation : t->cite(row);
    e.used(cite);
    e.note(FMT_COMPILE("it feeds {}, a {}, which has rules of its own ({})"), place.id, place.equipment_kind,
           e.cited(cite));
    return Evaluation::value(number(1).count(), cite);
  }
  const auto otherwise = [](Group group) { return group != Group::plain && group != Group::part; };
  missing = e.missing.both(missing, may_be_on(e, s.index, otherwise));
  return missing != 0 ? Evaluation::lacks(missing) : Evaluation::value(0);
}

}  // namespace compute
}  // namespace raceward::figure
