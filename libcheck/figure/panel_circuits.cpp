// Which circuits a panel supplies.
//
// Method: each overcurrent device counts as one circuit, unless its circuit feeds panels: then theirs count,
// from the last panel back to the first. What may be more than it looks like is asked for where there are
// few.
#include "figure/panel_circuits.hpp"

#include <algorithm>
#include <tuple>

#include "figure/facts.hpp"
#include "figure/first_by_id.hpp"
#include "figure/run_contents.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

constexpr std::uint32_t few = 2;  // not law: above it nothing that counts circuits looks closer

/// Whether the handles tied to one another are those of one multiwire circuit.
enum class Tied : std::uint8_t { no, maybe, one_circuit };

/// What an overcurrent device protects.
struct Use {
  Index circuit = none;  ///< one that feeds no panel, the first by id
  bool feeds_panel = false;
  bool grounded = false, unclear = false;  ///< of its conductors
  Index unsaid = none;                     ///< the first by id of them not said to be no multiwire one
  bool multiwire = false;                  ///< one of its circuits is said to be
  Tied tied{};

  /// All of its circuits are said not to be multiwire.
  [[nodiscard]] bool single() const { return circuit != none && unsaid == none; }
};

struct AllPanels {
  bool ready = false;
  std::vector<PanelCircuits> of_place;

  void read(Evaluation& e) {
    ready = true;
    of_place.resize(e.model.places.size());
    uses_.resize(e.model.overcurrent_devices.size());
    read_uses(e.model);
    count_own(e.model);
    add_behind(e);
    ask(e);
  }

 private:
  std::vector<Use> uses_;          // by overcurrent device
  std::vector<Index> feeds_from_;  // by place: the panel that feeds it, or none
  std::vector<Index> order_;       // panels, each after those behind it

  void read_uses(const Model& model) {
    std::vector<std::uint8_t> feeds(model.circuits.size());
    for (const Place& place : model.places)
      if (place.fed_by != none) feeds[place.fed_by] = 1;
    for (Index c = 0; c < model.circuits.size(); ++c) {
      const Circuit& circuit = model.circuits[c];
      if (circuit.overcurrent_device == none) continue;
      Use& use = uses_[circuit.overcurrent_device];
      if (feeds[c] != 0) {
        use.feeds_panel = true;
        continue;
      }
      hold_first(model.circuits, use.circuit, c);
      use.multiwire = use.multiwire || circuit.multiwire == YesNo::yes;
      const bool unsaid = circuit.multiwire != YesNo::no;
      if (unsaid) hold_first(model.circuits, use.unsaid, c);
      use.unclear = use.unclear || circuit.conductors.count == 0;
      std::vector<std::uint8_t> holds(circuit.conductors.count);  // of cables, whether something lies in it
      for (Index i = circuit.conductors.first; i < circuit.conductors.end(); ++i)
        if (const Conductor& one = model.conductors[i]; one.of_cable != 0) holds[one.of_cable - 1u] = 1;
      for (Index i = circuit.conductors.first; i < circuit.conductors.end(); ++i) {
        const Conductor& one = model.conductors[i];
        const bool cable = model.conductor_kinds[one.kind].cable;
        use.grounded = use.grounded || one.role == Role::grounded;
        const bool known = cable ? holds[i - circuit.conductors.first] != 0 : one.role != Role::unstated;
        use.unclear = use.unclear || !known;
      }
    }
  }

  [[nodiscard]] bool is_circuit(Index device) const {
    return uses_[device].circuit != none || !uses_[device].feeds_panel;
  }

  /// Known to have more than two wires: one ungrounded conductor and a grounded one, or two ungrounded.
  [[nodiscard]] bool is_wide(const Model& model, Index d) const {
    const Use& use = uses_[d];
    const std::uint8_t poles = model.overcurrent_devices[d].poles;
    return poles > 2 || (poles == 2 && use.grounded) || (use.multiwire && (use.grounded || use.unclear));
  }

  void count_own(const Model& model) {
    std::vector<Index> devices(uses_.size());
    for (Index d = 0; d < devices.size(); ++d) devices[d] = d;
    const auto key = [&](Index d) {
      const OvercurrentDevice& device = model.overcurrent_devices[d];
      return std::tuple(device.panel, device.handle_tie, device.id);
    };
    std::ranges::sort(devices, {}, key);
    for (std::size_t first = 0, end = 0; first < devices.size(); first = end) {
      const OvercurrentDevice& device = model.overcurrent_devices[devices[first]];
      const auto same = [&](const OvercurrentDevice& other) {
        return other.panel == device.panel && other.handle_tie == device.handle_tie;
      };
      end = first + 1;
      if (!device.handle_tie.empty())
        while (end < devices.size() && same(model.overcurrent_devices[devices[end]])) ++end;
      add_handle(model, of_place[device.panel], {devices.data() + first, end - first});
    }
  }

