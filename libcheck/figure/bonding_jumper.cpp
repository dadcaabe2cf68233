// Sizes of bonding jumpers behind overcurrent devices.
//
// Method: a jumper carries the fault current of the circuits in the raceway that it bridges, or at the place
// that it bonds, so it is sized like an equipment grounding conductor for the largest overcurrent device
// among them; it need not be larger than the ungrounded conductors. Of a jumper between two places it is not
// said which one it bonds: then the size is known from both sides only.
#include <algorithm>
#include <array>

#include "figure/circuit_use.hpp"
#include "figure/facts.hpp"
#include "figure/grounding_electrode.hpp"
#include "figure/size_short.hpp"
#include "figure/supply_side.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

/// What the circuits at one end ask of a jumper.
struct Need {
  ConductorSize size{};
  Index circuit = none;  // that asks for it
  CitationId cite = no_citation;
  MissingId missing = 0;
  bool any = false;
};

/// The largest ungrounded conductor; unstated where something about them is not known, or they lie in
/// parallel.
ConductorSize largest_ungrounded(const Model& model, const Circuit& circuit, Metal metal) {
  ConductorSize largest{};
  std::uint32_t count = 0;
  for (Index c = circuit.conductors.first; c < circuit.conductors.end(); ++c) {
    const Conductor& conductor = model.conductors[c];
    const ConductorKind& kind = model.conductor_kinds[conductor.kind];
    if (kind.cable || conductor.role == Role::unstated) return {};
    if (conductor.role != Role::ungrounded) continue;
    const bool told = by_gauge(kind.size) && kind.material != ConductorMaterial::unstated;
    if (!told || metal_of(kind.material) != metal) return {};
    largest = std::max(largest, kind.size);
    count += conductor.count;
  }
  return count > most_phases ? ConductorSize{} : largest;
}

void ask(Evaluation& e, Index c, Metal metal, Need& need) {
  const Circuit& circuit = e.model.circuits[c];
  if (circuit.kind == CircuitKind::other || c == need.circuit) return;
  need.any = true;
  const auto add = [&](const Value& lack) { need.missing = e.missing.both(need.missing, lack.missing); };
  if (circuit.overcurrent_device == none) {
    return add(e.lacks({SubjectKind::circuit, c}, "protected-by", "the id of an overcurrent device", designer,
                       "ahead of any overcurrent device a jumper is sized otherwise", circuit.source));
  }
  const OvercurrentDevice& device = e.model.overcurrent_devices[circuit.overcurrent_device];
  if (!device.rating.known()) {
    return add(e.lacks({SubjectKind::overcurrent_device, circuit.overcurrent_device}, "rating",
                       "a current such as 20A", marking, {}, device.source));
  }
  const SizeRow* const row = size_law(e).grounding((*device.rating).count());
  if (row == nullptr) return add(e.lacks_law("egc-size"));
  ConductorSize size = row->of(metal);
  if (const ConductorSize most = largest_ungrounded(e.model, circuit, metal); most != ConductorSize::unstated)
    size = std::min(size, most);
  const bool same = size == need.size && need.circuit != none;
  // The first by id, so that the order of elements does not matter.
  if (size < need.size || (same && e.model.circuits[need.circuit].id <= circuit.id)) return;
  need.size = size;
  need.circuit = c;
  need.cite = row->cite;
}

Need at_raceway(Evaluation& e, Index raceway, Metal metal) {
  Need need;
  for (const Index run : e.in.routes.runs_in(raceway)) ask(e, e.model.runs[run].circuit, metal, need);
  return need;
}

Need at_place(Evaluation& e, Index place, Metal metal) {
  Need need;
  if (place == none || e.model.places[place].kind == PlaceKind::panel) return need;
  for (const Visit& visit : e.in.routes.visits_at(place))
    ask(e, e.model.runs[visit.run].circuit, metal, need);
  return need;
}

void note(Evaluation& e, const Need& need) {
  if (!e.noting() || need.circuit == none) return;
  const Circuit& circuit = e.model.circuits[need.circuit];
  const OvercurrentDevice& device = e.model.overcurrent_devices[circuit.overcurrent_device];
  e.note(FMT_COMPILE("circuit {} behind overcurrent device {} of {} asks for {} ({})"), circuit.id, device.id,
         text_of(show(*device.rating, Unit::ampere)), name_of(need.size), e.cited(need.cite));
}

Value short_of(Evaluation& e, ConductorSize size, const Need& need) {
  e.used(need.cite);
  return size_short(e, size, need.size, need.cite);
}

