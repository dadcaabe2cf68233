// Conductors in parallel: how large, how alike and how long they are.
//
// Method: a circuit says how many conductors of each phase are in parallel. Then of each kind of ungrounded
// conductors there are so many, or a multiple, since phases may differ from one another: which are of one
// phase their marks tell. Runs between the same two places are as long as one another, along the raceways
// that they take, and these are alike. More conductors than the overcurrent device has poles may be such too.
#include <algorithm>
#include <tuple>

#include "figure/current_carrying.hpp"
#include "figure/facts.hpp"
#include "figure/grounding_size_law.hpp"
#include "figure/raceway_kinds.hpp"
#include "figure/supply.hpp"
#include "figure/told.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

bool carries(const Model& model, Index c, Role role) {
  return model.conductors[c].role == role && !model.conductor_kinds[model.conductors[c].kind].cable;
}

std::uint32_t count_of(const Model& model, const Circuit& circuit, Role role) {
  std::uint32_t count = 0;
  for (Index c = circuit.conductors.first; c < circuit.conductors.end(); ++c)
    if (carries(model, c, role)) count += model.conductors[c].count;
  return count;
}

/// Most conductors of a role that go side by side in one run, no smaller than that.
std::uint32_t most_in_a_run(Evaluation& e, const Circuit& circuit, Role role, ConductorSize smallest) {
  std::uint32_t most = 0;
  for (Index r = circuit.runs.first; r < circuit.runs.end(); ++r) {
    const Range& conductors = e.model.runs[r].conductors;
    std::uint32_t count = 0;
    for (Index i = conductors.first; i < conductors.end(); ++i) {
      const Index c = e.model.run_conductors[i];
      const ConductorSize size = e.model.conductor_kinds[e.model.conductors[c].kind].size;
      const bool may = !by_gauge(size) || size >= smallest;
      if (may && carries(e.model, c, role)) count += e.model.conductors[c].count;
    }
    most = std::max(most, count);
  }
  return most;
}

/// The same of ungrounded ones that may lie in parallel.
std::uint32_t most_in_a_run(Evaluation& e, const Circuit& circuit) {
  const Parameter* const least = e.law.parameter("smallest-parallel-conductor");
  const bool told = least != nullptr && least->is_word;
  return most_in_a_run(e, circuit, Role::ungrounded,
                       told ? term_spelt<ConductorSize>(least->text) : ConductorSize::unstated);
}

/// Whether the conductors of a role lie in parallel; a single grounded conductor beside several does not.
/// Some that are fewer than the sets may be alone one after the other.
Value in_parallel(Evaluation& e, Subject s, Role role) {
  const Circuit& circuit = e.model.circuits[s.index];
  const std::uint32_t count = count_of(e.model, circuit, role);
  if (role == Role::ungrounded || count >= circuit.parallel) return answer(true);
  if (count < 2) return answer(false);                                                    // not law: several
  if (most_in_a_run(e, circuit, role, ConductorSize::unstated) > 1) return answer(true);  // not law: one
  return e.lacks(
      s, "parallel", "how many conductors of each phase are in parallel", designer,
      fmt::format(FMT_COMPILE("it is said to be {}, and {} grounded conductors are neither one for "
                              "each nor one alone"),
                  circuit.parallel, count),
      circuit.source);
}

constexpr Role both_roles[] = {Role::ungrounded, Role::grounded};

/// Conductors of one size, metal and insulation, and of one mark.
struct Alike {
  ConductorSize size{};
  ConductorMaterial material{};
  std::uint64_t insulations = 0;
  std::string_view mark;
  std::uint32_t count = 0;

  [[nodiscard]] auto kind() const { return std::tuple(size, material, insulations); }
  [[nodiscard]] bool same_kind(const Alike& other) const { return kind() == other.kind(); }
};

