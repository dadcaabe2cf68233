// Ground-fault and arc-fault protection, proved by walking against the current.
//
// Method: from a device to the device whose load terminals feed it, and on; from a circuit to its overcurrent
// device, and on through what feeds the panel. The walks of all devices and circuits are made once, so that
// each step is taken once. Load terminals feed what the runs lead on to, where these tell. Whoever is not
// said to be fed from load terminals may yet be fed from those of a guard of its circuit: then it is asked.
#include "figure/guards.hpp"

#include <algorithm>

#include "figure/circuit_tree.hpp"
#include "figure/circuit_use.hpp"
#include "figure/current_carrying.hpp"
#include "figure/first_by_id.hpp"
#include "figure/logic.hpp"
#include "figure/supply.hpp"
#include "figure/surroundings.hpp"
#include "figure/visits_on.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

/// Walks up a forest: for each node, among itself and those ahead of it.
struct Walks {
  std::vector<Index> guard;   ///< the nearest that is known to guard, or none
  std::vector<Index> unsure;  ///< the nearest that may guard, or none
  std::vector<Index> first;   ///< where the walk ends

  template <class Ahead, class State>
  void make(Index nodes, Ahead ahead, State state) {
    guard.assign(nodes, none);
    unsure.assign(nodes, none);
    first.assign(nodes, none);
    std::vector<Index> way;
    for (Index node = 0; node < nodes; ++node) {
      Index at = node;
      for (way.clear(); at != none && first[at] == none; at = ahead(at)) way.push_back(at);
      for (; !way.empty(); way.pop_back()) {
        const Index one = way.back();
        const YesNo own = state(one);
        first[one] = at == none ? one : first[at];
        guard[one] = own == YesNo::yes ? one : at == none ? none : guard[at];
        unsure[one] = own == YesNo::unstated ? one : at == none ? none : unsure[at];
        at = one;
      }
    }
  }
};

/// Guards among the devices of a circuit, of two different walks where there are two.
struct Candidates {
  Index device[2] = {none, none};

  /// One whose walk does not end at that device.
  [[nodiscard]] Index beside(Index first, const Walks& devices) const {
    for (const Index one : device) {
      if (one != none && devices.first[one] != first) return one;
    }
    return none;
  }
};

std::span<const Index> circuits_of(const Model& model, const Device& device) {
  return {model.device_circuits.data() + device.circuits.first, device.circuits.count};
}

bool share_a_circuit(const Model& model, const Device& a, const Device& b) {
  const auto of_b = circuits_of(model, b);
  return std::ranges::any_of(circuits_of(model, a),
                             [&](Index c) { return std::find(of_b.begin(), of_b.end(), c) != of_b.end(); });
}

/// Whether conductors of the circuit that bring current are cut where a device is, or may be.
bool cut_at(Evaluation& e, Index circuit, Index place) {
  bool any = false;
  for (const Index v : visits_on(e, place, circuit)) {
    const Visit& visit = e.in.routes.visits[v];
    const Run& run = e.model.runs[visit.run];
    if (visit.stop == none) continue;
    const StopTreatment how = e.model.stops[visit.stop].ungrounded;
    const auto first = e.model.run_conductors.begin() + run.conductors.first;
    if (!std::any_of(first, first + run.conductors.count,
                     [&](Index c) { return takes_load(e.model.conductors[c].role); }))
      continue;
    if (how != StopTreatment::through && how != StopTreatment::looped) return true;
    any = true;
  }
  return !any;
}

/// What the runs say of a device that load terminals of another one are said to feed.
enum class Lead : std::uint8_t {
  fits,   ///< or they do not tell
  uncut,  ///< the conductors pass the other one unbroken
  back    ///< it lies ahead of the other one, and nothing leads back from there
};

