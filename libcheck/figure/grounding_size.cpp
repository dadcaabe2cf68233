// Sizes of wire-type equipment grounding conductors.
//
// Method: the law's size for the rating of the circuit's overcurrent device and the conductor's metal. Where
// the ungrounded conductors that lie with it are larger than they need be, it grows with them in proportion
// to their area. It is never asked to be larger than they are, but for sets in parallel. The conductor that
// falls short most decides. What they need be follows from that rating, each of a set carrying its share, but
// not where equipment has rules of its own for it: there from what the equipment takes. Where a raceway that
// is no equipment grounding conductor holds none of the circuit's own, those of other circuits there serve it
// too: the best of them is asked for as if it were the circuit's.
#include <algorithm>
#include <optional>

#include "figure/ampacity_law.hpp"
#include "figure/attested.hpp"
#include "figure/conductor_ampacity.hpp"
#include "figure/current_carrying.hpp"
#include "figure/grounding_shared.hpp"
#include "figure/grounding_size_beside.hpp"
#include "figure/logic.hpp"
#include "figure/machines.hpp"
#include "figure/size_short.hpp"
#include "figure/told.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

/// The least that ungrounded conductors need be, by metal.
struct Least {
  bool known = false;
  bool by_equipment = false;  ///< and not by the rating of the overcurrent device
  ConductorSize sizes[2]{};
};

/// What one of so many carries.
std::int64_t share_up(std::int64_t current, std::uint32_t sets) { return (current + sets - 1) / sets; }

/// The smallest that carries a current at the best terminals that such equipment has.
ConductorSize smallest_for(Evaluation& e, Metal metal, std::int64_t current, std::int64_t terminals) {
  for (int s = 1; s < static_cast<int>(ConductorSize::mm1); ++s) {
    const auto size = static_cast<ConductorSize>(s);
    const auto found = ampacity_law(e).ampacity(metal, size, terminals);
    if (found && found->count >= current) return size;
  }
  return {};
}

/// By what the equipment of the circuit takes; nothing is known of what the law has other rules for.
Least by_equipment(Evaluation& e, Subject s, std::uint32_t sets) {
  Least out{false, true, {}};
  const Value motors = e.get_aside(Id::motors_on_circuit, s),
              welders = e.get_aside(Id::welders_on_circuit, s);
  const Parameter* const best = e.law.parameter("terminal-temperature-marked", Dimension::temperature);
  const auto& marked = e.model.circuits[s.index].terminals;
  if (!motors || !welders || best == nullptr || (motors.count == 0) == (welders.count == 0)) return out;
  const Value current =
      e.get_aside(motors.count != 0 ? Id::motor_current_counted : Id::welder_current_counted, s);
  if (!current) return out;
  out.known = true;
  const std::int64_t terminals = marked.known() ? (*marked).count() : best->value.count;
  // Where motors may count by what they are marked with, the least that they may take tells as well.
  const std::int64_t least = current.count - (motors.count != 0 ? motor_current_open(e, s.index) : 0);
  for (const Metal metal : {Metal::copper, Metal::aluminum}) {
    ConductorSize& size = out.sizes[static_cast<int>(metal)];
    size = smallest_for(e, metal, share_up(current.count, sets), terminals);
    out.known = out.known && size != ConductorSize::unstated &&
                smallest_for(e, metal, share_up(least, sets), terminals) == size;
  }
  return out;
}

