// Whether grounded conductors are large enough for what their circuit brings them.
//
// Method: one that is no smaller than the ungrounded conductors it lies with asks for nothing more: what is
// wrong with it is wrong with them. Another one must be protected by the circuit's overcurrent device as they
// must; of a feeder with several ungrounded conductors it carries what they leave unbalanced, and is no
// smaller than an equipment grounding conductor. Which of these is asked, docs/figures/conductors.md tells.
#include <algorithm>

#include "figure/ampacity_law.hpp"
#include "figure/circuit_use.hpp"
#include "figure/conductor.hpp"
#include "figure/conductor_ampacity.hpp"
#include "figure/conductor_surroundings.hpp"
#include "figure/current_carrying.hpp"
#include "figure/facts.hpp"
#include "figure/logic.hpp"
#include "figure/machines.hpp"
#include "figure/shown.hpp"
#include "figure/size_short.hpp"
#include "figure/supply.hpp"
#include "figure/surroundings.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

const ConductorKind& kind_of(const Evaluation& e, Index conductor) {
  return e.model.conductor_kinds[e.model.conductors[conductor].kind];
}

bool is_grounded(const Evaluation& e, Index conductor) {
  return e.model.conductors[conductor].role == Role::grounded && !kind_of(e, conductor).cable;
}

/// What a grounded conductor is beside an ungrounded one.
struct Beside {
  bool smaller = false;
  MissingId open = 0;  ///< what is not known of either
};

Beside beside(Evaluation& e, Index grounded, Index hot) {
  const ConductorKind &g = kind_of(e, grounded), &h = kind_of(e, hot);
  if (by_gauge(g.size) && by_gauge(h.size) && g.size < h.size) return {true, 0};
  Beside out;
  for (const Index c : {grounded, hot}) {
    const ConductorKind& kind = kind_of(e, c);
    const bool metal_matters = g.material != h.material && g.material != ConductorMaterial::copper;
    if (by_gauge(kind.size) && (kind.material != ConductorMaterial::unstated || !metal_matters)) continue;
    out.open = e.missing.both(out.open, lacks_ampacity_row(e, c));
  }
  if (out.open != 0) return out;
  out.smaller = metal_of(g.material) == Metal::aluminum && metal_of(h.material) == Metal::copper &&
                g.material != h.material;
  if (g.insulations == h.insulations || out.smaller) return out;
  const InsulationRating of_g = insulation_rating(e, e.model.conductors[grounded].kind),
                         of_h = insulation_rating(e, e.model.conductors[hot].kind);
  if (!of_g.known) out.open = lacks_insulation(e, grounded).missing;
  if (!of_h.known) out.open = e.missing.both(out.open, lacks_insulation(e, hot).missing);
  out.smaller = out.open == 0 && of_g.best() < of_h.best();
  return out;
}

/// A grounded conductor that is, or may be, smaller than the ungrounded ones it lies with.
struct Small {
  Index conductor = none;
  MissingId open = 0;  ///< 0: it is smaller
  bool alone = true;   ///< no ungrounded conductor goes with it
  std::vector<Index> runs;
};

/// Ungrounded conductors of a circuit, those in parallel counted as one.
struct Hots {
  std::uint32_t count = 0, sets = 1;
  bool side_by_side = false;    ///< conductors in parallel share what the circuit brings, or may
  std::vector<Index> smallest;  ///< all of the smallest size, or of none that is stated
};