Lead lead_of(Evaluation& e, const Device& device) {
  const Device& feeds = e.model.devices[device.line_from];
  const auto shared = circuits_of(e.model, feeds);
  Lead worst = Lead::fits;
  for (const Index c : circuits_of(e.model, device)) {
    if (std::find(shared.begin(), shared.end(), c) == shared.end()) continue;
    const CircuitTree& tree = circuit_tree(e, c);
    if (feeds.box == device.box || !tree.comes_to(feeds.box) || !tree.comes_to(device.box)) return Lead::fits;
    const bool back =
        !tree.through(feeds.box, device.box) && tree.leading_to(feeds.box) == 1;  // not law: one
    const bool uncut = !cut_at(e, c, feeds.box);
    if (!back && !uncut) return Lead::fits;
    worst = uncut ? Lead::uncut : Lead::back;
  }
  return worst;
}

/// Whether the device that it is said to be fed from can feed it.
bool well_fed(Evaluation& e, const Device& device) {
  return device.fed_from_line != YesNo::yes &&
         share_a_circuit(e.model, device, e.model.devices[device.line_from]) &&
         lead_of(e, device) == Lead::fits;
}

template <Guard guard>
struct Ways {
  bool ready = false;
  Walks devices, circuits;
  std::vector<Candidates> candidates;  // by circuit

  static YesNo given_by(Protection protection, YesNo arc_fault) {
    if constexpr (guard == Guard::arc_fault) return arc_fault;
    if (protection == Protection::unstated) return YesNo::unstated;
    return protection == Protection::class_a ? YesNo::yes : YesNo::no;
  }
  static YesNo own(const Device& d) { return given_by(d.protection, d.arc_fault); }
  static YesNo own(const OvercurrentDevice& d) {
    const YesNo given = given_by(d.protection, d.arc_fault);
    return d.fuse && given == YesNo::yes ? YesNo::unstated : given;  // no fuse does
  }

  void make(Evaluation& e) {
    const Model& model = e.model;
    ready = true;
    devices.make(
        static_cast<Index>(model.devices.size()),
        [&](Index d) {
          const Device& device = model.devices[d];
          return device.line_from != none && well_fed(e, device) ? device.line_from : none;
        },
        [&](Index d) {
          const Device& device = model.devices[d];
          if (own(device) == YesNo::yes) return YesNo::yes;
          const bool torn = device.line_from != none && !well_fed(e, device);
          return torn ? YesNo::unstated : own(device);
        });
    circuits.make(
        static_cast<Index>(model.circuits.size()),
        [&](Index c) {
          const Index device = model.circuits[c].overcurrent_device;
          return device == none ? none : model.places[model.overcurrent_devices[device].panel].fed_by;
        },
        [&](Index c) {
          const Index device = model.circuits[c].overcurrent_device;
          return device == none ? YesNo::unstated : own(model.overcurrent_devices[device]);
        });
    candidates.resize(model.circuits.size());
    for (Index d = 0; d < model.devices.size(); ++d) note_candidate(model, d);
  }

 private:
  void note_candidate(const Model& model, Index d) {
    const Device& device = model.devices[d];
    const YesNo given = own(device);
    const bool may = device.kind == DeviceKind::receptacle || device.kind == DeviceKind::protective;
    if (given == YesNo::no || (given == YesNo::unstated && !may)) return;
    for (const Index c : circuits_of(model, device)) {
      // The first by id, and the first of those that are not fed with it.
      Index* const held = candidates[c].device;
      const bool apart = held[0] != none && devices.first[held[0]] != devices.first[d];
      if (held[0] == none || device.id < model.devices[held[0]].id) {
        if (apart) held[1] = held[0];
        held[0] = d;
      } else if (apart) {
        hold_first(model.devices, held[1], d);
      }
    }
  }
};

template <Guard guard>
const Ways<guard>& ways(Evaluation& e) {
  auto& made = e.once<Ways<guard>>();
  if (!made.ready) made.make(e);
  return made;
}

constexpr std::string_view what(Guard guard) {
  return guard == Guard::ground_fault ? "ground-fault" : "arc-fault";
}

Value lacks_own(Evaluation& e, Guard guard, Subject of, Offset source, std::string why = {}) {
  return e.lacks(of, what(guard), guard == Guard::ground_fault ? "class-a, equipment or none" : "yes or no",
                 marking, std::move(why), source);
}