  void add_handle(const Model& model, PanelCircuits& of, std::span<const Index> tied) {
    of.devices += static_cast<std::uint32_t>(tied.size());
    std::int64_t rating = std::numeric_limits<std::int64_t>::max();
    // Tied handles may be those of one multiwire circuit.
    bool multiwire = false, single = true;
    std::uint32_t circuits = 0, wide = 0, poles = 0;
    Index unpoled = none;
    for (const Index d : tied) {
      const OvercurrentDevice& device = model.overcurrent_devices[d];
      poles += std::max<std::uint32_t>(1, device.poles);
      if (device.poles == 0) hold_first(model.overcurrent_devices, unpoled, d);
      if (device.rating.known()) {
        rating = std::min(rating, (*device.rating).count());
      } else {
        hold_first(model.overcurrent_devices, of.unrated, d);
      }
      if (!is_circuit(d)) continue;
      ++circuits;
      if (is_wide(model, d)) ++wide;
      multiwire = multiwire || uses_[d].multiwire;
      single = single && uses_[d].single();
    }
    if (rating != std::numeric_limits<std::int64_t>::max()) of.rating += rating;
    const bool one = tied.size() > 1 && !single;
    const auto each = static_cast<std::uint32_t>(tied.size());
    const auto named = std::ranges::count_if(tied, [&](Index d) { return uses_[d].circuit != none; });
    const bool may_be_one = each > 1 && named <= 1 && each <= most_phases && poles == each;
    const OvercurrentDevice& only = model.overcurrent_devices[tied.front()];
    const bool unsaid =
        each == 1 && only.poles < 2 && only.handle_tie.empty() && !only.untied;  // not law: one
    const bool idle = uses_[tied.front()].circuit == none && !uses_[tied.front()].feeds_panel;
    if (unsaid) (idle ? of.unsaid_ties : of.may_tie).push_back(tied.front());
    if (each == 1 && !only.handle_tie.empty()) of.lone_ties.push_back(tied.front());  // not law: itself
    of.handles += may_be_one ? 1 : each;
    of.handles_most += may_be_one && multiwire && unpoled == none ? 1 : each;
    if (may_be_one && (unpoled != none || !multiwire)) {
      Index named_one = unpoled, circuit = none;
      for (const Index d : tied) {
        if (unpoled != none) break;
        if (uses_[d].circuit == none) hold_first(model.overcurrent_devices, named_one, d);
        hold_first(model.circuits, circuit, uses_[d].unsaid);
      }
      const bool any = named_one != none;  // without a pole or a circuit that is said
      for (const Index d : tied)
        if (!any) hold_first(model.overcurrent_devices, named_one, d);
      const auto& all = model.overcurrent_devices;
      if (of.tied == none || all[named_one].id < all[of.tied].id) {
        of.tied = named_one;
        of.tied_circuit = circuit;
      }
    }
    of.circuits += one ? std::min(circuits, 1u) : circuits;
    of.wider += one ? std::min(wide, 1u) : wide;
    for (const Index d : tied) uses_[d].tied = one ? (multiwire ? Tied::one_circuit : Tied::maybe) : Tied::no;
  }

  void add_behind(Evaluation& e) {
    const Model& model = e.model;
    feeds_from_.assign(model.places.size(), none);
    std::vector<std::uint32_t> waits(model.places.size());
    for (Index p = 0; p < model.places.size(); ++p) {
      const Place& place = model.places[p];
      if (place.kind != PlaceKind::panel) continue;
      if (place.devices_complete == YesNo::no) ++of_place[p].circuits;
      if (place.fed_by == none) continue;
      const Index device = model.circuits[place.fed_by].overcurrent_device;
      if (device == none) continue;
      feeds_from_[p] = model.overcurrent_devices[device].panel;
      ++waits[feeds_from_[p]];
    }
    for (Index p = 0; p < model.places.size(); ++p)
      if (model.places[p].kind == PlaceKind::panel && waits[p] == 0) order_.push_back(p);
    for (std::size_t i = 0; i < order_.size(); ++i) {
      const PanelCircuits& behind = of_place[order_[i]];
      const Index from = feeds_from_[order_[i]];
      if (from == none) continue;
      of_place[from].circuits += behind.circuits;
      of_place[from].wider += behind.wider;
      if (--waits[from] == 0) order_.push_back(from);
    }
    for (Index p = 0; p < model.places.size(); ++p) {
      if (waits[p] == 0) continue;
      of_place[p].more = e.lacks({SubjectKind::panel, p}, "fed-by", "the circuit that feeds it", designer,
                                 "panels are said to feed one another in a ring")
                             .missing;
    }
  }

