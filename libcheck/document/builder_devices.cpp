// Devices, bonding jumpers, statements, waivers.
#include <fmt/format.h>

#include <algorithm>

#include "document/builder.hpp"

namespace raceward::document {

using namespace installation;

void Builder::device() {
  namespace a = at::device;
  const auto index = static_cast<Index>(model_.devices.size());
  Device& device = model_.devices.emplace_back();
  device.source = fields_.source;
  fields_.read(a::id, device.id);
  fields_.read(a::name, device.name);
  fields_.read(a::kind, device.kind);
  fields_.read(a::rating, device.rating);
  fields_.read(a::voltage, device.voltage);
  fields_.read(a::gangs, device.gangs);
  fields_.read(a::yokes, device.yokes);
  device.no_yoke = device.yokes == 0 && fields_.has(a::yokes);
  fields_.read(a::conductor_size, device.conductor_size);
  fields_.read(a::grounded_by, device.grounded_by);
  fields_.read(a::ground_fault, device.protection);
  fields_.read(a::arc_fault, device.arc_fault);
  fields_.read(a::tamper_resistant, device.tamper_resistant);
  fields_.read(a::weather_resistant, device.weather_resistant);
  fields_.read(a::isolated_ground, device.isolated_ground);
  fields_.read(a::depth, device.depth);
  fields_.read(a::height, device.height);
  fields_.read(a::fed_from_line, device.fed_from_line);
  fields_.read(a::receptacles, device.receptacles);
  fields_.read(a::wires_per_terminal, device.wires_per_terminal);
  fields_.read(a::terminals_made_for, device.terminals_made_for);
  fields_.read(a::countertop, device.countertop);
  fields_.read(a::sink_distance, device.sink_distance);
  fields_.read(a::dedicated, device.dedicated);
  fields_.read(a::beside_load, device.beside_load);
  fields_.read(a::horsepower, device.horsepower);
  fields_.read(a::load, device.load);
  link(Link::device_box, index, a::box);
  link(Link::device_fed_from, index, a::fed_from_load_of);
  device.circuits = link_all(Link::device_circuit, model_.device_circuits, a::circuit);
}

void Builder::bonding_jumper() {
  namespace a = at::bonding_jumper;
  const auto index = static_cast<Index>(model_.bonding_jumpers.size());
  BondingJumper& jumper = model_.bonding_jumpers.emplace_back();
  jumper.source = fields_.source;
  fields_.read(a::id, jumper.id);
  fields_.read(a::size, jumper.size);
  fields_.read(a::material, jumper.material);
  fields_.read(a::supply_side, jumper.supply_side);
  fields_.read(a::routing, jumper.routing);
  fields_.read(a::length, jumper.length);
  link(Link::jumper_from, index, a::from);
  link(Link::jumper_to, index, a::to);
  link(Link::jumper_raceway, index, a::raceway);
  if (!fields_.is_given(a::to) && !fields_.is_given(a::raceway))
    faults_.add(fields_.source, "a bonding jumper ends somewhere: write to, or the raceway that it bridges");
}

void Builder::attestation() {
  namespace a = at::attest;
  Attestation& attestation = model_.attestations.emplace_back();
  attestation.source = fields_.source;
  fields_.read(a::fact, attestation.fact);
  fields_.read(a::of, attestation.of);
  fields_.read(a::by, attestation.by);
  fields_.read(a::on, attestation.on);
  link(Link::attest_of, static_cast<Index>(model_.attestations.size() - 1), a::of);
}

void Builder::stated_fact() {
  namespace a = at::fact;
  StatedFact& fact = model_.facts.emplace_back();
  fact.source = fields_.source;
  fields_.read(a::name, fact.name);
  fields_.read(a::of, fact.of);
  fields_.read(a::value, fact.value);
  link(Link::fact_of, static_cast<Index>(model_.facts.size() - 1), a::of);
}

void Builder::waiver() {
  namespace a = at::waiver;
  Waiver& waiver = model_.waivers.emplace_back();
  waiver.source = fields_.source;
  fields_.read(a::rule, waiver.rule);
  fields_.read(a::of, waiver.of);
  fields_.read(a::authority, waiver.authority);
  fields_.read(a::reason, waiver.reason);
  fields_.read(a::on, waiver.on);
  fields_.read(a::until, waiver.until);
  fields_.read(a::accepts, waiver.accepts);
  // Of C1/h the circuit; of R1+R2 both.
  std::string_view ids = waiver.of.substr(0, waiver.of.find('/'));
  while (!ids.empty()) {
    const std::string_view id = ids.substr(0, ids.find('+'));
    pending_.push_back({id.data(), static_cast<std::uint32_t>(id.size()),
                        static_cast<Index>(model_.waivers.size() - 1), fields_.source, Link::waiver_of});
    ids.remove_prefix(std::min(ids.size(), id.size() + 1));
  }
}

}  // namespace raceward::document