/// What would settle a device that may guard.
Value lacks_of_device(Evaluation& e, Guard guard, Index d) {
  const Device& device = e.model.devices[d];
  const Subject at{SubjectKind::device, d};
  if (device.line_from == none || well_fed(e, device)) return lacks_own(e, guard, at, device.source);
  const Device& feeds = e.model.devices[device.line_from];
  if (device.fed_from_line == YesNo::yes) {
    return e.lacks(
        at, "fed-from-line", "yes or no", installer,
        fmt::format(FMT_COMPILE("it is said to be fed from the line, and from device {} too"), feeds.id),
        device.source);
  }
  for (const Index one : {d, device.line_from}) {
    if (e.model.devices[one].circuits.count == 0) {
      return e.lacks({SubjectKind::device, one}, "circuit", "ids of the circuits on its terminals", designer,
                     {}, e.model.devices[one].source);
    }
  }
  if (!share_a_circuit(e.model, device, feeds)) {
    return e.lacks(at, "fed-from-load-of", "the id of a device of its own circuit", installer,
                   fmt::format(FMT_COMPILE("device {} is of another circuit"), feeds.id), device.source);
  }
  return e.lacks(
      at, "fed-from-load-of", "the id of a device that the current passes before it", installer,
      lead_of(e, device) == Lead::uncut
          ? fmt::format(FMT_COMPILE("the conductors that bring current pass device {} unbroken"), feeds.id)
          : fmt::format(FMT_COMPILE("as the runs lead, device {} does not lie ahead of it, and "
                                    "one conductor leads there: none leads back"),
                        feeds.id),
      device.source);
}

Value lacks_of_circuit(Evaluation& e, Guard guard, Index c) {
  const Circuit& circuit = e.model.circuits[c];
  if (circuit.overcurrent_device == none) {
    return e.lacks({SubjectKind::circuit, c}, "protected-by", "the id of an overcurrent device", designer, {},
                   circuit.source);
  }
  const OvercurrentDevice& device = e.model.overcurrent_devices[circuit.overcurrent_device];
  return lacks_own(e, guard, {SubjectKind::overcurrent_device, circuit.overcurrent_device}, device.source,
                   device.fuse && device.protection == Protection::class_a
                       ? "it is said to be a fuse, which gives no such protection"
                       : "");
}

/// Of a device that one of a multiwire circuit feeds through its load terminals: these have one leg, and
/// what comes to its box may have others.
Value on_one_leg(Evaluation& e, Index d) {
  const Device& device = e.model.devices[d];
  for (const Index c : circuits_of(e.model, device)) {
    const Circuit& circuit = e.model.circuits[c];
    const Value several = e.get_aside(Id::multiwire, {SubjectKind::circuit, c});
    if (is_no(several) || ended_at(e, c, device.box).legs == 1) continue;
    const bool alone = device.receptacles == 1 && device.voltage.known() && circuit.to_ground.known() &&
                       circuit.voltage.known() && *circuit.voltage > *device.voltage;
    if (alone || attested(e, Attested::on_one_leg, device.id)) continue;
    const Value lack = e.lacks(
        {SubjectKind::device, d}, "attest", "<attest fact=\"on-one-leg\"> where that is so", installer,
        fmt::format(
            FMT_COMPILE("circuit {} is multiwire, the device that feeds it protects one leg only, and "
                        "whether all of it is on that one is not said"),
            circuit.id),
        device.source);
    return Evaluation::lacks(e.missing.both(several.missing, lack.missing));
  }
  return answer(true);
}