Value supply_side_shortfall(Evaluation& e, const BondingJumper& jumper, Index panel) {
  const SupplySide needed = supply_side_of(e, {SubjectKind::panel, panel}, metal_of(jumper.material));
  e.used(needed.cite);
  const Value by = size_short(e, jumper.size, needed.size, needed.cite);
  return by.count == 0 && needed.missing != 0 ? Evaluation::lacks(needed.missing) : by;
}

/// Ahead of the overcurrent device of a panel: by what supplies it.
Value supply_side_shortfall(Evaluation& e, Subject s, const BondingJumper& jumper) {
  const auto is_panel = [&](Index place) {
    return place != none && e.model.places[place].kind == PlaceKind::panel;
  };
  if (is_panel(jumper.from) && is_panel(jumper.to)) {
    // Of two, what asks for more serves both; what asks for less is asked in any case.
    const Value one = supply_side_shortfall(e, jumper, jumper.from),
                other = supply_side_shortfall(e, jumper, jumper.to);
    if (one && other && (one.count == 0) == (other.count == 0)) return one.count <= other.count ? one : other;
    const Value lack = e.lacks(s, "to", "a place that is no panel", designer,
                               "it is on the side of the supply of a panel, and which of the two is not said",
                               jumper.source);
    return Evaluation::lacks(e.missing.both(lack.missing, e.missing.both(one.missing, other.missing)));
  }
  const Index panel = is_panel(jumper.from) ? jumper.from : is_panel(jumper.to) ? jumper.to : none;
  if (panel == none) {
    return e.lacks(s, "from", "the panel that it begins at", designer,
                   "it is on the side of the supply, and no panel is at an end of it", jumper.source);
  }
  return supply_side_shortfall(e, jumper, panel);
}

}  // namespace

Value bonding_jumper_asked(Evaluation& e, Subject s) {
  const BondingJumper& jumper = e.model.bonding_jumpers[s.index];
  for (const Index place : {jumper.from, jumper.to}) {
    if (place == none || !grounding::is_electrode(e, place)) continue;
    e.note(FMT_COMPILE("{} is a grounding electrode"), e.model.places[place].id);
    return answer(false);
  }
  return answer(true);
}

Value bonding_jumper_shortfall(Evaluation& e, Subject s) {
  const BondingJumper& jumper = e.model.bonding_jumpers[s.index];
  MissingId own = 0;
  if (!by_gauge(jumper.size)) own = e.lacks(s, "size", a_size, marking, {}, jumper.source).missing;
  if (jumper.material == ConductorMaterial::unstated) {
    own = e.missing.both(own, e.lacks(s, "material", a_metal, marking, {}, jumper.source).missing);
  }
  if (own != 0) return Evaluation::lacks(own);
  e.note(FMT_COMPILE("stated: it is {} {}"), name_of(jumper.size), name_of(jumper.material));
  if (jumper.supply_side == YesNo::yes) return supply_side_shortfall(e, s, jumper);
  const Metal metal = metal_of(jumper.material);
  std::array<Need, 2> ends;
  if (jumper.raceway != none) {
    ends[0] = at_raceway(e, jumper.raceway, metal);
  } else {
    ends = {at_place(e, jumper.from, metal), at_place(e, jumper.to, metal)};
  }
  if (!ends[0].any || (ends[1].any && ends[1].size < ends[0].size)) std::swap(ends[0], ends[1]);
  // Now the first asks for less, where both ask.
  const Need &less = ends[0].any ? ends[0] : ends[1], &more = ends[1].any ? ends[1] : ends[0];
  if (!less.any) {
    return e.lacks(
        s, "circuit", "the circuits in what it bonds", designer,
        "the overcurrent device ahead of it is not known without them, and it is not said to be on the side "
        "of the supply",
        jumper.source);
  }
  note(e, less);
  if (more.circuit != less.circuit) note(e, more);
  if (less.size != ConductorSize::unstated && jumper.size < less.size) return short_of(e, jumper.size, less);
  const MissingId missing = e.missing.both(less.missing, more.missing);
  if (missing != 0) return Evaluation::lacks(missing);
  if (jumper.size >= more.size) return short_of(e, jumper.size, more);
  return e.lacks(
      s, "raceway", "the id of the raceway that it bridges", designer,
      fmt::format(FMT_COMPILE("which of the two places it bonds is not said, and {} would do for both"),
                  name_of(more.size)),
      jumper.source);
}

}  // namespace raceward::figure::compute