/// Those of a role, by kind and mark.
std::vector<Alike> kinds_of_role(Evaluation& e, const Circuit& circuit, Role role, MissingId& missing) {
  std::vector<Alike> out;
  for (Index c = circuit.conductors.first; c < circuit.conductors.end(); ++c) {
    if (!carries(e.model, c, role)) continue;
    const Conductor& conductor = e.model.conductors[c];
    const ConductorKind& kind = e.model.conductor_kinds[conductor.kind];
    const auto lack = [&](std::string_view name, std::string_view expects) {
      const Value one = e.lacks({SubjectKind::conductor, c}, name, expects, marking, {}, conductor.source);
      missing = e.missing.both(missing, one.missing);
    };
    if (kind.size == ConductorSize::unstated) lack("size", "a size such as 1/0 AWG");
    if (kind.material == ConductorMaterial::unstated)
      lack("material", "copper, aluminum or copper-clad-aluminum");
    if (kind.insulations == 0) lack("insulation", "marks such as THHN/THWN-2");
    out.push_back({kind.size, kind.material, kind.insulations, conductor.identification, conductor.count});
  }
  std::ranges::sort(out, {},
                    [](const Alike& a) { return std::tuple(a.mark, a.size, a.material, a.insulations); });
  return out;
}

/// Of one mark, beginning at the first: whether all are alike, and how many they are.
struct OfMark {
  std::size_t end = 0;
  std::uint32_t count = 0;
  bool alike = true;
};

OfMark of_mark(const std::vector<Alike>& kinds, std::size_t first) {
  OfMark out{first, 0, true};
  for (; out.end < kinds.size() && kinds[out.end].mark == kinds[first].mark; ++out.end) {
    out.count += kinds[out.end].count;
    out.alike = out.alike && kinds[out.end].same_kind(kinds[first]);
  }
  return out;
}

Value lacks_mark(Evaluation& e, const Circuit& circuit) {
  Index first = none;
  for (Index c = circuit.conductors.first; c < circuit.conductors.end(); ++c) {
    if (!carries(e.model, c, Role::ungrounded)) continue;
    const Conductor& conductor = e.model.conductors[c];
    const bool unmarked = conductor.identification.empty();
    if (first != none) {
      const bool first_unmarked = e.model.conductors[first].identification.empty();
      if (first_unmarked != unmarked ? first_unmarked : id_before(e.model.conductors[first].id, conductor.id))
        continue;
    }
    first = c;
  }
  return e.lacks({SubjectKind::conductor, first}, "color", "a colour or mark that tells its phase", designer,
                 "they are of several kinds, and which of them are of one phase is not said otherwise",
                 e.model.conductors[first].source);
}

/// Whether conductors of a role are alike within each phase. Phases are told by marks; grounded ones are of
/// none, and all alike.
Value alike_by_phase(Evaluation& e, const Circuit& circuit, Role role) {
  MissingId missing = 0;
  const std::vector<Alike> kinds = kinds_of_role(e, circuit, role, missing);
  if (missing != 0) return Evaluation::lacks(missing);
  const bool one_kind =
      std::ranges::all_of(kinds, [&](const Alike& of) { return of.same_kind(kinds.front()); });
  if (one_kind) return answer(true);
  if (role == Role::grounded) {
    e.note(FMT_COMPILE("grounded conductors in parallel are of several kinds"));
    return answer(false);
  }
  std::vector<Alike> by_kind = kinds;
  std::ranges::sort(by_kind, {}, &Alike::kind);
  for (std::size_t i = 0; i < by_kind.size();) {
    const Alike& of = by_kind[i];
    std::uint32_t count = 0;
    for (; i < by_kind.size() && by_kind[i].same_kind(of); ++i) count += by_kind[i].count;
    if (count % circuit.parallel == 0) continue;
    e.note(FMT_COMPILE("{} {} conductors of {} {} are no whole number of sets of {}"), count, name_of(role),
           name_of(of.size), name_of(of.material), circuit.parallel);
    return answer(false);
  }
  bool told = true;
  for (std::size_t i = 0; i < kinds.size();) {
    const OfMark mark = of_mark(kinds, i);
    if (kinds[i].mark.empty() || mark.count % circuit.parallel != 0 ||
        (!mark.alike && mark.count != circuit.parallel)) {
      told = false;
    } else if (!mark.alike) {
      e.note(FMT_COMPILE("{} ungrounded conductors marked {} are of one phase, and of several kinds"),
             mark.count, kinds[i].mark);
      return answer(false);
    }
    i = mark.end;
  }
  return told ? answer(true) : lacks_mark(e, circuit);
}

