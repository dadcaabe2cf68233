// Whether the conductors of a circuit go together from place to place.
//
// Method: in each raceway that the circuit passes, its conductors that carry current are counted. One by
// itself has its return somewhere else; so have those of one phase in parallel, which only raceways in earth
// that are of no metal may hold. A grounding conductor by itself is apart where the others take another
// raceway between the same two places. Where sets in parallel take raceways of their own and one of these
// holds a grounding conductor, each must.
#include <algorithm>
#include <string_view>
#include <tuple>

#include "figure/current_carrying.hpp"
#include "figure/first_by_id.hpp"
#include "figure/raceway_kinds.hpp"
#include "figure/surroundings.hpp"
#include "figure/told.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

/// What tells the phases of conductors that carry current apart: role and colour.
struct Phases {
  Index first = none;    // a conductor among them
  bool several = false;  // there is another than it
  bool grounded = false, hot = false;
  std::string_view mark;  // of the hot ones
  bool marks_differ = false, unmarked = false;
  bool cable = false;  // it may hold any

  void add(const Model& model, Index index) {
    const Conductor& c = model.conductors[index];
    if (model.conductor_kinds[c.kind].cable) cable = true;
    if (c.role == Role::equipment_grounding || c.role == Role::bonding) return;
    Phases one;
    one.first = index;
    one.grounded = c.role == Role::grounded;
    one.hot = !one.grounded;
    if (one.hot) one.mark = c.identification;
    one.unmarked = one.hot && one.mark.empty();
    add(one);
  }
  void add(const Phases& more) {
    several = several || more.several || (first != none && more.first != none && first != more.first);
    if (first == none) first = more.first;
    grounded = grounded || more.grounded;
    hot = hot || more.hot;
    cable = cable || more.cable;
    unmarked = unmarked || more.unmarked;
    marks_differ =
        marks_differ || more.marks_differ || (!mark.empty() && !more.mark.empty() && mark != more.mark);
    if (mark.empty()) mark = more.mark;
  }
};

/// What the circuit lays into one raceway.
struct Laid {
  Index from = none, to = none;  // places, the smaller first
  Index raceway = none;
  Carrying carrying;
  Phases phases;

  [[nodiscard]] std::int64_t current() const {
    return carrying.ungrounded + carrying.switched + carrying.travelers + carrying.grounded;
  }
};

std::uint32_t ungrounded_of(const Model& model, const Circuit& circuit) {
  std::uint32_t count = 0;
  for (Index c = circuit.conductors.first; c < circuit.conductors.end(); ++c)
    if (model.conductors[c].role == Role::ungrounded) count += model.conductors[c].count;
  return count;
}

/// How many colours or marks its ungrounded conductors have.
std::size_t marks_of(const Model& model, const Circuit& circuit) {
  std::vector<std::string_view> marks;
  for (Index c = circuit.conductors.first; c < circuit.conductors.end(); ++c) {
    const Conductor& one = model.conductors[c];
    if (one.role == Role::ungrounded && !one.identification.empty()) marks.push_back(one.identification);
  }
  std::ranges::sort(marks);
  return static_cast<std::size_t>(std::unique(marks.begin(), marks.end()) - marks.begin());
}

/// What the circuit lays between two places, by all raceways side by side.
struct Between {
  std::int64_t ungrounded = 0;
  Phases phases;
};

/// Whether sets of which a raceway holds a phase beside a grounded conductor are not whole there; unstated
/// where that is not known. `marks`: how many colours the ungrounded ones of the circuit have.
YesNo not_whole(const Circuit& circuit, const Laid& here, const Between& between, std::size_t marks) {
  const std::int64_t all = between.ungrounded, parallel = circuit.parallel;
  // Not said to be in parallel or not, and more than phases, some of them beside: they may be sets.
  if (parallel == 0 && all > std::int64_t{most_phases} && here.carrying.ungrounded < all)
    return YesNo::unstated;
  if (parallel < 2 || all < parallel || all % parallel != 0) return YesNo::no;
  const std::int64_t phases = all / parallel;
  if (here.carrying.ungrounded % phases != 0) return YesNo::yes;
  if (phases == 1) return YesNo::no;
  if (static_cast<std::int64_t>(marks) > phases) return YesNo::unstated;
  if (here.phases.marks_differ) return YesNo::no;
  if (!here.phases.unmarked && between.phases.marks_differ) return YesNo::yes;
  return here.carrying.ungrounded == parallel ? YesNo::unstated : YesNo::no;
}

