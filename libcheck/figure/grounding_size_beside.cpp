#include "figure/grounding_size_beside.hpp"

#include <cstdint>
#include <string>
#include <utility>

#include "figure/current_carrying.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

Ungrounded ungrounded_of(Evaluation& e, Index c) {
  const Conductor& conductor = e.model.conductors[c];
  const ConductorKind& kind = kind_of(e.model, c);
  Ungrounded out;
  if (!takes_load(conductor.role) || kind.cable) return out;
  out.any = true;
  const auto lack = [&](std::string_view name, std::string_view expects, std::string why = {}) {
    out.missing =
        e.lacks({SubjectKind::conductor, c}, name, expects, marking, std::move(why), conductor.source)
            .missing;
  };
  if (kind.size == ConductorSize::unstated) {
    lack("size", a_size);
  } else if (!by_gauge(kind.size)) {
    lack("size", a_size, std::string(gauge_only));
  } else if (kind.material == ConductorMaterial::unstated) {
    lack("material", a_material);
  } else {
    out.largest[static_cast<int>(metal_of(kind.material))] = kind.size;
  }
  return out;
}

}  // namespace

Beside::Beside(Evaluation& e, Index circuit) : e_(e), circuit_(e.model.circuits[circuit]) {
  for (Index c = circuit_.conductors.first; c < circuit_.conductors.end(); ++c) {
    if (e.model.conductors[c].role == Role::ungrounded && !kind_of(e.model, c).cable)
      count_ += e.model.conductors[c].count;
    whole_.add(e, ungrounded_of(e, c));
  }
  if (count_ == 0) {
    const Value lack = e.lacks({SubjectKind::circuit, circuit}, "conductor", "its ungrounded conductors",
                               designer, "whether they were raised cannot be told without them");
    whole_.missing = e.missing.both(whole_.missing, lack.missing);
  }
  if (circuit_.runs.count > 1) read();  // not law: a single run has all of them
}

void Beside::read() {
  const Range& runs = circuit_.runs;
  std::vector<Ungrounded> of_run(runs.count);
  std::vector<std::pair<Index, Index>> in_raceways;  // with the run
  std::vector<std::uint8_t> laid(circuit_.conductors.count);
  for (Index r = runs.first; r < runs.end(); ++r) {
    Ungrounded& own = of_run[r - runs.first];
    const Range& conductors = e_.model.runs[r].conductors;
    for (Index i = conductors.first; i < conductors.end(); ++i) {
      const Index c = e_.model.run_conductors[i];
      own.add(e_, ungrounded_of(e_, c));
      laid[c - circuit_.conductors.first] = 1;
    }
    if (own.any && !way_known(e_, r)) return;
    const Range& hops = e_.in.routes.run_hops[r];
    for (Index h = hops.first; h < hops.end(); ++h) in_raceways.emplace_back(e_.in.routes.hops[h].raceway, r);
  }
  for (Index c = circuit_.conductors.first; c < circuit_.conductors.end(); ++c) {
    if (laid[c - circuit_.conductors.first] == 0 && ungrounded_of(e_, c).any) return;
  }
  std::ranges::sort(in_raceways);
  std::vector<Ungrounded> beside_run = of_run;
  for (std::size_t i = 0; i < in_raceways.size();) {
    std::size_t end = i;
    Ungrounded here;
    for (; end < in_raceways.size() && in_raceways[end].first == in_raceways[i].first; ++end)
      here.add(e_, of_run[in_raceways[end].second - runs.first]);
    for (; i < end; ++i) beside_run[in_raceways[i].second - runs.first].add(e_, here);
  }
  with_.resize(circuit_.conductors.count);
  for (Index r = runs.first; r < runs.end(); ++r) {
    const Range& conductors = e_.model.runs[r].conductors;
    for (Index i = conductors.first; i < conductors.end(); ++i) {
      const std::size_t c = e_.model.run_conductors[i] - circuit_.conductors.first;
      with_[c].add(e_, beside_run[r - runs.first]);
    }
  }
}

}  // namespace raceward::figure::compute
