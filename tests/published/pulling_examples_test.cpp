// Published weights of conductors and advice on pulling them, from a document to the figure. The source
// stands beside each; all were read in stored copies of public pages.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <string>

#include "support/check_text.hpp"

namespace raceward::published {
namespace {

/// Three conductors alike in tubing whose course is told by points.
std::string three(const std::string& size, const std::string& points, const std::string& material = "copper",
                  const std::string& trade_size = "4") {
  std::string out = "<box id=\"B1\" accessible=\"yes\"/>\n<raceway id=\"R1\" type=\"EMT\" trade-size=\"" +
                    trade_size + "\" from=\"P1\" to=\"B1\">" + points + "</raceway>\n<wiring id=\"W1\">";
  for (const char* id : {"a", "b", "c"})
    out += std::string("<conductor id=\"") + id + "\" role=\"control\" size=\"" + size + "\" material=\"" +
           material + "\" insulation=\"THHN/THWN-2\" construction=\"stranded\"/>";
  return test::installation(out + "<run><stop place=\"P1\"/><stop place=\"B1\"/></run></wiring>\n");
}

std::string level(const std::string& feet) {
  return "<point at=\"0ft 0ft 0ft\"/><point at=\"" + feet + "ft 0ft 0ft\"/>";
}

double share(const std::string& xml) { return test::figure_of(xml, "pulling-share", "R1"); }

constexpr double friction = 0.5;  // PT-03: a wire distributor's technical guide, where it is not known
constexpr double of_circular_mil = 0.008;  // PT-03: pounds, of copper
constexpr double most = 10000;  // a cable maker on pulling tensions: pounds, or what the device bears

// A maker's table of THHN (PVC and nylon, 600 V): 24 lb for 1000 ft of 12 AWG, 38 of 10, 98 of 6, 155 of 4.
// Circular mils: Table 8, as every table of wire sizes has them.
TEST(PublishedPulling, WeightsOfBuildingWire) {
  struct Wire {
    const char* size;
    double circular_mils, pounds;
  };
  for (const Wire& wire : {Wire{"12 AWG", 6530, 24}, Wire{"10 AWG", 10380, 38}, Wire{"6 AWG", 26240, 98},
                           Wire{"4 AWG", 41740, 155}}) {
    const double bears = std::min(most, 3 * of_circular_mil * wire.circular_mils);
    const double weight = share(three(wire.size, level("100"))) / 100 * bears / (3 * 100 * friction);
    EXPECT_NEAR(weight * 1000, wire.pounds, wire.pounds * 0.04) << wire.size;
  }
}

// PT-01: a maker's conduit manual, p. 68: T / (W f), 340 lb over 0.144 lb/ft and 0.5, is 4722 ft of level
// conduit. So long a run of ours takes what its conductors bear, each in its measure.
TEST(PublishedPulling, LongestLevelPull) {
  const double once = share(three("12 AWG", level("100"))) / 100;
  const double bears = 3 * of_circular_mil * 6530;
  const double weight = once * bears / (100 * friction);
  const double longest = 4722 * (bears / 340) * (0.144 / weight);
  EXPECT_NEAR(share(three("12 AWG", level(std::to_string(longest)))), 100, 0.2);
}

// A magazine of the trade on pulling cable: 0.006 lb for each circular mil of aluminum, 0.008 of copper, of
// which three of 4/0 bear 5078 lb.
TEST(PublishedPulling, AluminumAndCopper) {
  const double copper = share(three("4/0 AWG", level("1000")));
  const double bears = std::min(most, 3 * of_circular_mil * 211600);
  EXPECT_NEAR(copper, 3 * 0.716 * 1000 * friction / bears * 100, copper * 0.04);  // 716 lb for 1000 ft
  // 4 AWG: three of aluminum bear 751 lb.
  const double aluminum = share(three("4 AWG", level("1000"), "aluminum"));
  const double metal = 41740 * std::numbers::pi / 4 / 1e6, whole = 0.0824;  // Table 5, square inches
  const double weight = 12 * (metal * 0.0975 + (whole - metal) * 0.051);    // aluminum of 2.70 g/cm3
  EXPECT_NEAR(aluminum, 3 * weight * 1000 * friction / (3 * 0.006 * 41740) * 100, aluminum * 0.02);
}

// The capstan equation by the standard library: after a bend, e to the friction times the angle of what was
// before it, whichever guide of the trade is asked. Straight down 10 ft and up 10 ft take more than level.
TEST(PublishedPulling, BendsAndRises) {
  const std::string legs =
      "<point at=\"0ft 0ft 0ft\"/><point at=\"500ft 0ft 0ft\" radius=\"10ft\"/>"
      "<point at=\"500ft 100ft 0ft\"/>";
  const double straight = share(three("12 AWG", level("1000")));
  const double turn = std::exp(friction * std::numbers::pi / 2);
  // From the panel: 500 ft, the bend, 100 ft; from the box: 100 ft, the bend, 500 ft, which is easier.
  EXPECT_NEAR(share(three("12 AWG", legs)), straight / 1000 * (100 * turn + 500), 0.02);
  const std::string up = "<point at=\"0ft 0ft 0ft\"/><point at=\"0ft 0ft 100ft\"/>";
  EXPECT_NEAR(share(three("12 AWG", up)), 0, 1e-6) << "from above they fall by themselves";
}

}  // namespace
}  // namespace raceward::published
