#include "figure/panel_feeder.hpp"

#include <algorithm>

#include "figure/current_carrying.hpp"
#include "figure/grounding_shared.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

bool brings_power(const Model& model, const Run& run) {
  const auto first = model.run_conductors.begin() + run.conductors.first;
  return std::any_of(first, first + run.conductors.count, [&](Index c) {
    const Role role = model.conductors[c].role;
    return takes_load(role) || role == Role::unstated;
  });
}

bool ends_in(const Stop& stop) {
  return stop.ungrounded == StopTreatment::terminated || stop.ungrounded == StopTreatment::unstated;
}

/// Whether it begins at a panel: at that of its overcurrent device; where that is not said, where it is first
/// written.
bool begins_at(const Model& model, const Circuit& circuit, const Run& run, Index stop) {
  if (circuit.overcurrent_device != none)
    return model.overcurrent_devices[circuit.overcurrent_device].panel == model.stops[stop].place;
  return stop == run.stops.first;
}

/// Conductors outside any circuit that lead from one panel to others.
void by_wiring(const Model& model, const Run& run, std::vector<PanelFeeder>& out) {
  const Circuit& wiring = model.circuits[run.circuit];
  if (is_low_voltage(wiring) || run.stops.count == 0) return;
  const auto is_panel = [&](Index s) { return model.places[model.stops[s].place].kind == PlaceKind::panel; };
  if (!is_panel(run.stops.first)) return;
  for (Index s = run.stops.first + 1; s < run.stops.end(); ++s) {
    if (!is_panel(s) || !ends_in(model.stops[s])) continue;
    Index& first = out[model.stops[s].place].wiring;
    if (first == none || wiring.id < model.circuits[first].id) first = run.circuit;
  }
}

}  // namespace

std::vector<PanelFeeder> panel_feeders(const Model& model) {
  std::vector<PanelFeeder> out(model.places.size());
  for (Index p = 0; p < model.places.size(); ++p) out[p].circuit = model.places[p].fed_by;
  for (const Run& run : model.runs) {
    const Circuit& circuit = model.circuits[run.circuit];
    if (!brings_power(model, run)) continue;
    if (is_wiring(circuit)) {
      by_wiring(model, run, out);
      continue;
    }
    for (Index s = run.stops.first; s < run.stops.end(); ++s) {
      const Stop& stop = model.stops[s];
      const Place& panel = model.places[stop.place];
      if (panel.kind != PlaceKind::panel || panel.fed_by != none || !ends_in(stop)) continue;
      if (begins_at(model, circuit, run, s)) continue;
      PanelFeeder& feeder = out[stop.place];
      feeder.several = feeder.several || (feeder.circuit != none && feeder.circuit != run.circuit);
      if (feeder.circuit == none || circuit.id < model.circuits[feeder.circuit].id)
        feeder.circuit = run.circuit;
    }
  }
  return out;
}

}  // namespace raceward::figure
