// Published examples of raceway fill, from a document to the verdict. The source stands beside each; all were
// read in stored copies of public pages.
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "support/check_text.hpp"

namespace raceward::published {
namespace {

struct Laid {
  int count;
  std::string size, insulation;
};

/// A raceway R1 of that type, size and length from the panel to a box, with these conductors.
std::string raceway(const std::string& type, const std::string& size, const std::string& length,
                    const std::vector<Laid>& conductors) {
  std::string out = "<box id=\"B1\" kind=\"square\"/>\n<raceway id=\"R1\" type=\"" + type + "\"";
  if (!size.empty()) out += " trade-size=\"" + size + "\"";
  out += " from=\"P1\" to=\"B1\"><straight length=\"" + length + "\"/></raceway>\n<wiring id=\"W1\">";
  int number = 0;
  for (const Laid& c : conductors) {
    out += "<conductor id=\"c" + std::to_string(++number) + "\" role=\"spare\" size=\"" + c.size +
           "\" construction=\"stranded\" insulation=\"" + c.insulation + "\" count=\"" +
           std::to_string(c.count) + "\"/>";
  }
  out += "<run><stop place=\"P1\"/><stop place=\"B1\"/></run></wiring>\n";
  return test::installation(out);
}

bool complies(const std::string& xml) {
  const LedgerLine line = test::ledger(test::check_text(xml), "raceway-fill");
  EXPECT_EQ(line.complies + line.violates, 1U) << "not judged";
  return line.complies == 1;
}

double figure_of(const std::string& xml, std::string_view name) { return test::figure_of(xml, name, "R1"); }

constexpr auto long_run = "20ft";

// NP-01. EC&M, Code Calculations (print/nec/code-calculations), Example 2: areas of each size; the size of
// the nipple was not in what was read and follows from the 60 % areas in Modern Commercial Wiring (2018), p.
// 100.
TEST(PublishedFill, AMixedNippleOfRigidConduit) {
  const std::vector<Laid> five = {{3, "3/0 AWG", "THHN"}, {1, "1 AWG", "THHN"}, {1, "6 AWG", "THHN"}};
  EXPECT_DOUBLE_EQ(figure_of(raceway("RMC", "1-1/2", "24in", five), "conductor-area"),
                   3 * 0.2679 + 0.1562 + 0.0507);
  EXPECT_FALSE(complies(raceway("RMC", "1-1/4", "24in", five)));
  EXPECT_TRUE(complies(raceway("RMC", "1-1/2", "24in", five)));
}

// RF-01. Modern Commercial Wiring (Goodheart-Willcox, 2018), p. 100, Sample Problem 6-8.
TEST(PublishedFill, FiveMixedThhnNeedThreeQuarterRigid) {
  const std::vector<Laid> five = {{1, "12 AWG", "THHN"}, {1, "10 AWG", "THHN"}, {3, "8 AWG", "THHN"}};
  EXPECT_FALSE(complies(raceway("RMC", "1/2", long_run, five)));
  EXPECT_TRUE(complies(raceway("RMC", "3/4", long_run, five)));
  EXPECT_DOUBLE_EQ(figure_of(raceway("RMC", "3/4", long_run, five), "conductor-area"), 0.1442);
}

// RF-03, the part that was read: EC&M, Code Calculations (print/nec/code-calculations-0). The bare conductor
// counts.
TEST(PublishedFill, ABareGroundingConductorTakesItsOwnArea) {
  const std::vector<Laid> laid = {{2, "12 AWG", "THHN"}, {2, "10 AWG", "THHN"}, {1, "12 AWG", "bare"}};
  EXPECT_DOUBLE_EQ(figure_of(raceway("EMT", "1", long_run, laid), "conductor-area"), 0.0748);
}

// RF-04. "Installing Conductors in Existing Raceways", training publisher's article, 31 July 2023
// (sparkyblog.com).
TEST(PublishedFill, TwentyFourMoreBesideTwelve) {
  EXPECT_TRUE(complies(raceway("EMT", "2", long_run, {{12 + 24, "8 AWG", "THHN"}})));
  EXPECT_FALSE(complies(raceway("EMT", "2", long_run, {{12 + 25, "8 AWG", "THHN"}})));
}

// RF-09. Forum thread "Conduit fill" (forums.mikeholt.com thread 9939): adding conductors can cure a fill,
// since two are limited more than three.
TEST(PublishedFill, TwoLargeAloneFailAndPassWithSmallOnes) {
  const Laid two = {2, "350 kcmil", "RHH"};
  EXPECT_FALSE(complies(raceway("RMC", "2", long_run, {two})));
  EXPECT_TRUE(complies(raceway("RMC", "2", long_run, {two, {1, "10 AWG", "THHW"}})));
  EXPECT_TRUE(complies(raceway("RMC", "2", long_run, {two, {2, "10 AWG", "THHW"}})));
}

// RF-11. Modern Commercial Wiring (Goodheart-Willcox, 2018), p. 100, rows of Table 4.
TEST(PublishedFill, SharesOfRigidConduit) {
  struct Row {
    const char* size;
    double forty, sixty;
  };
  for (const Row& row : {Row{"1/2", 0.125, 0.188}, Row{"3/4", 0.220, 0.329}, Row{"1", 0.355, 0.532},
                         Row{"1-1/4", 0.610, 0.916}, Row{"1-1/2", 0.829, 1.243}, Row{"2", 1.363, 2.045}}) {
    for (const auto& [length, printed] : {std::pair{long_run, row.forty}, {"24in", row.sixty}}) {
      const std::string xml = raceway("RMC", row.size, length, {{3, "12 AWG", "THHN"}});
      const double share = figure_of(xml, "raceway-fill-limit") / 100;
      // Printed to the third decimal from an area that is itself printed so.
      EXPECT_NEAR(figure_of(xml, "raceway-area") * share, printed, 0.0005 + 0.0005 * share) << row.size;
    }
  }
}

// "Code Q&A: Conduit Fill Limitations", EC&M; "THHN Conductors and RMC", Steel Tube Institute.
TEST(PublishedFill, CountsInRigidConduit) {
  EXPECT_TRUE(complies(raceway("RMC", "1-1/2", long_run, {{22, "8 AWG", "THHN"}})));
  EXPECT_FALSE(complies(raceway("RMC", "1-1/2", long_run, {{23, "8 AWG", "THHN"}})));
  EXPECT_TRUE(complies(raceway("RMC", "3/4", long_run, {{16, "12 AWG", "THHN"}})));
  EXPECT_FALSE(complies(raceway("RMC", "3/4", long_run, {{17, "12 AWG", "THHN"}})));
}

// NP-03. Forum thread "Nipple fill 60%" (forums.mikeholt.com thread 2585679).
TEST(PublishedFill, AShortPieceOfThreeInchTubing) {
  EXPECT_TRUE(complies(raceway("EMT", "3", "23in", {{399, "12 AWG", "THHN"}})));
  EXPECT_FALSE(complies(raceway("EMT", "3", "23in", {{400, "12 AWG", "THHN"}})));
  EXPECT_FALSE(complies(raceway("EMT", "3", long_run, {{399, "12 AWG", "THHN"}})));
}

// NP-04. Forum thread "Conduit and Nipples - 60% Rule" (forums.mikeholt.com thread 2573770): passes, barely.
TEST(PublishedFill, AShortPieceOfPlasticConduit) {
  const std::vector<Laid> three = {{2, "4/0 AWG", "XHHW-2"}, {1, "2/0 AWG", "XHHW-2"}};
  const std::string shortest = raceway("PVC-40", "1-1/4", "24in", three);
  EXPECT_TRUE(complies(shortest));
  EXPECT_FALSE(complies(raceway("PVC-40", "1-1/4", long_run, three)));
  constexpr double square_inch = 645.16;
  EXPECT_NEAR(figure_of(shortest, "conductor-area") * square_inch, 553.9,
              0.3);  // mm2, from rounded metric areas
}

/// A metal wireway so wide and high inside.
std::string wireway(const std::string& side, const std::string& length, const std::vector<Laid>& laid) {
  std::string out = raceway("wireway-metal", "", length, laid);
  const std::string type = "type=\"wireway-metal\"";
  return out.replace(out.find(type), type.size(), type + " width=\"" + side + "\" height=\"" + side + "\"");
}

// NP-05. Code Question of the Day, Electrical Contractor, 9 August 2021: a short wireway is no nipple; 20 %
// stays.
TEST(PublishedFill, AShortWirewayIsNotJudgedByTheLimitForShortPieces) {
  for (const char* length : {"12in", "20ft"}) {
    const std::string short_or_long = wireway("4in", length, {{3, "12 AWG", "THHN"}});
    EXPECT_DOUBLE_EQ(figure_of(short_or_long, "raceway-fill-limit"), 20.0);
    EXPECT_DOUBLE_EQ(figure_of(short_or_long, "raceway-fill-limit-shortest"), 20.0);
  }
}

// WW-01. Forum thread "wireway calculation" (forums.mikeholt.com post 1289944): 3.8137 in2 of conductors need
// 19.07 in2, so 5 in x 5 in; 4 in x 4 in is too small. That splices may fill 75 % (376.56) is not judged.
TEST(PublishedFill, AWirewayOfFiveInches) {
  const std::vector<Laid> laid = {{3, "500 kcmil", "THHN"}, {1, "250 kcmil", "THHN"}, {4, "4/0 AWG", "THHN"}};
  EXPECT_NEAR(figure_of(wireway("5in", long_run, laid), "conductor-area"), 3.8137, 1e-9);
  EXPECT_DOUBLE_EQ(figure_of(wireway("5in", long_run, laid), "raceway-area"), 25.0);
  EXPECT_TRUE(complies(wireway("5in", long_run, laid)));
  EXPECT_FALSE(complies(wireway("4in", long_run, laid)));
}

// RF-05. EC&M, Code Quiz (quizzes/code-quiz-27): in a surface raceway the count that its maker lists governs,
// and no share of its area; the document has no word for such a list.
TEST(PublishedFill, ASurfaceRacewayIsLeftToItsListing) {
  const Report report = test::check_text(raceway("surface-metal", "", long_run, {{255, "12 AWG", "THHN"}}));
  EXPECT_EQ(test::ledger(report, "raceway-fill").undetermined, 1U);
}

}  // namespace
}  // namespace raceward::published