/// By the device's own protection or that of one ahead of it.
template <Guard guard>
Value by_devices(Evaluation& e, Index d) {
  const auto& made = ways<guard>(e);
  const Model& model = e.model;
  if (const Index by = made.devices.guard[d]; by != none) {
    if (by == d) {
      e.note(FMT_COMPILE("device {} gives {} protection itself"), model.devices[d].id, what(guard));
    } else {
      e.note(
          FMT_COMPILE("device {} is fed through the load terminals of device {}, which gives {} protection"),
          model.devices[d].id, model.devices[by].id, what(guard));
    }
    return by == d ? answer(true) : on_one_leg(e, d);
  }
  if (const Index may = made.devices.unsure[d]; may != none) return lacks_of_device(e, guard, may);
  const Index first = made.devices.first[d];
  const Device& device = model.devices[first];
  if (device.fed_from_line == YesNo::no && device.line_from == none) {
    return e.lacks({SubjectKind::device, first}, "fed-from-load-of", "the id of the device that feeds it",
                   installer, "it is said not to be fed from the line, and what feeds it is not said",
                   device.source);
  }
  if (device.fed_from_line == YesNo::unstated) {
    for (const Index c : circuits_of(model, device)) {
      const Index other = made.candidates[c].beside(first, made.devices);
      if (other == none) continue;
      return e.lacks(
          {SubjectKind::device, first}, "fed-from-load-of", "the id of the device that feeds it", installer,
          fmt::format(FMT_COMPILE("device {} of its circuit protects what its load terminals feed, "
                                  "or may; where they do not feed this one, say fed-from-line"),
                      model.devices[other].id),
          device.source);
    }
  }
  e.note(FMT_COMPILE("no {} protection in device {}, nor in one ahead of it"), what(guard),
         model.devices[d].id);
  return answer(false);
}

template <Guard guard>
Value by_circuit(Evaluation& e, Index c) {
  const auto& made = ways<guard>(e);
  if (const Index by = made.circuits.guard[c]; by != none) {
    const Index device = e.model.circuits[by].overcurrent_device;
    const OvercurrentDevice& breaker = e.model.overcurrent_devices[device];
    const std::uint32_t legs =
        ungrounded_at_source(e, by) / std::max<std::uint32_t>(1, e.model.circuits[by].parallel);
    if (breaker.poles < std::min<std::uint32_t>(legs, 2) &&  // not law: more than one
        !is_no(e.get_aside(Id::multiwire, {SubjectKind::circuit, by}))) {
      return e.lacks({SubjectKind::overcurrent_device, device}, "poles", "one for each leg", marking,
                     "the circuit is multiwire, or may be, and each pole protects one leg", breaker.source);
    }
    e.note(FMT_COMPILE("circuit {}: overcurrent device {} gives {} protection"), e.model.circuits[c].id,
           e.model.overcurrent_devices[device].id, what(guard));
    return answer(true);
  }
  if (const Index may = made.circuits.unsure[c]; may != none) return lacks_of_circuit(e, guard, may);
  e.note(FMT_COMPILE("circuit {}: no {} protection in its overcurrent device, nor in one ahead of it"),
         e.model.circuits[c].id, what(guard));
  return answer(false);
}

template <Guard guard>
Value by_either(Evaluation& e, Index d) {
  const Value own = by_devices<guard>(e, d);
  const auto circuits = circuits_of(e.model, e.model.devices[d]);
  if (is_yes(own)) {
    const Index by = ways<guard>(e).devices.guard[d];
    if (by == d) return own;
    // Whose tab is broken may be on a circuit that does not pass the device ahead.
    const auto passing = circuits_of(e.model, e.model.devices[by]);
    Value all = own;
    for (const Index c : circuits) {
      if (std::ranges::find(passing, c) == passing.end()) all = both(e, all, by_circuit<guard>(e, c));
    }
    return all;
  }
  if (circuits.empty()) {
    return either(e, own,
                  e.lacks({SubjectKind::device, d}, "circuit", "ids of the circuits on its terminals",
                          designer, {}, e.model.devices[d].source));
  }
  if (const Value come = circuits_come(e, d); !come) return either(e, own, come);
  Value all = by_circuit<guard>(e, circuits.front());
  for (const Index c : circuits.subspan(1)) all = both(e, all, by_circuit<guard>(e, c));
  return either(e, own, all);
}

}  // namespace

Value guarded(Evaluation& e, Guard guard, Index device) {
  return guard == Guard::ground_fault ? by_either<Guard::ground_fault>(e, device)
                                      : by_either<Guard::arc_fault>(e, device);
}

Value circuit_guarded(Evaluation& e, Guard guard, Index circuit) {
  return guard == Guard::ground_fault ? by_circuit<Guard::ground_fault>(e, circuit)
                                      : by_circuit<Guard::arc_fault>(e, circuit);
}

}  // namespace raceward::figure
