// Whether a grounding conductor goes with the circuit that needs it.
//
// Method: nonmetallic raceways that hold conductors of the circuit that take its load, and no grounding
// conductor, of it or of others, and that no bonding jumper goes along. Where something behind such a one,
// seen from the panel of the circuit, is connected to the fault current path all the same, that path goes
// another way than the circuit.
#include <algorithm>
#include <array>

#include "figure/attested.hpp"
#include "figure/circuit_tree.hpp"
#include "figure/circuit_way.hpp"
#include "figure/current_carrying.hpp"
#include "figure/devices_by_box.hpp"
#include "figure/facts.hpp"
#include "figure/grounding_raceway.hpp"
#include "figure/grounding_shared.hpp"
#include "figure/jumper_way.hpp"
#include "figure/logic.hpp"
#include "figure/raceway_kinds.hpp"
#include "figure/run_contents.hpp"
#include "figure/supply.hpp"
#include "figure/told.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

/// A bonding jumper goes along it, or may.
bool jumped(Evaluation& e, Index raceway) {
  return !jumpers_at(e, raceway).empty() || jumper_perhaps_in(e, raceway) != none;
}

struct Passed {
  Hop hop;
  bool load = false, own = false;
};

/// Raceways that hold what takes the circuit's load and no grounding conductor of it; in each the first hop.
std::vector<Passed> without_own(const Evaluation& e, const Circuit& circuit) {
  std::vector<Passed> out;
  for (Index r = circuit.runs.first; r < circuit.runs.end(); ++r) {
    const auto [load, own] = run_holds(e.model, e.model.runs[r]);
    const Range& hops = e.in.routes.run_hops[r];
    for (Index h = hops.first; h < hops.end(); ++h) out.push_back({e.in.routes.hops[h], load, own});
  }
  std::ranges::stable_sort(out, {}, [](const Passed& p) { return p.hop.raceway; });
  std::size_t kept = 0;
  for (std::size_t i = 0; i < out.size();) {
    Passed sum = out[i];
    const Index raceway = sum.hop.raceway;
    for (; i < out.size() && out[i].hop.raceway == raceway; ++i) {
      sum.load = sum.load || out[i].load;
      sum.own = sum.own || out[i].own;
    }
    if (sum.load && !sum.own) out[kept++] = sum;
  }
  out.resize(kept);
  return out;
}

Value unbroken(const Value& breaks) { return breaks ? answer(is_no(breaks)) : breaks; }

/// Whether a place, or a device of the circuit in it, is connected to the fault current path.
Value is_grounded(Evaluation& e, Index circuit, Index place) {
  const Subject at = place_at(e, place);
  Value any =
      both(e, e.get_aside(Id::ground_path_asked, at), unbroken(e.get_aside(Id::ground_path_breaks, at)));
  for (const Index d : devices_on(e, place, circuit)) {
    if (is_yes(any)) return any;
    const Subject s{SubjectKind::device, d};
    any = either(
        e, any,
        both(e, e.get_aside(Id::device_ground_asked, s), unbroken(e.get_aside(Id::device_ground_breaks, s))));
  }
  return any;
}

/// What of the places of one circuit is grounded, by where they stand on its way.
struct GroundedAlong {
  Index circuit = none;
  std::vector<std::uint32_t> before;     // how many are, before each
  std::vector<std::uint32_t> next_open;  // the first from each of which that is not known
  std::vector<MissingId> missing;
};

const GroundedAlong& grounded_along(Evaluation& e, Index circuit, std::span<const Index> all) {
  auto& along = e.once<GroundedAlong>();
  if (along.circuit == circuit) return along;
  along = {circuit, {0}, {}, {}};
  for (const Index place : all) {
    const Value one = is_grounded(e, circuit, place);
    along.before.push_back(along.before.back() + (is_yes(one) ? 1 : 0));
    along.missing.push_back(one.missing);
  }
  along.next_open.assign(all.size() + 1, static_cast<std::uint32_t>(all.size()));
  for (std::size_t i = all.size(); i-- > 0;)
    along.next_open[i] = along.missing[i] != 0 ? static_cast<std::uint32_t>(i) : along.next_open[i + 1];
  return along;
}

