// The closed lists of words that a document may use, each with its spelling and its meaning.
//
// One list serves the loader, the schema, table keys and messages. 0 always means "not stated".
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string_view>

namespace raceward::installation {

// X(identifier, "spelling in documents and table keys", "meaning, for the schema's documentation")
// One term an entry, as it reads best.
// clang-format off
#define RACEWARD_RACEWAY_TYPES(X)                                            \
  X(emt, "EMT", "electrical metallic tubing")                                \
  X(imc, "IMC", "intermediate metal conduit")                                \
  X(rmc, "RMC", "rigid metal conduit")                                       \
  X(pvc40, "PVC-40", "rigid polyvinyl chloride conduit, Schedule 40")        \
  X(pvc80, "PVC-80", "rigid polyvinyl chloride conduit, Schedule 80")        \
  X(ent, "ENT", "electrical nonmetallic tubing")                             \
  X(fmc, "FMC", "flexible metal conduit")                                    \
  X(lfmc, "LFMC", "liquidtight flexible metal conduit")                      \
  X(lfnc_a, "LFNC-A", "liquidtight flexible nonmetallic conduit, type A")    \
  X(lfnc_b, "LFNC-B", "liquidtight flexible nonmetallic conduit, type B")    \
  X(lfnc_c, "LFNC-C", "liquidtight flexible nonmetallic conduit, type C")    \
  X(hdpe, "HDPE", "high-density polyethylene conduit")                       \
  X(rtrc, "RTRC", "reinforced thermosetting resin conduit")                  \
  X(fmt, "FMT", "flexible metallic tubing")                                  \
  X(wireway_metal, "wireway-metal", "metal wireway")                         \
  X(wireway_nonmetallic, "wireway-nonmetallic", "nonmetallic wireway")       \
  X(surface_metal, "surface-metal", "surface metal raceway")                 \
  X(surface_nonmetallic, "surface-nonmetallic", "surface nonmetallic raceway") \
  X(steel_conduit, "steel-conduit", "rigid steel conduit of a metric size")  \
  X(plastic_conduit, "plastic-conduit", "rigid insulating conduit of a metric size") \
  X(pliable_conduit, "pliable-conduit", "pliable conduit of a metric size")

#define RACEWARD_TRADE_SIZES(X)                \
  X(s3_8, "3/8", "metric designator 12")       \
  X(s1_2, "1/2", "metric designator 16")       \
  X(s3_4, "3/4", "metric designator 21")       \
  X(s1, "1", "metric designator 27")           \
  X(s1_1_4, "1-1/4", "metric designator 35")   \
  X(s1_1_2, "1-1/2", "metric designator 41")   \
  X(s2, "2", "metric designator 53")           \
  X(s2_1_2, "2-1/2", "metric designator 63")   \
  X(s3, "3", "metric designator 78")           \
  X(s3_1_2, "3-1/2", "metric designator 91")   \
  X(s4, "4", "metric designator 103")          \
  X(s5, "5", "metric designator 129")          \
  X(s6, "6", "metric designator 155")          \
  X(d16, "16 mm", "outside diameter")          \
  X(d20, "20 mm", "outside diameter")          \
  X(d25, "25 mm", "outside diameter")          \
  X(d32, "32 mm", "outside diameter")          \
  X(d40, "40 mm", "outside diameter")          \
  X(d50, "50 mm", "outside diameter")

#define RACEWARD_CONDUCTOR_SIZES(X)                                                                        \
  X(awg18, "18 AWG", "") X(awg16, "16 AWG", "") X(awg14, "14 AWG", "") X(awg12, "12 AWG", "")              \
  X(awg10, "10 AWG", "") X(awg8, "8 AWG", "") X(awg6, "6 AWG", "") X(awg4, "4 AWG", "")                    \
  X(awg3, "3 AWG", "") X(awg2, "2 AWG", "") X(awg1, "1 AWG", "") X(awg1_0, "1/0 AWG", "")                  \
  X(awg2_0, "2/0 AWG", "") X(awg3_0, "3/0 AWG", "") X(awg4_0, "4/0 AWG", "") X(kcmil250, "250 kcmil", "")  \
  X(kcmil300, "300 kcmil", "") X(kcmil350, "350 kcmil", "") X(kcmil400, "400 kcmil", "")                   \
  X(kcmil500, "500 kcmil", "") X(kcmil600, "600 kcmil", "") X(kcmil700, "700 kcmil", "")                   \
  X(kcmil750, "750 kcmil", "") X(kcmil800, "800 kcmil", "") X(kcmil900, "900 kcmil", "")                   \
  X(kcmil1000, "1000 kcmil", "") X(kcmil1250, "1250 kcmil", "") X(kcmil1500, "1500 kcmil", "")             \
  X(kcmil1750, "1750 kcmil", "") X(kcmil2000, "2000 kcmil", "")                                            \
  X(mm1, "1 mm2", "") X(mm1_5, "1.5 mm2", "") X(mm2_5, "2.5 mm2", "") X(mm4, "4 mm2", "")                  \
  X(mm6, "6 mm2", "") X(mm10, "10 mm2", "") X(mm16, "16 mm2", "") X(mm25, "25 mm2", "")                    \
  X(mm35, "35 mm2", "") X(mm50, "50 mm2", "") X(mm70, "70 mm2", "") X(mm95, "95 mm2", "")                  \
  X(mm120, "120 mm2", "") X(mm150, "150 mm2", "") X(mm185, "185 mm2", "") X(mm240, "240 mm2", "")          \
  X(mm300, "300 mm2", "")

/// A conductor may bear several marks ("THHN/THWN-2"): bits of a set, in this order.
#define RACEWARD_INSULATIONS(X)                                                               \
  X(bare, "bare", "no covering") X(thhn, "THHN", "") X(thwn, "THWN", "")                      \
  X(thwn2, "THWN-2", "") X(tw, "TW", "") X(thw, "THW", "") X(thhw, "THHW", "")                \
  X(thw2, "THW-2", "") X(xhhw, "XHHW", "") X(xhhw2, "XHHW-2", "") X(xhh, "XHH", "")           \
  X(xhhn, "XHHN", "") X(rhh, "RHH", "without outer covering")                                 \
  X(rhw, "RHW", "without outer covering") X(rhw2, "RHW-2", "without outer covering")          \
  X(rhh_cov, "RHH-COV", "with outer covering") X(rhw_cov, "RHW-COV", "with outer covering")   \
  X(rhw2_cov, "RHW-2-COV", "with outer covering") X(use2, "USE-2", "") X(tfn, "TFN", "")      \
  X(tffn, "TFFN", "") X(tf, "TF", "") X(tff, "TFF", "") X(rfh1, "RFH-1", "")                  \
  X(rfh2, "RFH-2", "") X(ffh2, "FFH-2", "") X(sf1, "SF-1", "") X(sf2, "SF-2", "")             \
  X(sff1, "SFF-1", "") X(sff2, "SFF-2", "") X(xf, "XF", "") X(xff, "XFF", "")                 \
  X(pf, "PF", "") X(pff, "PFF", "") X(pfa, "PFA", "") X(pfah, "PFAH", "") X(tfe, "TFE", "")   \
  X(z, "Z", "") X(pvc70, "PVC-70C", "70 C thermoplastic, for metric sizes")                   \
  X(xlpe90, "XLPE-90C", "90 C thermosetting, for metric sizes")                             \
  X(rw90, "RW90", "cross-linked polyethylene, 600 V, without a jacket") X(tw75, "TW75", "") \
  X(t90, "T90", "with a nylon jacket")

#define RACEWARD_CONDUCTOR_MATERIALS(X) \
  X(copper, "copper", "") X(aluminum, "aluminum", "") X(copper_clad, "copper-clad-aluminum", "")

#define RACEWARD_CONSTRUCTIONS(X) X(solid, "solid", "") X(stranded, "stranded", "") X(compact, "compact", "compact stranding")

#define RACEWARD_ROLES(X)                                                               \
  X(ungrounded, "ungrounded", "a hot conductor")                                        \
  X(grounded, "grounded", "the neutral or other grounded conductor")                    \
  X(equipment_grounding, "equipment-grounding", "a wire-type equipment grounding conductor") \
  X(electrode, "grounding-electrode", "to the grounding electrode")                     \
  X(bonding, "bonding", "a bonding conductor")                                          \
  X(switched, "switched", "an ungrounded conductor after a switch")                     \
  X(traveler, "traveler", "between switches of one group")                              \
  X(control, "control", "a control or signal conductor")                                \
  X(spare, "spare", "not connected at either end")

#define RACEWARD_PLACE_KINDS(X)                                                              \
  X(panel, "panel", "a panel with overcurrent devices")                                      \
  X(box, "box", "an outlet, device, junction or pull box")                                   \
  X(conduit_body, "conduit-body", "a conduit body with a removable cover")                   \
  X(equipment, "equipment", "utilization or other equipment with a wiring compartment")      \
  X(joint, "joint", "a coupling between raceways of two types; no access to the conductors")

#define RACEWARD_BOX_KINDS(X)                                                                           \
  X(square, "square", "") X(octagonal, "octagonal", "") X(round, "round", "") X(device, "device", "")   \
  X(masonry, "masonry", "") X(fs, "FS", "cast, shallow") X(fd, "FD", "cast, deep")                      \
  X(pull, "pull", "a pull or junction box known by its dimensions")                                     \
  X(floor_box, "floor", "") X(other, "other", "known by its marked volume or its dimensions")

/// Trade sizes of boxes, as the trade names them. Volumes are law and stand in rulesets.
#define RACEWARD_BOX_SIZES(X)                                                                     \
  X(b4x1_1_4, "4 x 1-1/4", "") X(b4x1_1_2, "4 x 1-1/2", "") X(b4x2_1_8, "4 x 2-1/8", "")          \
  X(b411x1_1_4, "4-11/16 x 1-1/4", "") X(b411x1_1_2, "4-11/16 x 1-1/2", "")                       \
  X(b411x2_1_8, "4-11/16 x 2-1/8", "") X(d3x2x1_1_2, "3 x 2 x 1-1/2", "")                         \
  X(d3x2x2, "3 x 2 x 2", "") X(d3x2x2_1_4, "3 x 2 x 2-1/4", "") X(d3x2x2_1_2, "3 x 2 x 2-1/2", "") \
  X(d3x2x2_3_4, "3 x 2 x 2-3/4", "") X(d3x2x3, "3 x 2 x 3", "") X(d3x2x3_1_2, "3 x 2 x 3-1/2", "") \
  X(d4x2_1_8x1_1_2, "4 x 2-1/8 x 1-1/2", "") X(d4x2_1_8x1_7_8, "4 x 2-1/8 x 1-7/8", "")           \
  X(d4x2_1_8x2_1_8, "4 x 2-1/8 x 2-1/8", "") X(m3_3_4x2x2_1_2, "3-3/4 x 2 x 2-1/2", "per gang")   \
  X(m3_3_4x2x3_1_2, "3-3/4 x 2 x 3-1/2", "per gang") X(single, "single", "cast box, one gang")    \
  X(multiple, "multiple", "cast box, several gangs; volume per gang")

#define RACEWARD_ENCLOSURE_MATERIALS(X) X(metal, "metal", "") X(nonmetallic, "nonmetallic", "")

#define RACEWARD_RACEWAY_METALS(X) X(steel, "steel", "") X(aluminum, "aluminum", "")        \
  X(stainless_steel, "stainless-steel", "also of the core of a flexible one")

#define RACEWARD_YES_NO(X) X(no, "no", "") X(yes, "yes", "")

#define RACEWARD_MOUNTINGS(X)                                                                        \
  X(surface, "surface", "") X(flush, "flush", "set in the finished surface")                         \
  X(concealed, "concealed", "behind a finish") X(raceway, "raceway", "carried by raceways alone")    \
  X(suspended, "suspended", "") X(buried, "buried", "")

#define RACEWARD_BODY_FORMS(X)                                                                         \
  X(lb, "LB", "") X(ll, "LL", "") X(lr, "LR", "") X(t, "T", "") X(c, "C", "") X(e, "E", "")            \
  X(x, "X", "") X(tb, "TB", "") X(lu, "LU", "") X(short_elbow, "short-elbow", "capped elbow, no splices or devices")

#define RACEWARD_PIECE_KINDS(X)                                                                        \
  X(straight, "straight", "a straight length")                                                         \
  X(bend, "bend", "one bend")                                                                          \
  X(offset, "offset", "two equal bends in opposite directions")                                        \
  X(saddle, "saddle", "three or four bends over an obstacle")                                          \
  X(coupling, "coupling", "a coupling within the raceway")                                             \
  X(expansion, "expansion", "an expansion fitting within the raceway")

#define RACEWARD_BENDERS(X)                                        \
  X(one_shot, "one-shot", "a one-shot or full-shoe bender")        \
  X(other, "other", "any other way of bending in the field")       \
  X(factory, "factory", "a factory elbow")

#define RACEWARD_BUILDINGS(X)                                                        \
  X(same, "same", "the building of what feeds it")                                   \
  X(other, "other", "another building or structure: a garage, shed, barn or shop")   \
  X(dwelling, "dwelling", "another building, which is a one-family dwelling")

#define RACEWARD_SYSTEMS(X)                                                          \
  X(power, "power", "power and light, class 1 control, spares")                      \
  X(class_2, "class-2", "class 2 or class 3: bells, thermostats, low-voltage controls") \
  X(communications, "communications", "telephone, data, coaxial and optical cables, alarms of limited power")

#define RACEWARD_DISCONNECTS(X)                                                      \
  X(main, "main", "a main switch or main circuit breaker in it")                     \
  X(ahead, "ahead", "a disconnect ahead of it, in the same building or outside at it") \
  X(none, "none", "nothing but the overcurrent devices of its circuits")

#define RACEWARD_ELECTRODES(X)                                                       \
  X(none, "none", "no electrode is connected at it")                                 \
  X(rod, "rod", "rods, pipes or plates, and nothing else behind them")               \
  X(concrete, "concrete-encased", "metal in a footing, and nothing else behind it")  \
  X(ring, "ring", "a ground ring, and nothing else behind it")                       \
  X(other, "other", "another one, such as a water pipe; or several kinds")

#define RACEWARD_FITTINGS(X)                                                                   \
  X(set_screw_connector, "set-screw-connector", "") X(set_screw_coupling, "set-screw-coupling", "")   \
  X(compression_connector, "compression-connector", "")                                        \
  X(compression_coupling, "compression-coupling", "") X(threaded_hub, "threaded-hub", "")      \
  X(threaded_coupling, "threaded-coupling", "") X(double_locknut, "double-locknut", "")        \
  X(locknut, "locknut", "one locknut and a bushing") X(grounding_bushing, "grounding-bushing", "") \
  X(bonding_locknut, "bonding-locknut", "") X(combination_coupling, "combination-coupling", "between two raceway types") \
  X(flexible_connector, "flexible-connector", "for flexible metal conduit")                    \
  X(liquidtight_connector, "liquidtight-connector", "")                                        \
  X(male_adapter, "male-adapter", "nonmetallic, with locknut")                                 \
  X(nonmetallic_connector, "nonmetallic-connector", "") X(nonmetallic_coupling, "nonmetallic-coupling", "") \
  X(expansion_coupling, "expansion-coupling", "without a bonding jumper")                      \
  X(expansion_coupling_bonded, "expansion-coupling-bonded", "with a bonding jumper")           \
  X(snap_in_connector, "snap-in-connector", "")

#define RACEWARD_KNOCKOUTS(X)                                                        \
  X(plain, "plain", "a hole that the fitting fills, no rings left")                  \
  X(concentric, "concentric", "rings around one centre are left")                    \
  X(eccentric, "eccentric", "rings off centre are left")                             \
  X(oversized, "oversized", "larger than the fitting, with reducing washers")        \
  X(hub, "hub", "a threaded or cast hub")

#define RACEWARD_SUPPORT_KINDS(X)                                                           \
  X(strap, "strap", "") X(clamp, "clamp", "") X(hanger, "hanger", "") X(trapeze, "trapeze", "") \
  X(framing, "framing", "rests in an opening of the framing, not fastened")                  \
  X(ceiling_wire, "ceiling-wire", "tied to a wire that carries a suspended ceiling")         \
  X(raceway, "raceway", "tied to another raceway") X(other, "other", "")

#define RACEWARD_DEVICE_KINDS(X)                                                              \
  X(receptacle, "receptacle", "") X(switch_, "switch", "") X(dimmer, "dimmer", "")            \
  X(luminaire, "luminaire", "") X(disconnect, "disconnect", "")                               \
  X(terminal_block, "terminal-block", "") X(protective, "protective-device", "a protective device without outlet") \
  X(other, "other", "")

#define RACEWARD_STOP_TREATMENTS(X)                                                           \
  X(terminated, "terminated", "conductors end on terminals of a device, panel or equipment")  \
  X(spliced, "spliced", "conductors are cut and joined")                                      \
  X(through, "through", "conductors pass unbroken")                                           \
  X(looped, "looped", "conductors pass unbroken with a loop of spare length")

#define RACEWARD_LOCATIONS(X) X(dry, "dry", "") X(damp, "damp", "") X(wet, "wet", "")

#define RACEWARD_EXPOSURES(X)                                                     \
  X(none, "none", "not exposed to damage") X(exposed, "exposed", "exposed to physical damage") \
  X(severe, "severe", "exposed to severe physical damage")

#define RACEWARD_BENEATHS(X)                                                                       \
  X(earth, "earth", "open ground: lawn, bed, path without a slab")                                 \
  X(concrete, "concrete", "earth, with concrete in the trench above it")                           \
  X(slab, "slab", "an outdoor slab of concrete without vehicles on it")                            \
  X(building, "building", "")                                                                      \
  X(driveway, "driveway", "a driveway or parking place of a one- or two-family dwelling")          \
  X(street, "street", "a street, alley, other driveway or parking lot")

#define RACEWARD_FINISHES(X)                                                      \
  X(combustible, "combustible", "wood or another material that burns")            \
  X(noncombustible, "noncombustible", "plaster, gypsum board, masonry, tile")

#define RACEWARD_OPPOSITES(X)                                                                    \
  X(none, "none", "nothing that is live or grounded")                                           \
  X(grounded, "grounded", "something grounded, also a wall of concrete, brick or tile")         \
  X(live, "live", "exposed live parts")

#define RACEWARD_AREA_USES(X)                                                                            \
  X(garage, "garage", "") X(workshop, "workshop", "") X(accessory, "accessory-building", "")             \
  X(basement, "basement", "") X(crawl_space, "crawl-space", "") X(attic, "attic", "")                    \
  X(kitchen, "kitchen", "") X(bathroom, "bathroom", "") X(laundry, "laundry", "")                        \
  X(outdoors, "outdoors", "") X(roof, "roof", "") X(storage, "storage", "") X(office, "office", "")      \
  X(shop, "shop", "a place of trade") X(farm, "farm-building", "") X(corridor, "corridor", "")           \
  X(living, "living", "a room to live or sleep in")                                                       \
  X(machine_room, "machine-room", "") X(underground, "underground", "") X(other, "other", "")

#define RACEWARD_FLOOR_USES(X)                                                                     \
  X(bank, "bank", "") X(church, "church", "") X(factory, "factory", "") X(office, "office", "")    \
  X(parking_garage, "parking-garage", "") X(repair_garage, "repair-garage", "vehicles are mended") \
  X(restaurant, "restaurant", "") X(school, "school", "") X(store, "store", "")                    \
  X(warehouse, "warehouse", "") X(workshop, "workshop", "") X(other, "other", "")

#define RACEWARD_OCCUPANCIES(X)                                                                          \
  X(dwelling, "dwelling", "a dwelling and what belongs to it") X(commercial, "commercial", "")           \
  X(industrial, "industrial", "") X(farm, "farm", "") X(other, "other", "")

#define RACEWARD_CIRCUIT_KINDS(X)                                                                        \
  X(branch, "branch", "a branch circuit") X(feeder, "feeder", "") X(other, "other", "wiring outside any circuit")

#define RACEWARD_CIRCUIT_SERVICES(X)                                                                   \
  X(general, "general", "lighting and receptacles of general use")                                    \
  X(small_appliance, "small-appliance", "receptacles of kitchen, pantry, dining room and the like")   \
  X(laundry, "laundry", "receptacles of the laundry") X(equipment, "equipment", "equipment alone")

#define RACEWARD_PROTECTIONS(X)                                                             \
  X(none, "none", "") X(class_a, "class-a", "for people") X(equipment, "equipment", "for equipment")

#define RACEWARD_TRIP_CURVES(X)                                                             \
  X(b, "B", "a circuit breaker of type B") X(c, "C", "a circuit breaker of type C")         \
  X(d, "D", "a circuit breaker of type D") X(bs88_3, "BS-88-3", "a fuse to BS 88-3, system C")

#define RACEWARD_GROUNDED_BY(X)                                                                               \
  X(wire, "wire", "the equipment grounding conductor is connected to it with a screw, clip or terminal")      \
  X(raceway, "raceway", "by the metal raceway that enters it")                                                \
  X(mounting, "mounting", "a device by its yoke's direct metal contact with the box")                         \
  X(self_grounding, "self-grounding", "a device whose yoke is listed for it")                                 \
  X(service, "service", "a panel bonded as service equipment or at a separately derived source")              \
  X(feeder, "feeder", "a panel whose feeder, outside this document, brings an equipment grounding conductor") \
  X(none, "none", "nothing connects it")

/// Ratings of motors as the trade names them; the smallest first. What current they take is law.
#define RACEWARD_HORSEPOWERS(X)                                                                           \
  X(h1_6, "1/6", "") X(h1_4, "1/4", "") X(h1_3, "1/3", "") X(h1_2, "1/2", "") X(h3_4, "3/4", "")           \
  X(h1, "1", "") X(h1_1_2, "1-1/2", "") X(h2, "2", "") X(h3, "3", "") X(h5, "5", "") X(h7_1_2, "7-1/2", "") \
  X(h10, "10", "") X(h15, "15", "") X(h20, "20", "") X(h25, "25", "") X(h30, "30", "") X(h40, "40", "")     \
  X(h50, "50", "") X(h60, "60", "") X(h75, "75", "") X(h100, "100", "") X(h125, "125", "")                 \
  X(h150, "150", "") X(h200, "200", "")

#define RACEWARD_JUMPER_ROUTINGS(X)                                                  \
  X(inside, "inside", "in the raceway or enclosure that it bonds, with its conductors") \
  X(along, "along", "outside of it, along it")                                         \
  X(apart, "apart", "outside of it, by a way of its own")

#define RACEWARD_OVERLOADS(X)                                                                         \
  X(integral, "integral", "a thermal protector in the motor, as marked on it")                        \
  X(relay, "relay", "an overload relay or heaters in its controller: see overload-setting")           \
  X(none, "none", "nothing but the overcurrent device of its circuit")

#define RACEWARD_WINDINGS(X)                                                                          \
  X(two_wire, "two-wire", "one phase, a secondary of two wires")                                      \
  X(three_wire, "three-wire", "one phase, a secondary of three wires, one of them its midpoint")      \
  X(delta_delta, "delta-delta", "three phases, delta to delta, a secondary of three wires")           \
  X(high_leg_delta, "high-leg-delta",                                                                 \
    "three phases, a secondary in delta of four wires, one of them the midpoint of a winding")        \
  X(delta_wye, "delta-wye", "three phases, delta to wye")                                             \
  X(wye_wye, "wye-wye", "three phases, wye to wye")                                                   \
  X(wye_delta, "wye-delta", "three phases, wye to delta, a secondary of three wires")

/// A word of a closed list: spelling and meaning. terms_of(T{}) lists them in order, without "not stated".
struct Term {
  std::string_view spelling;
  std::string_view meaning;
};

// clang-format on

#define RACEWARD_AFTER_X(identifier, spelling, meaning) identifier,
#define RACEWARD_TERM(Name, LIST)                                      \
  enum class Name : std::uint8_t { unstated, LIST(RACEWARD_AFTER_X) }; \
  std::string_view name_of(Name value);                                \
  std::span<const Term> terms_of(Name);

RACEWARD_TERM(RacewayType, RACEWARD_RACEWAY_TYPES)
RACEWARD_TERM(TradeSize, RACEWARD_TRADE_SIZES)
RACEWARD_TERM(ConductorSize, RACEWARD_CONDUCTOR_SIZES)
RACEWARD_TERM(Insulation, RACEWARD_INSULATIONS)
RACEWARD_TERM(ConductorMaterial, RACEWARD_CONDUCTOR_MATERIALS)
RACEWARD_TERM(Construction, RACEWARD_CONSTRUCTIONS)
RACEWARD_TERM(Role, RACEWARD_ROLES)
RACEWARD_TERM(PlaceKind, RACEWARD_PLACE_KINDS)
RACEWARD_TERM(BoxKind, RACEWARD_BOX_KINDS)
RACEWARD_TERM(BoxSize, RACEWARD_BOX_SIZES)
RACEWARD_TERM(EnclosureMaterial, RACEWARD_ENCLOSURE_MATERIALS)
RACEWARD_TERM(RacewayMetal, RACEWARD_RACEWAY_METALS)
RACEWARD_TERM(YesNo, RACEWARD_YES_NO)
RACEWARD_TERM(Mounting, RACEWARD_MOUNTINGS)
RACEWARD_TERM(BodyForm, RACEWARD_BODY_FORMS)
RACEWARD_TERM(PieceKind, RACEWARD_PIECE_KINDS)
RACEWARD_TERM(Bender, RACEWARD_BENDERS)
RACEWARD_TERM(Building, RACEWARD_BUILDINGS)
RACEWARD_TERM(Disconnect, RACEWARD_DISCONNECTS)
RACEWARD_TERM(System, RACEWARD_SYSTEMS)
RACEWARD_TERM(Electrode, RACEWARD_ELECTRODES)
RACEWARD_TERM(Fitting, RACEWARD_FITTINGS)
RACEWARD_TERM(Knockout, RACEWARD_KNOCKOUTS)
RACEWARD_TERM(SupportKind, RACEWARD_SUPPORT_KINDS)
RACEWARD_TERM(DeviceKind, RACEWARD_DEVICE_KINDS)
RACEWARD_TERM(StopTreatment, RACEWARD_STOP_TREATMENTS)
RACEWARD_TERM(Location, RACEWARD_LOCATIONS)
RACEWARD_TERM(Exposure, RACEWARD_EXPOSURES)
RACEWARD_TERM(Beneath, RACEWARD_BENEATHS)
RACEWARD_TERM(Finish, RACEWARD_FINISHES)
RACEWARD_TERM(Opposite, RACEWARD_OPPOSITES)
RACEWARD_TERM(AreaUse, RACEWARD_AREA_USES)
RACEWARD_TERM(FloorUse, RACEWARD_FLOOR_USES)
RACEWARD_TERM(Occupancy, RACEWARD_OCCUPANCIES)
RACEWARD_TERM(CircuitKind, RACEWARD_CIRCUIT_KINDS)
RACEWARD_TERM(CircuitService, RACEWARD_CIRCUIT_SERVICES)
RACEWARD_TERM(Protection, RACEWARD_PROTECTIONS)
RACEWARD_TERM(TripCurve, RACEWARD_TRIP_CURVES)
RACEWARD_TERM(GroundedBy, RACEWARD_GROUNDED_BY)
RACEWARD_TERM(Horsepower, RACEWARD_HORSEPOWERS)
RACEWARD_TERM(Overload, RACEWARD_OVERLOADS)
RACEWARD_TERM(JumperRouting, RACEWARD_JUMPER_ROUTINGS)
RACEWARD_TERM(Windings, RACEWARD_WINDINGS)

}  // namespace raceward::installation
