// Whether the conductors of a circuit that is not in parallel part ways between two places.
//
// Method: the runs that begin and end at the same two places, by the raceways that they take. Where each
// phase is one conductor, whole ways side by side hold parts of one set: those of a feeder, whose conductors
// all meet at its panel, and those of which one has a grounded conductor and another none. Ways with switched
// conductors or travelers are left aside: current may come back beside them.
#include <algorithm>
#include <tuple>

#include "figure/current_carrying.hpp"
#include "figure/supply.hpp"
#include "figure/told.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

/// What goes one way between two places.
struct Side {
  Index from = none, to = none;      // the smaller first
  std::vector<Index> raceways;       // sorted
  std::vector<Index> hot, grounded;  // conductors, sorted
  std::vector<Index> unsaid;         // those whose role is not said
  bool others = false;               // switched ones, travelers, and cables

  [[nodiscard]] auto key() const { return std::tie(from, to, raceways); }
  [[nodiscard]] bool same_ends(const Side& other) const { return from == other.from && to == other.to; }
};

void merge(std::vector<Index>& into, const std::vector<Index>& more) {
  into.insert(into.end(), more.begin(), more.end());
  std::ranges::sort(into);
  into.erase(std::unique(into.begin(), into.end()), into.end());
}

std::vector<Side> sides_of(const Evaluation& e, const Circuit& circuit) {
  std::vector<Side> out;
  for (Index r = circuit.runs.first; r < circuit.runs.end(); ++r) {
    const Run& run = e.model.runs[r];
    const Range& hops = e.in.routes.run_hops[r];
    if (hops.count == 0) continue;
    const Index first = e.in.routes.hops[hops.first].from, last = e.in.routes.hops[hops.end() - 1].to;
    Side side{std::min(first, last), std::max(first, last), {}, {}, {}, {}, false};
    for (Index h = hops.first; h < hops.end(); ++h) side.raceways.push_back(e.in.routes.hops[h].raceway);
    std::ranges::sort(side.raceways);
    for (Index i = run.conductors.first; i < run.conductors.end(); ++i) {
      const Index c = e.model.run_conductors[i];
      const Conductor& conductor = e.model.conductors[c];
      const bool cable = e.model.conductor_kinds[conductor.kind].cable;
      if (conductor.role == Role::ungrounded && !cable) side.hot.push_back(c);
      if (conductor.role == Role::grounded && !cable) side.grounded.push_back(c);
      if (conductor.role == Role::unstated && !cable) side.unsaid.push_back(c);
      side.others =
          side.others || cable || conductor.role == Role::switched || conductor.role == Role::traveler;
    }
    if (!side.hot.empty() || !side.grounded.empty() || !side.unsaid.empty() || side.others)
      out.push_back(std::move(side));
  }
  std::ranges::stable_sort(out, [](const Side& a, const Side& b) { return a.key() < b.key(); });
  std::size_t kept = 0;
  for (std::size_t i = 0; i < out.size(); ++i) {
    if (kept != 0 && out[kept - 1].key() == out[i].key()) {
      Side& held = out[kept - 1];
      merge(held.hot, out[i].hot);
      merge(held.grounded, out[i].grounded);
      merge(held.unsaid, out[i].unsaid);
      held.others = held.others || out[i].others;
    } else {
      if (kept != i) out[kept] = std::move(out[i]);
      ++kept;
    }
  }
  out.resize(kept);
  for (Side& side : out) {
    std::ranges::sort(side.hot);
    std::ranges::sort(side.grounded);
  }
  return out;
}

/// The first of its raceways by id.
Index first_of(const Evaluation& e, const Side& side) {
  return *std::ranges::min_element(side.raceways, [&](Index a, Index b) {
    return id_before(e.model.raceways[a].id, e.model.raceways[b].id);
  });
}

/// All that goes between two places.
struct Between {
  std::vector<Index> hot, unsaid;
  std::size_t with_hot = 0;  // ways that hold ungrounded ones, or may
  bool without_grounded = false, with_grounded = false, others = false, shared = false;
};