/// Something behind the raceway is grounded: 1 or 0; missing where it is not said which end is behind.
Value grounded_behind(Evaluation& e, Subject s, const Hop& hop) {
  const CircuitTree& tree = circuit_tree(e, s.index);
  const bool there = tree.through(hop.from, hop.to), back = tree.through(hop.to, hop.from);
  if (there != back) {
    const auto behind = tree.behind(there ? hop.to : hop.from), all = tree.all();
    const GroundedAlong& along = grounded_along(e, s.index, all);
    const std::size_t first = behind.data() - all.data(), end = first + behind.size();
    if (along.before[end] != along.before[first]) return answer(true);
    const std::uint32_t open = along.next_open[first];
    return open < end ? Evaluation::lacks(along.missing[open]) : answer(false);
  }
  const Index panel = panel_of(e, s.index);
  const auto at = [&](Index place) {
    return place == panel ? answer(false) : is_grounded(e, s.index, place);
  };
  const Value from = at(hop.from), to = at(hop.to);
  const bool sure =
      hop.from == panel || hop.to == panel || (is_yes(from) && is_yes(to)) || (is_no(from) && is_no(to));
  if (sure) return either(e, from, to);
  if (!from || !to) return Evaluation::lacks(e.missing.both(from.missing, to.missing));
  const bool begins = e.model.circuits[s.index].overcurrent_device != none;
  return e.lacks(s, begins ? "run" : "protected-by",
                 begins ? "runs that lead on from its panel" : "the id of an overcurrent device", designer,
                 fmt::format(FMT_COMPILE("what lies behind raceway {} is not known without it"),
                             e.model.raceways[hop.raceway].id),
                 e.model.circuits[s.index].source);
}

/// Cables in it whose conductors are not written.
MissingId cables_in(Evaluation& e, Index raceway) {
  MissingId missing = 0;
  for (const Index run : e.in.routes.runs_in(raceway)) {
    const Range& conductors = e.model.runs[run].conductors;
    const auto first = e.model.run_conductors.begin() + conductors.first;
    const bool cables = std::any_of(first, first + conductors.count, [&](Index c) {
      return e.model.conductor_kinds[e.model.conductors[c].kind].cable;
    });
    if (cables) missing = e.missing.both(missing, cables_missing(e, e.model.runs[run]));
  }
  return missing;
}

}  // namespace

Value raceways_without_grounding(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  if (circuit.kind == CircuitKind::other) return Evaluation::value(0);
  const Parameter* const volts = e.law.parameter("ungrounded-volts", Dimension::voltage);
  if (volts == nullptr) return Evaluation::value(0);
  if (circuit.voltage.known() && (*circuit.voltage).count() < volts->value.count) {
    e.used(volts->cite);
    return Evaluation::value(0);
  }
  MissingId missing = 0;
  std::int64_t count = 0;
  Value out = Evaluation::value(0);
  const std::vector<Passed> bare = without_own(e, circuit);
  if (bare.empty() || attested(e, Attested::grounding_apart, circuit.id)) return out;
  const auto by_raceway = [&](const Passed& p) { return id_key(e.model.raceways[p.hop.raceway].id); };
  for (const Passed& each : told_by(e, bare, by_raceway)) {
    const Raceway& raceway = e.model.raceways[each.hop.raceway];
    if (is_metal(raceway.type) || jumped(e, each.hop.raceway)) continue;
    const Offered& offered = offered_in(e, each.hop.raceway);
    if (std::ranges::any_of(offered.wires, [](Index w) { return w != none; })) continue;
    const Value behind = grounded_behind(e, s, each.hop);
    if (behind && behind.count == 0) continue;
    MissingId open = e.missing.all(std::array{behind.missing, offered.open, cables_in(e, each.hop.raceway)});
    if (!circuit.voltage.known()) {
      const Value lack = e.lacks(s, "voltage", "the voltage between its ungrounded conductors", designer, {},
                                 circuit.source);
      open = e.missing.both(open, lack.missing);
    }
    if (circuit.kind == CircuitKind::unstated)
      open =
          e.missing.both(open, e.lacks(s, "kind", "branch or feeder", designer, {}, circuit.source).missing);
    if (raceway.type == RacewayType::unstated) {
      const Value lack = e.lacks({SubjectKind::raceway, each.hop.raceway}, "type",
                                 "a raceway type such as PVC-40", installer);
      open = e.missing.both(open, lack.missing);
    }
    missing = e.missing.both(missing, open);
    if (open != 0) continue;
    e.note(FMT_COMPILE("raceway {} is {}, and holds no grounding conductor"), raceway.id,
           name_of(raceway.type));
    if (count == 0 || id_before(raceway.id, e.model.raceways[out.place.index].id))
      out.place = {SubjectKind::raceway, each.hop.raceway};
    ++count;
  }
  if (count == 0 && missing != 0) return Evaluation::lacks(missing);
  if (count != 0) {
    if (const MissingId way = unknown_way(e, s.index); way != 0) return Evaluation::lacks(way);
  }
  out.count = number(count).count();
  if (count != 0) e.detail(out, unless_attested(Attested::grounding_apart, circuit.id));
  return out;
}

}  // namespace raceward::figure::compute
