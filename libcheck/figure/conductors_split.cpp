// Whether the conductors of a circuit that is not in parallel part ways between two places.
//
// Method: what lies in each raceway of the circuit, and raceways one behind the other that hold the same as
// one way; what branches off from it to an end is no part of it. Where something on the way takes from the
// circuit, ways are parts of one set where their conductors end at one machine or panel all the same. Where
// each phase is one conductor, ways between the same two places hold parts of one set: those of a feeder,
// whose conductors all meet at its panel, and those of which one has a grounded conductor and another none.
// Ways with switched conductors or travelers are left aside: current may come back beside them.
#include <algorithm>
#include <tuple>

#include "figure/circuit_use.hpp"
#include "figure/circuit_way.hpp"
#include "figure/current_carrying.hpp"
#include "figure/devices_by_box.hpp"
#include "figure/sorted.hpp"
#include "figure/supply.hpp"
#include "figure/told.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

void merge(std::vector<Index>& into, const std::vector<Index>& more) {
  into.insert(into.end(), more.begin(), more.end());
  std::ranges::sort(into);
  into.erase(std::unique(into.begin(), into.end()), into.end());
}

/// What goes one way between two places.
struct Side {
  Index from = none, to = none;      // the smaller first
  std::vector<Index> raceways;       // sorted
  std::vector<Index> hot, grounded;  // conductors, sorted
  std::vector<Index> unsaid;         // those whose role is not said
  bool others = false;               // switched ones, travelers, and cables
  std::size_t phases = 0;            // hot ones that lie side by side
  MissingId open = 0;                // without this it may not be one way
  bool fed = false;                  // something takes from it on its way

  [[nodiscard]] auto key() const { return std::tie(from, to, raceways); }
  [[nodiscard]] bool same_ends(const Side& other) const { return from == other.from && to == other.to; }
  /// As many of each kind.
  [[nodiscard]] bool same_kinds(const Side& other) const {
    return phases == other.phases && grounded.size() == other.grounded.size() &&
           unsaid.size() == other.unsaid.size() && others == other.others;
  }
  void add(const Side& other) {
    merge(hot, other.hot);
    merge(grounded, other.grounded);
    merge(unsaid, other.unsaid);
    others = others || other.others;
  }
};

/// Whether raceways of the circuit lead back to where they came from: without that nothing parts and meets.
bool has_ring(const Evaluation& e, const Circuit& circuit) {
  struct Link {
    Index raceway, from, to;
  };
  std::vector<Link> links;
  std::vector<Index> places;
  for (Index r = circuit.runs.first; r < circuit.runs.end(); ++r) {
    const Range& hops = e.in.routes.run_hops[r];
    for (Index h = hops.first; h < hops.end(); ++h) {
      const Hop& hop = e.in.routes.hops[h];
      links.push_back({hop.raceway, hop.from, hop.to});
      places.push_back(hop.from);
      places.push_back(hop.to);
    }
  }
  std::ranges::sort(links, {}, &Link::raceway);
  std::ranges::sort(places);
  places.erase(std::unique(places.begin(), places.end()), places.end());
  std::vector<std::size_t> joined(places.size());
  for (std::size_t i = 0; i < joined.size(); ++i) joined[i] = i;
  const auto group = [&](Index place) {
    auto at = static_cast<std::size_t>(std::ranges::lower_bound(places, place) - places.begin());
    while (joined[at] != at) at = joined[at] = joined[joined[at]];
    return at;
  };
  for (std::size_t i = 0; i < links.size(); ++i) {
    if (i != 0 && links[i].raceway == links[i - 1].raceway) continue;
    const std::size_t from = group(links[i].from), to = group(links[i].to);
    if (from == to) return true;
    joined[from] = to;
  }
  return false;
}

/// What lies in each raceway of the circuit, in order of the raceways.
std::vector<Side> in_raceways(const Evaluation& e, const Circuit& circuit) {
  std::vector<Side> out;
  for (Index r = circuit.runs.first; r < circuit.runs.end(); ++r) {
    const Run& run = e.model.runs[r];
    const Range& hops = e.in.routes.run_hops[r];
    Side side;
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
    if (side.hot.empty() && side.grounded.empty() && side.unsaid.empty() && !side.others) continue;
    for (Index h = hops.first; h < hops.end(); ++h) {
      const Hop& hop = e.in.routes.hops[h];
      side.from = std::min(hop.from, hop.to);
      side.to = std::max(hop.from, hop.to);
      side.raceways = {hop.raceway};
      out.push_back(side);
    }
  }
  std::ranges::stable_sort(out, {}, [](const Side& side) { return side.raceways.front(); });
  std::size_t kept = 0;
  for (std::size_t i = 0; i < out.size(); ++i) {
    if (kept != 0 && out[kept - 1].raceways == out[i].raceways) {
      out[kept - 1].add(out[i]);
    } else {
      if (kept != i) out[kept] = std::move(out[i]);
      ++kept;
    }
  }
  out.resize(kept);
  for (Side& side : out) {
    std::ranges::sort(side.hot);
    std::ranges::sort(side.grounded);
    for (const Index c : side.hot) side.phases += e.model.conductors[c].count;
  }
  return out;
}

