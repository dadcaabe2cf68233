#include "support/generate.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <iterator>
#include <random>
#include <string_view>
#include <utility>
#include <vector>

namespace raceward::test {

namespace {

/// Numbers from a seed; the standard distributions differ between libraries.
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : random_(seed) {}
  /// From low to high, both included.
  std::uint32_t roll(std::uint32_t low, std::uint32_t high) {
    return low + static_cast<std::uint32_t>(random_() % (high - low + 1));
  }
  bool happens(double share) { return static_cast<double>(random_() >> 11) < share * 9007199254740992.0; }

 private:
  std::mt19937_64 random_;
};

template <class... T>
void put(std::string& out, fmt::format_string<T...> text, T&&... values) {
  fmt::format_to(std::back_inserter(out), text, std::forward<T>(values)...);
}

/// Inches as people write them: "7ft 3in".
std::string feet(std::uint32_t inches) {
  if (inches < 12) return fmt::format("{}in", inches);
  return inches % 12 == 0 ? fmt::format("{}ft", inches / 12)
                          : fmt::format("{}ft {}in", inches / 12, inches % 12);
}

/// A raceway to be drawn: what it is made of and how its two ends are fastened.
struct Tube {
  std::string_view type = "EMT";
  std::string_view trade_size = "3/4";
  std::string_view radius = "4 1/2in";
  std::array<std::string_view, 2> fittings = {"set-screw-connector", "set-screw-connector"};
  std::uint32_t shapes = 3;  // fewer bends where two raceways make one pull section
};
constexpr Tube tube_for_power{};
constexpr Tube tube_for_light{"EMT", "1/2", "4in", {"set-screw-connector", "set-screw-connector"}};
constexpr Tube tube_to_joint{"EMT", "1/2", "4in", {"set-screw-connector", "combination-coupling"}, 2};
constexpr Tube pipe_from_joint{"IMC", "1/2", "4in", {"combination-coupling", "double-locknut"}, 2};

enum class RacewayFault : std::uint8_t {
  none,
  tight_bend,
  wide_gap,
  far_from_end,
  many_bends,
  no_size,
  no_supports
};
enum class BoxFault : std::uint8_t { none, too_small, not_grounded, no_clamps };
enum class CircuitFault : std::uint8_t { none, small_ground, crowded, no_insulation };

class Generator {
 public:
  explicit Generator(const Generated& wanted)
      : wanted_(wanted),
        left_(wanted.raceways),
        dice_(wanted.seed),
        fault_dice_(wanted.seed ^ 0x9e3779b97f4a7c15u) {}

  std::string write() {
    while (left_ > 0) bay();
    std::string out;
    out.reserve(areas_.size() + places_.size() + raceways_.size() + circuits_.size() + devices_.size() + 512);
    put(out,
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
        "<installation xmlns=\"urn:raceward:installation:1\" id=\"generated-{}\" name=\"Workshops, "
        "generated\" "
        "ruleset=\"nec-2023\" occupancy=\"commercial\">\n",
        wanted_.seed);
    for (const std::string* part : {&areas_, &places_, &raceways_, &circuits_, &devices_}) out += *part;
    out += "</installation>\n";
    return out;
  }

 private:
  /// One area with one panel and what it feeds.
  void bay() {
    ++area_;
    put(areas_,
        "  <area id=\"A{}\" name=\"workshop {}\" use=\"shop\" location=\"dry\" damage=\"exposed\" "
        "corrosive=\"no\" "
        "ambient=\"86F\"/>\n",
        area_, area_);
    panel_ = fmt::format("P{}", area_);
    breakers_ = 0;
    std::string places;
    std::swap(places, places_);  // boxes go behind the panel, which is not complete yet
    put(places,
        "  <panel id=\"{}\" name=\"panel of workshop {}\" area=\"A{}\" rating=\"200A\" main=\"200A\" "
        "voltage=\"240V\" calculated-load=\"150A\" "
        "building=\"other\" disconnect=\"main\" electrode=\"rod\" electrode-size=\"6 AWG\" "
        "electrode-material=\"copper\" "
        "spaces=\"42\" width=\"14in\" highest-handle=\"5ft\" neutral-bonded=\"no\" neutrals-one-each=\"yes\" "
        "material=\"metal\" mounting=\"surface\" grounded-by=\"feeder\" accessible=\"yes\" covered=\"yes\" "
        "unused-openings-closed=\"yes\" directory=\"yes\" working-depth=\"4ft\" working-width=\"4ft\" "
        "working-height=\"7ft\">\n",
        panel_, area_, area_);
    breaker_text_.clear();
    for (int trunks = 0; trunks < 4 && left_ >= 9; ++trunks) trunk();
    if (left_ >= 2) equipment();
    if (left_ >= 4) lighting();
    if (left_ > 0) chain(panel_, {}, std::min(left_, 4u));
    places += breaker_text_;
    places += "  </panel>\n";
    places += places_;
    std::swap(places, places_);
  }