Hots hots_of(Evaluation& e, Index index) {
  const Circuit& circuit = e.model.circuits[index];
  Hots out;
  std::uint32_t grounded = 0;
  for (Index c = circuit.conductors.first; c < circuit.conductors.end(); ++c) {
    const Conductor& conductor = e.model.conductors[c];
    if (is_grounded(e, c)) grounded += conductor.count;
    if (kind_of(e, c).cable || !takes_load(conductor.role)) continue;
    const ConductorSize size = kind_of(e, c).size,
                        least = out.smallest.empty() ? size : kind_of(e, out.smallest.front()).size;
    if (size < least) out.smallest.clear();
    if (size <= least) out.smallest.push_back(c);
  }
  out.count = ungrounded_at_source(e, index);
  out.sets = std::max<std::uint32_t>(1, circuit.parallel);
  const bool each_has_one = grounded >= out.count;
  out.side_by_side = circuit.parallel > 1 ? grounded < out.sets
                                          : circuit.parallel == 0 && out.count > most_phases && !each_has_one;
  out.count /= out.sets;
  return out;
}

void compare(Evaluation& e, Small& small, bool& smaller, Index hot) {
  const Beside one = beside(e, small.conductor, hot);
  smaller = smaller || one.smaller;
  small.open = e.missing.both(small.open, one.open);
}

/// One that goes alone need be no larger than the smallest of them: of several of one size, than any of them.
void compare_alone(Evaluation& e, Small& small, bool& smaller, const Hots& hots) {
  if (hots.smallest.empty()) smaller = true;
  if (smaller) return;
  std::vector<MissingId> open;
  for (const Index hot : hots.smallest) {
    const Beside one = beside(e, small.conductor, hot);
    if (!one.smaller && one.open == 0) return;
    open.push_back(one.open);
  }
  small.open = e.missing.both(small.open, e.missing.all(open));
  smaller = small.open == 0;
}

/// Those of a circuit; gone through once for all its runs.
std::vector<Small> small_of(Evaluation& e, const Circuit& circuit, const Hots& hots) {
  std::vector<Small> all;
  std::vector<std::uint8_t> smaller;
  std::vector<std::uint32_t> at(circuit.conductors.count, UINT32_MAX);
  for (Index c = circuit.conductors.first; c < circuit.conductors.end(); ++c) {
    if (!is_grounded(e, c)) continue;
    at[c - circuit.conductors.first] = static_cast<std::uint32_t>(all.size());
    all.push_back({c, 0, true, {}});
    smaller.push_back(hots.side_by_side ? 1 : 0);
  }
  for (Index r = circuit.runs.first; r < circuit.runs.end() && !all.empty(); ++r) {
    const Range& laid = e.model.runs[r].conductors;
    for (Index i = laid.first; i < laid.end(); ++i) {
      const std::uint32_t index = at[e.model.run_conductors[i] - circuit.conductors.first];
      if (index == UINT32_MAX) continue;
      Small& small = all[index];
      small.runs.push_back(r);
      bool is = smaller[index] != 0;
      for (const RunKind& each : kinds_of_run(e, r)) {
        if (!each.power) continue;
        small.alone = false;
        compare(e, small, is, each.conductor);
      }
      smaller[index] = is ? 1 : 0;
    }
  }
  std::vector<Small> out;
  for (std::size_t i = 0; i < all.size(); ++i) {
    bool is = smaller[i] != 0;
    if (all[i].alone) compare_alone(e, all[i], is, hots);
    if (is) all[i].open = 0;
    if (is || all[i].open != 0) out.push_back(std::move(all[i]));
  }
  return out;
}

/// What the law goes by.
enum class By : std::uint8_t {
  device,     ///< the overcurrent device protects it as it protects the others
  share,      ///< a share of its rating, for appliances that the law names
  load,       ///< what the ungrounded conductors of a feeder leave unbalanced
  least_size  ///< equipment with rules of its own: what these let the ungrounded conductors be
};

struct Asked {
  By by = By::device;
  const Table* table = nullptr;  ///< of appliances, with their row
  std::uint32_t row = Table::none;
  MissingId missing = 0;
};

ConductorSize smallest_of(const Table& t, std::uint32_t row) {
  return term_spelt<ConductorSize>(t.text(row, t.column("smallest")));
}

