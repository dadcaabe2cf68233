#include "figure/panel_feeder.hpp"

#include <algorithm>

#include "figure/current_carrying.hpp"

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

/// Whether it begins at a panel: at that of its overcurrent device; where that is not said, where it is first
/// written.
bool begins_at(const Model& model, const Circuit& circuit, const Run& run, Index stop) {
  if (circuit.overcurrent_device != none)
    return model.overcurrent_devices[circuit.overcurrent_device].panel == model.stops[stop].place;
  return stop == run.stops.first;
}

}  // namespace

std::vector<PanelFeeder> panel_feeders(const Model& model) {
  std::vector<PanelFeeder> out(model.places.size());
  for (Index p = 0; p < model.places.size(); ++p) out[p].circuit = model.places[p].fed_by;
  for (const Run& run : model.runs) {
    const Circuit& circuit = model.circuits[run.circuit];
    if (circuit.kind == CircuitKind::other || !brings_power(model, run)) continue;
    for (Index s = run.stops.first; s < run.stops.end(); ++s) {
      const Stop& stop = model.stops[s];
      const Place& panel = model.places[stop.place];
      const bool ends =
          stop.ungrounded == StopTreatment::terminated || stop.ungrounded == StopTreatment::unstated;
      if (panel.kind != PlaceKind::panel || panel.fed_by != none || !ends) continue;
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
