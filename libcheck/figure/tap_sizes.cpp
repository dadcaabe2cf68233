#include "figure/tap_sizes.hpp"

#include <algorithm>
#include <unordered_map>

#include "figure/circuit_way.hpp"
#include "figure/current_carrying.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

struct AllSizes {
  std::unordered_map<Index, Sizes> of;  // by circuit
  Index last = none;
  const Sizes* last_found = nullptr;
};

/// The largest and the smallest of its conductors that take the load; unstated where none has a gauge.
std::pair<ConductorSize, ConductorSize> sizes_in(const Model& model, const Run& run) {
  ConductorSize largest = ConductorSize::unstated, smallest = ConductorSize::unstated;
  for (Index i = run.conductors.first; i < run.conductors.end(); ++i) {
    const Conductor& c = model.conductors[model.run_conductors[i]];
    const ConductorKind& kind = model.conductor_kinds[c.kind];
    if (!takes_load(c.role) || kind.cable || !by_gauge(kind.size)) continue;
    largest = std::max(largest, kind.size);
    smallest = smallest == ConductorSize::unstated ? kind.size : std::min(smallest, kind.size);
  }
  return {largest, smallest};
}

void read_places(const Evaluation& e, Index index, Sizes& out) {
  const Model& model = e.model;
  const Circuit& circuit = model.circuits[index];
  const Index panel = panel_of(e, index);
  for (Index r = circuit.runs.first; r < circuit.runs.end(); ++r) {
    const Run& run = model.runs[r];
    const ConductorSize largest = sizes_in(model, run).first;
    bool from_source = false;
    for (Index s = run.stops.first; s < run.stops.end(); ++s) {
      const Index place = model.stops[s].place;
      const StopTreatment how = model.stops[s].ungrounded;
      // What is spliced in the panel may be a tap of larger ones there.
      from_source = from_source || panel == none || (place == panel && how != StopTreatment::spliced);
      if (place != none && largest != ConductorSize::unstated)
        out.at.push_back({place, how == StopTreatment::through ? ConductorSize::unstated : largest,
                          1});  // not law: one run
    }
    for (Index i = run.conductors.first; i < run.conductors.end(); ++i) {
      const Index conductor = model.run_conductors[i];
      out.runs.emplace_back(conductor, r);
      if (from_source) out.from_source.push_back(conductor);
    }
  }
  std::ranges::sort(out.runs);
  std::ranges::sort(out.from_source);
  std::ranges::sort(out.at, {}, &Sizes::At::place);
  std::size_t kept = 0;
  for (const Sizes::At& each : out.at) {
    if (kept != 0 && out.at[kept - 1].place == each.place) {
      out.at[kept - 1].largest = std::max(out.at[kept - 1].largest, each.largest);
      out.at[kept - 1].runs += each.runs;
    } else {
      out.at[kept++] = each;
    }
  }
  out.at.resize(kept);
}

}  // namespace

const Sizes& sizes_of(Evaluation& e, Index circuit) {
  AllSizes& all = e.once<AllSizes>();
  if (all.last == circuit && all.last_found != nullptr) return *all.last_found;
  const auto [found, fresh] = all.of.try_emplace(circuit);
  Sizes& out = found->second;
  if (fresh) {
    const Circuit& of = e.model.circuits[circuit];
    ConductorSize smallest = ConductorSize::unstated;
    for (Index r = of.runs.first; r < of.runs.end(); ++r) {
      const auto [largest, least] = sizes_in(e.model, e.model.runs[r]);
      out.largest = std::max(out.largest, largest);
      if (least != ConductorSize::unstated)
        smallest = smallest == ConductorSize::unstated ? least : std::min(smallest, least);
    }
    for (Index c = of.conductors.first; c < of.conductors.end(); ++c) {
      const Conductor& one = e.model.conductors[c];
      const ConductorKind& kind = e.model.conductor_kinds[one.kind];
      const bool may_be_larger = kind.size == ConductorSize::unstated || kind.size > smallest;
      const bool open =
          one.role == Role::unstated || (takes_load(one.role) && kind.size == ConductorSize::unstated);
      if (open && may_be_larger && !kind.cable) out.unsaid.push_back(c);
    }
    if (smallest != out.largest || !out.unsaid.empty()) read_places(e, circuit, out);
  }
  all.last = circuit;
  all.last_found = &out;
  return out;
}

bool is_smaller(Evaluation& e, Index circuit, Index conductor) {
  const ConductorSize size = size_of(e.model, conductor);
  return by_gauge(size) && size < sizes_of(e, circuit).largest;
}

bool begins_at_source(Evaluation& e, Index circuit, Index conductor) {
  return std::ranges::binary_search(sizes_of(e, circuit).from_source, conductor);
}

}  // namespace raceward::figure
