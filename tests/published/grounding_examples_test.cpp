// Published examples of grounding paths and of the size of equipment grounding conductors, from a document to
// the verdict. The source stands beside each; all were read in stored copies of public pages.
//
// How long tubing may be before its impedance is too high is in impedance_examples_test. Not judged:
// liquidtight conduit with a core of stainless steel, which the document does not tell apart.
#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "oracle_csv.hpp"
#include "support/check_text.hpp"

namespace raceward::published {
namespace {

enum class Found { complies, violates, undetermined };

/// What a rule says of everything that it judges in the document: the worst.
Found judged(const std::string& xml, std::string_view rule) {
  const LedgerLine line = test::ledger(test::check_text(xml), rule);
  EXPECT_GT(line.complies + line.violates + line.undetermined, 0U) << "not judged";
  if (line.violates != 0) return Found::violates;
  return line.undetermined != 0 ? Found::undetermined : Found::complies;
}

/// One raceway of a path.
struct Laid {
  std::string type = "EMT", size = "3/4", length = "3ft", fitting = "set-screw-connector";
  std::string listed = "yes", moves = "no";  // of flexible ones
};

Laid flexible(const std::string& type, const std::string& size, const std::string& length) {
  return {type, size, length, type == "FMC" ? "flexible-connector" : "liquidtight-connector"};
}

enum class Green { none, joined, unbroken };  // the wire, and how boxes on its way treat it

/// Panel P1, and after each raceway a metal box B1, B2 ... ; a receptacle in the last.
std::string path(const std::vector<Laid>& raceways, const std::string& rating = "20A",
                 Green green = Green::none) {
  std::string boxes, ways, stops, from = "P1";
  const std::string grounding = green == Green::none ? "raceway" : "wire";
  for (std::size_t i = 0; i < raceways.size(); ++i) {
    const Laid& r = raceways[i];
    const std::string number = std::to_string(i + 1), to = "B" + number;
    const bool last = i + 1 == raceways.size();
    const auto end = [&](const std::string& place) {
      return "<end place=\"" + place + "\" fitting=\"" + r.fitting +
             "\" knockout=\"plain\" listed=\"yes\" tight=\"yes\"/>";
    };
    boxes += "<box id=\"" + to + "\" kind=\"device\" material=\"metal\" mounting=\"surface\" grounded-by=\"" +
             grounding + "\"/>\n";
    ways += "<raceway id=\"R" + number + "\" type=\"" + r.type + "\" trade-size=\"" + r.size + "\" from=\"" +
            from + "\" to=\"" + to + "\" listed-for-grounding=\"" + r.listed +
            "\" moves-after-installation=\"" + r.moves + "\">" + end(from) + end(to) + "<straight length=\"" +
            r.length + "\"/></raceway>\n";
    const bool joined = green == Green::joined || last;
    stops += "<stop place=\"" + to + "\" conductors=\"" + (last ? "terminated" : "spliced") +
             "\" grounding=\"" + (joined ? "spliced" : "through") + "\" bonded=\"" + (joined ? "yes" : "no") +
             "\"/>";
    from = to;
  }
  const std::string wire =
      green == Green::none
          ? ""
          : "<conductor id=\"g\" role=\"equipment-grounding\" size=\"10 AWG\" material=\"copper\"/>";
  return test::installation(
      boxes + ways +
          "<circuit id=\"C1\" kind=\"branch\" protected-by=\"P1-1\" voltage=\"120V\" "
          "voltage-to-ground=\"120V\">"
          "<conductor id=\"h\" role=\"ungrounded\" size=\"10 AWG\" material=\"copper\"/>" +
          wire + "<run><stop place=\"P1\" conductors=\"terminated\" bonded=\"yes\"/>" + stops +
          "</run></circuit>\n<device id=\"D1\" kind=\"receptacle\" box=\"" + from +
          "\" circuit=\"C1\" grounded-by=\"self-grounding\" isolated-ground=\"no\"/>\n",
      rating);
}

Found grounded(const std::vector<Laid>& raceways, const std::string& rating = "20A",
               Green green = Green::none) {
  const std::string xml = path(raceways, rating, green);
  const Found places = judged(xml, "grounding-path");
  EXPECT_EQ(judged(xml, "device-grounding"), places) << "the receptacle in the last box";
  return places;
}

// FP-06. Continuing-education pages on 250.118(5) (electricallicenserenewal.com, sections 269 and 1014); Code
// Quiz 77, EC&M. The 6 ft for all flexible raceways together: forum thread 2583498 (forums.mikeholt.com).
TEST(PublishedGrounding, FlexibleMetalConduit) {
  const Laid six_feet = flexible("FMC", "1/2", "6ft");
  EXPECT_EQ(grounded({six_feet}), Found::complies);
  EXPECT_EQ(grounded({six_feet}, "25A"), Found::violates);
  EXPECT_EQ(grounded({flexible("FMC", "1/2", "72.001in")}), Found::violates);
  EXPECT_EQ(grounded({flexible("FMC", "1-1/4", "6ft")}), Found::complies);
  EXPECT_EQ(grounded({flexible("FMC", "1-1/2", "6ft")}), Found::violates);
  Laid moves = six_feet, unlisted = six_feet;
  moves.moves = "yes";
  unlisted.listed = "no";
  EXPECT_EQ(grounded({moves}), Found::violates);
  EXPECT_EQ(grounded({unlisted}), Found::violates);
}

// FP-07. Forum thread quoting 250.118 (forums.mikeholt.com thread 2583498).
TEST(PublishedGrounding, LiquidtightFlexibleMetalConduit) {
  for (const char* small : {"3/8", "1/2"}) {
    EXPECT_EQ(grounded({flexible("LFMC", small, "6ft")}), Found::complies) << small;
    EXPECT_EQ(grounded({flexible("LFMC", small, "6ft")}, "25A"), Found::violates) << small;
  }
  for (const char* large : {"3/4", "1", "1-1/4"}) {
    EXPECT_EQ(grounded({flexible("LFMC", large, "6ft")}, "60A"), Found::complies) << large;
    EXPECT_EQ(grounded({flexible("LFMC", large, "6ft")}, "70A"), Found::violates) << large;
    // No smaller flexible raceway in the path, on whichever side of it.
    const Laid own = flexible("LFMC", large, "3ft"), smaller = flexible("LFMC", "1/2", "3ft");
    EXPECT_EQ(grounded({own, Laid{}, smaller}), Found::violates) << large;
    EXPECT_EQ(grounded({smaller, Laid{}, own}), Found::violates) << large;
    EXPECT_EQ(grounded({own, Laid{}, own}), Found::complies) << large;
  }
  const std::vector<Laid> together = {flexible("FMC", "1/2", "3ft"), Laid{}, flexible("LFMC", "1/2", "3ft")};
  EXPECT_EQ(grounded(together), Found::complies);
  std::vector<Laid> longer = together;
  longer.back().length = "36.001in";
  EXPECT_EQ(grounded(longer), Found::violates);
  Laid moves = flexible("LFMC", "3/4", "3ft");
  moves.moves = "yes";
  EXPECT_EQ(grounded({moves}), Found::violates);
  EXPECT_EQ(grounded({moves}, "20A", Green::joined), Found::complies) << "a wire is what the source asks for";
}

const Laid plastic = {"PVC-40", "3/4", "3ft", "male-adapter"};

// Common practice of the trade, no code behind it: where metal tubing is continuous, it serves as the
// grounding path, and a green wire beside it is redundancy.
TEST(PublishedGrounding, CommonPracticeContinuousTubingServes) {
  const std::vector<Laid> tubing = {Laid{}, Laid{}, Laid{}};
  EXPECT_EQ(grounded(tubing), Found::complies);
  EXPECT_EQ(grounded(tubing, "20A", Green::joined), Found::complies);
  EXPECT_EQ(grounded(tubing, "20A", Green::unbroken), Found::complies) << "boxes on its way by the tubing";
}

// The same practice: with one nonmetallic piece in the run the wire alone carries the fault current.
TEST(PublishedGrounding, CommonPracticeOnePlasticPieceLeavesItToTheWire) {
  const std::vector<Laid> mixed = {Laid{}, plastic, Laid{}};
  EXPECT_EQ(grounded(mixed), Found::violates);
  EXPECT_EQ(grounded(mixed, "20A", Green::joined), Found::complies);
  // Passing unbroken to the last box, it grounds that one, and the tubing back from it the one before.
  EXPECT_EQ(grounded(mixed, "20A", Green::unbroken), Found::complies);
  // With plastic on both sides of it a metal box needs the wire itself.
  const Report report = test::check_text(path({plastic, plastic}, "20A", Green::unbroken));
  const Finding* const at_box = test::finding(report, "grounding-path", "B1");
  ASSERT_NE(at_box, nullptr);
  EXPECT_EQ(test::finding(report, "grounding-path", "B2"), nullptr);
}

/// A circuit from the panel to a machine.
struct Sized {
  std::string rating, least, ungrounded, grounding, metal = "copper";
  int count = 1;
};

Found sized(const Sized& c) {
  const std::string xml = test::installation(
      "<equipment id=\"K1\" kind=\"machine\" material=\"metal\" grounded-by=\"wire\"/>\n"
      "<raceway id=\"R1\" type=\"PVC-40\" trade-size=\"4\" from=\"P1\" to=\"K1\"/>\n"
      "<circuit id=\"C1\" kind=\"feeder\" protected-by=\"P1-1\" voltage=\"240V\" least-size=\"" +
          c.least +
          "\">"
          "<conductor id=\"h\" role=\"ungrounded\" size=\"" +
          c.ungrounded + "\" material=\"copper\" count=\"" + std::to_string(c.count) +
          "\"/><conductor id=\"g\" role=\"equipment-grounding\" size=\"" + c.grounding + "\" material=\"" +
          c.metal +
          "\"/><run><stop place=\"P1\" conductors=\"terminated\" bonded=\"yes\"/><stop place=\"K1\" "
          "conductors=\"terminated\"/>"
          "</run></circuit>\n",
      c.rating);
  return judged(xml, "grounding-conductor-size");
}

// EG-02. "CQD Spotlight: Equipment grounding", Electrical Contractor, 12 April 2013 and 14 December 2021: 6
// AWG.
TEST(PublishedGroundingSize, TwelveRaisedToSix) {
  EXPECT_EQ(sized({"20A", "12 AWG", "6 AWG", "6 AWG"}), Found::complies);
  EXPECT_EQ(sized({"20A", "12 AWG", "6 AWG", "8 AWG"}), Found::violates);
}

// EG-03. Forum thread "EGC & voltage drop" (forums.mikeholt.com thread 83218): 10 AWG.
TEST(PublishedGroundingSize, TwelveRaisedToTen) {
  EXPECT_EQ(sized({"20A", "12 AWG", "10 AWG", "10 AWG"}), Found::complies);
  EXPECT_EQ(sized({"20A", "12 AWG", "10 AWG", "12 AWG"}), Found::violates);
}

// EG-05. Code Question of the Day, Electrical Contractor, 15 December 2016: 500 kcmil in each of eleven
// raceways.
TEST(PublishedGroundingSize, FourThousandAmperesInParallel) {
  EXPECT_EQ(sized({"4000A", "500 kcmil", "500 kcmil", "500 kcmil", "copper", 33}), Found::complies);
  EXPECT_EQ(sized({"4000A", "500 kcmil", "500 kcmil", "400 kcmil", "copper", 33}), Found::violates);
}

// EG-06. Forum thread "Equipment grounding conductor" (forums.mikeholt.com thread 10060): at 15, 20 and 30 A
// it is as large as the raised conductors, and 10 AWG is not enough.
TEST(PublishedGroundingSize, SmallCircuitsRaisedToEightAndSix) {
  for (const auto& [rating, least] : {std::pair{"15A", "14 AWG"}, {"20A", "12 AWG"}, {"30A", "10 AWG"}}) {
    for (const char* raised : {"8 AWG", "6 AWG"}) {
      EXPECT_EQ(sized({rating, least, raised, "10 AWG"}), Found::violates) << rating << " " << raised;
      EXPECT_EQ(sized({rating, least, raised, raised}), Found::complies) << rating << " " << raised;
    }
  }
}

// EG-07. Code Quiz "Sizing requirements in the NEC", EC&M, 6 March 2025: it must grow with a feeder that was
// raised.
TEST(PublishedGroundingSize, AFeederThatWasRaised) {
  EXPECT_EQ(sized({"100A", "3 AWG", "3 AWG", "8 AWG"}), Found::complies);
  EXPECT_EQ(sized({"100A", "3 AWG", "1 AWG", "8 AWG"}), Found::violates);
}

// "NEC Table 250.122", Bruns Engineering, and for copper to 1200 A newsletter 212, Mike Holt Enterprises:
// each row.
TEST(PublishedGroundingSize, EveryRowOfTheTable) {
  const std::vector<std::string> by_gauge = {"18", "16", "14", "12", "10", "8", "6", "4", "3", "2", "1"};
  const auto sizes = [&] {
    std::vector<std::string> out;
    for (const std::string& size : by_gauge) out.push_back(size + " AWG");
    for (const char* size : {"1/0", "2/0", "3/0", "4/0"}) out.push_back(size + std::string(" AWG"));
    for (const char* size :
         {"250", "300", "350", "400", "500", "600", "700", "750", "800", "900", "1000", "1250"})
      out.push_back(size + std::string(" kcmil"));
    return out;
  }();
  const auto rows = rows_of("egc_250_122.csv");
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const std::string& amperes = rows[i].at("ocpd_rating_not_exceeding_A");
    for (const char* metal : {"copper", "aluminum"}) {
      SCOPED_TRACE(amperes + " A, " + metal);
      const std::string printed = rows[i].at(std::string(metal) + "_awg_kcmil");
      const auto size = std::find_if(sizes.begin(), sizes.end(), [&](const std::string& s) {
        return s.substr(0, s.find(' ')) == printed;
      });
      ASSERT_NE(size, sizes.end());
      // Ungrounded conductors so large that they bound nothing, and no larger than they need be.
      Sized c{amperes + "A", "2000 kcmil", "2000 kcmil", *size, metal};
      EXPECT_EQ(sized(c), Found::complies);
      c.grounding = *(size - 1);
      EXPECT_EQ(sized(c), Found::violates);
      c.grounding = *size;
      c.rating = std::to_string(std::stoi(amperes) + 1) + "A";
      const bool same_size_above =
          i + 1 < rows.size() && rows[i + 1].at(std::string(metal) + "_awg_kcmil") == printed;
      if (same_size_above) continue;
      EXPECT_EQ(sized(c), i + 1 == rows.size() ? Found::undetermined : Found::violates);
    }
  }
}

}  // namespace
}  // namespace raceward::published