/// A run of ungrounded conductors.
struct Way {
  Index run = none;
  Index from = none, to = none;  ///< places, the smaller first
  unsigned kinds = 0;            ///< of raceways: see kinds_passed
};

/// Those of a circuit. `missing`: ways that are not written, or not wholly.
std::vector<Way> ways_of(Evaluation& e, Subject s, MissingId& missing) {
  const Circuit& circuit = e.model.circuits[s.index];
  std::vector<Way> out;
  for (const Index r : told_runs(e, circuit.runs)) {
    const Run& run = e.model.runs[r];
    const auto first = e.model.run_conductors.begin() + run.conductors.first;
    const bool power = std::any_of(first, first + run.conductors.count,
                                   [&](Index c) { return carries(e.model, c, Role::ungrounded); });
    if (!power) continue;
    if (!way_known(e, r)) {
      const Value lack = e.lacks(s, "via", "the raceways that each run takes", designer,
                                 "the way of a run is not known", circuit.source);
      missing = e.missing.both(missing, lack.missing);
    }
    const auto [from, to] =
        std::minmax({e.model.stops[run.stops.first].place, e.model.stops[run.stops.end() - 1].place});
    out.push_back({r, from, to, 0});
  }
  if (out.empty()) {
    const Value lack =
        e.lacks(s, "run", "the way of each conductor in parallel", designer, {}, circuit.source);
    missing = e.missing.both(missing, lack.missing);
  }
  return out;
}

enum : unsigned {
  of_no_metal = 1,
  of_steel = 2,
  of_aluminum = of_steel << 1,
  of_stainless = of_aluminum << 1
};

unsigned kind_of(RacewayMetal metal) {
  return metal == RacewayMetal::aluminum          ? of_aluminum
         : metal == RacewayMetal::stainless_steel ? of_stainless
                                                  : of_steel;
}

/// By what they do to a current beside its return: of which kinds are the raceways of a run.
unsigned kinds_passed(Evaluation& e, Index run, MissingId& missing) {
  unsigned out = 0;
  bool known = true;
  const Range& hops = e.in.routes.run_hops[run];
  for (Index h = hops.first; h < hops.end(); ++h) {
    const Index index = e.in.routes.hops[h].raceway;
    const Raceway& raceway = e.model.raceways[index];
    if (raceway.type == RacewayType::unstated) {
      const Value lack =
          e.lacks({SubjectKind::raceway, index}, "type", "a raceway type such as EMT", installer);
      missing = e.missing.both(missing, lack.missing);
      known = false;
      continue;
    }
    out |= !is_metal(raceway.type) ? of_no_metal : kind_of(raceway.material);
  }
  return known && way_known(e, run) ? out : 0;
}

std::string words_of(unsigned kinds) {
  std::string out;
  const auto add = [&](unsigned kind, std::string_view words) {
    if ((kinds & kind) == 0) return;
    if (!out.empty()) out += " and ";
    out += words;
  };
  add(of_no_metal, "raceways of no metal");
  add(of_steel, "raceways of steel");
  add(of_aluminum, "raceways of aluminum");
  add(of_stainless, "raceways of stainless steel");
  return out;
}

}  // namespace

