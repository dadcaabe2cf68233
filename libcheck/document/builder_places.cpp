// Areas, and the places that raceways join: panels, boxes, conduit bodies, equipment, joints.
#include "document/builder.hpp"
#include "document/each_child.hpp"

namespace raceward::document {

using namespace installation;
using installation::Place;

void Builder::area() {
  using namespace at::area;
  installation::Area& area = model_.areas.emplace_back();
  area.source = fields_.source;
  fields_.read(id, area.id);
  fields_.read(name, area.name);
  fields_.read(use, area.use);
  fields_.read(location, area.location);
  fields_.read(damage, area.damage);
  fields_.read(corrosive, area.corrosive);
  fields_.read(ambient, area.ambient);
  fields_.read(ambient_low, area.ambient_low);
  fields_.read(sunlit, area.sunlit);
  fields_.read(finished, area.finished);
  fields_.read(sink, area.sink);
  fields_.read(vehicle_bays, area.vehicle_bays);
  fields_.read(outlets_complete, area.outlets_complete);
}

Place& Builder::new_place(PlaceKind kind, unsigned id, unsigned name, unsigned area) {
  link(Link::place_area, static_cast<Index>(model_.places.size()), area);
  Place& place = model_.places.emplace_back();
  place.source = fields_.source;
  place.kind = kind;
  fields_.read(id, place.id);
  fields_.read(name, place.name);
  return place;
}

void Builder::position(Place& place, unsigned at) {
  if (!fields_.has(at)) return;
  place.x = fields_.place[0];
  place.y = fields_.place[1];
  place.z = fields_.place[2];
}

void Builder::panel(const WrittenElement& node) {
  namespace a = at::panel;
  const auto index = static_cast<Index>(model_.places.size());
  Place& place = new_place(PlaceKind::panel, a::id, a::name, a::area);
  fields_.read(a::rating, place.rating);
  fields_.read(a::voltage, place.voltage);
  fields_.read(a::spaces, place.spaces);
  fields_.read(a::material, place.material);
  fields_.read(a::mounting, place.mounting);
  fields_.read(a::grounded_by, place.grounded_by);
  fields_.read(a::accessible, place.accessible);
  fields_.read(a::covered, place.cover);
  fields_.read(a::directory, place.directory);
  fields_.read(a::neutral_bonded, place.neutral_bonded);
  fields_.read(a::main, place.main);
  fields_.read(a::highest_handle, place.highest_handle);
  fields_.read(a::working_depth, place.working_depth);
  fields_.read(a::working_width, place.working_width);
  fields_.read(a::working_height, place.working_height);
  fields_.read(a::opposite, place.opposite);
  fields_.read(a::width, place.width);
  fields_.read(a::height, place.height);
  fields_.read(a::depth, place.depth);
  fields_.read(a::mounting_height, place.mounting_height);
  position(place, a::at);
  fields_.read(a::neutrals_one_each, place.neutrals_one_each);
  fields_.read(a::building, place.building);
  fields_.read(a::devices_complete, place.devices_complete);
  fields_.read(a::only_circuit, place.only_circuit);
  fields_.read(a::emergency_disconnect, place.emergency_disconnect);
  fields_.read(a::emergency_disconnect_marked, place.emergency_disconnect_marked);
  fields_.read(a::circuits, place.circuits);
  fields_.read(a::unused_openings_closed, place.unused_openings_closed);
  fields_.read(a::disconnect, place.disconnect);
  fields_.read(a::disconnect_rating, place.disconnect_rating);
  fields_.read(a::electrode, place.electrode);
  fields_.read(a::electrode_size, place.electrode_size);
  fields_.read(a::electrode_material, place.electrode_material);
  fields_.read(a::ring_size, place.ring_size);
  fields_.read(a::supply_size, place.supply_size);
  fields_.read(a::supply_parallel, place.supply_parallel);
  fields_.read(a::supply_material, place.supply_material);
  fields_.read(a::supply_grounded_size, place.supply_grounded);
  fields_.read(a::calculated_load, place.calculated_load);
  fields_.read(a::floor_square_feet, place.floor_square_feet);
  fields_.read(a::floor_use, place.floor_use);
  link(Link::place_fed_by, index, a::fed_by);
  each_child(node, Element::panel, [&](const WrittenElement& child, Element element) {
    overcurrent_device(index);
    each_child(child, element, [](const WrittenElement&, Element) {});
  });
}

void Builder::overcurrent_device(Index panel) {
  namespace a = at::overcurrent_device;
  OvercurrentDevice& device = model_.overcurrent_devices.emplace_back();
  device.source = fields_.source;
  device.panel = panel;
  fields_.read(a::id, device.id);
  fields_.read(a::rating, device.rating);
  fields_.read(a::poles, device.poles);
  device.fuse = fields_.number(a::kind, 0) == 2;
  fields_.read(a::characteristic, device.curve);
  fields_.read(a::ground_fault, device.protection);
  fields_.read(a::arc_fault, device.arc_fault);
  fields_.read(a::handle_tie, device.handle_tie);
  device.untied = device.handle_tie == "none";
  if (device.untied) device.handle_tie = {};
  fields_.read(a::wires_per_terminal, device.wires_per_terminal);
  fields_.read(a::terminals_made_for, device.terminals_made_for);
  fields_.read(a::spaces, device.spaces);
  fields_.read(a::half_space, device.half_space);
  fields_.read(a::time_delay, device.time_delay);
  fields_.read(a::lockable, device.lockable);
}

void Builder::box(const WrittenElement& node) {
  namespace a = at::box;
  const auto index = static_cast<Index>(model_.places.size());
  Place& place = new_place(PlaceKind::box, a::id, a::name, a::area);
  fields_.read(a::kind, place.box_kind);
  fields_.read(a::size, place.box_size);
  fields_.read(a::gangs, place.gangs);
  fields_.read(a::material, place.material);
  fields_.read(a::mounting, place.mounting);
  fields_.read(a::accessible, place.accessible);
  fields_.read(a::covered, place.cover);
  fields_.read(a::internal_clamps, place.internal_clamps);
  fields_.read(a::grounded_by, place.grounded_by);
  fields_.read(a::volume, place.volume);
  fields_.read(a::width, place.width);
  fields_.read(a::height, place.height);
  fields_.read(a::depth, place.depth);
  fields_.read(a::canopy_wires, place.canopy_wires);
  if (fields_.has(a::wire_connectors))
    place.wire_connectors = static_cast<std::uint8_t>(fields_.number(a::wire_connectors, 0) + 1);
  fields_.read(a::listed_wet, place.wet_listed);
  fields_.read(a::listed_bonding, place.ringed_listed);
  fields_.read(a::marked_for_conductors, place.conductors_marked);
  fields_.read(a::free_conductor, place.free_conductor);
  fields_.read(a::free_conductor_outside, place.free_conductor_outside);
  fields_.read(a::finish, place.finish);
  fields_.read(a::unused_openings_closed, place.unused_openings_closed);
  fields_.read(a::mounting_height, place.mounting_height);
  fields_.read(a::setback, place.setback);
  fields_.read(a::divided, place.divided);
  position(place, a::at);
  place.covers.first = static_cast<Index>(model_.covers.size());
  place.spacings.first = static_cast<Index>(model_.spacings.size());
  place.support_fittings.first = static_cast<Index>(model_.support_fittings.size());
  each_child(node, Element::box, [&](const WrittenElement& child, Element element) {
    switch (element) {
      case Element::spacing:
        spacing(index);
        break;
      case Element::support_fitting:
        model_.support_fittings.push_back(
            {fields_.source, fields_.number(at::support_fitting::kind, 0) == 2});
        ++model_.places[index].support_fittings.count;
        break;
      default:
        cover(index, element);
        break;
    }
    each_child(child, element, [](const WrittenElement&, Element) {});
  });
}

void Builder::cover(Index box, Element element) {
  Cover& cover = model_.covers.emplace_back();
  ++model_.places[box].covers.count;
  cover.source = fields_.source;
  if (element == Element::ring) {
    namespace a = at::ring;
    fields_.read(a::kind, cover.kind);
    fields_.read(a::volume, cover.volume);
    fields_.read(a::width, cover.width);
    fields_.read(a::height, cover.height);
    fields_.read(a::depth, cover.depth);
    return;
  }
  namespace a = at::cover;
  constexpr int kinds_of_rings = 2;  // come first in Cover::Kind
  if (fields_.has(a::kind))
    cover.kind = static_cast<Cover::Kind>(fields_.number(a::kind, 0) + kinds_of_rings);
  fields_.read(a::volume, cover.volume);
  fields_.read(a::width, cover.width);
  fields_.read(a::height, cover.height);
  fields_.read(a::depth, cover.depth);
  fields_.read(a::in_use, cover.in_use);
  fields_.read(a::listed_for_grounding, cover.grounding_listed);
}

void Builder::spacing(Index at_place) {
  const auto index = static_cast<Index>(model_.spacings.size());
  EntrySpacing& spacing = model_.spacings.emplace_back();
  ++model_.places[at_place].spacings.count;
  spacing.source = fields_.source;
  fields_.read(at::spacing::distance, spacing.distance);
  std::string_view ids = fields_.text(at::spacing::between);
  for (const Link each : {Link::spacing_first, Link::spacing_second}) {
    const std::string_view id = take_word(ids);
    if (!id.empty())
      pending_.push_back({id.data(), static_cast<std::uint32_t>(id.size()), index, fields_.source, each});
  }
}

void Builder::conduit_body(const WrittenElement& node) {
  namespace a = at::conduit_body;
  const auto index = static_cast<Index>(model_.places.size());
  Place& place = new_place(PlaceKind::conduit_body, a::id, a::name, a::area);
  fields_.read(a::form, place.form);
  fields_.read(a::trade_size, place.trade_size);
  fields_.read(a::volume, place.volume);
  fields_.read(a::cross_section, place.cross_section);
  fields_.read(a::width, place.width);
  fields_.read(a::height, place.height);
  fields_.read(a::material, place.material);
  fields_.read(a::accessible, place.accessible);
  fields_.read(a::covered, place.cover);
  fields_.read(a::marked_for_conductors, place.conductors_marked);
  fields_.read(a::grounded_by, place.grounded_by);
  fields_.read(a::mounting, place.mounting);
  position(place, a::at);
  place.spacings.first = static_cast<Index>(model_.spacings.size());
  each_child(node, Element::conduit_body, [&](const WrittenElement& child, Element element) {
    spacing(index);
    each_child(child, element, [](const WrittenElement&, Element) {});
  });
}

void Builder::equipment() {
  namespace a = at::equipment;
  Place& place = new_place(PlaceKind::equipment, a::id, a::name, a::area);
  fields_.read(a::kind, place.equipment_kind);
  fields_.read(a::material, place.material);
  fields_.read(a::mounting, place.mounting);
  fields_.read(a::grounded_by, place.grounded_by);
  fields_.read(a::load, place.rating);
  fields_.read(a::voltage, place.voltage);
  fields_.read(a::power, place.power);
  fields_.read(a::continuous, place.continuous);
  fields_.read(a::accessible, place.accessible);
  fields_.read(a::covered, place.cover);
  fields_.read(a::mounting_height, place.mounting_height);
  position(place, a::at);
  place.machine = static_cast<Index>(model_.machines.size());
  Machine& machine = model_.machines.emplace_back();
  fields_.read(a::horsepower, machine.horsepower);
  fields_.read(a::appliance, machine.appliance);
  fields_.read(a::minimum_ampacity, machine.minimum_ampacity);
  fields_.read(a::maximum_overcurrent, machine.maximum_overcurrent);
  fields_.read(a::overload, machine.overload);
  fields_.read(a::overload_setting, machine.overload_setting);
  fields_.read(a::service_factor, machine.service_factor);
  fields_.read(a::duty_cycle, machine.duty_cycle);
  fields_.read(a::effective_current, machine.effective_current);
  fields_.read(a::windings, machine.windings);
  fields_.read(a::secondary_protected, machine.secondary_protected);
  fields_.read(a::neutral_bonded, place.neutral_bonded);
  fields_.read(a::jumper_size, machine.jumper_size);
  fields_.read(a::jumper_material, machine.jumper_material);
  fields_.read(a::electrode, place.electrode);
  fields_.read(a::electrode_size, place.electrode_size);
  fields_.read(a::electrode_material, place.electrode_material);
  fields_.read(a::ring_size, place.ring_size);
  fields_.read(a::disconnect_in_sight, machine.disconnect_in_sight);
  link(Link::machine_receptacle, place.machine, a::plugged_into);
}

void Builder::joint() {
  namespace a = at::joint;
  Place& place = new_place(PlaceKind::joint, a::id, a::name, a::area);
  fields_.read(a::fitting, place.fitting);
  fields_.read(a::raintight, place.raintight);
  fields_.read(a::trade_size, place.trade_size);
  fields_.read(a::material, place.material);
  position(place, a::at);
}

}  // namespace raceward::document