/// The smallest of so many that an overcurrent device protects together: it may be of the next standard
/// rating above what they carry, up to a rating of the law. None is smaller than such conductors may be.
Least in_sets(Evaluation& e, const Circuit& circuit, std::int64_t rating, std::uint32_t sets) {
  const Parameter* const best = e.law.parameter("terminal-temperature-marked", Dimension::temperature);
  const Parameter* const most = e.law.parameter("next-rating-largest", Dimension::current);
  const Parameter* const smallest = e.law.parameter("smallest-parallel-conductor");
  if (best == nullptr || most == nullptr || smallest == nullptr || !smallest->is_word) return {};
  const std::int64_t terminals = circuit.terminals.known() ? (*circuit.terminals).count() : best->value.count;
  const bool fuse = e.model.overcurrent_devices[circuit.overcurrent_device].fuse;
  Least out{true, false, {}};
  for (const Metal metal : {Metal::copper, Metal::aluminum}) {
    const auto first = static_cast<int>(term_spelt<ConductorSize>(smallest->text));
    ConductorSize& least = out.sizes[static_cast<int>(metal)];
    for (int s = first; s < static_cast<int>(ConductorSize::mm1) && least == ConductorSize::unstated; ++s) {
      const auto each = ampacity_law(e).ampacity(metal, static_cast<ConductorSize>(s), terminals);
      if (!each) continue;
      const std::int64_t together = each->count * sets;
      const auto next = ampacity_law(e).standard(together, fuse);
      const bool may = next && next->count >= rating && rating <= most->value.count;
      if (together >= rating || may) least = static_cast<ConductorSize>(s);
    }
    out.known = out.known && least != ConductorSize::unstated;
  }
  return out;
}

/// The smallest that an overcurrent device of that rating may protect at terminals of a temperature.
ConductorSize smallest_protected(Evaluation& e, Subject s, Metal metal, std::int64_t rating,
                                 std::int64_t terminals) {
  for (int size = 1; size < static_cast<int>(ConductorSize::mm1); ++size) {
    const auto found = ampacity_law(e).ampacity(metal, static_cast<ConductorSize>(size), terminals);
    if (!found) continue;
    const Value device = device_allowed(e, s, rating, Evaluation::value(found->count));
    if (!device) return {};
    if (device.count >= rating) return static_cast<ConductorSize>(size);
  }
  return {};
}

Least least_of_circuit(Evaluation& e, Subject s, std::int64_t rating, std::uint32_t sets) {
  const Value otherwise = e.get_aside(Id::protected_otherwise, s);
  if (!otherwise || otherwise.count != 0) return by_equipment(e, s, sets);
  if (sets > 1) return in_sets(e, e.model.circuits[s.index], rating, sets);  // not law: alone
  const SizeRow* const row = size_law(e).ungrounded(rating);
  if (row == nullptr) return {};
  Least out{true, false, {row->sizes[0], row->sizes[1]}};
  const Maybe<Temperature>& marked = e.model.circuits[s.index].terminals;
  for (const Metal metal : {Metal::copper, Metal::aluminum}) {
    ConductorSize& size = out.sizes[static_cast<int>(metal)];
    if (marked.known()) size = std::max(size, smallest_protected(e, s, metal, rating, (*marked).count()));
  }
  return out;
}

/// Whether a size below the stated `least-size` would do as well: it carries the load and may stand behind
/// the overcurrent device, at terminals as they are taken and laid as the circuit is. Then the statement is
/// wrong.
bool smaller_would_do(Evaluation& e, Subject s, std::int64_t rating, Metal metal) {
  const Circuit& circuit = e.model.circuits[s.index];
  const auto below = static_cast<ConductorSize>(static_cast<int>(circuit.least_size) - 1);
  const Value terminals = terminals_taken(e, s), laid = e.get_aside(Id::ampacity_as_laid_at_least, s);
  const SizeRow* const row = size_law(e).ungrounded(rating);
  if (!terminals || !laid || row == nullptr || below < row->of(metal) ||
      laid.place.kind != SubjectKind::conductor)
    return false;
  const ConductorKind& kind = kind_of(e.model, laid.place.index);
  const auto less = ampacity_law(e).ampacity(metal, below, terminals.count);
  const auto own = ampacity_law(e).ampacity(metal_of(kind.material), kind.size, terminals.count);
  if (!less || !own || metal_of(kind.material) != metal || own->count == 0) return false;
  const auto below_laid = detail::saturate(wide_int{laid.count} * less->count / own->count);
  const std::int64_t carries = std::min(less->count, below_laid);
  const auto load = e.get_aside(Id::circuit_load_at_most, s);
  if (!load || load.count > carries) return false;
  const Value device = device_allowed(e, s, rating, Evaluation::value(carries));
  return device && device.count >= rating;
}