/// Whether those of a raceway are of one phase, or lack one; unstated where that is not known. `all`:
/// ungrounded ones of the circuit.
YesNo of_one_phase(const Circuit& circuit, const Laid& here, const Between& between, const Phases& of_circuit,
                   std::uint32_t all, std::size_t marks) {
  const Phases& p = here.phases;
  if (here.current() < 2 || p.cable) return YesNo::no;
  if (p.grounded && p.hot) return not_whole(circuit, here, between, marks);
  if (p.grounded) return YesNo::yes;
  if (circuit.parallel == 1) return YesNo::no;
  if (!p.several) return YesNo::yes;
  // Sets beside it have grounded conductors, and those of this one lie elsewhere.
  if (circuit.parallel > 1 && between.phases.grounded) return YesNo::yes;
  // Whatever their marks: where they make no whole number of sets, a phase lies elsewhere.
  const bool in_sets = circuit.parallel > 1 && all >= circuit.parallel && all % circuit.parallel == 0;
  if (in_sets && here.carrying.ungrounded % (all / circuit.parallel) != 0) return YesNo::yes;
  if (p.marks_differ) return YesNo::no;
  if (!p.unmarked && of_circuit.marks_differ) return YesNo::yes;
  // Not said to be in parallel or not, and more than phases: a part of them may be of one.
  if (circuit.parallel == 0 && all > most_phases && here.carrying.ungrounded < std::int64_t{all})
    return YesNo::unstated;
  // All are marked alike: a set holds one of each phase, and those of one phase are as many as are parallel.
  return here.current() == std::int64_t{circuit.parallel} ? YesNo::unstated : YesNo::no;
}

/// Whether of all its conductors that carry current one ungrounded one leaves its panel: its return is not
/// written.
bool return_unwritten(const Evaluation& e, Index index) {
  const Circuit& circuit = e.model.circuits[index];
  const Index device = circuit.overcurrent_device;
  const Index panel = device == none ? none : e.model.overcurrent_devices[device].panel;
  std::vector<Index> there;
  for (Index r = circuit.runs.first; r < circuit.runs.end(); ++r) {
    const Run& run = e.model.runs[r];
    bool visits = panel == none;
    for (Index s = run.stops.first; s < run.stops.end() && !visits; ++s)
      visits = e.model.stops[s].place == panel;
    const auto first = e.model.run_conductors.begin() + run.conductors.first;
    if (visits) there.insert(there.end(), first, first + run.conductors.count);
  }
  std::ranges::sort(there);
  there.erase(std::unique(there.begin(), there.end()), there.end());
  std::uint32_t hot = 0;
  for (const Index c : there) {
    const Conductor& one = e.model.conductors[c];
    if (e.model.conductor_kinds[one.kind].cable || one.role == Role::grounded || one.role == Role::unstated)
      return false;
    if (one.role == Role::ungrounded) hot += one.count;
  }
  return hot == 1;  // not law: one
}

/// The grounded conductor of another circuit in a raceway: that circuit, the first by id; else none.
Index grounded_beside(Evaluation& e, Index circuit, Index raceway) {
  Index first = none;
  for (const Index r : e.in.routes.runs_in(raceway)) {
    const Run& run = e.model.runs[r];
    if (run.circuit == circuit || e.model.circuits[run.circuit].kind == CircuitKind::other) continue;
    for (Index i = run.conductors.first; i < run.conductors.end(); ++i)
      if (e.model.conductors[e.model.run_conductors[i]].role == Role::grounded)
        hold_first(e.model.circuits, first, run.circuit);
  }
  return first;
}

