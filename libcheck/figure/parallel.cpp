// Conductors in parallel: how large, how alike and how long they are.
//
// Method: a circuit says how many conductors of each phase are in parallel. Then of each kind of ungrounded
// conductors there are so many, or a multiple, since phases may differ from one another: which are of one
// phase their marks tell. Runs between the same two places are as long as one another, along the raceways
// that they take.
#include <algorithm>
#include <tuple>

#include "figure/current_carrying.hpp"
#include "figure/facts.hpp"
#include "figure/grounding_size_law.hpp"
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

/// Most ungrounded conductors that go side by side in one run, of a size that may lie in parallel.
std::uint32_t most_in_a_run(Evaluation& e, const Circuit& circuit) {
  const Parameter* const least = e.law.parameter("smallest-parallel-conductor");
  const bool told = least != nullptr && least->is_word;
  const ConductorSize smallest = told ? term_spelt<ConductorSize>(least->text) : ConductorSize::unstated;
  std::uint32_t most = 0;
  for (Index r = circuit.runs.first; r < circuit.runs.end(); ++r) {
    const Range& conductors = e.model.runs[r].conductors;
    std::uint32_t count = 0;
    for (Index i = conductors.first; i < conductors.end(); ++i) {
      const Index c = e.model.run_conductors[i];
      const ConductorSize size = e.model.conductor_kinds[e.model.conductors[c].kind].size;
      const bool may = !by_gauge(size) || size >= smallest;
      if (may && carries(e.model, c, Role::ungrounded)) count += e.model.conductors[c].count;
    }
    most = std::max(most, count);
  }
  return most;
}

/// Whether the conductors of a role lie in parallel; a single grounded conductor beside several does not.
bool in_parallel(const Model& model, const Circuit& circuit, Role role) {
  return role == Role::ungrounded || count_of(model, circuit, role) >= circuit.parallel;
}

constexpr Role both_roles[] = {Role::ungrounded, Role::grounded};

/// Conductors of one size, metal and insulation, and of one mark.
struct Alike {
  ConductorSize size{};
  ConductorMaterial material{};
  std::uint64_t insulations = 0;
  std::string_view mark;
  std::uint32_t count = 0;

  [[nodiscard]] bool same_kind(const Alike& other) const {
    return size == other.size && material == other.material && insulations == other.insulations;
  }
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
      if (first_unmarked != unmarked ? first_unmarked : e.model.conductors[first].id < conductor.id) continue;
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
  for (const Alike& of : kinds) {
    std::uint32_t count = 0;
    for (const Alike& other : kinds) count += other.same_kind(of) ? other.count : 0;
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
  if (circuit.parallel == 0) {
    // Conductors whose role is not known may make a set, where there are enough of them.
    const bool enough = ungrounded + count_of(e.model, circuit, Role::unstated) > most_phases;
    return enough ? Evaluation::lacks(roles_missing(e, circuit)) : Evaluation::value(0);
  }
  if (const MissingId missing = roles_missing(e, circuit); missing != 0) return Evaluation::lacks(missing);
  if (ungrounded == 0 || ungrounded % circuit.parallel != 0) {
    return e.lacks(s, "parallel", "how many conductors of each phase are in parallel", designer,
                   fmt::format(FMT_COMPILE("{} ungrounded conductors are no whole number of sets of {}"),
                               ungrounded, circuit.parallel),
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
    if (!in_parallel(e.model, circuit, role)) continue;
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
        if (small == 0 || conductor.id < e.model.conductors[out.place.index].id) {
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
    if (!in_parallel(e.model, circuit, role)) continue;
    const Value alike = alike_by_phase(e, circuit, role);
    if (is_no(alike)) return alike;
    missing = e.missing.both(missing, alike.missing);
  }
  if (missing != 0) return Evaluation::lacks(missing);
  e.note(FMT_COMPILE("all of a phase are of one size, metal and insulation"));
  return answer(true);
}

Value parallel_length_difference(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  std::int64_t shortest = -1, longest = 0;
  Index first = none, last = none;
  MissingId missing = 0;
  for (Index r = circuit.runs.first; r < circuit.runs.end(); ++r) {
    const Run& run = e.model.runs[r];
    const bool power = [&] {
      for (Index i = run.conductors.first; i < run.conductors.end(); ++i)
        if (carries(e.model, e.model.run_conductors[i], Role::ungrounded)) return true;
      return false;
    }();
    if (!power || run.stops.count < 2) continue;
    const Index from = e.model.stops[run.stops.first].place, to = e.model.stops[run.stops.end() - 1].place;
    if (first == none) {
      first = from;
      last = to;
    }
    const bool same = (from == first && to == last) || (from == last && to == first);
    if (!same) {
      return e.lacks(s, "run", "runs between the same two places for all conductors in parallel", designer,
                     "how long they are together is not known otherwise", circuit.source);
    }
    std::int64_t length = 0;
    const Range& hops = e.in.routes.run_hops[r];
    if (hops.count == 0) {
      const Value lack = e.lacks(s, "via", "the raceways that each run takes", designer,
                                 "the way of a run is not known", circuit.source);
      missing = e.missing.both(missing, lack.missing);
    }
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