  /// A raceway to a junction box that two circuits pass, and a chain of four boxes for each of them.
  void trunk() {
    const std::string junction = box("square", "4 x 2-1/8", "  <cover kind=\"blank\"/>", false);
    raceway(panel_, junction, tube_for_power);
    chain(junction, junction, 4);
    chain(junction, {}, 4);
  }

  /// Boxes with receptacles, one after the other, on a circuit of their own from the panel. `through` is a
  /// stop on the way where the grounding conductor is connected; empty where the way is left to be derived.
  void chain(const std::string& from, const std::string& through, std::uint32_t length) {
    const CircuitFault fault = circuit_fault();
    const std::string circuit =
        begin_circuit("receptacles", "20A", 1, "120V", "8A", "ground-fault=\"class-a\"");
    conductor("h", "ungrounded", "12 AWG", "black", fault);
    conductor("n", "grounded", "12 AWG", "white", CircuitFault::none);
    grounding_conductor("12 AWG", fault);
    circuits_ += "    <run>\n";
    stop(panel_, "conductors=\"terminated\"");
    if (!through.empty()) stop(through, "conductors=\"through\" grounding=\"spliced\"");
    std::string at = from;
    for (std::uint32_t i = 0; i < length; ++i) {
      const std::string next = box("square", "4 x 2-1/8", "  <cover kind=\"device\"/>", true);
      raceway(at, next, tube_for_power);
      put(devices_,
          "  <device id=\"D{}\" kind=\"receptacle\" box=\"{}\" circuit=\"{}\" rating=\"20A\" "
          "voltage=\"125V\" "
          "gangs=\"1\" yokes=\"1\" grounded-by=\"wire\" ground-fault=\"none\" tamper-resistant=\"yes\" "
          "weather-resistant=\"no\" depth=\"1.2in\"/>\n",
          ++device_, next, circuit);
      stop(next, i + 1 == length ? "conductors=\"terminated\" grounding=\"spliced\""
                                 : "conductors=\"spliced\" grounding=\"spliced\"");
      at = next;
    }
    circuits_ += "    </run>\n  </circuit>\n";
  }

  /// A machine behind a conduit body.
  void equipment() {
    const std::string machine = fmt::format("K{}", area_);
    const std::string body = fmt::format("L{}", area_);
    put(places_,
        "  <conduit-body id=\"{}\" area=\"A{}\" form=\"LB\" trade-size=\"3/4\" volume=\"7in3\" "
        "cross-section=\"1.2in2\" material=\"metal\" accessible=\"yes\" covered=\"yes\" "
        "grounded-by=\"raceway\"/>\n"
        "  <equipment id=\"{}\" name=\"saw\" kind=\"saw\" area=\"A{}\" material=\"metal\" "
        "grounded-by=\"wire\" "
        "load=\"20A\" voltage=\"240V\" power=\"4.8kW\" continuous=\"no\" accessible=\"yes\" "
        "covered=\"yes\" horsepower=\"3\" overload=\"integral\" disconnect-in-sight=\"yes\"/>\n",
        body, area_, machine, area_);
    raceway(panel_, body, tube_for_power);
    raceway(body, machine, tube_for_power);
    const CircuitFault fault = circuit_fault();
    begin_circuit("saw", "30A", 2, "240V", "20A", "");
    conductor("a", "ungrounded", "10 AWG", "black", fault);
    conductor("b", "ungrounded", "10 AWG", "red", CircuitFault::none);
    grounding_conductor("10 AWG", fault);
    circuits_ += "    <run>\n";
    stop(panel_, "conductors=\"terminated\"");
    stop(machine, "conductors=\"terminated\"");
    circuits_ += "    </run>\n  </circuit>\n";
  }