/// Missing where its return is not written, and may be the grounded conductor of another circuit.
MissingId lacks_return(Evaluation& e, Index circuit, Index raceway) {
  const Index other = grounded_beside(e, circuit, raceway);
  const auto first = e.model.conductors.begin() + e.model.circuits[circuit].conductors.first;
  const bool has_own = std::any_of(first, first + e.model.circuits[circuit].conductors.count,
                                   [](const Conductor& one) { return one.role == Role::grounded; });
  if (other == none && has_own) return 0;  // it comes another way
  return e
      .lacks(
          {SubjectKind::circuit, circuit}, "conductor",
          other == none
              ? "its grounded conductor"
              : "its grounded conductor; where it shares one, one circuit with multiwire=\"yes\" in "
                "place of both",
          designer,
          other == none
              ? std::string("one ungrounded conductor leaves its panel, and what leads back is not written")
              : fmt::format(
                    FMT_COMPILE("one ungrounded conductor leaves its panel, and what leads back may be "
                                "the grounded conductor of circuit {}"),
                    e.model.circuits[other].id),
          e.model.circuits[circuit].source)
      .missing;
}

/// By the two places and the raceway.
auto key_of(const Laid& l) { return std::tuple{l.from, l.to, l.raceway}; }

std::size_t place_in(const std::vector<Laid>& all, const Laid& one) {
  return static_cast<std::size_t>(std::ranges::lower_bound(all, key_of(one), {}, key_of) - all.begin());
}

/// What lies between the two places of each of those laid, summed once for all that are side by side.
class Beside {
 public:
  /// REQUIRES: `all` is sorted by its keys.
  explicit Beside(const std::vector<Laid>& all) {
    for (std::size_t i = 0; i < all.size(); ++i) {
      if (i == 0 || all[i].from != all[i - 1].from || all[i].to != all[i - 1].to) between_.emplace_back();
      between_.back().ungrounded += all[i].carrying.ungrounded;
      between_.back().phases.add(all[i].phases);
      of_.push_back(between_.size() - 1);
    }
  }
  [[nodiscard]] const Between& of(std::size_t laid) const { return between_[of_[laid]]; }

 private:
  std::vector<Between> between_;
  std::vector<std::size_t> of_;
};

/// For working.
auto by_raceway(const Evaluation& e) {
  return [&e](const Laid& l) { return id_key(e.model.raceways[l.raceway].id); };
}

/// The law lets conductors in parallel lie phase by phase there.
bool may_hold_one_phase(const Evaluation& e, const Raceway& r) {
  return r.type != RacewayType::unstated && !is_metal(r.type) && is_buried(e, r);
}

std::vector<Laid> laid_by(Evaluation& e, const Circuit& circuit, MissingId& missing) {
  std::vector<Laid> out;
  for (Index run = circuit.runs.first; run < circuit.runs.end(); ++run) {
    const Carrying& carrying = carrying_of_run(e, run);
    missing = e.missing.both(missing, carrying.missing);
    Phases phases;
    const Range& conductors = e.model.runs[run].conductors;
    for (Index i = conductors.first; i < conductors.end(); ++i)
      phases.add(e.model, e.model.run_conductors[i]);
    const Range& hops = e.in.routes.run_hops[run];
    for (Index h = hops.first; h < hops.end(); ++h) {
      const Hop& hop = e.in.routes.hops[h];
      out.push_back({std::min(hop.from, hop.to), std::max(hop.from, hop.to), hop.raceway, carrying, phases});
    }
  }
  std::stable_sort(out.begin(), out.end(),
                   [](const Laid& a, const Laid& b) { return key_of(a) < key_of(b); });
  std::size_t kept = 0;
  for (std::size_t i = 0; i < out.size(); ++i) {
    if (kept != 0 && key_of(out[kept - 1]) == key_of(out[i])) {
      out[kept - 1].carrying += out[i].carrying;
      out[kept - 1].phases.add(out[i].phases);
    } else {
      out[kept++] = out[i];
    }
  }
  out.resize(kept);
  return out;
}

/// The way of one run that carries current, among those laid.
struct Way {
  Index from = none, to = none;  // where the run begins and ends, the smaller first
  std::vector<std::size_t> laid;
  bool grounded = true;  // each raceway of it holds a grounding conductor
};