/// A circuit under question.
struct Asked {
  Evaluation& e;
  Subject subject;
  const Circuit& circuit;
  const Ungrounded& ungrounded;  ///< that lie with the grounding conductor
  std::uint32_t count = 0;       ///< of all ungrounded ones of the circuit
  const SizeRow& row;
  Least least;
  std::uint32_t sets = 1;  ///< in parallel
  std::int64_t rating = 0;
  bool judged = false;  ///< a qualified person has sized it in place of growing with them

  /// Of several sets none bounds anything by itself.
  [[nodiscard]] bool parallel() const { return sets > 1; }  // not law: alone

  /// What they need be, as stated or as the law has it.
  [[nodiscard]] ConductorSize least_of(Metal metal) const {
    const ConductorSize by_law = least.sizes[static_cast<int>(metal)];
    if (circuit.least_size == ConductorSize::unstated) return by_law;
    return parallel() && !least.by_equipment ? std::max(circuit.least_size, by_law) : circuit.least_size;
  }
  /// The size that this one grows to with the ungrounded conductors. `known`: false where the law cannot
  /// tell.
  [[nodiscard]] ConductorSize grown(ConductorSize size, bool& known, bool by_law = false) const {
    ConductorSize most = size;
    if (judged) return most;
    for (const Metal metal : {Metal::copper, Metal::aluminum}) {
      const ConductorSize laid = ungrounded.of(metal),
                          from = by_law ? least.sizes[static_cast<int>(metal)] : least_of(metal);
      if (laid == ConductorSize::unstated) continue;
      const bool raised = laid > from;
      if (!raised) continue;
      const ConductorSize to = size_law(e).in_proportion(size, laid, from);
      known = known && to != ConductorSize::unstated;
      most = std::max(most, to);
    }
    return most;
  }
};

/// What ungrounded conductors need be is said to be less than their overcurrent device lets them be: missing
/// where one of that size would do by the overcurrent device, so that the statement decides.
Value said_too_small(const Asked& a, ConductorSize size, ConductorSize by_rating, ConductorSize bound) {
  if (a.circuit.least_size == ConductorSize::unstated || a.parallel() || !a.least.known ||
      a.least.by_equipment)
    return {};
  bool known = true;
  const ConductorSize grown = a.grown(by_rating, known, true);
  if (!known || size < std::min(grown, bound)) return {};
  ConductorSize asked{};
  for (const Metal metal : {Metal::copper, Metal::aluminum})
    if (a.ungrounded.of(metal) != ConductorSize::unstated)
      asked = std::max(asked, a.least.sizes[static_cast<int>(metal)]);
  return a.e.lacks(a.subject, "least-size",
                   "the smallest size that its ungrounded conductors may have, such as 12 AWG", designer,
                   fmt::format(FMT_COMPILE("it is said to be {}, and its overcurrent device asks for {}"),
                               name_of(a.circuit.least_size), name_of(asked)),
                   a.circuit.source);
}

Value short_of(const Asked& a, Index c, ConductorSize size, ConductorSize needed) {
  a.e.note(FMT_COMPILE("conductor {}: {}"), a.e.model.conductors[c].id, name_of(size));
  return size_short(a.e, size, needed, a.row.cite, {SubjectKind::conductor, c});
}