/// What a single receptacle is for is attested, and asked about where a grounded conductor is large enough
/// for such an appliance.
void find_plugged(Evaluation& e, Subject s, const std::vector<Small>& all, Asked& asked) {
  const std::uint32_t row = asked.table->find({"range"});
  if (row == Table::none) return;
  const bool is = attested(e, Attested::large_range, e.model.circuits[s.index].id);
  for (const Small& small : all)
    if (!is && kind_of(e, small.conductor).size < smallest_of(*asked.table, row)) return;
  asked.by = By::share;
  asked.row = row;
  if (const Index device = circuit_use(e).on(s.index).uncounted; device != none) {
    asked.missing = lacks_receptacle_count(e, device).missing;
    return;
  }
  if (is) {
    e.note(FMT_COMPILE("attested: it serves a large household range"));
    return;
  }
  asked.missing =
      e.lacks(s, "attest", "<attest fact=\"large-household-range\"> where its receptacle serves one",
              designer, "the grounded conductor of such a one may be smaller than the others")
          .missing;
}

/// The row of an appliance whose grounded conductor may be smaller; of all that the circuit feeds.
void find_share(Evaluation& e, Subject s, const std::vector<Small>& all, Asked& asked) {
  const Table* const t = e.law.table("reduced-grounded");
  const OnCircuit& on = circuit_use(e).on(s.index);
  if (t == nullptr || t->row_count() == 0) return;
  asked.table = t;
  if (on.other == 0 && on.outlets == 0 && on.unplaced_receptacle != none) {
    asked.missing = lacks_circuit_of(e, on.unplaced_receptacle).missing;
    return;
  }
  if (on.other == 1 && on.outlets == 1 && on.receptacles == 1) return find_plugged(e, s, all, asked);
  if (on.other != 0) return;
  std::uint32_t found = Table::none;
  MissingId missing = 0;
  for (const Index place : equipment_on(e, s.index)) {
    const installation::Place& one = e.model.places[place];
    const std::uint32_t row = t->find({one.equipment_kind});
    if (row == Table::none) return;
    found = std::min(found, row);
    const std::int64_t least = t->count(row, t->column("from", Dimension::power));
    if (!one.power.known()) {
      const Value lack =
          lacks_of(e, place, "power", "its power, such as 9kW",
                   "from a power on, the law lets its grounded conductor be smaller than the others");
      missing = e.missing.both(missing, lack.missing);
    } else if ((*one.power).count() < least) {
      return;
    }
  }
  if (found == Table::none) return;
  if (missing != 0) asked.missing = missing;
  asked.by = By::share;
  asked.row = found;
}

Asked asked_of(Evaluation& e, Subject s, const Hots& hots, const std::vector<Small>& all) {
  const Circuit& circuit = e.model.circuits[s.index];
  Asked asked;
  if (circuit.kind == CircuitKind::unstated)
    asked.missing = e.lacks(s, "kind", "branch or feeder", designer).missing;
  if (circuit.kind == CircuitKind::feeder) {
    asked.by = hots.count > 1 ? By::load : By::device;
    return asked;
  }
  if (is_yes(e.get_aside(Id::protected_otherwise, s))) {
    asked.by = By::least_size;
  } else if (hots.count > 1) {
    find_share(e, s, all, asked);
  }
  return asked;
}

Value lacks_share_of_sets(Evaluation& e, Subject s, const Hots& hots, Index conductor) {
  if (hots.side_by_side) {
    return e.lacks(s, "parallel", "how many conductors of each phase are in parallel", designer,
                   "it has fewer grounded conductors than that leaves open");
  }
  return e.lacks({SubjectKind::conductor, conductor}, "size",
                 "no smaller than the ungrounded conductors of its set", designer,
                 "what smaller grounded conductors in parallel carry is not reckoned",
                 e.model.conductors[conductor].source);
}