Between between(const std::vector<Side>& sides, std::size_t first, std::size_t end) {
  Between out;
  std::size_t listed = 0;
  for (std::size_t i = first; i < end; ++i) {
    const Side& side = sides[i];
    out.others = out.others || side.others;
    merge(out.unsaid, side.unsaid);
    if (side.hot.empty() && side.unsaid.empty()) continue;
    ++out.with_hot;
    (side.grounded.empty() ? out.without_grounded : out.with_grounded) = true;
    listed += side.hot.size();
    merge(out.hot, side.hot);
  }
  out.shared = listed != out.hot.size();  // one conductor on two ways: it goes there and back
  return out;
}

/// 1 where each of the conductors is of a phase of its own; 0 where several may be of one; missing where that
/// is not known.
Value one_of_each(Evaluation& e, Subject s, const std::vector<Index>& hot) {
  const Circuit& circuit = e.model.circuits[s.index];
  std::size_t count = 0;
  for (const Index c : hot) count += e.model.conductors[c].count;
  if (count > most_phases) return Evaluation::value(0);
  if (circuit.overcurrent_device == none) {
    return e.lacks(s, "protected-by", "the id of an overcurrent device", designer,
                   "how many phases it has is not known", circuit.source);
  }
  const OvercurrentDevice& device = e.model.overcurrent_devices[circuit.overcurrent_device];
  if (device.poles == 0) {
    return e.lacks({SubjectKind::overcurrent_device, circuit.overcurrent_device}, "poles",
                   "how many, 1, 2 or 3", designer, "how many phases its circuit has is not known",
                   device.source);
  }
  return Evaluation::value(count <= device.poles ? number(1).count() : 0);
}

}  // namespace

Value conductors_split(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  if (circuit.kind == CircuitKind::other || circuit.parallel > 1)
    return Evaluation::value(0);  // not law: sets
  MissingId missing = unknown_way(e, s.index);
  const std::vector<Side> sides = sides_of(e, circuit);
  Value out = Evaluation::value(0);
  std::int64_t count = 0;
  std::vector<const Side*> parts;
  for (std::size_t i = 0; i < sides.size();) {
    const std::size_t first = i;
    while (i < sides.size() && sides[i].same_ends(sides[first])) ++i;
    if (i - first < 2) continue;  // not law: side by side
    const Between all = between(sides, first, i);
    if (all.with_hot < 2 || all.others || all.shared) continue;  // not law: side by side
    for (const Index c : all.unsaid) {
      const Value lack =
          e.lacks({SubjectKind::conductor, c}, "role", "what the conductor is for, such as ungrounded",
                  designer, {}, e.model.conductors[c].source);
      missing = e.missing.both(missing, lack.missing);
    }
    if (!all.unsaid.empty()) continue;
    const bool parted = all.with_grounded && all.without_grounded;
    if (!parted && (circuit.kind == CircuitKind::branch || !all.with_grounded)) continue;
    const Value each = one_of_each(e, s, all.hot);
    missing = e.missing.both(missing, each.missing);
    if (!each || each.count == 0) continue;
    if (circuit.kind == CircuitKind::unstated) {
      const Value lack =
          e.lacks(s, "kind", "branch or feeder", designer,
                  "conductors of a feeder meet at its panel, and may not part ways", circuit.source);
      missing = e.missing.both(missing, lack.missing);
      continue;
    }
    for (std::size_t k = first; k < i; ++k)
      if (!sides[k].hot.empty()) parts.push_back(&sides[k]);
  }
  const auto id_of = [&](const Side* side) { return id_key(e.model.raceways[first_of(e, *side)].id); };
  for (const Side* const side : told_by(e, parts, id_of)) {
    const Index raceway = first_of(e, *side);
    e.note(FMT_COMPILE("{} ungrounded and {} grounded conductors by raceway {}"), side->hot.size(),
           side->grounded.size(), e.model.raceways[raceway].id);
    ++count;
    const bool before = out.place == Subject{} ||
                        id_before(e.model.raceways[raceway].id, e.model.raceways[out.place.index].id);
    if (before) out.place = {SubjectKind::raceway, raceway};
  }
  if (count == 0 && missing != 0) return Evaluation::lacks(missing);
  out.count = number(count).count();
  return out;
}

}  // namespace raceward::figure::compute