Value lacks_least_size(const Asked& a, ConductorSize grown, bool known) {
  return a.e.lacks(
      a.subject, "least-size", "the smallest size that its ungrounded conductors may have, such as 12 AWG",
      designer,
      known ? fmt::format(
                  FMT_COMPILE("its ungrounded conductors are larger than its {} for; were they "
                              "raised, its equipment grounding conductor grows with them, to as much as {}"),
                  a.least.by_equipment ? "equipment asks" : "overcurrent device asks", name_of(grown))
            : fmt::format(FMT_COMPILE("whether its ungrounded conductors were raised cannot be told{}"),
                          a.least.by_equipment
                              ? ": its equipment has rules of its own for its overcurrent device, "
                                "and what it takes is not known"
                              : " from the ruleset"));
}

/// How many sizes one conductor of a metal falls short, or what is missing to tell.
Value shortfall_of(const Asked& a, Index c, Metal metal) {
  Evaluation& e = a.e;
  const ConductorKind& kind = kind_of(e.model, c);
  const Subject at{SubjectKind::conductor, c};
  const Offset source = e.model.conductors[c].source;
  if (kind.size == ConductorSize::unstated) return e.lacks(at, "size", a_size, marking, {}, source);
  if (!by_gauge(kind.size)) {
    return e.lacks(at, "size", a_size, marking, std::string(gauge_only), source);
  }
  ConductorSize needed = a.row.of(metal);
  if (needed == ConductorSize::unstated) return e.lacks_law("egc-size");
  e.note(FMT_COMPILE("{} equipment grounding conductor for an overcurrent device of up to {}: {}"),
         kind.material != ConductorMaterial::unstated ? name_of(kind.material)
         : metal == Metal::copper                     ? "copper"
                                                      : "aluminum",
         text_of({a.row.rating, Unit::ampere}), name_of(needed));

  const ConductorSize by_rating = needed;
  bool known = true;
  ConductorSize grown = a.grown(needed, known);
  const bool stated = a.circuit.least_size != ConductorSize::unstated;
  const bool bounds = !a.parallel() && a.ungrounded.of(metal) != ConductorSize::unstated;
  if (bounds) grown = std::min(grown, a.ungrounded.of(metal));
  if (stated && grown > needed) {
    e.note(FMT_COMPILE("in proportion to ungrounded conductors that need be {}: {}"),
           name_of(a.circuit.least_size), name_of(grown));
    needed = grown;
  }
  if (kind.size < needed) {
    if (!a.parallel() && a.ungrounded.missing != 0) return Evaluation::lacks(a.ungrounded.missing);
    if (bounds && a.ungrounded.of(metal) < needed) {
      needed = a.ungrounded.of(metal);
      e.note(FMT_COMPILE("no larger than the largest ungrounded conductor: {}"), name_of(needed));
    }
  }
  if (kind.size < needed) {
    const ConductorSize bound = bounds ? std::max(by_rating, a.ungrounded.of(metal)) : ConductorSize::mm1;
    const Value open = said_too_small(a, kind.size, by_rating, bound);
    return open ? short_of(a, c, kind.size, needed) : open;
  }
  // Large enough for the overcurrent device. Were the ungrounded conductors raised?
  if (a.ungrounded.missing != 0) return Evaluation::lacks(a.ungrounded.missing);
  if (stated && a.ungrounded.any && a.ungrounded.most() < a.circuit.least_size) {
    return e.lacks(
        a.subject, "least-size", "a size no larger than that of its ungrounded conductors", designer,
        fmt::format(FMT_COMPILE("it is said to be {}, and the largest of its ungrounded conductors "
                                "is {}"),
                    name_of(a.circuit.least_size), name_of(a.ungrounded.most())),
        a.circuit.source);
  }
  const bool no_row = !a.judged && !a.least.known && !stated && a.count != 0;
  const bool as_large = bounds && kind.size >= a.ungrounded.of(metal);  // more is never asked
  if (!as_large && (!known || no_row || kind.size < grown))
    return lacks_least_size(a, grown, known && !no_row);
  if (stated && !as_large && !a.parallel() && a.least.known && !a.least.by_equipment) {
    bool by_law = true;
    const ConductorSize without = a.grown(a.row.of(metal), by_law, true);
    if (by_law && kind.size < without && smaller_would_do(e, a.subject, a.rating, metal)) {
      return e.lacks(
          a.subject, "least-size",
          "the smallest size that its ungrounded conductors may have, such as 12 AWG", designer,
          fmt::format(FMT_COMPILE("it is said to be {}, and a smaller one would carry its load and "
                                  "suit its overcurrent device; were they raised, the equipment "
                                  "grounding conductor grows with them, to as much as {}"),
                      name_of(a.circuit.least_size), name_of(without)),
          a.circuit.source);
    }
  }
  return short_of(a, c, kind.size, needed);
}

