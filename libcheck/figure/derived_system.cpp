// Grounding of the system that a transformer derives.
//
// Method: the grounded conductor of the secondary is connected to an enclosure in one place, the transformer
// or the panel that it feeds, and the electrode is connected there. The jumper that connects it, and bonding
// conductors that go with the secondary conductors, are sized like those ahead of a service's overcurrent
// device: by the ungrounded conductors of the secondary.
#include <algorithm>

#include "figure/current_carrying.hpp"
#include "figure/electrode_supply.hpp"
#include "figure/facts.hpp"
#include "figure/machines.hpp"
#include "figure/run_contents.hpp"
#include "figure/size_short.hpp"
#include "figure/supply_side.hpp"
#include "figure/surroundings.hpp"
#include "figure/told.hpp"
#include "figure/transformers.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

/// The ungrounded conductors of one secondary: of all phases, in circular mils, divided among the phases.
void add_area(Evaluation& e, Index transformer, const Secondary& to, Supply& out) {
  const auto add = [&](MissingId missing) { out.missing = e.missing.both(out.missing, missing); };
  ConductorSize largest = ConductorSize::unstated;
  for (const Index run : to.runs) {
    const Circuit& wiring = e.model.circuits[e.model.runs[run].circuit];
    add(roles_missing(e, wiring));
    add(cables_missing(e, e.model.runs[run]));
    const Range& conductors = e.model.runs[run].conductors;
    for (Index i = conductors.first; i < conductors.end(); ++i) {
      const Index index = e.model.run_conductors[i];
      const Conductor& c = e.model.conductors[index];
      const ConductorKind& kind = e.model.conductor_kinds[c.kind];
      if (c.role != Role::ungrounded) continue;
      const Subject its{SubjectKind::conductor, index};
      if (!by_gauge(kind.size)) add(e.lacks(its, "size", a_size, marking, {}, c.source).missing);
      if (kind.material == ConductorMaterial::unstated) {
        add(e.lacks(its, "material", a_metal, marking, {}, c.source).missing);
        continue;
      }
      if (!by_gauge(kind.size) || kind.size < largest) continue;
      largest = kind.size;
      out.metal = metal_of(kind.material);
    }
  }
  const SecondarySets sets = secondary_sets(e, transformer, to);
  add(sets.missing);
  if (largest != ConductorSize::unstated) out.area += size_law(e).area(largest) * sets.count;
}

/// Where the grounded conductor of a secondary is connected to an enclosure.
struct Bonds {
  bool at_transformer = false;
  std::vector<Index> panels;
  MissingId missing = 0;  ///< where it may be as well

  [[nodiscard]] std::size_t count() const { return panels.size() + (at_transformer ? 1 : 0); }
  /// The one place.
  [[nodiscard]] Subject place(Index transformer) const {
    return at_transformer ? equipment_at(transformer) : Subject{SubjectKind::panel, panels.front()};
  }
};

Bonds bonds_of(Evaluation& e, Index transformer) {
  const Secondaries secondaries = secondaries_of(e, transformer);
  Bonds out;
  out.missing = secondaries.missing;
  const auto add = [&](Subject at, YesNo said) {
    if (said == YesNo::unstated)
      out.missing =
          e.missing.both(out.missing, e.lacks(at, "neutral-bonded", "yes or no", installer).missing);
    return said == YesNo::yes;
  };
  out.at_transformer = add(equipment_at(transformer), e.model.places[transformer].neutral_bonded);
  for (const Secondary& to : secondaries.all) {
    if (add({SubjectKind::panel, to.panel}, e.model.places[to.panel].neutral_bonded))
      out.panels.push_back(to.panel);
  }
  return out;
}

/// How many sizes a conductor is smaller than the law asks for by a supply; missing where that is open.
Value side_shortfall(Evaluation& e, const Supply& supply, ConductorSize size, ConductorMaterial material,
                     std::string_view called, Subject place = {}) {
  e.note(FMT_COMPILE("{}: {} {}"), called, name_of(size), name_of(material));
  const SupplySide needed = supply_side_for(e, supply, metal_of(material));
  e.used(needed.cite);
  const Value by = size_short(e, size, needed.size, needed.cite, place);
  return by.count == 0 && needed.missing != 0 ? Evaluation::lacks(needed.missing) : by;
}

/// Worse than the worst conductor so far; the first by id, so that the order of elements does not matter.
bool is_worse(const Evaluation& e, const Value& one, const Value& worst) {
  const bool same = one.count != 0 && one.count == worst.count;
  return one.count > worst.count || (same && by_id(e, one.place.index, worst.place.index));
}

/// The same of the bonding conductors of one run, which go by the conductors of its own raceway.
Value run_shortfall(Evaluation& e, Index run) {
  Supply own;
  Value worst = Evaluation::value(0);
  MissingId missing = 0;
  const Range& conductors = e.model.runs[run].conductors;
  for (Index i = conductors.first; i < conductors.end(); ++i) {
    const Conductor& c = e.model.conductors[e.model.run_conductors[i]];
    const ConductorKind& kind = e.model.conductor_kinds[c.kind];
    if (c.role != Role::ungrounded || !by_gauge(kind.size) || kind.material == ConductorMaterial::unstated)
      continue;
    const std::int64_t area = size_law(e).area(kind.size);
    if (area < own.area) continue;
    own.area = area;
    own.metal = metal_of(kind.material);
  }
  const std::span all(e.model.run_conductors.data() + conductors.first, conductors.count);
  for (const Index index : told_by_id(e, e.model.conductors, all)) {
    const Conductor& c = e.model.conductors[index];
    const ConductorKind& kind = e.model.conductor_kinds[c.kind];
    const Subject its{SubjectKind::conductor, index};
    if (c.role != Role::bonding || kind.cable) continue;
    if (!by_gauge(kind.size))
      missing = e.missing.both(missing, e.lacks(its, "size", a_size, marking, {}, c.source).missing);
    if (kind.material == ConductorMaterial::unstated)
      missing = e.missing.both(missing, e.lacks(its, "material", a_metal, marking, {}, c.source).missing);
    if (missing != 0 || own.area == 0) continue;
    const Value one =
        side_shortfall(e, own, kind.size, kind.material, "bonding conductor of the secondary", its);
    missing = e.missing.both(missing, one.missing);
    if (one && is_worse(e, one, worst)) worst = one;
  }
  return worst.count == 0 && missing != 0 ? Evaluation::lacks(missing) : worst;
}

}  // namespace