  /// A switch and two lights, the second beyond a joint between tubing and pipe.
  void lighting() {
    const std::string stud = "  <support-fitting kind=\"stud\"/>";
    const std::string control = box("square", "4 x 2-1/8", "  <cover kind=\"device\"/>", true);
    const std::string near = box("octagonal", "4 x 2-1/8", stud, false);
    const std::string far = box("octagonal", "4 x 2-1/8", stud, false);
    const std::string joint = fmt::format("J{}", area_);
    put(places_,
        "  <joint id=\"{}\" area=\"A{}\" fitting=\"combination-coupling\" trade-size=\"1/2\" "
        "material=\"metal\"/>\n",
        joint, area_);
    raceway(panel_, control, tube_for_light);
    raceway(control, near, tube_for_light);
    raceway(near, joint, tube_to_joint);
    raceway(joint, far, pipe_from_joint);
    const CircuitFault fault = circuit_fault();
    const std::string circuit = begin_circuit("lighting", "15A", 1, "120V", "6A", "");
    conductor("h", "ungrounded", "14 AWG", "black", fault);
    conductor("n", "grounded", "14 AWG", "white", CircuitFault::none);
    grounding_conductor("14 AWG", fault == CircuitFault::small_ground ? CircuitFault::none : fault);
    conductor("s", "switched", "14 AWG", "red", CircuitFault::none);
    circuits_ += "    <run conductors=\"h\">\n";
    stop(panel_, "conductors=\"terminated\"");
    stop(control, "conductors=\"terminated\"");
    circuits_ += "    </run>\n    <run conductors=\"s\">\n";
    stop(control, "conductors=\"terminated\"");
    stop(near, "conductors=\"spliced\"");
    stop(far, "conductors=\"terminated\"");
    circuits_ += "    </run>\n    <run conductors=\"n g\">\n";
    stop(panel_, "conductors=\"terminated\"");
    stop(control, "conductors=\"through\" grounding=\"spliced\"");
    stop(near, "conductors=\"spliced\" grounding=\"spliced\"");
    stop(far, "conductors=\"terminated\" grounding=\"spliced\"");
    circuits_ += "    </run>\n  </circuit>\n";
    put(devices_,
        "  <device id=\"D{}\" kind=\"switch\" box=\"{}\" circuit=\"{}\" rating=\"15A\" voltage=\"120V\" "
        "height=\"4ft\" gangs=\"1\" "
        "yokes=\"1\" grounded-by=\"wire\" depth=\"1.2in\"/>\n",
        ++device_, control, circuit);
    for (const std::string& at : {near, far}) {
      put(devices_,
          "  <device id=\"D{}\" kind=\"luminaire\" box=\"{}\" circuit=\"{}\" voltage=\"120V\" "
          "grounded-by=\"wire\"/>\n",
          ++device_, at, circuit);
    }
  }

  std::string box(std::string_view kind, std::string_view size, std::string_view content, bool device) {
    std::string id = fmt::format("B{}", ++box_);
    BoxFault fault = fault_of<BoxFault>(BoxFault::no_clamps);
    if (fault == BoxFault::too_small && !device) fault = BoxFault::not_grounded;
    if (fault == BoxFault::too_small) {
      kind = "device";
      size = "3 x 2 x 1-1/2";
    }
    put(places_,
        "  <box id=\"{}\" area=\"A{}\" kind=\"{}\" size=\"{}\" material=\"metal\" mounting=\"surface\" "
        "accessible=\"yes\" covered=\"yes\"{} grounded-by=\"{}\" unused-openings-closed=\"yes\" "
        "free-conductor=\"8in\" mounting-height=\"4ft\">\n  {}\n  </box>\n",
        id, area_, kind, size, fault == BoxFault::no_clamps ? "" : " internal-clamps=\"no\"",
        fault == BoxFault::not_grounded ? "none" : "wire", content);
    return id;
  }

  /// Three to six pieces: box offsets, straights, and a coupling or one or two bends.
  void raceway(const std::string& from, const std::string& to, const Tube& tube) {
    --left_;
    const auto fault = fault_of<RacewayFault>(RacewayFault::no_supports);
    put(raceways_, "  <raceway id=\"R{}\" type=\"{}\"", ++raceway_, tube.type);
    if (fault != RacewayFault::no_size) put(raceways_, " trade-size=\"{}\"", tube.trade_size);
    put(raceways_, " from=\"{}\" to=\"{}\" area=\"A{}\" reamed=\"yes\">\n", from, to, area_);
    const std::string_view places[] = {from, to};
    for (const std::size_t end : {0u, 1u}) {
      put(raceways_,
          "    <end place=\"{}\" fitting=\"{}\" knockout=\"plain\" listed=\"yes\" tight=\"yes\"/>\n",
          places[end], tube.fittings[end]);
    }
    const std::string_view radius = fault == RacewayFault::tight_bend ? "1in" : tube.radius;
    const std::uint32_t shape = dice_.roll(0, tube.shapes);
    const std::uint32_t first = dice_.roll(84, 108);
    const std::uint32_t second = dice_.roll(60, 96);
    length_ = 0;
    offset(radius);
    straight(first + (fault == RacewayFault::wide_gap ? 144 : 0));
    for (int extra = 0; fault == RacewayFault::many_bends && extra < 4; ++extra) bend(radius);
    if (shape == 1) {
      put(raceways_, "    <coupling fitting=\"{}\" length=\"0in\"/>\n",
          tube.type == "EMT" ? "set-screw-coupling" : "threaded-coupling");
    }
    if (shape >= 2) bend(radius);
    if (shape >= 1) straight(second);
    if (shape == 3) {
      bend(radius);
      straight(36);
    } else {
      offset(radius);
    }
    supports(fault);
    raceways_ += "  </raceway>\n";
  }