/// The same; of one that does not say of which metal it is, as of either.
Value shortfall_of(const Asked& a, Index c) {
  const ConductorMaterial said = kind_of(a.e.model, c).material;
  if (said != ConductorMaterial::unstated) return shortfall_of(a, c, metal_of(said));
  const Value copper = shortfall_of(a, c, Metal::copper), aluminum = shortfall_of(a, c, Metal::aluminum);
  if (copper && aluminum && (copper.count == 0) == (aluminum.count == 0)) return copper;
  const Value lack = a.e.lacks({SubjectKind::conductor, c}, "material", a_material, marking, {},
                               a.e.model.conductors[c].source);
  return Evaluation::lacks(
      a.e.missing.both(lack.missing, a.e.missing.both(copper.missing, aluminum.missing)));
}

/// The same; where it is not said whether conductors are in parallel, both ways, since more of them than
/// phases may be sets or sections that follow one another. Small ones may not be sets.
Value shortfall_in_circuit(Asked a, Index c, const Least& least_in_sets) {
  const Parameter* const smallest = a.e.law.parameter("smallest-parallel-conductor");
  const bool small = smallest != nullptr && smallest->is_word && a.ungrounded.missing == 0 &&
                     a.ungrounded.most() < term_spelt<ConductorSize>(smallest->text);
  const bool open = a.circuit.parallel == 0 && a.count > most_phases && !small;
  const Value alone = shortfall_of(a, c);
  if (!open) return alone;
  a.sets = a.count;
  a.least = least_in_sets;
  const Value parallel = shortfall_of(a, c);
  if (alone && parallel && (alone.count == 0) == (parallel.count == 0)) return alone;
  const Value lack = a.e.lacks(a.subject, "parallel", "how many conductors of each phase are in parallel",
                               designer, {}, a.circuit.source);
  return Evaluation::lacks(a.e.missing.both(lack.missing, a.e.missing.both(alone.missing, parallel.missing)));
}

/// What the overcurrent device of a circuit asks for; `lack` is missing where that is not known.
struct Basis {
  Value lack{};
  std::int64_t rating = 0;
  const SizeRow* row = nullptr;
};

Basis basis_of(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  if (circuit.overcurrent_device == none)
    return {e.lacks(s, "protected-by", "the id of an overcurrent device", designer)};
  const OvercurrentDevice& device = e.model.overcurrent_devices[circuit.overcurrent_device];
  if (!device.rating.known()) {
    return {e.lacks({SubjectKind::overcurrent_device, circuit.overcurrent_device}, "rating",
                    "a current such as 20A", marking)};
  }
  const std::string rating = text_of(show(*device.rating, Unit::ampere));
  const SizeRow* const row = size_law(e).grounding((*device.rating).count());
  if (row == nullptr) {
    return {
        e.lacks(Subject{}, "egc-size", "a row for this rating", ruleset_author,
                fmt::format(FMT_COMPILE("the ruleset in force gives no size for an overcurrent device of {}"),
                            rating))};
  }
  if (circuit.parallel > 1) {  // not law: alone
    if (const Value sets = e.get_aside(Id::conductors_in_parallel, s); !sets) return {sets};
  }
  e.used(row->cite);
  e.note(FMT_COMPILE("overcurrent device {}: {}"), device.id, rating);
  return {{}, (*device.rating).count(), row};
}

