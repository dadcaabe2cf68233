#include "figure/grounding_shared.hpp"

#include <algorithm>
#include <span>

#include "figure/circuit_use.hpp"
#include "figure/current_carrying.hpp"
#include "figure/grounding_network.hpp"
#include "figure/grounding_size_law.hpp"
#include "figure/told.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

/// A raceway, and whether a grounding conductor of the circuit lies there.
struct Passed {
  Index raceway = none;
  bool own = false;
};

/// What is found of each raceway, when somebody asks.
template <class Found>
struct OfRaceways {
  struct One {
    bool ready = false;
    Found found;
  };
  std::vector<One> raceways;
};

template <class Found>
const Found& once_found(Evaluation& e, Index raceway, Found (*find)(Evaluation&, Index)) {
  auto& all = e.once<OfRaceways<Found>>();
  all.raceways.resize(e.model.raceways.size());
  auto& one = all.raceways[raceway];
  if (!one.ready) one = {true, find(e, raceway)};
  return one.found;
}

ConductorSize size_of(const Model& model, Index conductor) {
  return model.conductor_kinds[model.conductors[conductor].kind].size;
}

std::span<const Index> conductors_of(const Model& model, const Run& run) {
  return {model.run_conductors.data() + run.conductors.first, run.conductors.count};
}

/// The circuit with the largest overcurrent device of those that lie in a raceway.
struct Largest {
  Index circuit = none;
  MissingId open = 0;  ///< devices and ratings that are not stated
};

Largest largest_of(Evaluation& e, Index raceway) {
  Largest out;
  std::int64_t most = 0;
  for (const Index run : e.in.routes.runs_in(raceway)) {
    const Run& r = e.model.runs[run];
    const Circuit& circuit = e.model.circuits[r.circuit];
    const bool load = std::ranges::any_of(conductors_of(e.model, r),
                                          [&](Index c) { return takes_load(e.model.conductors[c].role); });
    if (is_wiring(circuit) || !load) continue;
    const Value rating = device_rating_of(e, r.circuit);
    if (!rating) out.open = e.missing.both(out.open, rating.missing);
    const bool first = out.circuit == none || id_before(circuit.id, e.model.circuits[out.circuit].id);
    if (!rating || rating.count < most || (rating.count == most && !first)) continue;
    most = rating.count;
    out.circuit = r.circuit;
  }
  return out;
}

/// What would tell what protects the conductors of wiring, where it has some beside grounding conductors.
MissingId lacks_protection(Evaluation& e, Index wiring) {
  const Circuit& circuit = e.model.circuits[wiring];
  bool any = false;
  for (Index c = circuit.conductors.first; c < circuit.conductors.end(); ++c) {
    const Role role = e.model.conductors[c].role;
    any = any || takes_load(role) || role == Role::grounded || role == Role::control;
  }
  if (!any) return 0;
  const Subject s{SubjectKind::circuit, wiring};
  if (circuit.system == System::unstated)
    return e.lacks(s, "system", "power, class-2 or communications", designer).missing;
  return e
      .lacks(s, "protected-by",
             "the id of an overcurrent device: a circuit of the kind other has one, and wiring has none",
             designer)
      .missing;
}

Offered offered_by(Evaluation& e, Index raceway) {
  Offered out;
  // Some run may lead through it.
  const auto& routes = e.in.routes;
  const Index block = e.in.graph.block[raceway];
  const Index step = block < routes.block_ambiguity.size() ? routes.block_ambiguity[block] : none;
  if (step != none) out.open = unknown_way(e, e.model.runs[routes.ambiguities[step].run].circuit);
  for (const Index run : e.in.routes.runs_in(raceway)) {
    const Run& r = e.model.runs[run];
    const bool wiring = is_wiring(e.model.circuits[r.circuit]);
    // Beside the conductors of a secondary it bonds on the side of the supply.
    const bool supplies = wiring && std::ranges::any_of(conductors_of(e.model, r), [&](Index c) {
                            return takes_load(e.model.conductors[c].role);
                          });
    for (Index i = r.conductors.first; i < r.conductors.end(); ++i) {
      const Index c = e.model.run_conductors[i];
      const Conductor& conductor = e.model.conductors[c];
      const ConductorKind& kind = e.model.conductor_kinds[conductor.kind];
      if (conductor.role == Role::unstated && !kind.cable) {
        const Value lack =
            e.lacks({SubjectKind::conductor, c}, "role",
                    "what the conductor is for, such as equipment-grounding", designer, {}, conductor.source);
        out.open = e.missing.both(out.open, lack.missing);
      }
      const bool serves = is_grounding_wire(e.model, c) && conductor.isolated != YesNo::yes &&
                          !(supplies && conductor.role == Role::bonding);
      if (!serves) continue;
      const bool known = by_gauge(kind.size) && kind.material != ConductorMaterial::unstated;
      Index& held = out.wires[known ? static_cast<std::size_t>(metal_of(kind.material)) : 2];
      const ConductorSize has = held == none ? ConductorSize{} : size_of(e.model, held);
      const bool larger = known && kind.size > has, same = !known || kind.size == has;
      if (held == none || larger || (same && by_id(e, c, held))) held = c;
    }
  }
  return out;
}

}  // namespace

