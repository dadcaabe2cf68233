// The installation as written: places and raceways, circuits, conductors, devices, in flat arrays.
//
// The loader fills it (document/), the graph and the routes are derived from it (graph.hpp, routes.hpp),
// figures read it. Everything is an index into one of the vectors of Model; texts point into Model::bytes
// and Model::texts. After loading nothing changes. Per element: an offset of its name in the file, from which
// line and column are found when needed.
//
// Comments give the XML element and attribute where the name differs from the member's.
#pragma once

#include <cstdint>
#include <limits>
#include <string>
#include <string_view>
#include <vector>

#include "installation/bytes.hpp"
#include "installation/terms.hpp"
#include "installation/texts.hpp"
#include "raceward/quantity.hpp"
#include "raceward/subject.hpp"

namespace raceward::installation {

/// A quantity that the document may leave out.
template <class Q>
struct Maybe {
  std::int64_t raw = std::numeric_limits<std::int64_t>::min();

  constexpr Maybe() = default;
  constexpr Maybe(Q q) : raw(q.count()) {}  // NOLINT(google-explicit-constructor)
  [[nodiscard]] constexpr bool known() const { return raw != std::numeric_limits<std::int64_t>::min(); }
  /// REQUIRES: known().
  constexpr Q operator*() const { return Q::steps(raw); }
};

using Index = std::uint32_t;
inline constexpr Index none = 0xffffffffu;

/// Byte offset of an element's name in the file.
using Offset = std::uint32_t;

/// A slice of one of the model's vectors.
struct Range {
  Index first = 0;
  Index count = 0;
  [[nodiscard]] Index end() const { return first + count; }
};

/// <area id name use location ambient damage corrosive finished sink vehicle-bays outlets-complete>
struct Area {
  Offset source = 0;
  std::string_view id, name;
  AreaUse use{};
  Location location{};
  Exposure damage{};
  YesNo corrosive{};
  YesNo sunlit{};
  YesNo finished{};                         // of a basement
  YesNo sink{};                             // in it or near it
  YesNo outlets_complete{};                 // outlets-complete: all of its receptacles are in the document
  std::uint16_t vehicle_bays = 0;           // vehicle-bays, of a garage; 0: not stated
  Maybe<Temperature> ambient, ambient_low;  // ambient-low
};

/// <ring> or <cover> of a box: what adds volume or closes it.
struct Cover {
  Offset source = 0;
  enum class Kind : std::uint8_t {
    unstated,
    plaster_ring,
    extension_ring,
    raised_cover,
    flat_cover,
    blank_cover,
    device_cover,
    weatherproof_cover
  } kind{};
  YesNo in_use{};                      // in-use: weatherproof while in use
  YesNo grounding_listed{};            // listed-for-grounding: grounds the receptacle on it
  Maybe<Volume> volume;                // marked volume
  Maybe<Length> width, height, depth;  // of an extension ring made to a standard size
};

/// <spacing between="R1 R2" distance="14in"/> in a box: between the entries of two raceways, edge to edge.
struct EntrySpacing {
  Offset source = 0;
  Index first = none, second = none;  // raceways
  Maybe<Length> distance;
};

/// <support-fitting kind="stud|hickey"/> in a box, one element a kind.
struct SupportFitting {
  Offset source = 0;
  bool hickey = false;
};

/// <panel>, <box>, <conduit-body>, <equipment>, <joint>. Members that a kind has no use for stay unstated.
struct Place {
  Offset source = 0;
  PlaceKind kind{};
  BoxKind box_kind{};      // box: kind
  BoxSize box_size{};      // box: size
  BodyForm form{};         // conduit-body: form
  TradeSize trade_size{};  // conduit-body, joint: trade-size
  EnclosureMaterial material{};
  Mounting mounting{};
  YesNo accessible{};
  YesNo cover{};                   // covered: a cover is on
  YesNo internal_clamps{};         // box: internal-clamps
  YesNo wet_listed{};              // box: listed-wet
  YesNo ringed_listed{};           // box: listed-bonding (knockouts listed for bonding)
  YesNo conductors_marked{};       // box, conduit-body: marked-for-conductors
  GroundedBy grounded_by{};        // grounded-by
  YesNo unused_openings_closed{};  // unused-openings-closed
  Fitting fitting{};               // joint: fitting
  YesNo raintight{};               // joint: raintight
  Finish finish{};                 // box: finish
  Opposite opposite{};             // panel: opposite
  std::uint8_t gangs = 1;          // box: gangs
  Index area = none;
  std::string_view id, name;
  std::string_view
      equipment_kind;    // equipment: kind, free word ("kiln", "welder", "compressor", "dust-collector")
  Maybe<Volume> volume;  // marked volume
  Maybe<Length> width, height, depth;                          // inside dimensions
  Maybe<raceward::Area> cross_section;                         // conduit-body: cross-section
  Maybe<Length> x, y, z;                                       // at="x y z"
  Maybe<Length> mounting_height;                               // mounting-height, floor to centre
  Maybe<Length> setback;                                       // from the finished surface
  Maybe<Current> rating;                                       // panel: rating; equipment: load
  Maybe<Voltage> voltage;                                      // panel, equipment
  Maybe<Power> power;                                          // equipment
  std::uint16_t spaces = 0;                                    // panel: spaces (0: not stated)
  std::uint16_t circuits = 0;                                  // panel: most poles listed for (0: not stated)
  YesNo continuous{};                                          // equipment: continuous
  YesNo directory{};                                           // panel: directory complete
  YesNo neutral_bonded{};                                      // panel: neutral-bonded
  FloorUse floor_use{};                                        // panel: floor-use
  Maybe<Current> main;                                         // panel: main
  Maybe<Length> highest_handle;                                // panel: highest-handle
  Maybe<Length> free_conductor;                                // box: free-conductor
  Maybe<Length> free_conductor_outside;                        // box: free-conductor-outside
  Maybe<Length> working_depth, working_width, working_height;  // panel
  YesNo neutrals_one_each{};                                   // panel: neutrals-one-each
  YesNo divided{};                                             // box: divided
  YesNo devices_complete{}, only_circuit{};                    // panel: devices-complete, only-circuit
  YesNo emergency_disconnect{}, emergency_disconnect_marked{};  // panel: of a dwelling
  std::uint8_t supply_parallel = 0;                             // panel: supply-parallel; 0: not stated
  Building building{};                                          // panel: building
  Disconnect disconnect{};                                      // panel: disconnect
  Electrode electrode{};                                        // panel: electrode
  ConductorSize electrode_size{}, ring_size{}, supply_size{};   // panel: electrode-size and so on
  ConductorMaterial electrode_material{}, supply_material{};    // panel: electrode-material, supply-material
  ConductorSize supply_grounded{};                              // panel: supply-grounded-size
  Maybe<Current> disconnect_rating;                             // panel: disconnect-rating
  Maybe<Current> calculated_load;                               // panel: calculated-load
  std::uint32_t floor_square_feet = 0;                          // panel: 0: not stated
  Index fed_by =
      none;  // panel: the circuit whose last stop it is, derived by the loader from fed-by="C9" or none
  Index machine = none;              // equipment: in Model::machines
  Range covers;                      // <ring>, <cover>
  Range spacings;                    // <spacing>
  Range support_fittings;            // <support-fitting>
  std::uint8_t canopy_wires = 0;     // box: canopy-wires, luminaire wires smaller than 14 AWG from a canopy
  std::uint8_t wire_connectors = 0;  // box: wire-connectors, and 1; 0: not stated
};

/// What the nameplate of <equipment> says beyond load, voltage and power, and how it is guarded.
struct Machine {
  Horsepower horsepower{};
  YesNo appliance{};
  Overload overload{};
  Windings windings{};
  YesNo secondary_protected{};          // secondary-protected
  ConductorSize jumper_size{};          // jumper-size
  ConductorMaterial jumper_material{};  // jumper-material
  YesNo disconnect_in_sight{};          // disconnect-in-sight
  Maybe<Current> minimum_ampacity;      // minimum-ampacity
  Maybe<Current> maximum_overcurrent;   // maximum-overcurrent
  Maybe<Current> overload_setting;      // overload-setting
  Maybe<Current> effective_current;     // effective-current
  Maybe<Number> service_factor;         // service-factor
  Maybe<Number> duty_cycle;             // duty-cycle
  Index plugged_into = none;            // plugged-into, a receptacle
};

/// <overcurrent-device id rating poles kind protection arc-fault spaces tie-group/> in a panel.
struct OvercurrentDevice {
  Offset source = 0;
  std::string_view id;
  Index panel = none;
  Maybe<Current> rating;
  std::uint8_t poles = 0;                                       // 0: not stated
  std::uint8_t spaces = 0;                                      // 0: not stated
  bool fuse = false;                                            // kind="fuse"; else a circuit breaker
  TripCurve curve{};                                            // characteristic
  Protection protection{};                                      // ground-fault
  YesNo arc_fault{};                                            // arc-fault
  YesNo time_delay{};                                           // time-delay, of a fuse
  YesNo lockable{};                                             // lockable in the open position
  YesNo half_space{};                                           // half-space: each pole takes half a space
  std::uint8_t wires_per_terminal = 0, terminals_made_for = 0;  // 0: not stated
  std::string_view handle_tie;  // handle-tie: devices with the same word open together
  bool untied = false;          // handle-tie is none
};

/// One piece of a raceway's course, in order from its `from` end.
struct Piece {
  Offset source = 0;
  PieceKind kind{};
  Bender bender{};
  Fitting fitting{};       // coupling, expansion: fitting
  YesNo raintight{};       // coupling: raintight
  std::uint8_t bends = 0;  // saddle: bends (3 or 4); 0: not stated
  Maybe<Length>
      length;  // straight, coupling, expansion: length; bend/offset/saddle: developed length, may be absent
  Maybe<Angle>
      angle;  // bend: its angle; offset: each bend's angle; saddle: the middle (or each) bend's angle
  Maybe<Angle> angle_outer;  // saddle of three bends: outer-angle of the two outer bends
  Maybe<Length> radius;      // to the centre line
  Maybe<Length> rise;        // offset, saddle: rise
};

/// <point at="x y z" radius bender/> of a polyline course.
struct Point {
  Offset source = 0;
  Bender bender{};  // of the bend at this point
  Length x, y, z;
  Maybe<Length> radius;  // of the bend at this point
};

/// <support at="3ft" kind fastened-to/> along the developed length from the `from` end.
struct Support {
  Offset source = 0;
  SupportKind kind{};
  Maybe<Length> at;
};

/// One end of a raceway: <end place="B1" fitting knockout listed tight wall bonded/>.
struct RacewayEnd {
  Offset source = 0;  // 0: no <end> element is written for it
  Index place = none;
  Fitting fitting{};
  Knockout knockout{};
  YesNo listed{};
  YesNo raintight{};
  YesNo tight{};
  YesNo bonded{};         // bonding jumper or bushing around this connection
  std::uint8_t wall = 0;  // wall of the box: 0 not stated, 1 left 2 right 3 top 4 bottom 5 back 6 front
  std::uint8_t row = 0;   // row of entries on that wall, from 1; 0: not stated
};

/// <raceway id type trade-size from to ...>
struct Raceway {
  Offset source = 0;
  RacewayType type{};
  TradeSize trade_size{};
  RacewayMetal material{};      // where the type leaves it open; else taken for steel
  YesNo supports_none{};        // supports="none": there are none, and that is a statement
  YesNo no_fastening_point{};   // no-fastening-point: structure gives none within the usual distance
  YesNo threaded_couplings{};   // threaded-couplings: straight run, threaded couplings throughout
  YesNo vertical_riser{};       // vertical-riser
  YesNo flexibility_needed{};   // flexibility-needed
  YesNo ceiling_whip{};         // ceiling-whip: to what hangs in an accessible ceiling
  YesNo fished{};               // fished, where it cannot be fastened
  YesNo accepted_unfastened{};  // accepted-unfastened
  YesNo reamed{};               // attested
  YesNo unbroken{};  // unbroken: no coupling between the ends; derived from pieces where they are given
  YesNo grounding_listed{};     // listed-for-grounding (flexible types)
  YesNo movement{};             // moves-after-installation
  Exposure damage{};            // where it differs from the area's
  YesNo corrosion_protected{};  // corrosion-protected
  YesNo place_listed{};         // listed-for-place
  YesNo heat_listed{};          // listed-for-heat
  YesNo divided{};              // a barrier in it
  YesNo in_earth{};             // in-earth
  Beneath beneath{};
  bool polyline = false;  // the course is given by points
  Index area = none;
  std::string_view id, name;
  RacewayEnd ends[2];  // from, to
  Range pieces;        // empty: the course is not stated
  Range points;
  Range supports;
  Maybe<Length> length;  // stated total developed length, where no course is given
  Maybe<Length> burial_depth;
  Maybe<Length> above_roof;     // above-roof
  Maybe<Length> width, height;  // wireways: inside
};

/// A kind of conductor: all that its area and its allowances depend on. Interned: few in a document.
struct ConductorKind {
  ConductorSize size{};
  ConductorMaterial material{};
  Construction construction{};
  std::uint64_t insulations = 0;  // bit n: Insulation n+1; 0: not stated
  Maybe<Length> diameter;         // stated outside diameter: multiconductor cables, types not in a table
  bool cable = false;             // several conductors under one jacket: one conductor for raceway fill
  friend bool operator==(const ConductorKind& a, const ConductorKind& b) {
    return a.size == b.size && a.material == b.material && a.construction == b.construction &&
           a.insulations == b.insulations && a.diameter.raw == b.diameter.raw && a.cable == b.cable;
  }
};

/// <conductor id role size material insulation color count/> of a circuit or of <wiring>.
struct Conductor {
  Offset source = 0;
  Index circuit = none;
  Index kind = none;  // in Model::conductor_kinds
  Role role{};
  YesNo isolated{};            // an isolated equipment grounding conductor
  YesNo loaded{};              // of a control conductor: it carries so much continuously that it counts
  std::uint16_t count = 1;     // so many alike
  std::uint16_t of_cable = 0;  // 0; else 1 + position of the cable it lies in among the circuit's conductors
  std::string_view id;
  std::string_view identification;  // color or marking as written
};

/// <stop place via conductors/> of a run, in order.
struct Stop {
  Offset source = 0;
  Index place = none;
  StopTreatment ungrounded{};  // conductors="spliced|terminated|through|looped": all but those named below
  StopTreatment
      grounding{};  // grounding="…": equipment grounding conductors, where they are treated differently
  YesNo grounded_pigtailed{};  // grounded-pigtailed
  YesNo bonded{};              // bonded: equipment grounding conductors are connected to this metal box
  Range via;                   // raceways from the former stop to this one, in Model::via; empty: derive it
};

/// <run conductors="…">: conductors of one circuit that travel together past stops.
struct Run {
  Offset source = 0;
  Index circuit = none;
  Range stops;
  Range conductors;  // in Model::run_conductors (indices of conductors)
};

/// <circuit id kind source="P1-1" voltage load continuous> or <wiring id>.
struct Circuit {
  Offset source = 0;
  CircuitKind kind{};
  CircuitService serves{};
  std::string_view id, name;
  Index overcurrent_device = none;  // protected-by
  Maybe<Voltage> voltage;
  Maybe<Voltage> to_ground;  // voltage-to-ground
  Maybe<Current> load;
  YesNo continuous{};
  YesNo nonlinear{};  // most of its load
  YesNo multiwire{};
  ConductorSize least_size{};           // least-size: of its ungrounded conductors
  Maybe<Current> neutral_load;          // neutral-load
  Maybe<Temperature> terminals;         // terminal-temperature
  Maybe<Number> power_factor;           // power-factor
  std::uint8_t parallel = 0;            // conductors of each phase; 0: not stated
  YesNo grouped{};                      // grouped, in the panel
  System system{};                      // wiring: system
  YesNo whole_dwelling{};               // whole-dwelling
  Maybe<Voltage> system_voltage;        // wiring: system-voltage
  Maybe<Voltage> system_to_ground;      // wiring: system-voltage-to-ground
  Maybe<Temperature> marked_terminals;  // wiring: marked-terminals
  Maybe<Resistance> loop;               // loop-impedance
  Range conductors;                     // contiguous in Model::conductors
  Range runs;                           // contiguous in Model::runs
};

/// <device id kind box="B1" circuit="C1" ...>
struct Device {
  Offset source = 0;
  DeviceKind kind{};
  Protection protection{};  // ground-fault
  YesNo arc_fault{}, tamper_resistant{}, weather_resistant{}, isolated_ground{};
  YesNo fed_from_line{}, countertop{}, dedicated{};
  YesNo beside_load{};      // beside-load, of a switch
  Horsepower horsepower{};  // that it is rated for
  GroundedBy grounded_by{};
  std::uint8_t gangs = 0;                                       // gangs that its width needs; 0: not stated
  std::uint8_t yokes = 0;                                       // 0: none, or not stated
  bool no_yoke = false;                                         // yokes: said to be 0
  std::uint8_t receptacles = 0;                                 // 0: not stated
  std::uint8_t wires_per_terminal = 0, terminals_made_for = 0;  // 0: not stated
  ConductorSize conductor_size{};  // largest conductor on its terminals, where stated
  Index box = none;                // place
  Index line_from = none;          // device that protects it: fed-from-load-of
  std::string_view id, name;
  Maybe<Current> rating, load;
  Maybe<Voltage> voltage;
  Maybe<Length> depth, height, sink_distance;
  Range circuits;  // in Model::device_circuits
};

/// <bonding-jumper id from to size material routing length/>: between two places or a place and a raceway.
struct BondingJumper {
  Offset source = 0;
  std::string_view id;
  Index from = none, to = none;  // places
  Index raceway = none;          // where it bridges a raceway's end
  ConductorSize size{};
  ConductorMaterial material{};
  YesNo supply_side{};  // supply-side
  JumperRouting routing{};
  Maybe<Length> length;
};

/// <attest fact of by on/>
struct Attestation {
  Offset source = 0;
  std::string_view fact, of, by, on;
};

/// <fact name of value/>: what the ruleset in force declares
struct StatedFact {
  Offset source = 0;
  std::string_view name, of, value;
};

/// <waiver rule of authority reason on until accepts/>
struct Waiver {
  Offset source = 0;
  std::string_view rule, of, authority, reason, on, until, accepts;
};

/// How often the document uses an attribute: for "what no rule read".
struct Usage {
  std::string_view element, attribute;  // attribute empty: the element itself
  std::uint32_t count = 0;
  Offset first = 0;
};

/// A loaded installation.
struct Model {
  std::string file;                        // name used in places
  Bytes bytes;                             // the file; texts point here
  Texts texts;                             // and here, where they are not as written
  std::vector<std::uint32_t> line_starts;  // offsets of line starts in the file
  std::string_view id, name, ruleset;
  std::string_view permit_date;  // permit-date: "2026-05-01", or empty
  Occupancy occupancy{};
  Offset source = 0;