/// What a circuit asks of the equipment grounding conductors that serve it.
struct Sizing {
  Sizing(Evaluation& evaluation, Subject s, const Basis& basis)
      : beside(evaluation, s.index), e_(evaluation), subject_(s), row_(*basis.row), rating_(basis.rating) {
    const Circuit& circuit = evaluation.model.circuits[s.index];
    sets_ = std::max<std::uint32_t>(1, circuit.parallel);
    least_ = least_of_circuit(evaluation, s, basis.rating, sets_);
    least_in_sets_ =
        least_of_circuit(evaluation, s, basis.rating, std::max<std::uint32_t>(1, beside.count()));
    const Parameter* const may = evaluation.law.parameter("egc-by-qualified-person");
    if (may == nullptr || !attested(evaluation, Attested::grounding_sized, circuit.id)) return;
    evaluation.used(may->cite);
    judged_ = may->text == "yes";
    if (!judged_) return;
    if (evaluation.noting())
      evaluation.note(FMT_COMPILE("attested: a qualified person has sized its grounding conductors ({})"),
                      evaluation.cited(may->cite));
  }
  [[nodiscard]] Value shortfall(Index conductor, const Ungrounded& ungrounded) const {
    const Circuit& circuit = e_.model.circuits[subject_.index];
    return shortfall_in_circuit(
        {e_, subject_, circuit, ungrounded, beside.count(), row_, least_, sets_, rating_, judged_}, conductor,
        least_in_sets_);
  }

  Beside beside;

 private:
  Evaluation& e_;
  Subject subject_;
  const SizeRow& row_;
  std::int64_t rating_;
  std::uint32_t sets_ = 1;
  bool judged_ = false;
  Least least_, least_in_sets_;
};

/// Worse than the worst so far; the first by id, so that the order of elements does not matter.
bool is_worse(Evaluation& e, const Value& one, const Value& worst) {
  const bool same = one && one.count != 0 && one.count == worst.count;
  return one && (one.count > worst.count || (same && by_id(e, one.place.index, worst.place.index)));
}

/// For working.
auto by_raceway(const Evaluation& e) {
  return [&e](const SharedIn& in) { return id_key(e.model.raceways[in.raceway].id); };
}

/// Those of wiring are sized for the circuits that they lie with.
Value shortfall_in_wiring(Evaluation& e, Subject s) {
  MissingId missing = 0;
  std::vector<ServedBy> all = served_by_wiring(e, s.index, missing);
  if (e.noting()) {
    std::ranges::sort(all, {}, [&](const ServedBy& by) {
      return std::pair(id_key(e.model.circuits[by.circuit].id), id_key(e.model.conductors[by.conductor].id));
    });
  }
  Value worst = Evaluation::value(0);
  for (std::size_t i = 0; i < all.size();) {
    const Subject circuit{SubjectKind::circuit, all[i].circuit};
    const Basis basis = basis_of(e, circuit);
    if (!basis.lack) missing = e.missing.both(missing, basis.lack.missing);
    std::optional<Sizing> sizing;
    if (basis.lack) sizing.emplace(e, circuit, basis);
    for (; i < all.size() && all[i].circuit == circuit.index; ++i) {
      if (!sizing) continue;
      const Value one = sizing->shortfall(all[i].conductor, sizing->beside.whole());
      if (!one) missing = e.missing.both(missing, one.missing);
      if (is_worse(e, one, worst)) worst = one;
    }
  }
  return worst.count == 0 && missing != 0 ? Evaluation::lacks(missing) : worst;
}

}  // namespace

