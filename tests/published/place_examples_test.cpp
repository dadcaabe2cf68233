// Published examples about where raceways and boxes are and what is in them, from a document to the figure or
// the verdict. The source stands beside each; all were read in stored copies of public pages.
//
// Not judged: the expansion of steel (PX-04, a mailing list of solar installers on 300.7(B)); a change
// between raceway types without a fitting (ES-06, "What's Wrong Here 182", EC&M, for 300.16).
#include <gtest/gtest.h>

#include <string>

#include "support/check_text.hpp"

namespace raceward::published {
namespace {

enum class Found { complies, violates, advised, undetermined, not_applicable };

Found judged(const std::string& xml, std::string_view rule, std::string_view subject) {
  const Report report = test::check_text(xml);
  const Finding* const f = test::finding(report, rule, subject);
  if (f != nullptr) {
    if (f->kind == Finding::Kind::advised) return Found::advised;
    return f->kind == Finding::Kind::violates ? Found::violates : Found::undetermined;
  }
  return test::ledger(report, rule).complies > 0 ? Found::complies : Found::not_applicable;
}

/// Plastic conduit of so many feet between two temperatures.
std::string plastic(const std::string& length, const std::string& low, const std::string& high,
                    const std::string& sunlit = "no") {
  return test::installation(
      "<area id=\"A2\" use=\"outdoors\" location=\"wet\" ambient-low=\"" + low + "\" ambient=\"" + high +
      "\" sunlit=\"" + sunlit +
      "\"/>\n<box id=\"B1\"/>\n<raceway id=\"R1\" type=\"PVC-40\" trade-size=\"1\" from=\"P1\" "
      "to=\"B1\" area=\"A2\" in-earth=\"no\"><straight length=\"" +
      length + "\"/></raceway>\n");
}

double change(const std::string& xml) { return test::figure_of(xml, "length-change", "R1"); }

// PX-01. Carlon, expansion fittings for PVC conduit: 10 ft and 100 F make "about 3/8 in"; 100 ft more than 4
// in.
TEST(PublishedExpansion, TenFeetGrowByThreeEighths) {
  EXPECT_NEAR(change(plastic("10ft", "0F", "100F")), 0.4056, 1e-9);  // 3.38e-5 x 120 in x 100
  EXPECT_GT(change(plastic("100ft", "0F", "100F")), 4.0);
}

// PX-02. Carlon catalog, temperature considerations, p. E-517: a fitting from 1/4 in on; 30 F more in the
// sun.
TEST(PublishedExpansion, QuarterInchAndThirtyDegreesInTheSun) {
  EXPECT_EQ(judged(plastic("73.96in", "0F", "100F"), "expansion-fitting", "R1"), Found::complies);
  EXPECT_EQ(judged(plastic("73.97in", "0F", "100F"), "expansion-fitting", "R1"), Found::violates);
  EXPECT_DOUBLE_EQ(change(plastic("10ft", "0F", "70F", "yes")), change(plastic("10ft", "0F", "100F")));
}

// PX-03. Carlon catalog, p. E-517, 380 ft from 0 to 140 F; the printed result is cut off, the product is 21.6
// in.
TEST(PublishedExpansion, LongRun) { EXPECT_NEAR(change(plastic("380ft", "0F", "140F")), 21.6, 0.05); }

/// A box whose only conductors are spliced in it.
std::string spliced(const std::string& box, const std::string& treatment = "spliced") {
  return test::installation(
      "<box id=\"B1\" " + box +
      "/>\n<raceway id=\"R1\" type=\"EMT\" trade-size=\"3/4\" from=\"P1\" to=\"B1\"/>\n"
      "<wiring id=\"W1\"><conductor id=\"c\" role=\"spare\" size=\"12 AWG\"/><run><stop "
      "place=\"P1\"/><stop place=\"B1\" conductors=\"" +
      treatment + "\"/></run></wiring>\n");
}

Found free_length(const std::string& box, const std::string& treatment = "spliced") {
  return judged(spliced(box, treatment), "free-conductor", "B1");
}

// FC-02. diy.stackexchange question 301646, quoting 300.14 (2023): a wide opening asks for the 6 in only.
TEST(PublishedFreeConductor, WideOpeningAsksForSixInchesOnly) {
  EXPECT_EQ(free_length("width=\"8in\" height=\"8in\" depth=\"7in\" free-conductor=\"6in\""),
            Found::complies);
  EXPECT_EQ(free_length("width=\"7.9in\" height=\"8in\" depth=\"7in\" free-conductor=\"6in\" "
                        "free-conductor-outside=\"1in\""),
            Found::violates);
}

// FC-04. Forum thread "Section 300.14" (forums.mikeholt.com thread 2585745): what passes unbroken is exempt.
// That the 6 in may be spliced (FC-03, the same thread) needs nothing: the length is stated as it is in the
// end.
TEST(PublishedFreeConductor, PassingUnbrokenIsExempt) {
  EXPECT_EQ(free_length("depth=\"2in\" free-conductor=\"0in\"", "through"), Found::not_applicable);
}

// FC-05 and FC-06. Forum thread "300.14 and free conductor length" (forums.mikeholt.com thread 32873):
// measured from where it leaves its raceway; in a box 3 in deep 6 in suffice, of which 3 in are outside.
TEST(PublishedFreeConductor, DeepBoxAsksForNoMore) {
  EXPECT_EQ(free_length("depth=\"3in\" free-conductor=\"6in\""), Found::complies);
  EXPECT_EQ(free_length("depth=\"3in\" free-conductor=\"5.999in\""), Found::violates);
}

/// Three cables alike in a raceway.
std::string three(const std::string& type, const std::string& size, const std::string& across) {
  std::string out = "<box id=\"B1\"/>\n<raceway id=\"R1\" type=\"" + type + "\" trade-size=\"" + size +
                    "\" from=\"P1\" to=\"B1\"/>\n<wiring id=\"W1\">";
  for (const char* id : {"a", "b", "c"})
    out += std::string("<conductor id=\"") + id + "\" cable=\"yes\" diameter=\"" + across + "\"/>";
  return test::installation(out + "<run><stop place=\"P1\"/><stop place=\"B1\"/></run></wiring>\n");
}

// PT-04. Forum thread "Jam Ratio" (forums.mikeholt.com showthread 143966): three cables of 0.35 in in 1.0 in.
// No raceway is just 1.0 in inside; flexible conduit of trade size 1 has 1.020 in.
TEST(PublishedJam, ThreeCablesOfAThirdOfAnInch) {
  EXPECT_NEAR(test::figure_of(three("FMC", "1", "0.35in"), "jam-ratio", "R1"), 1.020 / 0.35, 1e-6);
  EXPECT_EQ(judged(three("FMC", "1", "0.35in"), "jam-ratio", "R1"), Found::advised);
}

// RF-12. The same thread, quoting the note to Chapter 9 Table 1: ratios of 2.8 to 3.2. EMT 3/4 has 0.824 in.
TEST(PublishedJam, Between28And32) {
  EXPECT_EQ(judged(three("EMT", "3/4", "0.295in"), "jam-ratio", "R1"), Found::complies);
  EXPECT_EQ(judged(three("EMT", "3/4", "0.294in"), "jam-ratio", "R1"), Found::advised);
  EXPECT_EQ(judged(three("EMT", "3/4", "0.2575in"), "jam-ratio", "R1"), Found::advised);
  EXPECT_EQ(judged(three("EMT", "3/4", "0.2574in"), "jam-ratio", "R1"), Found::complies);
}

/// A box with a receptacle or without, carried by so many raceways that are strapped so far from it.
std::string carried(int raceways, const std::string& type, const std::string& strap, bool device,
                    bool one_side = false, const std::string& volume = "18in3") {
  std::string out = "<box id=\"B1\" mounting=\"raceway\" volume=\"" + volume + "\"/>\n";
  for (int n = 1; n <= raceways; ++n) {
    const std::string i = std::to_string(n);
    out += "<equipment id=\"K" + i + "\"/>\n<raceway id=\"R" + i + "\" type=\"" + type +
           "\" trade-size=\"3/4\" from=\"B1\" to=\"K" + i + "\"><end place=\"B1\" fitting=\"" +
           (type == "EMT" ? "set-screw-connector" : "threaded-hub") + "\" wall=\"" +
           (n == 1 || one_side ? "left" : "right") + "\"/><straight length=\"10ft\"/><support at=\"" + strap +
           "\" kind=\"strap\"/></raceway>\n";
  }
  if (device) out += "<device id=\"D1\" kind=\"receptacle\" box=\"B1\"/>\n";
  return test::installation(out);
}

Found held(const std::string& xml) { return judged(xml, "box-support", "B1"); }

// ES-04. "What's Wrong Here", EC&M, 22 January 2026: a receptacle box on tubing is always a violation.
TEST(PublishedBoxSupport, TubingNeverCarriesABox) {
  EXPECT_EQ(held(carried(1, "EMT", "6in", true)), Found::violates);
  EXPECT_EQ(held(carried(2, "EMT", "6in", true)), Found::violates);
}

// ES-07. Code quiz series on the 2011 NEC, Article 314 part 7 (codebookcity.com), and a steel conduit maker's
// note on 314.23(F), 2017 NEC: two threaded conduits, 3 ft, 18 in from one side; with a device one conduit
// fails. The quiz prints square inches for the limit of 100; it is read as cubic inches, and 18 in with a
// device from memory.
TEST(PublishedBoxSupport, TwoThreadedConduits) {
  EXPECT_EQ(held(carried(2, "RMC", "3ft", false)), Found::complies);
  EXPECT_EQ(held(carried(2, "RMC", "36.001in", false)), Found::violates);
  EXPECT_EQ(held(carried(2, "RMC", "18in", false, true)), Found::complies);
  EXPECT_EQ(held(carried(2, "RMC", "18.001in", false, true)), Found::violates);
  EXPECT_EQ(held(carried(2, "RMC", "18in", true)), Found::complies);
  EXPECT_EQ(held(carried(1, "RMC", "6in", true)), Found::violates);
  EXPECT_EQ(held(carried(2, "IMC", "18in", false, false, "100in3")), Found::complies);
  EXPECT_EQ(held(carried(2, "IMC", "18in", false, false, "100.1in3")), Found::violates);
}

// RL-04. A wiring-device manufacturer's guide to the 2017 edition, page on 210.52(G): dwelling garages for
// three and four cars have three and four receptacle outlets at least.
TEST(PublishedReceptacles, OneForEachVehicleBay) {
  const auto needed = [](const char* cars) {
    return test::figure_of(
        "<installation xmlns=\"urn:raceward:installation:1\" id=\"test\" ruleset=\"nec-2023\" "
        "occupancy=\"dwelling\"><area id=\"A1\" use=\"garage\" vehicle-bays=\"" +
            std::string(cars) + "\"/></installation>",
        "receptacles-needed", "A1");
  };
  EXPECT_DOUBLE_EQ(needed("3"), 3);
  EXPECT_DOUBLE_EQ(needed("4"), 4);
}

/// A dwelling's garage of one bay, complete, with a receptacle on each of two circuits of the ratings.
std::string garage(const std::string& first, const std::string& second) {
  std::string devices, panel = "<panel id=\"P1\">", circuits;
  for (int i = 1; const std::string& rating : {first, second}) {
    const std::string n = std::to_string(i++);
    panel += "<overcurrent-device id=\"P1-" + n + "\" rating=\"" + rating + "\"/>";
    circuits += "<box id=\"B" + n + "\" area=\"A1\"/><circuit id=\"C" + n +
                "\" kind=\"branch\" protected-by=\"P1-" + n + "\"/>";
    devices += "<device id=\"D" + n + "\" kind=\"receptacle\" box=\"B" + n + "\" circuit=\"C" + n +
               "\" rating=\"15A\" voltage=\"125V\" height=\"48in\"/>";
  }
  return "<installation xmlns=\"urn:raceward:installation:1\" id=\"test\" ruleset=\"nec-2020\" "
         "occupancy=\"dwelling\"><area id=\"A1\" use=\"garage\" vehicle-bays=\"1\" "
         "outlets-complete=\"yes\"/>" +
         panel + "</panel>" + circuits + devices + "</installation>";
}

// RL-05. A wiring-device manufacturer's guide to changes of 2020, and a continuing-education page (section
// 1428) on 210.11(C)(4): beside the 20 A circuit of the bay other receptacles of a garage may be on 15 A. In
// 2014 there was no such circuit.
TEST(PublishedGarage, OtherReceptaclesMayBeOn15A) {
  const auto line = [](const std::string& xml, std::string_view ruleset) {
    return test::ledger(test::check_text(xml, ruleset), "garage-circuit");
  };
  EXPECT_EQ(line(garage("20A", "15A"), "nec-2020").complies, 1U);
  EXPECT_EQ(line(garage("15A", "15A"), "nec-2020").violates, 1U);
  EXPECT_EQ(line(garage("15A", "15A"), "nec-2014").violates, 0U);
}

}  // namespace
}  // namespace raceward::published
