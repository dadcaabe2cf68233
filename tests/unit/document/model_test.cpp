// What a document says ends in the member of the model that is meant for it.
#include <gmock/gmock.h>

#include "everything.hpp"
#include "loading.hpp"

namespace raceward::document::test {
namespace {

using namespace installation;
using testing::ElementsAre;

std::string text() { return document_of_everything(); }

TEST(Model, Areas) {
  const auto in = load_good(text());
  ASSERT_TRUE(in);
  const auto& a = in->model.areas.at(0);
  EXPECT_EQ(a.id, "A1");
  EXPECT_EQ(a.name, "studio");
  EXPECT_EQ(a.use, AreaUse::workshop);
  EXPECT_EQ(a.location, Location::damp);
  EXPECT_EQ(a.damage, Exposure::severe);
  EXPECT_EQ(a.corrosive, YesNo::no);
  EXPECT_EQ(*a.ambient, *parse_temperature("30C"));
  EXPECT_EQ(*a.ambient_low, *parse_temperature("-5C"));
  EXPECT_EQ(a.finished, YesNo::no);
  EXPECT_EQ(a.sink, YesNo::yes);
  EXPECT_EQ(a.vehicle_bays, 3);
  EXPECT_EQ(a.outlets_complete, YesNo::yes);
}

TEST(Model, Panels) {
  const auto in = load_good(text());
  ASSERT_TRUE(in);
  const auto& p = in->model.places.at(0);
  EXPECT_EQ(p.kind, PlaceKind::panel);
  EXPECT_EQ(p.id, "P1");
  EXPECT_EQ(p.name, "main");
  EXPECT_EQ(p.area, 0U);
  EXPECT_EQ(*p.rating, amperes(100));
  EXPECT_EQ(*p.voltage, volts(240));
  EXPECT_EQ(p.spaces, 20);
  EXPECT_EQ(p.material, EnclosureMaterial::metal);
  EXPECT_EQ(p.mounting, Mounting::surface);
  EXPECT_EQ(p.grounded_by, GroundedBy::feeder);
  EXPECT_EQ(p.accessible, YesNo::yes);
  EXPECT_EQ(p.cover, YesNo::no);
  EXPECT_EQ(p.directory, YesNo::yes);
  EXPECT_EQ(p.neutral_bonded, YesNo::no);
  EXPECT_EQ(p.neutrals_one_each, YesNo::no);
  EXPECT_EQ(p.building, Building::other);
  EXPECT_EQ(p.devices_complete, YesNo::no);
  EXPECT_EQ(p.only_circuit, YesNo::yes);
  EXPECT_EQ(p.emergency_disconnect, YesNo::yes);
  EXPECT_EQ(p.emergency_disconnect_marked, YesNo::no);
  EXPECT_EQ(p.disconnect, Disconnect::ahead);
  EXPECT_EQ(*p.disconnect_rating, amperes(60));
  EXPECT_EQ(p.electrode, Electrode::ring);
  EXPECT_EQ(p.electrode_size, ConductorSize::awg4);
  EXPECT_EQ(p.electrode_material, ConductorMaterial::copper);
  EXPECT_EQ(p.ring_size, ConductorSize::awg2);
  EXPECT_EQ(p.supply_size, ConductorSize::awg1_0);
  EXPECT_EQ(p.supply_parallel, 2);
  EXPECT_EQ(p.supply_material, ConductorMaterial::aluminum);
  EXPECT_EQ(p.supply_grounded, ConductorSize::awg2);
  EXPECT_EQ(*p.calculated_load, amperes(88));
  EXPECT_EQ(p.floor_square_feet, 1500U);
  EXPECT_EQ(p.floor_use, FloorUse::store);
  EXPECT_EQ(*p.main, amperes(60));
  EXPECT_EQ(*p.highest_handle, inches(72));
  EXPECT_EQ(*p.working_depth, inches(36));
  EXPECT_EQ(*p.working_width, inches(30));
  EXPECT_EQ(*p.working_height, inches(78));
  EXPECT_EQ(p.opposite, Opposite::grounded);
  EXPECT_EQ(*p.width, inches(14));
  EXPECT_EQ(*p.height, inches(30));
  EXPECT_EQ(*p.depth, inches(4));
  EXPECT_EQ(*p.mounting_height, inches(60));
  EXPECT_EQ(*p.x, inches(12));
  EXPECT_EQ(*p.y, inches(-24));
  EXPECT_EQ(*p.z, inches(0));
  EXPECT_EQ(p.fed_by, 1U);
  ASSERT_EQ(in->model.overcurrent_devices.size(), 2U);
  const OvercurrentDevice& d = in->model.overcurrent_devices[0];
  EXPECT_EQ(d.id, "P1-1");
  EXPECT_EQ(d.panel, 0U);
  EXPECT_EQ(*d.rating, amperes(20));
  EXPECT_EQ(d.poles, 2);
  EXPECT_TRUE(d.fuse);
  EXPECT_EQ(d.curve, TripCurve::bs88_3);
  EXPECT_EQ(d.protection, Protection::class_a);
  EXPECT_EQ(d.arc_fault, YesNo::yes);
  EXPECT_EQ(d.handle_tie, "t1");
  EXPECT_EQ(d.wires_per_terminal, 2);
  EXPECT_EQ(d.terminals_made_for, 3);
  EXPECT_EQ(d.spaces, 2);
  EXPECT_EQ(d.time_delay, YesNo::yes);
  EXPECT_EQ(d.lockable, YesNo::no);
  EXPECT_EQ(d.half_space, YesNo::yes);
  EXPECT_FALSE(in->model.overcurrent_devices[1].fuse);
  EXPECT_EQ(in->model.overcurrent_devices[1].poles, 0);
  EXPECT_FALSE(in->model.overcurrent_devices[1].rating.known());
}

TEST(Model, BoxesAndWhatIsOnThem) {
  const auto in = load_good(text());
  ASSERT_TRUE(in);
  const Model& m = in->model;
  const auto& b = m.places.at(1);
  EXPECT_EQ(b.kind, PlaceKind::box);
  EXPECT_EQ(b.box_kind, BoxKind::square);
  EXPECT_EQ(b.box_size, BoxSize::b4x2_1_8);
  EXPECT_EQ(b.gangs, 2);
  EXPECT_EQ(b.material, EnclosureMaterial::nonmetallic);
  EXPECT_EQ(b.mounting, Mounting::flush);
  EXPECT_EQ(b.accessible, YesNo::no);
  EXPECT_EQ(b.cover, YesNo::yes);
  EXPECT_EQ(b.internal_clamps, YesNo::yes);
  EXPECT_EQ(b.grounded_by, GroundedBy::none);
  EXPECT_EQ(*b.volume, *parse_volume("30.3in3"));
  EXPECT_EQ(*b.width, inches(4));
  EXPECT_EQ(*b.height, inches(5));
  EXPECT_EQ(*b.depth, *parse_length("2 1/8in"));
  EXPECT_EQ(b.canopy_wires, 3);
  EXPECT_EQ(b.wire_connectors, 6);
  EXPECT_EQ(b.wet_listed, YesNo::yes);
  EXPECT_EQ(b.ringed_listed, YesNo::no);
  EXPECT_EQ(b.conductors_marked, YesNo::no);
  EXPECT_EQ(*b.free_conductor, inches(7));
  EXPECT_EQ(*b.free_conductor_outside, inches(4));
  EXPECT_EQ(b.finish, Finish::combustible);
  EXPECT_EQ(b.unused_openings_closed, YesNo::yes);
  EXPECT_EQ(*b.mounting_height, inches(48));
  EXPECT_EQ(*b.setback, inches(0));
  EXPECT_EQ(b.divided, YesNo::yes);
  ASSERT_EQ(b.covers.count, 2U);
  const Cover& ring = m.covers[b.covers.first];
  EXPECT_EQ(ring.kind, Cover::Kind::extension_ring);
  EXPECT_EQ(*ring.volume, *parse_volume("4.5in3"));
  EXPECT_EQ(*ring.depth, inches(1));
  const Cover& cover = m.covers[b.covers.first + 1];
  EXPECT_EQ(cover.kind, Cover::Kind::weatherproof_cover);
  EXPECT_EQ(*cover.width, inches(5));
  EXPECT_EQ(*cover.height, inches(3));
  EXPECT_EQ(*cover.depth, inches(2));
  EXPECT_EQ(cover.in_use, YesNo::no);
  ASSERT_EQ(b.spacings.count, 1U);
  EXPECT_EQ(m.spacings[0].first, 0U);
  EXPECT_EQ(m.spacings[0].second, 1U);
  EXPECT_EQ(*m.spacings[0].distance, inches(14));
  ASSERT_EQ(b.support_fittings.count, 1U);
  EXPECT_TRUE(m.support_fittings[0].hickey);
}

TEST(Model, CoversAreOfTheKindThatIsWritten) {
  constexpr std::pair<std::string_view, Cover::Kind> kinds[] = {
      {"raised", Cover::Kind::raised_cover},
      {"flat", Cover::Kind::flat_cover},
      {"blank", Cover::Kind::blank_cover},
      {"device", Cover::Kind::device_cover},
      {"weatherproof", Cover::Kind::weatherproof_cover}};
  for (const auto& [word, kind] : kinds) {
    const auto in =
        load_good(document_of("<box id=\"B1\"><cover kind=\"" + std::string(word) + "\"/></box>"));
    ASSERT_TRUE(in);
    EXPECT_EQ(in->model.covers.at(0).kind, kind) << word;
  }
  const auto in =
      load_good(document_of("<box id=\"B1\"><ring kind=\"plaster\"/><support-fitting kind=\"stud\"/></box>"));
  ASSERT_TRUE(in);
  EXPECT_EQ(in->model.covers.at(0).kind, Cover::Kind::plaster_ring);
  EXPECT_FALSE(in->model.support_fittings.at(0).hickey);
  EXPECT_EQ(in->model.places.at(0).area, none);
}

TEST(Model, OtherPlaces) {
  const auto in = load_good(text());
  ASSERT_TRUE(in);
  const auto& body = in->model.places.at(2);
  EXPECT_EQ(body.kind, PlaceKind::conduit_body);
  EXPECT_EQ(body.conductors_marked, YesNo::yes);
  EXPECT_EQ(body.form, BodyForm::lb);
  EXPECT_EQ(body.trade_size, TradeSize::s3_4);
  EXPECT_EQ(*body.volume, *parse_volume("7in3"));
  EXPECT_EQ(*body.cross_section, *parse_area("1.2in2"));
  EXPECT_EQ(*body.width, inches(2));
  EXPECT_EQ(*body.height, inches(6));
  ASSERT_EQ(body.spacings.count, 1U);
  EXPECT_EQ(*in->model.spacings[body.spacings.first].distance, inches(3));
  EXPECT_EQ(body.grounded_by, GroundedBy::raceway);
  EXPECT_EQ(body.cover, YesNo::yes);
  EXPECT_EQ(body.gangs, 1);
  const auto& kiln = in->model.places.at(3);
  EXPECT_EQ(kiln.kind, PlaceKind::equipment);
  EXPECT_EQ(kiln.equipment_kind, "kiln");
  EXPECT_EQ(*kiln.rating, amperes(40));
  EXPECT_EQ(*kiln.power, *parse_power("9600W"));
  EXPECT_EQ(kiln.continuous, YesNo::yes);
  EXPECT_EQ(kiln.grounded_by, GroundedBy::wire);
  EXPECT_EQ(kiln.mounting, Mounting::surface);
  EXPECT_EQ(*kiln.mounting_height, inches(12));
  const Machine& plate = in->model.machines.at(kiln.machine);
  EXPECT_EQ(plate.plugged_into, none);
  EXPECT_EQ(in->model.devices.at(in->model.machines.at(in->model.places.at(5).machine).plugged_into).id,
            "D1");
  EXPECT_EQ(plate.horsepower, Horsepower::h1_1_2);
  EXPECT_EQ(plate.appliance, YesNo::yes);
  EXPECT_EQ(*plate.minimum_ampacity, amperes(13));
  EXPECT_EQ(*plate.maximum_overcurrent, amperes(30));
  EXPECT_EQ(plate.overload, Overload::relay);
  EXPECT_EQ(*plate.overload_setting, *parse_current("11.5A"));
  EXPECT_EQ(*plate.service_factor, *parse_number("1.15"));
  EXPECT_EQ(*plate.duty_cycle, *parse_number("30%"));
  EXPECT_EQ(*plate.effective_current, amperes(17));
  EXPECT_EQ(plate.windings, Windings::three_wire);
  EXPECT_EQ(plate.secondary_protected, YesNo::no);
  EXPECT_EQ(kiln.neutral_bonded, YesNo::yes);
  EXPECT_EQ(plate.jumper_size, ConductorSize::awg4);
  EXPECT_EQ(plate.jumper_material, ConductorMaterial::copper);
  EXPECT_EQ(kiln.electrode, Electrode::ring);
  EXPECT_EQ(kiln.electrode_size, ConductorSize::awg6);
  EXPECT_EQ(kiln.electrode_material, ConductorMaterial::aluminum);
  EXPECT_EQ(kiln.ring_size, ConductorSize::awg2);
  EXPECT_EQ(plate.disconnect_in_sight, YesNo::yes);
  const auto& joint = in->model.places.at(4);
  EXPECT_EQ(joint.kind, PlaceKind::joint);
  EXPECT_EQ(joint.fitting, Fitting::combination_coupling);
  EXPECT_EQ(joint.raintight, YesNo::yes);
  EXPECT_EQ(joint.trade_size, TradeSize::s1_1_4);
  EXPECT_EQ(joint.area, 0U);
  EXPECT_EQ(joint.name, "to flexible");
  EXPECT_EQ(*joint.z, inches(12));
}

TEST(Model, Raceways) {
  const auto in = load_good(text());
  ASSERT_TRUE(in);
  const Model& m = in->model;
  const Raceway& r = m.raceways.at(0);
  EXPECT_EQ(r.type, RacewayType::emt);
  EXPECT_EQ(r.trade_size, TradeSize::s3_4);
  EXPECT_EQ(r.ends[0].place, 0U);
  EXPECT_EQ(r.ends[1].place, 1U);
  EXPECT_EQ(r.ends[0].source, 0U);
  EXPECT_NE(r.ends[1].source, 0U);
  EXPECT_EQ(r.ends[1].fitting, Fitting::locknut);
  EXPECT_EQ(r.ends[1].knockout, Knockout::eccentric);
  EXPECT_EQ(r.ends[1].listed, YesNo::yes);
  EXPECT_EQ(r.ends[1].raintight, YesNo::no);
  EXPECT_EQ(r.ends[1].tight, YesNo::no);
  EXPECT_EQ(r.ends[1].bonded, YesNo::yes);
  EXPECT_EQ(r.ends[1].wall, 6);
  EXPECT_EQ(r.ends[1].row, 2);
  EXPECT_EQ(r.no_fastening_point, YesNo::yes);
  EXPECT_EQ(r.threaded_couplings, YesNo::no);
  EXPECT_EQ(r.vertical_riser, YesNo::no);
  EXPECT_EQ(r.flexibility_needed, YesNo::no);
  EXPECT_EQ(r.ceiling_whip, YesNo::yes);
  EXPECT_EQ(r.fished, YesNo::no);
  EXPECT_EQ(r.accepted_unfastened, YesNo::yes);
  EXPECT_EQ(r.reamed, YesNo::yes);
  EXPECT_EQ(r.unbroken, YesNo::no);
  EXPECT_EQ(r.grounding_listed, YesNo::yes);
  EXPECT_EQ(r.movement, YesNo::no);
  EXPECT_EQ(r.material, RacewayMetal::aluminum);
  EXPECT_EQ(*r.burial_depth, inches(18));
  EXPECT_EQ(*r.above_roof, Length{});
  EXPECT_EQ(r.beneath, Beneath::driveway);
  EXPECT_EQ(r.in_earth, YesNo::yes);
  EXPECT_EQ(r.damage, Exposure::none);
  EXPECT_EQ(r.corrosion_protected, YesNo::yes);
  EXPECT_EQ(r.place_listed, YesNo::no);
  EXPECT_EQ(r.heat_listed, YesNo::no);
  EXPECT_EQ(r.divided, YesNo::no);
  EXPECT_EQ(*r.width, inches(3));
  EXPECT_EQ(*r.height, inches(2));
  EXPECT_EQ(r.supports_none, YesNo::unstated);
  EXPECT_FALSE(r.polyline);
  const Raceway& line = m.raceways.at(1);
  EXPECT_TRUE(line.polyline);
  ASSERT_EQ(line.points.count, 2U);
  EXPECT_EQ(m.points[1].x, inches(12));
  EXPECT_EQ(m.points[1].y, inches(24));
  EXPECT_EQ(m.points[1].z, inches(36));
  EXPECT_EQ(*m.points[1].radius, inches(6));
  EXPECT_EQ(m.points[1].bender, Bender::one_shot);
  const Raceway& stated = m.raceways.at(2);
  EXPECT_EQ(*stated.length, *parse_length("3m"));
  EXPECT_EQ(stated.supports_none, YesNo::yes);
}

TEST(Model, PiecesAndSupports) {
  const auto in = load_good(text());
  ASSERT_TRUE(in);
  const Model& m = in->model;
  ASSERT_EQ(m.raceways.at(0).pieces.count, 6U);
  std::vector<PieceKind> kinds;
  for (const Piece& p : m.pieces) kinds.push_back(p.kind);
  EXPECT_THAT(kinds, ElementsAre(PieceKind::straight, PieceKind::bend, PieceKind::offset, PieceKind::saddle,
                                 PieceKind::coupling, PieceKind::expansion));
  EXPECT_EQ(*m.pieces[0].length, inches(36));
  EXPECT_EQ(*m.pieces[1].angle, degrees(90));
  EXPECT_EQ(*m.pieces[1].radius, *parse_length("4.5in"));
  EXPECT_EQ(m.pieces[1].bender, Bender::one_shot);
  EXPECT_EQ(*m.pieces[1].length, inches(7));
  EXPECT_EQ(*m.pieces[2].rise, *parse_length("1/2in"));
  EXPECT_EQ(m.pieces[2].bender, Bender::factory);
  EXPECT_EQ(m.pieces[3].bends, 3);
  EXPECT_EQ(*m.pieces[3].angle, degrees(45));
  EXPECT_EQ(*m.pieces[3].angle_outer, *parse_angle("22.5deg"));
  EXPECT_EQ(*m.pieces[3].rise, inches(2));
  EXPECT_EQ(m.pieces[4].fitting, Fitting::set_screw_coupling);
  EXPECT_EQ(*m.pieces[4].length, inches(0));
  EXPECT_EQ(m.pieces[5].fitting, Fitting::expansion_coupling);
  ASSERT_EQ(m.raceways.at(0).supports.count, 1U);
  EXPECT_EQ(*m.supports[0].at, inches(24));
  EXPECT_EQ(m.supports[0].kind, SupportKind::strap);
}

TEST(Model, CircuitsAndTheirRuns) {
  const auto in = load_good(text());
  ASSERT_TRUE(in);
  const Model& m = in->model;
  ASSERT_EQ(m.circuits.size(), 2U);
  const Circuit& c = m.circuits[0];
  EXPECT_EQ(c.kind, CircuitKind::feeder);
  EXPECT_EQ(c.serves, CircuitService::laundry);
  EXPECT_EQ(c.overcurrent_device, 0U);
  EXPECT_EQ(*c.voltage, volts(240));
  EXPECT_EQ(*c.to_ground, volts(120));
  EXPECT_EQ(*c.load, amperes(30));
  EXPECT_EQ(c.continuous, YesNo::no);
  EXPECT_EQ(c.multiwire, YesNo::yes);
  EXPECT_EQ(c.least_size, ConductorSize::awg8);
  EXPECT_EQ(*c.neutral_load, amperes(21));
  EXPECT_EQ(*c.terminals, *parse_temperature("75C"));
  EXPECT_EQ(*c.power_factor, *parse_number("0.85"));
  EXPECT_EQ(c.nonlinear, YesNo::yes);
  EXPECT_EQ(c.whole_dwelling, YesNo::no);
  EXPECT_EQ(c.parallel, 2);
  EXPECT_EQ(c.grouped, YesNo::yes);
  EXPECT_EQ(*c.loop, *parse_resistance("0.87ohm"));
  ASSERT_EQ(c.conductors.count, 3U);
  const Conductor& h = m.conductors[0];
  EXPECT_EQ(h.id, "h");
  EXPECT_EQ(h.role, Role::ungrounded);
  EXPECT_EQ(h.count, 2);
  EXPECT_EQ(h.identification, "black");
  const ConductorKind& kind = m.conductor_kinds[h.kind];
  EXPECT_EQ(kind.size, ConductorSize::awg6);
  EXPECT_EQ(kind.material, ConductorMaterial::copper);
  EXPECT_EQ(kind.construction, Construction::stranded);
  const auto bit = [](Insulation i) { return std::uint64_t{1} << (static_cast<unsigned>(i) - 1); };
  EXPECT_EQ(kind.insulations, bit(Insulation::thhn) | bit(Insulation::thwn2));
  EXPECT_TRUE(m.conductor_kinds[m.conductors[1].kind].cable);
  EXPECT_EQ(*m.conductor_kinds[m.conductors[1].kind].diameter, *parse_length("0.5in"));
  EXPECT_EQ(m.conductors[2].of_cable, 2);
  EXPECT_EQ(m.conductors[2].isolated, YesNo::yes);
  // The same kind in another circuit is kept once, whatever the order of its marks.
  EXPECT_EQ(m.conductors[3].kind, h.kind);
  ASSERT_EQ(c.runs.count, 2U);
  const auto conductors = [&](Index run) {
    const Range r = m.runs.at(run).conductors;
    return std::vector<Index>(m.run_conductors.begin() + r.first, m.run_conductors.begin() + r.end());
  };
  EXPECT_THAT(conductors(0), ElementsAre(0, 1));
  EXPECT_THAT(conductors(1), ElementsAre(2));
  EXPECT_THAT(conductors(2), ElementsAre(3));
  const Stop& stop = m.stops.at(1);
  EXPECT_EQ(stop.place, 1U);
  EXPECT_EQ(stop.ungrounded, StopTreatment::looped);
  EXPECT_EQ(stop.grounding, StopTreatment::spliced);
  EXPECT_EQ(stop.bonded, YesNo::yes);
  EXPECT_EQ(stop.grounded_pigtailed, YesNo::no);
  ASSERT_EQ(stop.via.count, 2U);
  EXPECT_EQ(m.via[stop.via.first], 2U);
  EXPECT_EQ(m.via[stop.via.first + 1], 1U);
  EXPECT_EQ(m.stops[0].ungrounded, StopTreatment::terminated);
  EXPECT_EQ(m.stops[0].grounding, StopTreatment::unstated);
  EXPECT_EQ(m.circuits[1].kind, CircuitKind::other);
  EXPECT_EQ(m.circuits[1].name, "bell");
  EXPECT_EQ(m.circuits[1].system, System::class_2);
  EXPECT_EQ(*m.circuits[1].system_voltage, volts(24));
  EXPECT_EQ(*m.circuits[1].system_to_ground, volts(12));
  EXPECT_EQ(*m.circuits[1].marked_terminals, *parse_temperature("60C"));
  EXPECT_EQ(in->routes.run_hops.at(0).count, 2U);
}

TEST(Model, DevicesJumpersStatements) {
  const auto in = load_good(text());
  ASSERT_TRUE(in);
  const Model& m = in->model;
  const Device& d = m.devices.at(0);
  EXPECT_EQ(d.name, "outlet");
  EXPECT_EQ(d.kind, DeviceKind::receptacle);
  EXPECT_EQ(d.box, 1U);
  ASSERT_EQ(d.circuits.count, 2U);
  EXPECT_EQ(m.device_circuits[1], 1U);
  EXPECT_EQ(*d.rating, amperes(20));
  EXPECT_EQ(*d.voltage, volts(125));
  EXPECT_EQ(d.gangs, 2);
  EXPECT_EQ(d.yokes, 3);
  EXPECT_EQ(d.conductor_size, ConductorSize::awg12);
  EXPECT_EQ(d.grounded_by, GroundedBy::self_grounding);
  EXPECT_EQ(d.protection, Protection::equipment);
  EXPECT_EQ(d.arc_fault, YesNo::no);
  EXPECT_EQ(d.tamper_resistant, YesNo::yes);
  EXPECT_EQ(d.weather_resistant, YesNo::no);
  EXPECT_EQ(d.isolated_ground, YesNo::yes);
  EXPECT_EQ(d.line_from, 1U);
  EXPECT_EQ(*d.depth, *parse_length("1.6in"));
  EXPECT_EQ(*d.height, inches(18));
  EXPECT_EQ(d.fed_from_line, YesNo::no);
  EXPECT_EQ(d.receptacles, 2);
  EXPECT_EQ(d.wires_per_terminal, 2);
  EXPECT_EQ(d.terminals_made_for, 3);
  EXPECT_EQ(d.countertop, YesNo::no);
  EXPECT_EQ(*d.sink_distance, inches(84));
  EXPECT_EQ(d.dedicated, YesNo::yes);
  EXPECT_EQ(d.beside_load, YesNo::yes);
  EXPECT_EQ(d.horsepower, Horsepower::h2);
  EXPECT_EQ(*d.load, amperes(12));
  EXPECT_EQ(m.devices.at(1).gangs, 0);
  EXPECT_EQ(m.devices.at(1).yokes, 0);
  const BondingJumper& j = m.bonding_jumpers.at(0);
  EXPECT_EQ(j.id, "X1");
  EXPECT_EQ(j.from, 0U);
  EXPECT_EQ(j.to, 1U);
  EXPECT_EQ(j.raceway, 0U);
  EXPECT_EQ(j.size, ConductorSize::awg8);
  EXPECT_EQ(j.material, ConductorMaterial::copper);
  EXPECT_EQ(j.routing, JumperRouting::along);
  EXPECT_EQ(*j.length, inches(24));
  const Attestation& a = m.attestations.at(0);
  EXPECT_EQ(a.fact, "ends-reamed");
  EXPECT_EQ(a.of, "R1");
  EXPECT_EQ(a.by, "the installer");
  EXPECT_EQ(a.on, "2026-05-01");
  const StatedFact& f = m.facts.at(0);
  EXPECT_EQ(f.name, "storeys");
  EXPECT_EQ(f.of, "A1");
  EXPECT_EQ(f.value, "2");
  const Waiver& w = m.waivers.at(0);
  EXPECT_EQ(w.rule, "support-spacing");
  EXPECT_EQ(w.of, "R1");
  EXPECT_EQ(w.authority, "the inspector");
  EXPECT_EQ(w.reason, "the beam is in the way");
  EXPECT_EQ(w.on, "0001-01-01");
  EXPECT_EQ(w.until, "9999-12-31");
  EXPECT_EQ(w.accepts, "13ft");
  EXPECT_EQ(m.permit_date, "2026-03-01");
}

TEST(Model, UsageCountsEveryElementAndAttribute) {
  const auto in = load_good(text());
  ASSERT_TRUE(in);
  const auto count = [&](std::string_view element, std::string_view attribute) -> std::uint32_t {
    for (const Usage& u : in->model.usage)
      if (u.element == element && u.attribute == attribute) return u.count;
    return 0;
  };
  EXPECT_EQ(count("raceway", ""), 3U);
  EXPECT_EQ(count("raceway", "type"), 1U);
  EXPECT_EQ(count("stop", "place"), 6U);
  EXPECT_EQ(count("support", "fastened-to"), 1U);
  EXPECT_EQ(count("installation", "id"), 1U);
  EXPECT_EQ(count("area", "nothing"), 0U);
  EXPECT_EQ(in->model.element_count, 49U);
}

}  // namespace
}  // namespace raceward::document::test
