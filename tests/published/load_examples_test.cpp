// Published numbers of loads of panels, from a document to the figure or the verdict. The source stands
// beside each; all were read in stored copies of public pages.
//
// Not here: ten receptacles of general use on 15 A (RL-06), which nobody published: it is recalled, and
// reckoned as RL-03 is.
#include <gtest/gtest.h>

#include <string>

#include "support/check_text.hpp"

namespace raceward::published {
namespace {

/// A panel of 120 V with receptacles on one circuit, of one yoke each.
std::string document(int receptacles, const std::string& main) {
  std::string devices;
  for (int i = 1; i <= receptacles; ++i) {
    devices += "<device id=\"D" + std::to_string(i) +
               "\" kind=\"receptacle\" box=\"B1\" circuit=\"C1\" yokes=\"1\" receptacles=\"2\"/>";
  }
  return "<installation xmlns=\"urn:raceward:installation:1\" id=\"test\" ruleset=\"nec-2023\" "
         "occupancy=\"commercial\"><area id=\"A1\" use=\"workshop\"/><panel id=\"P1\" area=\"A1\" "
         "voltage=\"120V\" rating=\"100A\" main=\"" +
         main +
         "\" building=\"same\" devices-complete=\"yes\"><overcurrent-device id=\"P1-1\" rating=\"20A\" "
         "poles=\"1\"/></panel><box id=\"B1\" area=\"A1\"/>"
         "<raceway id=\"R1\" type=\"EMT\" trade-size=\"1\" from=\"P1\" to=\"B1\" area=\"A1\" length=\"9ft\"/>"
         "<circuit id=\"C1\" kind=\"branch\" protected-by=\"P1-1\" voltage=\"120V\" "
         "voltage-to-ground=\"120V\" "
         "load=\"0A\" continuous=\"no\"><conductor id=\"h\" role=\"ungrounded\" size=\"12 AWG\"/><run>"
         "<stop place=\"P1\"/><stop place=\"B1\" conductors=\"terminated\"/></run></circuit>" +
         devices + "</installation>";
}

// RL-03. Modern Commercial Wiring (Goodheart-Willcox, 2018), p. 175: 180 VA for each strap, so that of V x A
// as many receptacles make up the load as 180 VA go into it: 120 V x 20 A / 180 VA = 13.3.
TEST(PublishedLoads, ThirteenReceptaclesIn20Amperes) {
  EXPECT_DOUBLE_EQ(test::figure_of(document(13, "20A"), "panel-load"), 19.5);
  const LedgerLine thirteen = test::ledger(test::check_text(document(13, "20A")), "panel-load");
  EXPECT_EQ(thirteen.complies, 1U);
  const LedgerLine fourteen = test::ledger(test::check_text(document(14, "20A")), "panel-load");
  EXPECT_EQ(fourteen.violates, 1U);
}

}  // namespace
}  // namespace raceward::published
