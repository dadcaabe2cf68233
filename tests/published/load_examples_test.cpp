// Published numbers of loads of panels, from a document to the figure or the verdict. The source stands
// beside each; all were read in stored copies of public pages.
//
// Not here: the neutral loads of dwellings, which no figure gives; ten receptacles of general use on 15 A
// (RL-06), which nobody published: it is recalled, and reckoned as RL-03 is.
#include <gtest/gtest.h>

#include <string>
#include <vector>

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

/// Equipment of a dwelling on a circuit of its own.
struct Appliance {
  std::string kind, load;
  std::string voltage = "240V";
};

/// A dwelling of 240 V with its floor area and what is on circuits of its own.
std::string dwelling(int square_feet, const std::string& main, const std::vector<Appliance>& appliances,
                     bool separately = false) {
  std::string devices, rest;
  for (std::size_t i = 0; i < appliances.size(); ++i) {
    const Appliance& a = appliances[i];
    const std::string n = std::to_string(i + 1);
    const bool two = a.voltage == "240V";
    devices += "<overcurrent-device id=\"P1-" + n + "\" rating=\"20A\" poles=\"" + (two ? "2" : "1") + "\"/>";
    rest +=
        "<equipment id=\"K" + n + "\" area=\"A1\" kind=\"" + a.kind + "\" load=\"" + a.load +
        "\" voltage=\"" + a.voltage + "\" continuous=\"no\"/><raceway id=\"R" + n +
        "\" type=\"EMT\" trade-size=\"1\" from=\"P1\" to=\"K" + n +
        "\" area=\"A1\" length=\"9ft\"/><circuit id=\"C" + n +
        "\" kind=\"branch\" serves=\"equipment\" protected-by=\"P1-" + n + "\" voltage=\"" + a.voltage +
        "\" voltage-to-ground=\"120V\" load=\"" + a.load +
        "\"><conductor id=\"h\" role=\"ungrounded\" size=\"6 AWG\" count=\"" + (two ? "2" : "1") +
        "\"/><conductor id=\"n\" role=\"grounded\" size=\"6 AWG\"/><run><stop place=\"P1\"/><stop place=\"K" +
        n + "\" conductors=\"terminated\"/></run></circuit>";
  }
  if (separately)
    rest +=
        "<attest fact=\"heaters-controlled-separately\" of=\"P1\" by=\"the installer\" on=\"2026-05-01\"/>";
  return "<installation xmlns=\"urn:raceward:installation:1\" id=\"test\" ruleset=\"nec-2023\" "
         "occupancy=\"dwelling\"><area id=\"A1\" use=\"living\"/><panel id=\"P1\" area=\"A1\" "
         "voltage=\"240V\" rating=\"200A\" building=\"same\" devices-complete=\"yes\" main=\"" +
         main + "\" floor-square-feet=\"" + std::to_string(square_feet) + "\">" + devices + "</panel>" +
         rest + "</installation>";
}

double amperes_of(const std::string& xml, std::string_view ruleset) {
  return test::figure_of(xml, "panel-load", {}, ruleset);
}

// NFPA 70-2005, Annex D, example D1(a): 1500 square feet, a range of 12 kW, a dryer of 5.5 kW: 18 600 VA by
// the standard method. The optional one, which would make less, is out of reach at 90 A.
TEST(PublishedLoads, OneFamilyDwellingByTheStandardMethod) {
  const std::string xml = dwelling(1500, "90A", {{"range", "50A"}, {"dryer", "22.916667A"}});
  for (const char* ruleset : {"nec-2014", "nec-2017", "nec-2020", "nec-2023"})
    EXPECT_NEAR(amperes_of(xml, ruleset), 18600.0 / 240, 0.001) << ruleset;
}

// The same, example D2(a): range 12 kW, water heater 2.5 kW, dishwasher 1.2 kW, dryer 5 kW, heating of 9 kW
// in five rooms, air conditioning of 6 A: 21 480 VA by the optional method.
TEST(PublishedLoads, HeatingMoreThanAirConditioning) {
  std::vector<Appliance> all = {{"range", "50A"},
                                {"water-heater", "10.416667A"},
                                {"dishwasher", "10A", "120V"},
                                {"dryer", "20.833333A"},
                                {"air-conditioner", "6A"}};
  for (int room = 0; room < 5; ++room) all.push_back({"space-heater", "7.5A"});
  EXPECT_NEAR(amperes_of(dwelling(1500, "100A", all, true), "nec-2023"), 21480.0 / 240, 0.001);
}

// The same, example D2(b): two ovens of 4 kW, a cooking unit of 5.1 kW, water heater 4.5 kW, dishwasher 1.2
// kW, washer and dryer 5 kW, six air conditioners of 7 A, a heater of 1.5 kW: 29 200 VA.
TEST(PublishedLoads, AirConditioningMoreThanHeating) {
  std::vector<Appliance> all = {{"oven", "16.666667A"},        {"oven", "16.666667A"},
                                {"cooktop", "21.25A"},         {"water-heater", "18.75A"},
                                {"dishwasher", "10A", "120V"}, {"dryer", "20.833333A"},
                                {"space-heater", "6.25A"}};
  for (int i = 0; i < 6; ++i) all.push_back({"air-conditioner", "7A"});
  EXPECT_NEAR(amperes_of(dwelling(1500, "125A", all), "nec-2023"), 29200.0 / 240, 0.001);
}

// Continuing-education article 'Single Family Dwelling Calculation, Optional Method', 18 Jul 2016: 2800
// square feet, range 14 kW, water heater 3 kW, dryer 5 kW, dishwasher 1.5 kW, central heating 15 kW, air
// conditioning 29 A: 30 310 VA, 126 A.
TEST(PublishedLoads, CentralHeatingByTheOptionalMethod) {
  const std::vector<Appliance> all = {{"range", "58.333333A"}, {"water-heater", "12.5A"},
                                      {"dryer", "20.833333A"}, {"dishwasher", "12.5A", "120V"},
                                      {"furnace", "62.5A"},    {"air-conditioner", "29A"}};
  EXPECT_NEAR(amperes_of(dwelling(2800, "150A", all), "nec-2014"), 30310.0 / 240, 0.001);
}

// Course worksheet on a residential service of 2800 square feet: lighting, two circuits of small appliances
// and the laundry are 12 900 VA, of which 6465 VA count.
TEST(PublishedLoads, GeneralLightingOfTheWorksheet) {
  const std::string xml = dwelling(2800, "90A", {{"refrigerator", "5A", "120V"}});
  EXPECT_NEAR(amperes_of(xml, "nec-2017"), 6465.0 / 240, 0.001);
}

}  // namespace
}  // namespace raceward::published