Value grounding_conductors(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  const bool wiring = is_wiring(circuit);
  if (wiring && is_low_voltage(circuit)) return Evaluation::value(0);
  std::int64_t count = 0;
  MissingId missing = 0;
  for (Index c = circuit.conductors.first; c < circuit.conductors.end(); ++c) {
    const Conductor& conductor = e.model.conductors[c];
    // Bonding conductors of wiring are those of secondaries and electrodes, which other tables size.
    const bool bond = wiring && conductor.role == Role::bonding;
    if (is_grounding_wire(e.model, c) && !bond) count += conductor.count;
    if (conductor.role != Role::unstated || kind_of(e.model, c).cable) continue;
    const Value lack =
        e.lacks({SubjectKind::conductor, c}, "role", "what the conductor is for, such as equipment-grounding",
                designer, {}, conductor.source);
    missing = e.missing.both(missing, lack.missing);
  }
  if (missing != 0) return Evaluation::lacks(missing);
  return Evaluation::value(number(count).count());
}

Value grounding_conductor_shortfall(Evaluation& e, Subject s) {
  if (is_wiring(e.model.circuits[s.index])) return shortfall_in_wiring(e, s);
  const Basis basis = basis_of(e, s);
  if (!basis.lack) return basis.lack;
  const Circuit& circuit = e.model.circuits[s.index];
  const Sizing sizing(e, s, basis);
  Value worst = Evaluation::value(0, basis.row->cite);
  MissingId missing = 0;
  for (const Index c : told_by_id(e, e.model.conductors, circuit.conductors)) {
    if (!is_grounding_wire(e.model, c)) continue;
    const Value one = sizing.shortfall(c, sizing.beside.with(c));
    if (!one) missing = e.missing.both(missing, one.missing);
    if (is_worse(e, one, worst)) worst = one;
  }
  // One that is known to fall short decides, whatever the others are.
  if (worst.count == 0 && missing != 0) return Evaluation::lacks(missing);
  return worst;
}

Value shared_grounding_raceways(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  if (is_wiring(circuit)) return Evaluation::value(0);
  std::int64_t count = 0;
  MissingId missing = 0;
  const std::vector<SharedIn> sharing = sharing_of(e, s.index, missing);
  for (const SharedIn& in : told_by(e, sharing, by_raceway(e))) {
    missing = e.missing.both(missing, in.open);
    if (in.open != 0) continue;
    if (e.noting())
      e.note(FMT_COMPILE(
                 "raceway {} is no equipment grounding conductor, and holds those of other circuits only"),
             e.model.raceways[in.raceway].id);
    ++count;
  }
  if (count == 0 && missing != 0) return Evaluation::lacks(missing);
  return Evaluation::value(number(count).count());
}

Value shared_grounding_shortfall(Evaluation& e, Subject s) {
  MissingId missing = 0;
  const std::vector<SharedIn> sharing = sharing_of(e, s.index, missing);
  if (sharing.empty()) return missing != 0 ? Evaluation::lacks(missing) : Evaluation::value(0);
  const Basis basis = basis_of(e, s);
  if (!basis.lack) return basis.lack;
  const Sizing sizing(e, s, basis);
  Value worst = Evaluation::value(0, basis.row->cite);
  for (const SharedIn& in : told_by(e, sharing, by_raceway(e))) {
    Value best = Evaluation::lacks(in.open);
    bool any = false;
    MissingId unknown = 0;
    for (const Index c : offered_in(e, in.raceway).wires) {
      if (c == none) continue;
      const Value one = sizing.shortfall(c, sizing.beside.whole());
      unknown = e.missing.both(unknown, one.missing);
      if (one && (!any || one.count < best.count)) best = one;
      any = any || one;
    }
    if (any && best.count == 0) continue;
    if (in.open != 0 || unknown != 0) {
      missing = e.missing.both(missing, e.missing.both(in.open, unknown));
      continue;
    }
    const bool same = best.count == worst.count && worst.count != 0;
    if (best.count > worst.count || (same && by_id(e, best.place.index, worst.place.index))) worst = best;
  }
  if (worst.count == 0 && missing != 0) return Evaluation::lacks(missing);
  return worst;
}

}  // namespace raceward::figure::compute