/// Whether nothing is at a place that ends the way of what comes there by one raceway and leaves by another.
/// `fed`: something there is on the circuit. `open`: what is missing to tell.
bool goes_on(Evaluation& e, Index circuit, Index place, bool& fed, MissingId& open) {
  bool ends = false;
  for (const Visit& visit : e.in.routes.visits_at(place)) {
    if (e.model.runs[visit.run].circuit != circuit || visit.stop == none) continue;
    const StopTreatment how = e.model.stops[visit.stop].ungrounded;
    ends = ends || how == StopTreatment::spliced || how == StopTreatment::terminated ||
           how == StopTreatment::unstated;
  }
  if (!ends) return true;
  const PlaceKind kind = e.model.places[place].kind;
  if (kind == PlaceKind::panel || kind == PlaceKind::equipment) return false;
  fed = fed || !devices_on(e, place, circuit).empty();
  for (const Index d : devices_on(e, place, none))
    open = e.missing.both(open, lacks_circuit_of(e, d).missing);
  return true;
}

/// Of each raceway of the circuit whether no ring goes through it on one side: it leads to an end. `at` is
/// sorted by place.
std::vector<std::uint8_t> leading_to_ends(const std::vector<Side>& laid,
                                          const std::vector<std::pair<Index, std::size_t>>& at) {
  struct Left {
    Index place;
    std::size_t count = 0, sum = 0;  // of the raceways that are left, and of their numbers
  };
  std::vector<Left> left;
  for (const auto& [place, i] : at) {
    if (left.empty() || left.back().place != place) left.push_back({place});
    if (laid[i].from == laid[i].to) continue;
    ++left.back().count;
    left.back().sum += i;
  }
  std::vector<std::uint8_t> leads(laid.size());
  for (Left& begin : left) {
    for (Left* end = &begin; end->count == 1;) {
      const std::size_t i = end->sum;
      leads[i] = 1;
      const Index far = laid[i].from == end->place ? laid[i].to : laid[i].from;
      end->count = end->sum = 0;
      end = &*std::ranges::lower_bound(left, far, {}, &Left::place);
      --end->count;
      end->sum -= i;
    }
  }
  return leads;
}

/// The same as it goes from place to place: raceways one behind the other that hold the same are one way.
std::vector<Side> sides_of(Evaluation& e, Index index) {
  const std::vector<Side> laid = in_raceways(e, e.model.circuits[index]);
  std::vector<std::pair<Index, std::size_t>> at;  // a place, and what comes there
  for (std::size_t i = 0; i < laid.size(); ++i) {
    at.emplace_back(laid[i].from, i);
    at.emplace_back(laid[i].to, i);
  }
  std::ranges::sort(at);
  const std::size_t nothing = laid.size();
  const std::vector<std::uint8_t> leads = leading_to_ends(laid, at);
  const auto same = [&](std::size_t a, std::size_t b) {
    return laid[a].hot == laid[b].hot && laid[a].grounded == laid[b].grounded;
  };
  const auto behind = [&](std::size_t i, Index place, Side& side) {
    const auto there = equal_in(at, place, &std::pair<Index, std::size_t>::first);
    if (laid[i].from == laid[i].to) return nothing;
    std::size_t other = nothing;
    bool branches = false;
    for (const auto& [_, next] : there) {
      if (next == i) continue;
      // What branches off from the same conductors, and comes back nowhere, leaves them as they are.
      const bool off = there.size() > 2 && leads[next] != 0 &&  // not law: it and another
                       std::ranges::includes(laid[i].hot, laid[next].hot);
      branches = branches || off;
      if (off) continue;
      if (other != nothing) return nothing;
      other = next;
    }
    if (other == nothing || !laid[other].same_kinds(laid[i])) return nothing;
    bool fed = branches;
    if (!goes_on(e, index, place, fed, side.open) || (fed && !same(i, other))) return nothing;
    side.fed = side.fed || fed;
    return other;
  };
  std::vector<Side> out;
  std::vector<std::uint8_t> taken(laid.size());
  for (std::size_t i = 0; i < laid.size(); ++i) {
    if (taken[i] != 0) continue;
    Side side = laid[i];
    taken[i] = 1;
    for (Index* const end : {&side.from, &side.to}) {
      std::size_t here = i;
      for (std::size_t next = behind(here, *end, side); next != nothing && taken[next] == 0;
           next = behind(here, *end, side)) {
        taken[next] = 1;
        here = next;
        *end = laid[next].from == *end ? laid[next].to : laid[next].from;
        side.add(laid[next]);
        side.raceways.push_back(laid[next].raceways.front());
      }
    }
    if (side.from > side.to) std::swap(side.from, side.to);
    std::ranges::sort(side.raceways);
    out.push_back(std::move(side));
  }
  std::ranges::stable_sort(out, [](const Side& a, const Side& b) { return a.key() < b.key(); });
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
  std::size_t phases = 0;
  MissingId open = 0;
  std::size_t with_hot = 0;  // ways that hold ungrounded ones, or may
  bool without_grounded = false, with_grounded = false, others = false, shared = false, fed = false;
};