/// What one conductor carries, or the overcurrent device that it allows: at terminals of that temperature.
Value carried(Evaluation& e, Subject s, const Small& small, std::int64_t terminals, const Value* rating) {
  const Value at = ampacity_at(e, small.conductor, terminals);
  Value laid = Evaluation::value(std::numeric_limits<std::int64_t>::max());
  MissingId missing = e.missing.both(at.missing, unknown_way(e, s.index));
  for (const Index run : small.runs) {
    const Value here = ampacity_along(e, run, small.conductor);
    missing = e.missing.both(missing, here.missing);
    if (here && here.count < laid.count) laid = here;
  }
  if (missing != 0) return Evaluation::lacks(missing);
  const Value ampacity = at.count <= laid.count ? at : laid;
  e.used(ampacity.cite);
  if (e.noting()) {
    e.note(FMT_COMPILE("grounded conductor {}, {}: {} at terminals of {}{}"),
           e.model.conductors[small.conductor].id, words_of_kind(e, kind_of(e, small.conductor)),
           amperes_of(at.count), text_of({terminals, Unit::celsius}),
           laid.cite == no_citation ? std::string() : ", " + amperes_of(laid.count) + " where it lies");
  }
  return rating == nullptr ? ampacity : device_allowed(e, s, rating->count, ampacity);
}

/// The same at the terminals that the circuit has; those without a marking are asked for where it decides.
Value carries(Evaluation& e, Subject s, const Small& small, By by, std::int64_t needed) {
  if (const MissingId lack = lacks_ampacity_row(e, small.conductor); lack != 0)
    return Evaluation::lacks(lack);
  const bool by_device = by == By::device;
  const Value rating = by_device ? device_rating_of(e, s.index) : Value{};
  if (!rating) return rating;
  const ConductorKind& kind = kind_of(e, small.conductor);
  if (by_device) {
    if (!ampacity_law(e).has_small_conductors()) return e.lacks_law("small-conductor");
    const auto limit = ampacity_law(e).small_conductor(kind.material, kind.size);
    if (limit && limit->count < rating.count) {
      e.used(limit->cite);
      if (e.noting()) {
        e.note(FMT_COMPILE("grounded conductor {}, {}: a device of at most {}, whatever its ampacity ({})"),
               e.model.conductors[small.conductor].id, words_of_kind(e, kind), amperes_of(limit->count),
               e.cited(limit->cite));
      }
      return Evaluation::value(limit->count, limit->cite);
    }
  }
  const Value terminals = terminals_taken(e, s);
  if (!terminals) return terminals;
  const Value* const device = by_device ? &rating : nullptr;
  const Value value = carried(e, s, small, terminals.count, device);
  const Parameter* const best = e.law.parameter("terminal-temperature-marked", Dimension::temperature);
  if (best == nullptr) return e.lacks_law("terminal-temperature-marked");
  if (!value || value.count >= needed || e.model.circuits[s.index].terminals.known()) return value;
  const Value at_best = carried(e, s, small, best->value.count, device);
  return at_best && at_best.count < needed ? value : e.get_aside(Id::terminal_temperature, s);
}

/// The least of what they carry.
Value least_carried(Evaluation& e, Subject s, const std::vector<Small>& all, By by, const Hots& hots,
                    std::int64_t needed) {
  Value least;
  MissingId missing = 0;
  bool any = false;
  for (const Small& small : all) {
    const Value one = hots.sets > 1 || hots.side_by_side ? lacks_share_of_sets(e, s, hots, small.conductor)
                                                         : carries(e, s, small, by, needed);
    missing = e.missing.both(missing, one.missing);
    if (!one) continue;
    const bool same = any && one.count == least.count;
    if (any && (one.count > least.count || (same && by_id(e, least.place.index, small.conductor)))) continue;
    least = one;
    least.place = {SubjectKind::conductor, small.conductor};
    any = true;
  }
  // One that is known to carry too little decides, whatever the others are.
  if (missing != 0 && !(any && least.count < needed)) return Evaluation::lacks(missing);
  return least;
}