Supply derived_supply(Evaluation& e, Index transformer) {
  Supply out;
  const Secondaries secondaries = secondaries_of(e, transformer);
  out.missing = secondaries.missing;
  for (const Secondary& to : secondaries.all) add_area(e, transformer, to, out);
  if (out.missing == 0)
    e.note(FMT_COMPILE("ungrounded conductors of the secondary: {} circular mils a phase"),
           decimal_of({out.area, Unit::one}));
  return out;
}

namespace compute {

Value derived_system_asked(Evaluation& e, Subject s) {
  const Value is = e.get(Id::is_transformer, s);
  if (!is || is.count == 0) return is;
  if (e.model.places[s.index].neutral_bonded == YesNo::yes) return answer(true);
  const Secondaries secondaries = secondaries_of(e, s.index);
  MissingId missing = secondaries.missing;
  for (const Secondary& to : secondaries.all) {
    for (const Index run : to.runs) {
      missing = e.missing.both(missing, roles_missing(e, e.model.circuits[e.model.runs[run].circuit]));
      missing = e.missing.both(missing, cables_missing(e, e.model.runs[run]));
      const Range& conductors = e.model.runs[run].conductors;
      for (Index i = conductors.first; i < conductors.end(); ++i)
        if (e.model.conductors[e.model.run_conductors[i]].role == Role::grounded) return answer(true);
    }
  }
  return missing != 0 ? Evaluation::lacks(missing) : answer(false);
}

Value derived_bonds(Evaluation& e, Subject s) {
  const Bonds bonds = bonds_of(e, s.index);
  constexpr std::size_t one = 1;  // not law: places
  if (bonds.missing != 0 && bonds.count() <= one) return Evaluation::lacks(bonds.missing);
  e.note(FMT_COMPILE("its grounded conductor is connected to an enclosure in {} place{}"), bonds.count(),
         bonds.count() == one ? "" : "s");
  return Evaluation::value(number(static_cast<std::int64_t>(bonds.count())).count());
}

Value derived_jumper_shortfall(Evaluation& e, Subject s) {
  const Bonds bonds = bonds_of(e, s.index);
  if (bonds.missing != 0) return Evaluation::lacks(bonds.missing);
  if (bonds.count() == 0) return Evaluation::value(0);
  if (attested(e, Attested::listed_bonding_jumper, e.model.places[bonds.place(s.index).index].id)) {
    e.note(FMT_COMPILE("attested: the jumper came with {}"), e.model.places[bonds.place(s.index).index].id);
    return Evaluation::value(0);
  }
  const Machine& machine = machine_of(e, s.index);
  MissingId missing = 0;
  if (!by_gauge(machine.jumper_size)) missing = lacks_of(e, s.index, "jumper-size", a_size).missing;
  if (machine.jumper_material == ConductorMaterial::unstated)
    missing = e.missing.both(missing, lacks_of(e, s.index, "jumper-material", a_metal).missing);
  if (missing != 0) return Evaluation::lacks(missing);
  return side_shortfall(e, derived_supply(e, s.index), machine.jumper_size, machine.jumper_material,
                        "system bonding jumper");
}

Value derived_side_shortfall(Evaluation& e, Subject s) {
  const Secondaries secondaries = secondaries_of(e, s.index);
  MissingId missing = secondaries.missing;
  Value worst = Evaluation::value(0);
  for (const Secondary& to : secondaries.all) {
    for (const Index run : told_runs(e, std::span<const Index>(to.runs))) {
      const Value one = run_shortfall(e, run);
      missing = e.missing.both(missing, one.missing);
      if (one && is_worse(e, one, worst)) worst = one;
    }
  }
  if (missing == 0) missing = derived_supply(e, s.index).missing;
  return worst.count == 0 && missing != 0 ? Evaluation::lacks(missing) : worst;
}

Value derived_electrode(Evaluation& e, Subject s) {
  const Bonds bonds = bonds_of(e, s.index);
  if (bonds.missing != 0) return Evaluation::lacks(bonds.missing);
  return bonds.count() == 0 ? answer(false) : panel_electrode(e, bonds.place(s.index));
}

Value derived_electrode_shortfall(Evaluation& e, Subject s) {
  const Bonds bonds = bonds_of(e, s.index);
  if (bonds.missing != 0) return Evaluation::lacks(bonds.missing);
  if (bonds.count() == 0) return Evaluation::value(0);
  if (bonds.at_transformer) return electrode_conductor_shortfall(e, s);
  // At the panel its own rule judges it by the supply that it states: it must be no less than is drawn.
  const Subject at = bonds.place(s.index);
  const Supply derived = derived_supply(e, s.index), said = supply_of(e, at);
  if (said.missing == 0 && derived.area > said.area) {
    return e.lacks(at, "supply-size", a_size, installer,
                   "the secondary conductors that are drawn to it are larger");
  }
  if (derived.missing != 0) return Evaluation::lacks(derived.missing);
  return electrode_conductor_shortfall(e, at);
}

}  // namespace compute
}  // namespace raceward::figure