std::vector<Way> ways_of(Evaluation& e, const Circuit& circuit, const std::vector<Laid>& laid) {
  std::vector<Way> ways;
  for (Index run = circuit.runs.first; run < circuit.runs.end(); ++run) {
    const Range& hops = e.in.routes.run_hops[run];
    if (hops.count == 0) continue;
    const Hop &first = e.in.routes.hops[hops.first], &last = e.in.routes.hops[hops.end() - 1];
    Way way{std::min(first.from, last.to), std::max(first.from, last.to), {}, true};
    for (Index h = hops.first; h < hops.end(); ++h) {
      const Hop& hop = e.in.routes.hops[h];
      const std::tuple key{std::min(hop.from, hop.to), std::max(hop.from, hop.to), hop.raceway};
      const auto at = std::ranges::lower_bound(laid, key, {}, key_of);
      if (at->current() == 0) continue;
      way.laid.push_back(static_cast<std::size_t>(at - laid.begin()));
      way.grounded = way.grounded && at->carrying.grounding > 0;
    }
    if (!way.laid.empty()) ways.push_back(std::move(way));
  }
  std::ranges::stable_sort(ways, {}, [](const Way& w) { return std::tuple{w.from, w.to}; });
  return ways;
}

/// Of those laid, which carry current and hold no grounding conductor though others beside them do: between
/// the same two places, or on another whole way between where their run begins and ends.
std::vector<std::uint8_t> ungrounded_beside(Evaluation& e, const Circuit& circuit,
                                            const std::vector<Laid>& laid) {
  std::vector<std::uint8_t> left_out(laid.size());
  for (std::size_t i = 0; i < laid.size();) {
    std::size_t end = i;
    bool grounded = false;
    for (; end < laid.size() && laid[end].from == laid[i].from && laid[end].to == laid[i].to; ++end)
      grounded = grounded || (laid[end].current() > 0 && laid[end].carrying.grounding > 0);
    for (; i < end; ++i) left_out[i] = grounded && laid[i].current() > 0 && laid[i].carrying.grounding == 0;
  }
  const std::vector<Way> ways = ways_of(e, circuit, laid);
  for (std::size_t i = 0; i < ways.size();) {
    std::size_t end = i;
    bool grounded = false;
    for (; end < ways.size() && ways[end].from == ways[i].from && ways[end].to == ways[i].to; ++end)
      grounded = grounded || ways[end].grounded;
    for (; i < end; ++i) {
      for (const std::size_t l : ways[i].laid)
        if (grounded && laid[l].carrying.grounding == 0) left_out[l] = 1;
    }
  }
  return left_out;
}

}  // namespace

Value raceways_of_circuit(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  if (circuit.kind == CircuitKind::other) return Evaluation::value(0);
  if (const MissingId open = unknown_way(e, s.index); open != 0) return Evaluation::lacks(open);
  MissingId missing = 0;
  const auto laid = laid_by(e, circuit, missing);
  return Evaluation::value(number(static_cast<std::int64_t>(laid.size())).count());
}