  void offset(std::string_view radius) {
    put(raceways_,
        "    <offset angle=\"10deg\" rise=\"3/8in\" radius=\"{}\" bender=\"one-shot\" length=\"5in\"/>\n",
        radius);
    length_ += 5;
  }
  void straight(std::uint32_t inches) {
    put(raceways_, "    <straight length=\"{}\"/>\n", feet(inches));
    length_ += inches;
  }
  void bend(std::string_view radius) {
    put(raceways_, "    <bend angle=\"90deg\" radius=\"{}\" bender=\"one-shot\"/>\n", radius);
    length_ += 7;
  }

  /// Two feet from each end and evenly between, at most six feet apart.
  void supports(RacewayFault fault) {
    if (fault == RacewayFault::no_supports) return;
    const std::uint32_t first = fault == RacewayFault::far_from_end ? 60 : 24;
    const std::uint32_t last = length_ - 24;
    const std::uint32_t gaps = fault == RacewayFault::wide_gap ? 1 : (last - first + 71) / 72;
    for (std::uint32_t i = 0; i <= gaps; ++i) support(first + (last - first) * i / std::max(gaps, 1u));
  }
  void support(std::uint32_t at) { put(raceways_, "    <support at=\"{}\" kind=\"strap\"/>\n", feet(at)); }

  std::string begin_circuit(std::string_view name, std::string_view rating, int poles,
                            std::string_view voltage, std::string_view load, std::string_view protection) {
    const std::string breaker = fmt::format("{}-{}", panel_, ++breakers_);
    put(breaker_text_,
        "    <overcurrent-device id=\"{}\" rating=\"{}\" poles=\"{}\" kind=\"circuit-breaker\"{}{}/>\n",
        breaker, rating, poles, protection.empty() ? "" : " ", protection);
    std::string id = fmt::format("C{}", ++circuit_);
    put(circuits_,
        "  <circuit id=\"{}\" name=\"{}\" kind=\"branch\" protected-by=\"{}\" voltage=\"{}\" "
        "voltage-to-ground=\"120V\" load=\"{}\" continuous=\"no\" multiwire=\"no\" power-factor=\"1\">\n",
        id, name, breaker, voltage, load);
    return id;
  }

  void conductor(std::string_view id, std::string_view role, std::string_view size, std::string_view color,
                 CircuitFault fault) {
    put(circuits_, "    <conductor id=\"{}\" role=\"{}\" size=\"{}\" material=\"copper\"", id, role, size);
    if (fault != CircuitFault::no_insulation) circuits_ += " insulation=\"THHN/THWN-2\"";
    put(circuits_, " construction=\"stranded\" color=\"{}\"", color);
    if (fault == CircuitFault::crowded) circuits_ += " count=\"20\"";
    circuits_ += "/>\n";
  }
  void grounding_conductor(std::string_view size, CircuitFault fault) {
    conductor("g", "equipment-grounding", fault == CircuitFault::small_ground ? "14 AWG" : size, "green",
              CircuitFault::none);
  }

  void stop(std::string_view place, std::string_view treatment) {
    put(circuits_, "      <stop place=\"{}\" {} bonded=\"yes\"/>\n", place, treatment);
  }

  CircuitFault circuit_fault() { return fault_of<CircuitFault>(CircuitFault::no_insulation); }

  template <class Fault>
  Fault fault_of(Fault last) {
    if (!fault_dice_.happens(wanted_.faults)) return Fault::none;
    return static_cast<Fault>(fault_dice_.roll(1, static_cast<std::uint32_t>(last)));
  }

  Generated wanted_;
  std::uint32_t left_;
  Dice dice_, fault_dice_;
  std::uint32_t area_ = 0, box_ = 0, raceway_ = 0, circuit_ = 0, device_ = 0, breakers_ = 0;
  std::string panel_, breaker_text_;  ///< of the bay in hand
  std::uint32_t length_ = 0;          ///< in inches, of the raceway in hand; near enough to place supports
  std::string areas_, places_, raceways_, circuits_, devices_;
};

}  // namespace

std::string generate(const Generated& wanted) { return Generator(wanted).write(); }

}  // namespace raceward::test