  void ask(Evaluation& e) {
    const auto add = [&](MissingId& to, const Value& lack) { to = e.missing.both(to, lack.missing); };
    for (Index d = 0; d < uses_.size(); ++d) {
      PanelCircuits& of = of_place[e.model.overcurrent_devices[d].panel];
      if (of.circuits > few || !is_circuit(d)) continue;
      const Use& use = uses_[d];
      if (use.circuit == none && use.tied == Tied::one_circuit) continue;
      if (use.circuit == none) {
        add(of.more, e.lacks({SubjectKind::overcurrent_device, d}, "circuit", "a circuit that it protects",
                             designer, "what it supplies is not known"));
        continue;
      }
      const Circuit& circuit = e.model.circuits[use.circuit];
      const Subject at{SubjectKind::circuit, use.circuit};
      if (circuit.kind == CircuitKind::unstated) {
        add(of.more, e.lacks(at, "kind", "branch or feeder", designer, {}, circuit.source));
      } else if (circuit.kind == CircuitKind::feeder) {
        add(of.more, e.lacks(at, "panel", "the panel that it feeds, with its overcurrent devices", designer,
                             "how many circuits it supplies is not known", circuit.source));
      }
      if (use.tied == Tied::maybe && !use.single()) {
        add(of.more,
            e.lacks({SubjectKind::circuit, use.unsaid}, "multiwire", "yes or no", designer,
                    "its overcurrent device is tied to another", e.model.circuits[use.unsaid].source));
      }
      if (!is_wide(e.model, d)) add(of.wires, wires_missing(e, d, at, circuit));
    }
    for (Index p = 0; p < of_place.size(); ++p) {
      if (e.model.places[p].kind != PlaceKind::panel || of_place[p].circuits > few) continue;
      add(of_place[p].more, all_devices_written(e, {SubjectKind::panel, p}));
    }
    for (const Index p : order_) {
      const Index from = feeds_from_[p];
      if (from == none || of_place[from].circuits > few) continue;
      of_place[from].more = e.missing.both(of_place[from].more, of_place[p].more);
      of_place[from].wires = e.missing.both(of_place[from].wires, of_place[p].wires);
    }
  }

  /// What tells whether the circuit of an overcurrent device is of two wires.
  Value wires_missing(Evaluation& e, Index d, Subject at, const Circuit& circuit) const {
    const OvercurrentDevice& device = e.model.overcurrent_devices[d];
    const Use& use = uses_[d];
    if (device.poles == 0)
      return e.lacks({SubjectKind::overcurrent_device, d}, "poles", "how many, 1 or 2", marking);
    if (use.multiwire)
      return e.lacks(at, "multiwire", "yes or no", designer,
                     "it is said to be multiwire, and no conductor of it is grounded", circuit.source);
    if (device.poles == 1 || !use.unclear) return {};
    MissingId missing = roles_missing(e, circuit);
    for (Index r = circuit.runs.first; r < circuit.runs.end(); ++r)
      missing = e.missing.both(missing, cables_missing(e, e.model.runs[r]));
    if (missing != 0) return Evaluation::lacks(missing);
    return e.lacks(at, "conductor", "its conductors", designer,
                   "whether one of them is grounded decides about what is asked", circuit.source);
  }
};

}  // namespace

const PanelCircuits& circuits_of(Evaluation& e, Subject panel) {
  auto& all = e.once<AllPanels>();
  if (!all.ready) all.read(e);
  return all.of_place[panel.index];
}

Value all_devices_written(Evaluation& e, Subject s) {
  const Place& panel = e.model.places[s.index];
  if (circuits_of(e, s).devices == 0)
    return e.lacks(s, "overcurrent-device", "its overcurrent devices", installer);
  if (panel.devices_complete == YesNo::yes) return answer(true);
  if (panel.devices_complete == YesNo::no)
    return e.lacks(s, "overcurrent-device", "those of its overcurrent devices that are not written yet",
                   installer);
  return e.lacks(s, "devices-complete", "yes or no: whether all of its overcurrent devices are written",
                 installer);
}

}  // namespace raceward::figure