Value conductors_apart(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  MissingId missing = unknown_way(e, s.index);
  const auto laid = laid_by(e, circuit, missing);
  if (missing != 0) return Evaluation::lacks(missing);
  std::int64_t count = 0;
  Value worst = Evaluation::value(0);
  Phases of_circuit;
  const std::uint32_t ungrounded = ungrounded_of(e.model, circuit);
  for (Index c = circuit.conductors.first; c < circuit.conductors.end(); ++c) of_circuit.add(e.model, c);
  const std::size_t marks = marks_of(e.model, circuit);
  const bool alone = return_unwritten(e, s.index);
  const Beside all_beside(laid);
  for (const Laid& here : told_by(e, laid, by_raceway(e))) {
    const std::size_t i = place_in(laid, here);
    const auto beside = [&](std::size_t j) {
      return j < laid.size() && laid[j].from == here.from && laid[j].to == here.to && laid[j].current() > 0;
    };
    // Raceways between the same two places stand side by side.
    const bool ground_apart =
        here.current() == 0 && here.carrying.grounding > 0 && (beside(i + 1) || (i > 0 && beside(i - 1)));
    const Raceway& raceway = e.model.raceways[here.raceway];
    const bool allowed = may_hold_one_phase(e, raceway);
    const YesNo one_phase = allowed && circuit.parallel > 1 ? YesNo::no
                                                            : of_one_phase(circuit, here, all_beside.of(i),
                                                                           of_circuit, ungrounded, marks);
    // Grounded conductors alone are apart from the others, in parallel or not, but where that is allowed.
    const bool neutrals = here.phases.grounded && !here.phases.hot;
    const bool unsaid = circuit.parallel == 0 && (!neutrals || allowed);
    if (one_phase != YesNo::no && unsaid && !neutrals && ungrounded <= most_phases) continue;
    if (one_phase == YesNo::unstated ||
        (one_phase == YesNo::yes && (unsaid || raceway.type == RacewayType::unstated))) {
      const Index c = here.phases.first;
      const Value lack =
          unsaid ? e.lacks(s, "parallel", "how many conductors of each phase are in parallel", designer,
                           "conductors of one phase may lie by themselves")
          : one_phase == YesNo::yes
              ? e.lacks({SubjectKind::raceway, here.raceway}, "type", "a raceway type such as PVC-40",
                        installer)
              : e.lacks({SubjectKind::conductor, c}, "color", "a colour or mark that tells its phase",
                        designer, "all in the raceway are marked alike, and may be of one phase",
                        e.model.conductors[c].source);
      missing = e.missing.both(missing, lack.missing);
      continue;
    }
    // In earth it may lie phase by phase.
    const bool of_metal = is_metal(raceway.type);
    if (const MissingId open = one_phase == YesNo::yes && !of_metal ? earth_open(e, here.raceway, true) : 0;
        open != 0) {
      missing = e.missing.both(missing, open);
      continue;
    }
    if (here.current() != 1 && !ground_apart && one_phase != YesNo::yes) continue;
    if (here.current() == 1 && here.phases.hot && alone) {
      if (const MissingId lack = lacks_return(e, s.index, here.raceway); lack != 0) {
        missing = e.missing.both(missing, lack);
        continue;
      }
    }
    e.note(FMT_COMPILE("raceway {}: {} of the circuit that carry current, {} for grounding"), raceway.id,
           here.current(), here.carrying.grounding);
    const bool first = count == 0 || id_before(raceway.id, e.model.raceways[worst.place.index].id);
    if (first) worst.place = {SubjectKind::raceway, here.raceway};
    ++count;
  }
  if (count == 0 && missing != 0) return Evaluation::lacks(missing);
  worst.count = number(count).count();
  return worst;
}

Value sets_without_grounding(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  MissingId missing = unknown_way(e, s.index);
  const auto laid = laid_by(e, circuit, missing);
  if (missing != 0) return Evaluation::lacks(missing);
  if (circuit.parallel == 1 || ungrounded_of(e.model, circuit) < 2) return Evaluation::value(0);
  const auto left_out = ungrounded_beside(e, circuit, laid);
  const auto count = std::ranges::count(left_out, 1);
  if (count != 0 && circuit.parallel == 0) {
    return e.lacks(
        s, "parallel", "how many conductors of each phase are in parallel", designer,
        "sets in parallel need a grounding conductor in each of their raceways, and one of these has "
        "none",
        circuit.source);
  }
  Value out = Evaluation::value(number(count).count());
  for (const Laid& here : told_by(e, laid, by_raceway(e))) {
    const Raceway& raceway = e.model.raceways[here.raceway];
    if (count != 0 && here.current() > 0) {
      e.note(FMT_COMPILE("raceway {}: {} of the circuit that carry current, {} for grounding"), raceway.id,
             here.current(), here.carrying.grounding);
    }
    if (left_out[place_in(laid, here)] == 0) continue;
    const bool first = out.place == Subject{} || id_before(raceway.id, e.model.raceways[out.place.index].id);
    if (first) out.place = {SubjectKind::raceway, here.raceway};
  }
  return out;
}

}  // namespace raceward::figure::compute