Value conductors_in_parallel(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  if (circuit.kind == CircuitKind::other) return Evaluation::value(0);
  const std::uint32_t ungrounded = count_of(e.model, circuit, Role::ungrounded);
  // Said to be alone, in one run there are no more than phases; others may be those of a further run.
  const std::uint32_t beside = circuit.parallel == 1 ? most_in_a_run(e, circuit) : ungrounded;
  if (circuit.parallel < 2 && beside > most_phases) {
    return e.lacks(s, "parallel", "how many conductors of each phase are in parallel", designer,
                   fmt::format(FMT_COMPILE("it has {} ungrounded conductors"), beside), circuit.source);
  }
  if (circuit.parallel == 1) return Evaluation::value(0);
  // Of one phase that begin at one pole; between phases the overcurrent device would need more of them.
  const std::uint32_t poles = poles_of(e.model, s.index);
  const bool one_phase =
      circuit.voltage.known() && circuit.to_ground.known() && *circuit.voltage == *circuit.to_ground;
  const std::uint32_t side_by_side = std::min(
      ungrounded_at_source(e, s.index), most_in_a_run(e, circuit, Role::ungrounded, ConductorSize::unstated));
  if (circuit.parallel == 0 && one_phase && poles != 0 && side_by_side > poles) {
    return e.lacks(
        s, "parallel", "how many conductors of each phase are in parallel", designer,
        fmt::format(
            FMT_COMPILE("{} ungrounded conductors of one phase begin at {} of its overcurrent device"),
            side_by_side, poles == 1 ? "one pole" : "fewer poles"),
        circuit.source);
  }
  if (circuit.parallel == 0) {
    // Conductors whose role is not known may make a set, where there are enough of them.
    const bool enough = ungrounded + count_of(e.model, circuit, Role::unstated) > most_phases;
    return enough ? Evaluation::lacks(roles_missing(e, circuit)) : Evaluation::value(0);
  }
  if (const MissingId missing = roles_missing(e, circuit); missing != 0) return Evaluation::lacks(missing);
  if (ungrounded == 0 || ungrounded % circuit.parallel != 0) {
    return e.lacks(
        s, "parallel", "how many conductors of each phase are in parallel", designer,
        fmt::format(FMT_COMPILE("its ungrounded conductors, {} in all, are no whole number of sets of {}"),
                    ungrounded, circuit.parallel),
        circuit.source);
  }
  const std::uint32_t phases = ungrounded / circuit.parallel;
  const bool between_phases =
      circuit.voltage.known() && circuit.to_ground.known() && *circuit.voltage > *circuit.to_ground;
  // So many that they make no whole number of sets for all poles leave one of these free.
  const bool for_all_poles = poles != 0 && ungrounded % poles == 0;
  const bool fewer = phases < poles && (for_all_poles || phases == 1);  // not law: one
  if (fewer || (phases == 1 && between_phases)) {                       // not law: one
    return e.lacks(
        s, "parallel", "how many conductors of each phase are in parallel", designer,
        fmt::format(FMT_COMPILE("with {} of each its {} ungrounded conductors are {}, and {}"),
                    circuit.parallel, ungrounded, phases == 1 ? "one phase" : "fewer phases",
                    fewer ? "its overcurrent device has more poles" : "it has a voltage between phases"),
        circuit.source);
  }
  e.note(FMT_COMPILE("stated: {} conductors in parallel"), circuit.parallel);
  return Evaluation::value(number(circuit.parallel).count());
}

Value small_in_parallel(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  const Parameter* const least = e.law.parameter("smallest-parallel-conductor");
  if (least == nullptr || !least->is_word) return e.lacks_law("smallest-parallel-conductor");
  const auto size = term_spelt<ConductorSize>(least->text);
  e.used(least->cite);
  e.note(FMT_COMPILE("least size in parallel: {} ({})"), least->text, e.cited(least->cite));
  Value out = Evaluation::value(0, least->cite);
  std::uint32_t small = 0;
  MissingId missing = 0;
  for (const Role role : both_roles) {
    const Value parallel = in_parallel(e, s, role);
    missing = e.missing.both(missing, parallel.missing);
    if (!is_yes(parallel)) continue;
    for (Index c = circuit.conductors.first; c < circuit.conductors.end(); ++c) {
      if (!carries(e.model, c, role)) continue;
      const Conductor& conductor = e.model.conductors[c];
      const ConductorSize has = e.model.conductor_kinds[conductor.kind].size;
      if (!by_gauge(has)) {
        const Value lack = e.lacks({SubjectKind::conductor, c}, "size", "a size such as 1/0 AWG", marking, {},
                                   conductor.source);
        missing = e.missing.both(missing, lack.missing);
      } else if (has < size) {
        // The first by id, so that the order of elements does not matter.
        if (small == 0 || id_before(conductor.id, e.model.conductors[out.place.index].id)) {
          out.place = {SubjectKind::conductor, c};
        }
        small += conductor.count;
      }
    }
  }
  if (small == 0 && missing != 0) return Evaluation::lacks(missing);
  out.count = number(small).count();
  return out;
}

