// Published examples of circuits and their protection, from a document to the verdict. The source stands
// beside each; all were read in stored copies of public pages.
#include <gtest/gtest.h>

#include <string>

#include "support/check_text.hpp"

namespace raceward::published {
namespace {

enum class Found { complies, violates, undetermined, not_asked };

Found judged(const std::string& xml, std::string_view rule, std::string_view ruleset) {
  const LedgerLine line = test::ledger(test::check_text(xml, ruleset), rule);
  if (line.violates != 0) return Found::violates;
  if (line.undetermined != 0) return Found::undetermined;
  return line.complies != 0 ? Found::complies : Found::not_asked;
}

/// A receptacle without protection of any kind, alone on its circuit.
struct Outlet {
  std::string occupancy = "dwelling", use = "garage", location = "dry";
  std::string rating = "20A", voltage = "125V", breaker = "20A", to_ground = "120V";
  int ungrounded = 1;
  std::string more = "";  ///< attributes of the receptacle
  std::string area = "sink=\"no\"";
};

std::string document(const Outlet& o) {
  return "<installation xmlns=\"urn:raceward:installation:1\" id=\"test\" occupancy=\"" + o.occupancy +
         "\"><area id=\"A1\" use=\"" + o.use + "\" location=\"" + o.location + "\" " + o.area +
         "/><panel id=\"P1\" area=\"A1\"><overcurrent-device id=\"P1-1\" poles=\"1\" ground-fault=\"none\" "
         "arc-fault=\"no\" rating=\"" +
         o.breaker +
         "\"/></panel><box id=\"B1\" area=\"A1\"/><raceway id=\"R1\" type=\"EMT\" from=\"P1\" to=\"B1\"/>"
         "<circuit id=\"C1\" kind=\"branch\" protected-by=\"P1-1\" voltage-to-ground=\"" +
         o.to_ground + "\"><conductor id=\"h\" role=\"ungrounded\" count=\"" + std::to_string(o.ungrounded) +
         "\"/><run><stop place=\"P1\"/><stop place=\"B1\"/></run></circuit>"
         "<device id=\"D1\" kind=\"receptacle\" box=\"B1\" circuit=\"C1\" ground-fault=\"none\" rating=\"" +
         o.rating + "\" voltage=\"" + o.voltage + "\" " + o.more + "/></installation>";
}

Found ground_fault(const Outlet& o, std::string_view ruleset) {
  return judged(document(o), "ground-fault-protection", ruleset);
}

// Articles of wiring-device makers and IAEI Magazine on 210.8(A) of 2020: receptacles of 125 V to 250 V, of
// any rating, up to 150 V to ground; before, 125 V, 15 and 20 A only (a city board's document on 2014).
TEST(GroundFault, GaragesOfDwellings) {
  EXPECT_EQ(ground_fault({}, "nec-2014"), Found::violates);
  const Outlet large{.rating = "50A", .voltage = "250V", .breaker = "50A", .ungrounded = 2};
  EXPECT_EQ(ground_fault(large, "nec-2017"), Found::not_asked);
  EXPECT_EQ(ground_fault(large, "nec-2020"), Found::violates);
  EXPECT_EQ(ground_fault(large, "nec-2023"), Found::violates);
}

// A code academy's article and IAEI Magazine on 210.8(B) of 2017: one phase to 50 A, three phases to 100 A,
// up to 150 V to ground. A 30 A, 208 V receptacle at a sink of a shop.
TEST(GroundFault, AtASinkOfAShop) {
  const Outlet sink{.occupancy = "commercial",
                    .use = "shop",
                    .rating = "30A",
                    .voltage = "250V",
                    .breaker = "30A",
                    .ungrounded = 2,
                    .more = "sink-distance=\"5ft\"",
                    .area = "sink=\"yes\""};
  EXPECT_EQ(ground_fault(sink, "nec-2014"), Found::not_asked);
  EXPECT_EQ(ground_fault(sink, "nec-2017"), Found::violates);
  EXPECT_EQ(ground_fault(sink, "nec-2023"), Found::violates);
  Outlet high = sink;
  high.to_ground = "277V";
  EXPECT_EQ(ground_fault(high, "nec-2023"), Found::not_asked);
}

// Training lesson on the standard ratings of 2023 (expertce.com), and The Daily Reporter of 13 January 2023:
// 10 A is a standard size of breakers from 2023 on.
TEST(StandardRatings, TenAmperes) {
  const std::string xml = document({.breaker = "10A"});
  const std::string_view rule = "overcurrent-rating-standard";
  EXPECT_EQ(judged(xml, rule, "nec-2023"), Found::complies);
  EXPECT_NE(test::finding(test::check_text(xml, "nec-2020"), rule, "P1-1"), nullptr);
  EXPECT_EQ(test::finding(test::check_text(xml, "nec-2023"), rule, "P1-1"), nullptr);
}

// Continuing-education page 1430 on 2023: circuits of 10 A supply no receptacle outlets.
TEST(ReceptacleRatings, NoneOnTenAmperes) {
  const Outlet ten{.rating = "15A", .breaker = "10A", .more = "receptacles=\"2\""};
  EXPECT_EQ(judged(document(ten), "receptacle-rating", "nec-2023"), Found::violates);
}

}  // namespace
}  // namespace raceward::published