  std::vector<Area> areas;
  std::vector<Place> places;  // panels, boxes, conduit bodies, equipment, joints in document order
  std::vector<Machine> machines;
  std::vector<Cover> covers;
  std::vector<EntrySpacing> spacings;
  std::vector<SupportFitting> support_fittings;
  std::vector<OvercurrentDevice> overcurrent_devices;
  std::vector<Raceway> raceways;
  std::vector<Piece> pieces;
  std::vector<Point> points;
  std::vector<Support> supports;
  std::vector<ConductorKind> conductor_kinds;
  std::vector<Conductor> conductors;
  std::vector<Run> runs;
  std::vector<Index> run_conductors;
  std::vector<Stop> stops;
  std::vector<Index> via;
  std::vector<Circuit> circuits;
  std::vector<Device> devices;
  std::vector<Index> device_circuits;
  std::vector<BondingJumper> bonding_jumpers;
  std::vector<Attestation> attestations;
  std::vector<StatedFact> facts;
  std::vector<Waiver> waivers;
  std::vector<Usage> usage;  // an element before its attributes
  std::uint32_t element_count = 0;
};

/// Line and column (from 1, in bytes) of an offset. O(log lines).
struct LineColumn {
  std::uint32_t line = 0, column = 0;
};
LineColumn locate(const Model& model, Offset offset);
/// Offset of an attribute's name within the element whose name starts at `element`; the element's own where
/// it has no such attribute. Scans the start tag: for messages, not for loops.
Offset locate_attribute(const Model& model, Offset element, std::string_view attribute);

}  // namespace raceward::installation