bool is_grounding_wire(const Model& model, Index conductor) {
  const Conductor& c = model.conductors[conductor];
  return (c.role == Role::equipment_grounding || c.role == Role::bonding) &&
         !model.conductor_kinds[c.kind].cable;
}

const Offered& offered_in(Evaluation& e, Index raceway) {
  return once_found<Offered>(e, raceway, offered_by);
}

std::vector<ServedBy> served_by_wiring(Evaluation& e, Index wiring, MissingId& missing) {
  const Circuit& circuit = e.model.circuits[wiring];
  std::vector<ServedBy> out;
  missing = e.missing.both(missing, lacks_protection(e, wiring));
  if (missing != 0) return out;
  missing = unknown_way(e, wiring);
  for (Index r = circuit.runs.first; r < circuit.runs.end(); ++r) {
    const Range& hops = e.in.routes.run_hops[r];
    for (const Index c : conductors_of(e.model, e.model.runs[r])) {
      if (e.model.conductors[c].role != Role::equipment_grounding || !is_grounding_wire(e.model, c)) continue;
      for (Index h = hops.first; h < hops.end(); ++h) {
        const Largest& beside = once_found<Largest>(e, e.in.routes.hops[h].raceway, largest_of);
        missing = e.missing.both(missing, beside.open);
        if (beside.circuit != none) out.push_back({c, beside.circuit});
      }
    }
  }
  std::ranges::sort(out, [](const ServedBy& a, const ServedBy& b) {
    return std::pair{a.circuit, a.conductor} < std::pair{b.circuit, b.conductor};
  });
  const auto again = std::unique(out.begin(), out.end(), [](const ServedBy& a, const ServedBy& b) {
    return a.circuit == b.circuit && a.conductor == b.conductor;
  });
  out.erase(again, out.end());
  if (out.empty() && missing == 0) {
    missing = e.lacks({SubjectKind::circuit, wiring}, "run",
                      "raceways that conductors of a circuit lie in too", designer,
                      "its equipment grounding conductor lies with no circuit, so that no overcurrent device "
                      "tells its size")
                  .missing;
  }
  return out;
}

RunHolds run_holds(const Model& model, const Run& run) {
  RunHolds out;
  for (const Index c : conductors_of(model, run)) {
    out.own = out.own || is_grounding_wire(model, c);
    out.load = out.load || takes_load(model.conductors[c].role);
  }
  return out;
}

std::vector<SharedIn> sharing_of(Evaluation& e, Index circuit, MissingId& missing) {
  const Circuit& c = e.model.circuits[circuit];
  std::vector<Passed> passed;
  bool without = false;
  for (Index r = c.runs.first; r < c.runs.end(); ++r) {
    const auto [load, own] = run_holds(e.model, e.model.runs[r]);
    if (!own && !load) continue;
    without = without || !own;
    const Range& hops = e.in.routes.run_hops[r];
    for (Index h = hops.first; h < hops.end(); ++h) passed.push_back({e.in.routes.hops[h].raceway, own});
  }
  if (!without) return {};
  missing = e.missing.both(missing, unknown_way(e, circuit));
  std::ranges::sort(passed, {}, &Passed::raceway);
  std::vector<SharedIn> out;
  for (std::size_t i = 0; i < passed.size();) {
    const Index raceway = passed[i].raceway;
    bool own = false;
    for (; i < passed.size() && passed[i].raceway == raceway; ++i) own = own || passed[i].own;
    if (own) continue;
    const Offered& offered = offered_in(e, raceway);
    const bool any = std::ranges::any_of(offered.wires, [](Index w) { return w != none; });
    if (!any && offered.open == 0) continue;
    grounding::Account account;
    const auto carries = grounding::link_of(e, grounding::network(e).bridged, raceway, &account).carries;
    if (carries == grounding::Carries::yes) continue;
    const MissingId unknown = carries == grounding::Carries::unknown ? account.missing : 0;
    const MissingId open = e.missing.both(unknown, offered.open);
    if (any)
      out.push_back({raceway, open});
    else
      missing = e.missing.both(missing, open);
  }
  return out;
}

}  // namespace raceward::figure