Between between(Evaluation& e, const std::vector<Side>& sides, std::size_t first, std::size_t end) {
  Between out;
  std::size_t listed = 0;
  for (std::size_t i = first; i < end; ++i) {
    const Side& side = sides[i];
    out.others = out.others || side.others;
    out.fed = out.fed || side.fed;
    merge(out.unsaid, side.unsaid);
    out.open = e.missing.both(out.open, side.open);
    if (side.hot.empty() && side.unsaid.empty()) continue;
    ++out.with_hot;
    (side.grounded.empty() ? out.without_grounded : out.with_grounded) = true;
    listed += side.hot.size();
    out.phases += side.phases;
    merge(out.hot, side.hot);
  }
  out.shared = listed != out.hot.size();  // one conductor on two ways: it goes there and back
  return out;
}

/// Whether conductors of two of the ways end at one machine or panel, so that the current of the one comes
/// back by the other.
bool end_together(Evaluation& e, Index index, const std::vector<Side>& sides, std::size_t first,
                  std::size_t end) {
  const Circuit& circuit = e.model.circuits[index];
  const Index source = panel_of(e, index);
  std::vector<std::pair<Index, std::size_t>> found;  // a place, and a way
  for (Index r = circuit.runs.first; r < circuit.runs.end(); ++r) {
    const Run& run = e.model.runs[r];
    for (Index s = run.stops.first; s < run.stops.end(); ++s) {
      const Stop& stop = e.model.stops[s];
      if (stop.place == none || stop.place == source || stop.ungrounded == StopTreatment::through) continue;
      const PlaceKind kind = e.model.places[stop.place].kind;
      if (kind != PlaceKind::equipment && kind != PlaceKind::panel) continue;
      for (Index i = run.conductors.first; i < run.conductors.end(); ++i) {
        for (std::size_t k = first; k < end; ++k) {
          if (std::ranges::binary_search(sides[k].hot, e.model.run_conductors[i]))
            found.emplace_back(stop.place, k);
        }
      }
    }
  }
  std::ranges::sort(found);
  const auto another = [](const auto& a, const auto& b) {
    return a.first == b.first && a.second != b.second;
  };
  return std::ranges::adjacent_find(found, another) != found.end();
}

/// 1 where each of the conductors is of a phase of its own; 0 where several may be of one; missing where that
/// is not known.
Value one_of_each(Evaluation& e, Subject s, std::size_t count) {
  const Circuit& circuit = e.model.circuits[s.index];
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
  if (!has_ring(e, circuit)) return missing != 0 ? Evaluation::lacks(missing) : Evaluation::value(0);
  const std::vector<Side> sides = sides_of(e, s.index);
  Value out = Evaluation::value(0);
  std::int64_t count = 0;
  std::vector<const Side*> parts;
  for (std::size_t i = 0; i < sides.size();) {
    const std::size_t first = i;
    while (i < sides.size() && sides[i].same_ends(sides[first])) ++i;
    if (i - first < 2) continue;  // not law: side by side
    const Between all = between(e, sides, first, i);
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
    const Value each = one_of_each(e, s, all.phases);
    missing = e.missing.both(missing, each.missing);
    if (!each || each.count == 0) continue;
    const bool fed = all.fed || all.open != 0;
    if (fed && !end_together(e, s.index, sides, first, i)) {
      if (!all.fed) missing = e.missing.both(missing, all.open);
      continue;
    }
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
