// What supplies a panel, as its feeder is drawn or as the panel says.
//
// Method: the ungrounded conductors that reach the panel are counted: more of them than the feeder's
// overcurrent device has poles lie in parallel, in sets of so many as the circuit says. Sizes that the law
// lets nobody lay in parallel are alone.
#include "figure/electrode_supply.hpp"

#include <algorithm>

#include "figure/facts.hpp"
#include "figure/run_contents.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

/// Conductors of a circuit that reach a panel, by position in the circuit; all where no run is drawn to it.
std::vector<std::uint8_t> reaching(const Model& model, const Circuit& circuit, Index panel) {
  std::vector<std::uint8_t> reach(circuit.conductors.count);
  bool any = false;
  for (Index r = circuit.runs.first; r < circuit.runs.end(); ++r) {
    const Run& run = model.runs[r];
    bool there = false;
    for (Index stop = run.stops.first; stop < run.stops.end(); ++stop)
      there = there || model.stops[stop].place == panel;
    if (!there) continue;
    any = true;
    for (Index i = run.conductors.first; i < run.conductors.end(); ++i)
      reach[model.run_conductors[i] - circuit.conductors.first] = 1;
  }
  if (!any) std::ranges::fill(reach, 1);
  return reach;
}

struct Ungrounded {
  std::uint32_t count = 0;
  ConductorSize largest{};
  ConductorMaterial material{};  // of the largest
  bool alike = true;
};

/// Whether so many conductors, so many of each phase together, can be what goes to so many poles; 0: not
/// known.
bool in_sets(std::uint32_t count, std::uint32_t together, std::uint32_t poles) {
  if (together == 0) return count <= std::max(poles, 1u);
  return count % together == 0 && count / together <= (poles != 0 ? poles : most_phases);
}

Supply supply_by(Evaluation& e, Index panel, Index index) {
  Supply out;
  const Circuit& circuit = e.model.circuits[index];
  const Subject at{SubjectKind::circuit, index};
  const auto add = [&](const Value& lack) { out.missing = e.missing.both(out.missing, lack.missing); };
  out.missing = roles_missing(e, circuit);
  for (Index r = circuit.runs.first; r < circuit.runs.end(); ++r)
    out.missing = e.missing.both(out.missing, cables_missing(e, e.model.runs[r]));
  const std::vector<std::uint8_t> reach = reaching(e.model, circuit, panel);
  Ungrounded all;
  for (Index i = circuit.conductors.first; i < circuit.conductors.end(); ++i) {
    const Conductor& conductor = e.model.conductors[i];
    const ConductorKind& kind = e.model.conductor_kinds[conductor.kind];
    if (reach[i - circuit.conductors.first] == 0 || conductor.role != Role::ungrounded || kind.cable)
      continue;
    const Subject its{SubjectKind::conductor, i};
    if (!by_gauge(kind.size)) add(e.lacks(its, "size", a_size, marking, {}, conductor.source));
    if (kind.material == ConductorMaterial::unstated) {
      add(e.lacks(its, "material", a_metal, marking, {}, conductor.source));
    }
    all.alike = all.alike && (all.count == 0 || (kind.size == all.largest && kind.material == all.material));
    if (all.count == 0 || kind.size > all.largest) {
      all.largest = kind.size;
      all.material = kind.material;
    }
    all.count += conductor.count;
  }
  if (all.count == 0) {
    add(e.lacks(at, "conductor", "its ungrounded conductors", designer, {}, circuit.source));
    return out;
  }
  const Index device = circuit.overcurrent_device;
  const std::uint32_t poles = device == none ? 0 : e.model.overcurrent_devices[device].poles;
  std::int64_t together = std::max<std::int64_t>(1, circuit.parallel);
  if (out.missing != 0) {
    together = 1;
  } else if (!in_sets(all.count, circuit.parallel, poles)) {
    add(e.lacks(
        at, "parallel", "how many conductors of each phase are in parallel", designer,
        fmt::format(FMT_COMPILE("{} ungrounded conductors reach {}"), all.count, e.model.places[panel].id),
        circuit.source));
    together = 1;
  } else if (together > 1 && !all.alike) {
    add(e.lacks(at, "conductor", "sets of like conductors", designer,
                "those in parallel are not of one size and metal", circuit.source));
    together = 1;
  }
  if (!by_gauge(all.largest) || all.material == ConductorMaterial::unstated) return out;
  out.area = size_law(e).area(all.largest) * together;
  out.metal = metal_of(all.material);
  const Place& place = e.model.places[panel];
  const auto differs = [&](std::string_view attribute, std::string_view is, std::string_view expects) {
    add(e.lacks(
        {SubjectKind::panel, panel}, attribute, expects, installer,
        fmt::format(FMT_COMPILE("circuit {} feeds it, and its largest conductor is of {}"), circuit.id, is)));
    out.area = 0;
  };
  if (place.supply_size != ConductorSize::unstated && place.supply_size != all.largest) {
    differs("supply-size", name_of(all.largest), a_size);
  }
  if (place.supply_material != ConductorMaterial::unstated && place.supply_material != all.material) {
    differs("supply-material", name_of(all.material), a_metal);
  }
  if (place.supply_parallel != 0 && place.supply_parallel != together && out.missing == 0) {
    differs("supply-parallel", fmt::format(FMT_COMPILE("{} in parallel"), together), "how many");
  }
  if (out.missing == 0) {
    e.note(FMT_COMPILE("supplied by circuit {}: {}{}"), circuit.id, name_of(all.largest),
           together > 1 ? fmt::format(FMT_COMPILE(", {} of them in parallel"), together) : std::string());
  }
  return out;
}

/// As the panel says, where what feeds it is outside the document.
Supply supply_stated(Evaluation& e, Subject s) {
  const Place& panel = e.model.places[s.index];
  Supply out;
  const auto add = [&](const Value& lack) { out.missing = e.missing.both(out.missing, lack.missing); };
  if (!by_gauge(panel.supply_size)) {
    add(e.lacks(s, "supply-size", "the size of the conductors that feed it, such as 2 AWG", installer));
  }
  if (panel.supply_material == ConductorMaterial::unstated) {
    add(e.lacks(s, "supply-material", a_metal, installer));
  }
  if (out.missing != 0) return out;
  const Parameter* const smallest = e.law.parameter("smallest-parallel-conductor");
  const bool may = smallest == nullptr || !smallest->is_word ||
                   panel.supply_size >= term_spelt<ConductorSize>(smallest->text);
  if (may && panel.supply_parallel == 0) {
    add(e.lacks(s, "supply-parallel", "how many such conductors are in parallel, 1 where none are",
                installer));
  }
  const std::int64_t together = std::max<std::int64_t>(1, panel.supply_parallel);
  out.area = size_law(e).area(panel.supply_size) * together;
  out.metal = metal_of(panel.supply_material);
  e.note(FMT_COMPILE("stated: it is supplied by {} {}{}"), name_of(panel.supply_size),
         name_of(panel.supply_material),
         together > 1 ? fmt::format(FMT_COMPILE(", {} of them in parallel"), together) : std::string());
  return out;
}

}  // namespace

Supply supply_of(Evaluation& e, Subject s) {
  if (s.kind == SubjectKind::equipment) return derived_supply(e, s.index);
  const Index circuit = e.model.places[s.index].fed_by;
  return circuit != none ? supply_by(e, s.index, circuit) : supply_stated(e, s);
}

}  // namespace raceward::figure