Value parallel_alike(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  if (circuit.parallel < 2) return answer(true);
  MissingId missing = 0;
  for (const Role role : both_roles) {
    const Value parallel = in_parallel(e, s, role);
    missing = e.missing.both(missing, parallel.missing);
    if (!is_yes(parallel)) continue;
    const Value alike = alike_by_phase(e, circuit, role);
    if (is_no(alike)) return alike;
    missing = e.missing.both(missing, alike.missing);
  }
  if (missing != 0) return Evaluation::lacks(missing);
  e.note(FMT_COMPILE("all of a phase are of one size, metal and insulation"));
  return answer(true);
}

Value parallel_ways_alike(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  MissingId missing = 0;
  std::vector<Way> ways = ways_of(e, s, missing);
  std::ranges::stable_sort(ways, {}, [](const Way& w) { return std::pair(w.from, w.to); });
  const Way* known = nullptr;  // the first between these places whose raceways are known
  for (Way& way : ways) {
    way.kinds = kinds_passed(e, way.run, missing);
    if (way.kinds == 0) continue;
    const bool beside = known != nullptr && way.from == known->from && way.to == known->to;
    if (!beside) known = &way;
    if (way.kinds == known->kinds) continue;
    const auto [less, more] = std::minmax(way.kinds, known->kinds);
    e.note(FMT_COMPILE("sets of circuit {} lie in {} and in {}"), circuit.id, words_of(less), words_of(more));
    return answer(false);
  }
  if (missing != 0 && ways.size() > 1) return Evaluation::lacks(missing);  // not law: one way
  return answer(true);
}

Value parallel_length_difference(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  std::int64_t shortest = -1, longest = 0;
  MissingId missing = 0;
  const std::vector<Way> ways = ways_of(e, s, missing);
  for (const Way& way : ways) {
    if (way.from != ways.front().from || way.to != ways.front().to) {
      return e.lacks(s, "run", "runs between the same two places for all conductors in parallel", designer,
                     "how long they are together is not known otherwise", circuit.source);
    }
    std::int64_t length = 0;
    const Range& hops = e.in.routes.run_hops[way.run];
    for (Index hop = hops.first; hop < hops.end(); ++hop) {
      const Value one = e.get(Id::raceway_length, {SubjectKind::raceway, e.in.routes.hops[hop].raceway});
      if (!one) missing = e.missing.both(missing, one.missing);
      length += one ? one.count : 0;
    }
    shortest = shortest < 0 ? length : std::min(shortest, length);
    longest = std::max(longest, length);
  }
  if (missing != 0) return Evaluation::lacks(missing);
  if (shortest <= 0) return Evaluation::value(0);
  const auto share = static_cast<std::int64_t>(wide_int{longest - shortest} * number(1).count() / longest);
  if (e.noting()) {
    e.note(FMT_COMPILE("the longest way is {}, the shortest {}"), e.text_of({longest, Unit::foot}),
           e.text_of({shortest, Unit::foot}));
  }
  return Evaluation::value(share);
}

Value parallel_length_limit(Evaluation& e, Subject) {
  return set_by_law(e, "parallel-length-difference", Dimension::none);
}

}  // namespace raceward::figure::compute
