// Whether equipment grounding conductors that come into a metal box are connected there.
//
// Method: they are asked for where other conductors of their circuit are spliced or end in the box. Those
// joined in it must have one connection to its metal; one that passes unbroken must have its own. Isolated
// ones may pass. What stops say of it counts, and what is said to ground the box. How conductors are treated
// is asked for where it decides.
#include <algorithm>
#include <span>
#include <vector>

#include "figure/facts.hpp"
#include "figure/grounding_network.hpp"
#include "figure/run_joins.hpp"

namespace raceward::figure::compute {

using namespace installation;
using namespace grounding;

namespace {

/// A run at a box.
struct Brought {
  Index circuit = none, run = none, stop = none;
  bool goes_on = false;        ///< beyond the box; else its conductors end or are spliced there
  bool others = false;         ///< it holds conductors that are not for grounding
  Carries wire = Carries::no;  ///< a grounding conductor that is not isolated
};

bool is_grounding(Role role) {
  return role == Role::equipment_grounding || role == Role::bonding || role == Role::electrode;
}

std::vector<Brought> brought_to(Evaluation& e, Index box) {
  std::vector<Brought> out;
  for (const Visit& visit : e.in.routes.visits_at(box)) {
    const Run& run = e.model.runs[visit.run];
    if (visit.stop == none || e.model.circuits[run.circuit].kind == CircuitKind::other) continue;
    const auto first = e.model.run_conductors.begin() + run.conductors.first;
    const bool others = std::any_of(first, first + run.conductors.count,
                                    [&](Index c) { return !is_grounding(e.model.conductors[c].role); });
    out.push_back({run.circuit, visit.run, visit.stop, visit.arrives && visit.leaves, others,
                   network(e).held[visit.run].plain});
  }
  std::ranges::sort(out, {}, [](const Brought& b) { return std::pair(b.circuit, b.stop); });
  return out;
}

/// A run of grounding conductors alone, not all of them isolated, that passes a box without a stop.
struct Passing {
  Index circuit = none, run = none;
};

bool grounding_alone(const Model& model, const Run& run) {
  const auto first = model.run_conductors.begin() + run.conductors.first;
  return std::all_of(first, first + run.conductors.count,
                     [&](Index c) { return is_grounding(model.conductors[c].role); });
}

/// One of its grounding conductors is not isolated.
bool holds_plain(const Model& model, const Run& run) {
  const auto first = model.run_conductors.begin() + run.conductors.first;
  return std::any_of(first, first + run.conductors.count, [&](Index c) {
    const Conductor& one = model.conductors[c];
    return is_grounding(one.role) && one.isolated != YesNo::yes && !may_be_isolated(model, c);
  });
}

std::vector<Passing> passing_at(Evaluation& e, Index box) {
  std::vector<Passing> out;
  for (const Visit& visit : e.in.routes.visits_at(box)) {
    const Run& run = e.model.runs[visit.run];
    if (visit.stop != none || e.model.circuits[run.circuit].kind == CircuitKind::other) continue;
    if (network(e).held[visit.run].plain != Carries::no && grounding_alone(e.model, run))
      out.push_back({run.circuit, visit.run});
  }
  std::ranges::sort(out, {}, [](const Passing& p) { return std::pair(p.circuit, p.run); });
  return out;
}

/// Whether grounding conductors that are not isolated come to a box.
bool wires_at(Evaluation& e, Index box) {
  const auto visits = e.in.routes.visits_at(box);
  return std::any_of(visits.begin(), visits.end(),
                     [&](const Visit& visit) { return network(e).held[visit.run].plain != Carries::no; });
}

Value lacks_treatment(Evaluation& e, const Brought& b) {
  return e.lacks({SubjectKind::circuit, b.circuit}, "conductors", "terminated, spliced, through or looped",
                 installer, {}, e.model.stops[b.stop].source);
}

/// Whether conductors beside grounding ones are spliced or end at a stop.
Value ends_at(Evaluation& e, const Brought& b) {
  const StopTreatment how = e.model.stops[b.stop].ungrounded;
  if (how == StopTreatment::unstated && !b.goes_on) return answer(true);
  return how == StopTreatment::unstated ? lacks_treatment(e, b) : answer(joins(how));
}

/// How its grounding conductors are treated; those that do not go on are joined.
StopTreatment wire_treatment(const Evaluation& e, const Brought& b) {
  const StopTreatment how = treatment(e.model.stops[b.stop]);
  return how == StopTreatment::unstated && !b.goes_on ? StopTreatment::terminated : how;
}

/// The runs at a box whose grounding conductors are asked for.
struct Asked {
  std::vector<Brought> runs;
  std::vector<Brought> perhaps;  ///< by how conductors are treated
  MissingId treatments = 0;      ///< of those
  MissingId missing = 0;         ///< of others that may be
};

Asked asked_at(Evaluation& e, Index box) {
  Asked out;
  const std::vector<Brought> all = brought_to(e, box);
  const std::vector<Passing> passing = passing_at(e, box);
  for (std::size_t i = 0; i < all.size();) {
    std::size_t end = i;
    // What ends there without a grounding conductor beside it has that of its circuit's other runs.
    Value of_circuit = answer(false), without_wire = answer(false);
    for (; end < all.size() && all[end].circuit == all[i].circuit; ++end) {
      if (!all[end].others) continue;
      const Value ends = ends_at(e, all[end]);
      of_circuit = either(e, of_circuit, ends);
      if (all[end].wire == Carries::no) without_wire = either(e, without_wire, ends);
    }
    // One that passes by itself goes by those of its circuit, and how is not said.
    for (auto p = std::ranges::lower_bound(passing, all[i].circuit, {}, &Passing::circuit);
         p != passing.end() && p->circuit == all[i].circuit; ++p) {
      if (is_no(of_circuit)) break;
      out.missing = e.missing.both(out.missing, of_circuit.missing);
      out.missing = e.missing.both(out.missing, lacks_stop(e, p->run, box));
    }
    for (; i < end; ++i) {
      if (all[i].wire == Carries::no) continue;
      // One that passes with other conductors goes by these; one that is joined, or goes by itself, by those
      // of its circuit.
      const bool joined = joins(wire_treatment(e, all[i]));
      Value asked = all[i].others && !joined ? either(e, ends_at(e, all[i]), without_wire) : of_circuit;
      if (all[i].wire == Carries::unknown)
        asked = both(e, asked, Evaluation::lacks(roles_missing(e, e.model.circuits[all[i].circuit])));
      if (is_yes(asked)) out.runs.push_back(all[i]);
      if (asked || all[i].wire == Carries::unknown) {
        out.missing = e.missing.both(out.missing, asked.missing);
        continue;
      }
      out.perhaps.push_back(all[i]);
      out.treatments = e.missing.both(out.treatments, asked.missing);
    }
  }
  if (wires_at(e, box)) {
    out.missing = e.missing.both(out.missing, unstopped_at(e, box));
    for (const Visit& visit : e.in.routes.visits_at(box))
      out.missing = e.missing.both(out.missing, fed_by_nothing(e, visit));
  }
  std::ranges::sort(out.runs, [&](const Brought& a, const Brought& b) {
    const auto key = [&](const Brought& one) {
      return std::pair(e.model.circuits[one.circuit].id, one.stop);
    };
    return key(a) < key(b);
  });
  return out;
}

Value lacks_bonded(Evaluation& e, const Brought& b) {
  return e.lacks({SubjectKind::circuit, b.circuit}, "bonded",
                 "yes where the equipment grounding conductors are connected to the metal box, else no",
                 installer, {}, e.model.stops[b.stop].source);
}

Value lacks_what_grounds(Evaluation& e, Subject box, std::string_view why) {
  return e.lacks(box, "grounded-by", "wire, raceway or none: what connects it to the grounding path",
                 installer, std::string(why));
}

Value not_connected(Evaluation& e, const Brought& b, std::string_view how) {
  e.note(FMT_COMPILE("equipment grounding conductor of circuit {} {}"), e.model.circuits[b.circuit].id, how);
  Value out = answer(false);
  out.place = {SubjectKind::circuit, b.circuit};
  return out;
}

/// Isolated ones need not be connected: where all that come may be of them, it is asked.
Value unless_isolated(Evaluation& e, std::span<const Brought> all, std::string_view how) {
  MissingId open = 0;
  for (const Brought& b : all) {
    const Run& run = e.model.runs[b.run];
    if (holds_plain(e.model, run)) return not_connected(e, b, how);
    open = e.missing.both(open, lacks_isolated(e, run, "isolated ones need not be connected to the box"));
  }
  return Evaluation::lacks(open);
}

/// Those that are joined in the box, of whom one connection serves all.
Value joined_connected(Evaluation& e, Subject box, const std::vector<Brought>& joined) {
  const GroundedBy by = e.model.places[box.index].grounded_by;
  bool yes = false, all_no = true;
  const Brought* said_no = nullptr;
  Value open;
  for (const Brought& b : joined) {
    const YesNo said = e.model.stops[b.stop].bonded;
    yes = yes || said == YesNo::yes;
    all_no = all_no && said == YesNo::no;
    if (said == YesNo::no) said_no = &b;
    if (said == YesNo::unstated && open) open = lacks_bonded(e, b);
  }
  if (yes && by == GroundedBy::none) {
    return lacks_what_grounds(e, box,
                              "it is said to be connected to nothing, and a stop says that its equipment "
                              "grounding conductors are connected to it");
  }
  if (all_no && by == GroundedBy::wire) {
    return lacks_what_grounds(e, box,
                              "it is said to be grounded by wire, and every stop says that the equipment "
                              "grounding conductors are not connected to it");
  }
  if ((yes || by == GroundedBy::wire) && said_no != nullptr) {
    return e.lacks({SubjectKind::circuit, said_no->circuit}, "bonded",
                   "yes, as those that it is joined with are, or how it is treated there, such as through",
                   installer,
                   "it is said not to be connected to the box, and others that are joined in it are",
                   e.model.stops[said_no->stop].source);
  }
  if (yes || by == GroundedBy::wire) return answer(true);
  if (all_no || by == GroundedBy::none)
    return unless_isolated(e, joined, "is joined in the box and not connected to it");
  if (by != GroundedBy::unstated) return open;
  return Evaluation::lacks(e.missing.both(open.missing, lacks_what_grounds(e, box, {}).missing));
}

}  // namespace

Value ground_wires_asked(Evaluation& e, Subject s) {
  const Place& box = e.model.places[s.index];
  if (box.material == EnclosureMaterial::nonmetallic) return answer(false);
  const Asked asked = asked_at(e, s.index);
  const MissingId missing = e.missing.both(asked.missing, asked.treatments);
  if (asked.runs.empty()) return missing != 0 ? Evaluation::lacks(missing) : answer(false);
  if (box.material == EnclosureMaterial::unstated)
    return e.lacks(s, "material", "metal or nonmetallic", installer);
  return answer(true);
}

Value ground_wires_connected(Evaluation& e, Subject s) {
  const Asked asked = asked_at(e, s.index);
  std::vector<Brought> joined;
  MissingId missing = asked.missing;
  // One that is connected by itself is so whether it passes or is joined with others.
  const bool grounded = e.model.places[s.index].grounded_by != GroundedBy::none;
  const auto connected_anyway = [&](const Brought& b) {
    return grounded && e.model.stops[b.stop].bonded == YesNo::yes;
  };
  if (!std::ranges::all_of(asked.perhaps, connected_anyway))
    missing = e.missing.both(missing, asked.treatments);
  for (const Brought& b : asked.runs) {
    if (joins(wire_treatment(e, b)))
      joined.push_back(b);
    else if (wire_treatment(e, b) == StopTreatment::unstated && !connected_anyway(b))
      missing = e.missing.both(missing, lacks_treatment(e, b).missing);
  }
  const Value together = joined.empty() ? answer(true) : joined_connected(e, s, joined);
  if (is_no(together)) return together;
  missing = e.missing.both(missing, together.missing);
  for (const Brought& b : asked.runs) {
    const Stop& stop = e.model.stops[b.stop];
    const StopTreatment how = wire_treatment(e, b);
    if (how == StopTreatment::unstated || joins(how) || stop.bonded == YesNo::yes) continue;
    const bool may = stop.bonded == YesNo::unstated && how == StopTreatment::looped;
    if (!may) {
      const Value out = unless_isolated(e, {&b, 1}, "passes the box and is not connected to it");
      if (is_no(out)) return out;
      missing = e.missing.both(missing, out.missing);
      continue;
    }
    missing = e.missing.both(missing, lacks_bonded(e, b).missing);
  }
  return missing != 0 ? Evaluation::lacks(missing) : answer(true);
}

}  // namespace raceward::figure::compute