Value needed_of_load(Evaluation& e, Subject s, const std::vector<Small>& all, const Hots& hots) {
  const Circuit& circuit = e.model.circuits[s.index];
  if (circuit.neutral_load.known()) {
    e.note(FMT_COMPILE("stated: its grounded conductor carries at most {}"),
           text_of(show(*circuit.neutral_load, Unit::ampere)));
    return Evaluation::value((*circuit.neutral_load).count());
  }
  const Value rating = device_rating_of(e, s.index);
  for (const bool whole : {true, false}) {
    if (whole ? !circuit.load.known() : !rating) continue;
    const std::int64_t most = whole ? (*circuit.load).count() : rating.count;
    const Value held = least_carried(e, s, all, By::load, hots, most);
    if (!held) return held;
    if (held.count < most) continue;
    if (whole) e.note(FMT_COMPILE("its grounded conductor carries at most its load, {}"), amperes_of(most));
    return Evaluation::value(most);
  }
  return e.lacks(s, "neutral-load", "the current that its loads leave unbalanced, such as 40A", designer,
                 "its grounded conductor is smaller than the others, and carries less than the whole load");
}

Value needed(Evaluation& e, Subject s, const std::vector<Small>& all, const Asked& asked, const Hots& hots) {
  if (asked.missing != 0) return Evaluation::lacks(asked.missing);
  if (asked.by == By::load) return needed_of_load(e, s, all, hots);
  if (asked.by == By::least_size) return Evaluation::value(0);
  const Value rating = device_rating_of(e, s.index);
  if (asked.by == By::device || !rating) return rating;
  const CitationId cite = asked.table->cite(asked.row);
  const std::int64_t share = asked.table->count(asked.row, asked.table->column("share", Dimension::none));
  const std::int64_t current = share_of(share, rating.count);
  e.used(cite);
  if (e.noting()) {
    e.note(FMT_COMPILE("of the circuit of such an appliance: {} x {} = {} ({})"),
           shown_percent(Number::steps(share)), amperes_of(rating.count), amperes_of(current), e.cited(cite));
  }
  return Evaluation::value(current, cite);
}

/// How small the conductor may be, whatever it carries; unstated where nothing says so.
Value least_size(Evaluation& e, Subject s, const Asked& asked, const Small& small, ConductorSize& least) {
  const Circuit& circuit = e.model.circuits[s.index];
  const Metal metal = metal_of(kind_of(e, small.conductor).material);
  if (asked.by == By::share) {
    least = smallest_of(*asked.table, asked.row);
    return Evaluation::value(0, asked.table->cite(asked.row));
  }
  if (asked.by == By::load) {
    const Value rating = device_rating_of(e, s.index);
    if (!rating) return rating;
    const SizeRow* const row = size_law(e).grounding(rating.count);
    if (row == nullptr || row->of(metal) == ConductorSize::unstated) return e.lacks_law("egc-size");
    least = row->of(metal);
    e.note(FMT_COMPILE("no smaller than an equipment grounding conductor for up to {}: {}"),
           text_of({row->rating, Unit::ampere}), name_of(least));
    return Evaluation::value(0, row->cite);
  }
  if (asked.by == By::device) return Evaluation::value(0);
  if (circuit.least_size == ConductorSize::unstated) {
    return e.lacks(s, "least-size", "the smallest size that its ungrounded conductors may have", designer,
                   "its grounded conductor is smaller than they are, and rules of its equipment tell how "
                   "small they may be");
  }
  least = circuit.least_size;
  e.note(FMT_COMPILE("its ungrounded conductors may be of {}, and its grounded one carries what they do"),
         name_of(least));
  return Evaluation::value(0);
}

