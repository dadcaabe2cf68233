#include "figure/circuit_use.hpp"

#include <algorithm>

#include "figure/machines.hpp"
#include "figure/supply.hpp"

namespace raceward::figure {

using namespace installation;

void CircuitUse::read(Evaluation& e) {
  ready = true;
  const Model& model = e.model;
  on_.resize(model.circuits.size());
  feeding_.assign(model.places.size(), none);
  several_.assign(model.places.size(), 0);
  for (const End& end : ends(e).all()) {
    if (feeding_[end.place] != none && feeding_[end.place] != end.circuit) several_[end.place] = 1;
    feeding_[end.place] = end.circuit;
  }
  for (Index p = 0; p < model.places.size(); ++p) {
    if (feeding(p) == none || takes_nothing(e, p)) continue;
    OnCircuit& on = on_[feeding(p)];
    const Place& equipment = model.places[p];
    ++on.outlets;
    const bool known = equipment.rating.known();
    if (equipment.continuous == YesNo::yes && known) on.continuous += (*equipment.rating).count();
    if (equipment.continuous == YesNo::unstated || (equipment.continuous == YesNo::yes && !known))
      on.unknown = p;
    if (known && (on.largest == none || *equipment.rating > *model.places[on.largest].rating)) on.largest = p;
  }
  std::vector<Index> unplaced(model.places.size(), none), unplaced_receptacle = unplaced;
  for (Index d = 0; d < model.devices.size(); ++d) {
    const Device& device = model.devices[d];
    if (device.kind != DeviceKind::receptacle && device.kind != DeviceKind::luminaire) continue;
    const bool receptacle = device.kind == DeviceKind::receptacle;
    if (device.circuits.count == 0) unplaced[device.box] = d;
    if (device.circuits.count == 0 && receptacle) unplaced_receptacle[device.box] = d;
    for (Index i = device.circuits.first; i < device.circuits.end(); ++i) {
      OnCircuit& on = on_[model.device_circuits[i]];
      ++on.outlets;
      ++on.other;
      if (!receptacle) continue;
      on.receptacles += std::max<std::uint32_t>(1, device.receptacles);
      if (device.receptacles == 0) on.uncounted = d;
    }
  }
  for (const Run& run : model.runs) {
    for (Index i = run.stops.first; i < run.stops.end(); ++i) {
      const Index place = model.stops[i].place;
      if (unplaced[place] != none) on_[run.circuit].unplaced = unplaced[place];
      if (unplaced_receptacle[place] != none)
        on_[run.circuit].unplaced_receptacle = unplaced_receptacle[place];
    }
  }
}

Value lacks_circuit_of(Evaluation& e, Index device) {
  return e.lacks({SubjectKind::device, device}, "circuit", "ids of the circuits on its terminals", designer,
                 {}, e.model.devices[device].source);
}

Value lacks_end_of(Evaluation& e, Index circuit, Index stop) {
  const bool said = e.model.stops[stop].ungrounded != StopTreatment::unstated;
  return e.lacks({SubjectKind::circuit, circuit}, "conductors", "spliced, terminated, through or looped",
                 installer, said ? "they are said to go on, and no run leads on from there" : "",
                 e.model.stops[stop].source);
}

Value lacks_one_circuit(Evaluation& e, Index place) {
  return e.lacks({SubjectKind::equipment, place}, "run", "one circuit whose run ends there", designer,
                 circuit_use(e).several_feed(place)
                     ? "several circuits end there, and what each of them feeds is not said"
                     : "",
                 e.model.places[place].source);
}

const CircuitUse& circuit_use(Evaluation& e) {
  auto& use = e.once<CircuitUse>();
  if (!use.ready) use.read(e);
  return use;
}

Value device_rating_of(Evaluation& e, Index c) {
  const Circuit& circuit = e.model.circuits[c];
  if (circuit.overcurrent_device == none) {
    return e.lacks({SubjectKind::circuit, c}, "protected-by", "the id of an overcurrent device", designer, {},
                   circuit.source);
  }
  const OvercurrentDevice& device = e.model.overcurrent_devices[circuit.overcurrent_device];
  if (!device.rating.known()) {
    return e.lacks({SubjectKind::overcurrent_device, circuit.overcurrent_device}, "rating",
                   "a current such as 20A", marking, {}, device.source);
  }
  if (e.noting())
    e.note(FMT_COMPILE("overcurrent device {}: {}"), device.id, text_of(show(*device.rating, Unit::ampere)));
  return Evaluation::value((*device.rating).count());
}

}  // namespace raceward::figure
