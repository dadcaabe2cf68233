// Circuits and other wiring: conductors, and the runs that they travel in.
#include <fmt/format.h>

#include <functional>

#include "document/builder.hpp"
#include "document/each_child.hpp"
#include "quantity/fault.hpp"

namespace raceward::document {

using namespace installation;
using quantity::quoted;

void Builder::circuit(const WrittenElement& node, Element element) {
  const auto index = static_cast<Index>(model_.circuits.size());
  Circuit& circuit = model_.circuits.emplace_back();
  circuit.source = fields_.source;
  if (element == Element::wiring) {
    circuit.kind = CircuitKind::other;
    fields_.read(at::wiring::id, circuit.id);
    fields_.read(at::wiring::name, circuit.name);
    fields_.read(at::wiring::system, circuit.system);
    fields_.read(at::wiring::system_voltage, circuit.system_voltage);
    fields_.read(at::wiring::system_voltage_to_ground, circuit.system_to_ground);
    fields_.read(at::wiring::marked_terminals, circuit.marked_terminals);
    fields_.read(at::wiring::nonlinear, circuit.nonlinear);
  } else {
    namespace a = at::circuit;
    fields_.read(a::id, circuit.id);
    fields_.read(a::name, circuit.name);
    fields_.read(a::kind, circuit.kind);
    fields_.read(a::serves, circuit.serves);
    fields_.read(a::whole_dwelling, circuit.whole_dwelling);
    fields_.read(a::voltage, circuit.voltage);
    fields_.read(a::voltage_to_ground, circuit.to_ground);
    fields_.read(a::load, circuit.load);
    fields_.read(a::continuous, circuit.continuous);
    fields_.read(a::nonlinear, circuit.nonlinear);
    fields_.read(a::multiwire, circuit.multiwire);
    fields_.read(a::least_size, circuit.least_size);
    fields_.read(a::neutral_load, circuit.neutral_load);
    fields_.read(a::terminal_temperature, circuit.terminals);
    fields_.read(a::power_factor, circuit.power_factor);
    fields_.read(a::parallel, circuit.parallel);
    fields_.read(a::grouped, circuit.grouped);
    fields_.read(a::loop_impedance, circuit.loop);
    link(Link::circuit_protected_by, index, a::protected_by);
  }
  circuit.conductors.first = static_cast<Index>(model_.conductors.size());
  circuit.runs.first = static_cast<Index>(model_.runs.size());
  local_ids_.clear();
  cables_.clear();
  // Conductors first: runs may stand before them.
  const auto is_run = [](Element found) { return found == Element::run; };
  each_child_where(node, element, std::not_fn(is_run), [&](const WrittenElement& child, Element found) {
    conductor(index);
    each_child(child, found, [](const WrittenElement&, Element) {});
  });
  circuit.conductors.count = static_cast<Index>(model_.conductors.size()) - circuit.conductors.first;
  lay_in_cables(circuit);
  all_conductors_ = {};
  last_run_of_conductor_.assign(circuit.conductors.count, none);
  each_child_where(node, element, is_run, [&](const WrittenElement& child, Element) { run(child, index); });
  circuit.runs.count = static_cast<Index>(model_.runs.size()) - circuit.runs.first;
  finish_runs(circuit);
}

void Builder::conductor(Index circuit) {
  namespace a = at::conductor;
  Conductor& conductor = model_.conductors.emplace_back();
  conductor.source = fields_.source;
  conductor.circuit = circuit;
  fields_.read(a::id, conductor.id);
  fields_.read(a::role, conductor.role);
  fields_.read(a::isolated, conductor.isolated);
  fields_.read(a::loaded, conductor.loaded);
  fields_.read(a::count, conductor.count);
  fields_.read(a::color, conductor.identification);
  ConductorKind kind;
  fields_.read(a::size, kind.size);
  fields_.read(a::material, kind.material);
  fields_.read(a::construction, kind.construction);
  fields_.read(a::insulation, kind.insulations);
  fields_.read(a::diameter, kind.diameter);
  YesNo cable{};
  fields_.read(a::cable, cable);
  kind.cable = cable == YesNo::yes;
  conductor.kind = kinds_.intern(kind);
  if (!conductor.id.empty() && local_ids_.find(conductor.id) != none)
    fault(conductor.source, "id", fmt::format("a second conductor {} in this circuit", quoted(conductor.id)));
  local_ids_.add(conductor.id);
  cables_.push_back(fields_.text(a::of_cable));
}

// What of-cable names, once all conductors of the circuit are read.
void Builder::lay_in_cables(const Circuit& circuit) {
  for (Index i = 0; i < circuit.conductors.count; ++i) {
    if (cables_[i].empty()) continue;
    Conductor& conductor = model_.conductors[circuit.conductors.first + i];
    const Index cable = local_ids_.find(cables_[i]);
    if (cable == none) {
      fault(conductor.source, "of-cable",
            fmt::format("no conductor of this circuit has the id {}", quoted(cables_[i])));
    } else if (!model_.conductor_kinds[model_.conductors[circuit.conductors.first + cable].kind].cable ||
               cable == i) {
      fault(conductor.source, "of-cable",
            fmt::format("conductor {} is no cable that this one can lie in; a cable is written with "
                        "cable=\"yes\"",
                        quoted(cables_[i])));
    } else if (cable >= most_conductors) {
      fault(conductor.source, "of-cable",
            fmt::format("a cable must be among the first {} conductors of its circuit", most_conductors));
    } else {
      conductor.of_cable = static_cast<std::uint16_t>(cable + 1);
    }
  }
}

void Builder::run(const WrittenElement& node, Index circuit) {
  const auto index = static_cast<Index>(model_.runs.size());
  Run& run = model_.runs.emplace_back();
  run.source = fields_.source;
  run.circuit = circuit;
  run_conductors(run, model_.circuits[circuit]);
  run.stops.first = static_cast<Index>(model_.stops.size());
  each_child(node, Element::run, [&](const WrittenElement& child, Element element) {
    stop(index);
    each_child(child, element, [](const WrittenElement&, Element) {});
  });
  if (run.stops.count < 2)
    faults_.add(run.source, fmt::format("a run stops at two places at least; this one has {}",
                                        run.stops.count == 0 ? "no stop" : "one stop"));
}

void Builder::run_conductors(Run& run, const Circuit& circuit) {
  const auto of_run = static_cast<Index>(&run - model_.runs.data());
  const Index first = circuit.conductors.first;
  if (!fields_.is_given(at::run::conductors)) {
    // One list serves all runs that take every conductor.
    if (all_conductors_.count == 0) {
      all_conductors_ = {static_cast<Index>(model_.run_conductors.size()), circuit.conductors.count};
      for (Index i = 0; i < circuit.conductors.count; ++i) model_.run_conductors.push_back(first + i);
    }
    run.conductors = all_conductors_;
    runs_of_all_.push_back(of_run);
    return;
  }
  run.conductors.first = static_cast<Index>(model_.run_conductors.size());
  runs_are_whole_ &= fields_.has(at::run::conductors);
  std::string_view ids = fields_.text(at::run::conductors);
  for (std::string_view id = take_word(ids); !id.empty(); id = take_word(ids)) {
    const Index found = local_ids_.find(id);
    if (found == none) {
      fault(run.source, "conductors",
            fmt::format("no conductor of circuit {} has the id {}", circuit.id, quoted(id)));
      runs_are_whole_ = false;
      continue;
    }
    if (last_run_of_conductor_[found] == of_run) {
      fault(run.source, "conductors", fmt::format("conductor {} is named twice in one run", quoted(id)));
      continue;
    }
    lay(first, found, of_run);
    model_.run_conductors.push_back(first + found);
    ++run.conductors.count;
  }
}

// A cable lies where the conductors in it lie.
void Builder::lay(Index first, Index conductor, Index run) {
  last_run_of_conductor_[conductor] = run;
  const Index cable = model_.conductors[first + conductor].of_cable;
  if (cable != 0 && last_run_of_conductor_[cable - 1] == none)
    last_run_of_conductor_[cable - 1] = another_run;
}

void Builder::stop(Index run) {
  namespace a = at::stop;
  const auto index = static_cast<Index>(model_.stops.size());
  Stop& stop = model_.stops.emplace_back();
  ++model_.runs[run].stops.count;
  stop.source = fields_.source;
  fields_.read(a::conductors, stop.ungrounded);
  fields_.read(a::grounding, stop.grounding);
  fields_.read(a::grounded_pigtailed, stop.grounded_pigtailed);
  fields_.read(a::bonded, stop.bonded);
  link(Link::stop_place, index, a::place);
  if (fields_.has(a::via)) stop.via = link_all(Link::stop_via, model_.via, a::via);
}

void Builder::finish_runs(const Circuit& circuit) {
  const bool whole = runs_are_whole_;
  runs_are_whole_ = true;
  if (circuit.runs.count > 1)
    for (const Index run : runs_of_all_)
      faults_.add(model_.runs[run].source,
                  fmt::format("circuit {} has {} runs, so each must say its conductors", circuit.id,
                              circuit.runs.count));
  const bool all = !runs_of_all_.empty();
  runs_of_all_.clear();
  if (circuit.runs.count == 0 && circuit.conductors.count > 0)
    faults_.add(circuit.source, fmt::format("circuit {} has conductors and no run that says where they lie",
                                            quoted(circuit.id)));
  if (all || !whole || circuit.runs.count == 0) return;
  for (Index i = 0; i < circuit.conductors.count; ++i) {
    if (last_run_of_conductor_[i] != none) continue;
    const Conductor& conductor = model_.conductors[circuit.conductors.first + i];
    faults_.add(conductor.source, fmt::format("conductor {} of circuit {} lies in no run; name it in the "
                                              "conductors of a run",
                                              quoted(conductor.id), circuit.id));
  }
}

}  // namespace raceward::document