Value sizes_short(Evaluation& e, Subject s, const Asked& asked, const Hots& hots, const Small& small) {
  if (hots.sets > 1 || hots.side_by_side) return lacks_share_of_sets(e, s, hots, small.conductor);
  if (const MissingId lack = lacks_ampacity_row(e, small.conductor); lack != 0)
    return Evaluation::lacks(lack);
  ConductorSize least{};
  const Value known = least_size(e, s, asked, small, least);
  if (!known) return known;
  e.used(known.cite);
  const ConductorSize size = kind_of(e, small.conductor).size;
  const Value by = size_short(e, size, least, known.cite, {SubjectKind::conductor, small.conductor});
  if (by.count != 0)
    e.note(FMT_COMPILE("grounded conductor {}: {}"), e.model.conductors[small.conductor].id, name_of(size));
  return by;
}

/// Whether one whose role is not said, and which may be ungrounded, is larger than a grounded one that it
/// lies with.
bool smaller_than_unknown(Evaluation& e, const Circuit& circuit) {
  for (Index r = circuit.runs.first; r < circuit.runs.end(); ++r) {
    const auto first = e.model.run_conductors.begin() + e.model.runs[r].conductors.first;
    const auto end = first + e.model.runs[r].conductors.count;
    for (auto unknown = first; unknown != end; ++unknown) {
      if (e.model.conductors[*unknown].role != Role::unstated || kind_of(e, *unknown).cable) continue;
      const bool smaller = std::any_of(first, end, [&](Index c) {
        const Beside one = is_grounded(e, c) ? beside(e, c, *unknown) : Beside{};
        return one.smaller || one.open != 0;
      });
      if (smaller) return true;
    }
  }
  return false;
}

}  // namespace

Value smaller_grounded(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  std::int64_t count = 0;
  MissingId missing = 0;
  const std::vector<Small> all = small_of(e, circuit, hots_of(e, s.index));
  for (const Small& small : all) {
    if (small.open == 0) count += e.model.conductors[small.conductor].count;
    missing = e.missing.both(missing, small.open);
  }
  if (missing == 0 && count == 0 && smaller_than_unknown(e, circuit)) missing = roles_missing(e, circuit);
  if (missing != 0) return Evaluation::lacks(missing);
  return Evaluation::value(number(count).count());
}

Value grounded_shortfall(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  const Hots hots = hots_of(e, s.index);
  const std::vector<Small> all = small_of(e, circuit, hots);
  const Asked asked = asked_of(e, s, hots, all);
  Value worst = Evaluation::value(0);
  MissingId missing = asked.missing;
  for (const Small& small : all) {
    const Value one = sizes_short(e, s, asked, hots, small);
    missing = e.missing.both(missing, one.missing);
    const bool same = one && one.count == worst.count && worst.count != 0;
    if (same && by_id(e, worst.place.index, small.conductor)) continue;
    if (one && (one.count > worst.count || same)) worst = one;
  }
  if (asked.missing != 0 || (worst.count == 0 && missing != 0)) return Evaluation::lacks(missing);
  if (worst.count == 0) return worst;
  const MissingId roles = roles_missing(e, circuit);  // one more of them may be ungrounded
  return roles != 0 ? Evaluation::lacks(roles) : worst;
}

Value grounded_needed(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  const Hots hots = hots_of(e, s.index);
  const std::vector<Small> all = small_of(e, circuit, hots);
  return needed(e, s, all, asked_of(e, s, hots, all), hots);
}

Value grounded_carries(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  const Hots hots = hots_of(e, s.index);
  const std::vector<Small> all = small_of(e, circuit, hots);
  const Asked asked = asked_of(e, s, hots, all);
  const Value need = e.get_aside(Id::grounded_needed, s);
  if (!need) return need;
  if (asked.by == By::least_size || all.empty()) return Evaluation::value(0);
  const Value carries = least_carried(e, s, all, asked.by, hots, need.count);
  if (!carries || carries.count >= need.count) return carries;
  const MissingId roles = roles_missing(e, circuit);  // one more of them may be ungrounded
  return roles != 0 ? Evaluation::lacks(roles) : carries;
}

}  // namespace raceward::figure::compute
