// Published examples to BS 7671 and the guide to it, from a document to the figure and the verdict. The
// source stands beside each; all were read in stored copies of public pages. Each of them is here.
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "support/check_text.hpp"

namespace raceward::published {
namespace {

constexpr std::string_view bs = "bs-7671-2018";

struct Laid {
  int count;
  std::string size, insulation = "PVC-70C", construction = "stranded";
};

/// A raceway R1 of these attributes and this course, from the panel to a box, with these cables.
std::string raceway(const std::string& attributes, const std::string& course,
                    const std::vector<Laid>& cables) {
  std::string out = "<box id=\"B1\"/>\n<raceway id=\"R1\" " + attributes + " from=\"P1\" to=\"B1\">" +
                    course + "</raceway>\n<wiring id=\"W1\">";
  int number = 0;
  for (const Laid& c : cables)
    out += "<conductor id=\"c" + std::to_string(++number) + "\" role=\"spare\" size=\"" + c.size +
           "\" construction=\"" + c.construction + "\" insulation=\"" + c.insulation + "\" count=\"" +
           std::to_string(c.count) + "\"/>";
  return test::installation(out + "<run><stop place=\"P1\"/><stop place=\"B1\"/></run></wiring>\n");
}

bool complies(const std::string& xml, std::string_view rule) {
  const LedgerLine line = test::ledger(test::check_text(xml, bs), rule);
  EXPECT_EQ(line.complies + line.violates, 1U) << "not judged";
  return line.complies == 1;
}

std::string conduit(const std::string& size) { return "type=\"steel-conduit\" trade-size=\"" + size + "\""; }

double figure(const std::string& xml, std::string_view name, std::string_view subject = "R1") {
  return test::figure_of(xml, name, subject, bs);
}

// DE1. R&M Electrical Group, conduit and trunking capacity chart: six 4 mm2 in 3 m of straight conduit, 6 x
// 58 = 348, 20 mm (460).
TEST(PublishedBritish, SixCablesInShortStraightConduit) {
  const auto in = [](const std::string& size) {
    return raceway(conduit(size), "<straight length=\"3m\"/>", {{6, "4 mm2"}});
  };
  EXPECT_EQ(figure(in("20 mm"), "cable-factors"), 348);
  EXPECT_EQ(figure(in("20 mm"), "conduit-factor"), 460);
  EXPECT_TRUE(complies(in("20 mm"), "cable-factors"));
  EXPECT_FALSE(complies(in("16 mm"), "cable-factors"));
}

// DE2. eeetechs4u, conduit factors and cable calculation with bends, March 2022: 3 x 2.5, 4 x 1.5 and 4 x 1
// mm2 with three bends in 5 m, 242: one conduit of 25 mm (260), and one of 20 mm (141) is not enough.
TEST(PublishedBritish, ElevenCablesWithThreeBends) {
  const std::string bend = "<bend angle=\"90deg\" radius=\"60mm\" length=\"100mm\"/>";
  const auto in = [&](const std::string& size) {
    return raceway(conduit(size), "<straight length=\"4.7m\"/>" + bend + bend + bend,
                   {{3, "2.5 mm2"}, {4, "1.5 mm2"}, {4, "1 mm2"}});
  };
  EXPECT_EQ(figure(in("25 mm"), "cable-factors"), 242);
  EXPECT_EQ(figure(in("25 mm"), "conduit-factor"), 260);
  EXPECT_EQ(figure(in("20 mm"), "conduit-factor"), 141);
  EXPECT_TRUE(complies(in("25 mm"), "cable-factors"));
  EXPECT_FALSE(complies(in("20 mm"), "cable-factors"));
}

// DE3. Econoprint trade catalogue, p. 248: 10 x 35 mm2 (factor 95) and 16 x 4 mm2 (18.1), 1239.6: 75 x 50 mm
// (1555).
TEST(PublishedBritish, TrunkingByFactors) {
  const auto in = [](const std::string& width) {
    return raceway("type=\"wireway-metal\" width=\"" + width + "\" height=\"50mm\"",
                   "<straight length=\"5m\"/>", {{10, "35 mm2", "XLPE-90C"}, {16, "4 mm2", "XLPE-90C"}});
  };
  EXPECT_DOUBLE_EQ(figure(in("75mm"), "cable-factors"), 1239.6);
  EXPECT_EQ(figure(in("75mm"), "conduit-factor"), 1555);
  EXPECT_TRUE(complies(in("75mm"), "cable-factors"));
  EXPECT_FALSE(complies(in("50mm"), "cable-factors"));
}

/// A circuit C1 with lines of 10 mm2 and that protective conductor. What its loop lets through is
/// `impedance`.
std::string circuit(const std::string& impedance, const std::string& protective) {
  const auto conductor = [](const char* id, const char* role, const std::string& size) {
    return std::string("<conductor id=\"") + id + "\" role=\"" + role + "\" size=\"" + size +
           "\" material=\"copper\" insulation=\"PVC-70C\" construction=\"stranded\"/>";
  };
  return test::installation(
      "<box id=\"B1\"/>\n<raceway id=\"R1\" type=\"steel-conduit\" trade-size=\"25 mm\" from=\"P1\" "
      "to=\"B1\"/>\n"
      "<circuit id=\"C1\" kind=\"branch\" protected-by=\"P1-1\" voltage-to-ground=\"230V\" "
      "loop-impedance=\"" +
      impedance + "\">" + conductor("l", "ungrounded", "10 mm2") + conductor("n", "grounded", "10 mm2") +
      conductor("e", "equipment-grounding", protective) +
      "<run><stop place=\"P1\"/><stop place=\"B1\"/></run></circuit>\n");
}

// DE4. IET forum, 'Minimum size of cpc': a breaker D6, 120 A for 0.4 s, k 115: 0.66 mm2, so 1.0 mm2.
TEST(PublishedBritish, ProtectiveConductorForADBreaker) {
  constexpr auto lets_120_amperes = "1.916667ohm";
  EXPECT_NEAR(figure(circuit(lets_120_amperes, "1 mm2"), "protective-conductor-by-fault", "C1"), 0.66, 0.005);
  EXPECT_TRUE(complies(circuit(lets_120_amperes, "1 mm2"), "protective-conductor"));
}

// DE5. The same thread: 328 A for 0.4 s, k 115: 1.80 mm2, so 2.5 mm2.
TEST(PublishedBritish, ProtectiveConductorFor328Amperes) {
  constexpr auto lets_328_amperes = "0.70122ohm";
  EXPECT_NEAR(figure(circuit(lets_328_amperes, "2.5 mm2"), "protective-conductor-by-fault", "C1"), 1.80,
              0.005);
  EXPECT_TRUE(complies(circuit(lets_328_amperes, "2.5 mm2"), "protective-conductor"));
  EXPECT_FALSE(complies(circuit(lets_328_amperes, "1.5 mm2"), "protective-conductor"));
}

// DE6. NICEIC Connections, Spring 2015, p. 61: a fuse to BS 88-3, system C, of 32 A for 0.4 s: what may be
// measured is 0.8 of the table's value, 0.72 ohm rounded down.
TEST(PublishedBritish, MeasuredImpedanceOfAFuse) {
  const auto measured = [](const std::string& impedance) {
    return "<installation xmlns=\"urn:raceward:installation:1\" id=\"t\"><panel "
           "id=\"P1\"><overcurrent-device "
           "id=\"P1-1\" rating=\"32A\" kind=\"fuse\" characteristic=\"BS-88-3\" "
           "ground-fault=\"none\"/></panel>"
           "<box id=\"B1\"/><raceway id=\"R1\" type=\"steel-conduit\" trade-size=\"25 mm\" from=\"P1\" "
           "to=\"B1\"/>"
           "<circuit id=\"C1\" kind=\"branch\" protected-by=\"P1-1\" voltage-to-ground=\"230V\" "
           "loop-impedance=\"" +
           impedance +
           "\"><conductor id=\"l\" role=\"ungrounded\" size=\"6 mm2\" material=\"copper\" "
           "insulation=\"PVC-70C\"/>"
           "<run><stop place=\"P1\"/><stop place=\"B1\"/></run></circuit></installation>";
  };
  const double limit = figure(measured("0.5ohm"), "loop-impedance-limit", "C1");
  EXPECT_GE(limit, 0.72);
  EXPECT_LT(limit, 0.73);
  EXPECT_TRUE(complies(measured("0.72ohm"), "loop-impedance"));
  EXPECT_FALSE(complies(measured("0.73ohm"), "loop-impedance"));
}

}  // namespace
}  // namespace raceward::published
