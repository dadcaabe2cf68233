// Published examples of bends and developed lengths, from a document to the verdict or the figure. The source
// stands beside each; all were read in stored copies of public pages. For bend radii no source was found.
//
// Not here, for the document holds what is built and not how it is marked and bent: take-up and gain of
// benders, marks and shrink of offsets (BD-01, BD-02, BD-09, BD-10, BD-20), radii and shortest stubs of one
// powered bender, perhaps not measured to the centre (BD-14, BD-15).
#include <gtest/gtest.h>

#include <string>

#include "support/check_text.hpp"

namespace raceward::published {
namespace {

/// A 3/4 EMT R1 from the panel to a box with these pieces.
std::string course(const std::string& pieces) {
  return test::installation(
      "<box id=\"B1\" kind=\"square\" accessible=\"yes\"/>\n<raceway id=\"R1\" type=\"EMT\" "
      "trade-size=\"3/4\" "
      "from=\"P1\" to=\"B1\">" +
      pieces + "</raceway>\n");
}

std::string bends(std::initializer_list<const char*> angles) {
  std::string out = "<straight length=\"2ft\"/>";
  for (const char* angle : angles) {
    out.append("<bend angle=\"").append(angle).append("deg\" radius=\"5in\"/><straight length=\"2ft\"/>");
  }
  return out;
}

bool complies(const std::string& pieces) {
  const LedgerLine line = test::ledger(test::check_text(course(pieces)), "bend-total");
  EXPECT_EQ(line.complies + line.violates, 1U) << "not judged";
  return line.complies == 1;
}

double figure_of(const std::string& pieces, std::string_view name) {
  return test::figure_of(course(pieces), name);
}

// Modern Commercial Wiring (Goodheart-Willcox, 2015), p. 66: the equivalent of four 90-degree bends.
TEST(PublishedBends, FourQuarterBendsAndNoMore) {
  EXPECT_TRUE(complies(bends({"90", "90", "90", "90"})));
  EXPECT_FALSE(complies(bends({"90", "90", "90", "90", "5"})));
}

// BT-02. Question-and-answer pages on bends per run (answers.com).
TEST(PublishedBends, TwoNinetiesAndFiveThirties) {
  const std::string pieces = bends({"90", "90", "30", "30", "30", "30", "30"});
  EXPECT_EQ(figure_of(pieces, "bend-total"), 330);
  EXPECT_TRUE(complies(pieces));
}

// BT-04. Answers page (fedest.com, 2007): 270, 90 short of the limit.
TEST(PublishedBends, NinetyAndFourFortyFives) {
  const std::string pieces = bends({"90", "45", "45", "45", "45"});
  EXPECT_EQ(figure_of(pieces, "bend-total"), 270);
  EXPECT_EQ(figure_of(pieces, "bend-total-limit") - figure_of(pieces, "bend-total"), 90);
  EXPECT_TRUE(complies(pieces));
}

std::string offset(const std::string& angle, const std::string& rise, const std::string& radius) {
  return "<offset angle=\"" + angle + "deg\" rise=\"" + rise + "in\" radius=\"" + radius + "in\"/>";
}

// BT-06. Question-and-answer pages on bends per run (answers.com).
TEST(PublishedBends, AnOffsetOfTwoFortyFivesCountsNinety) {
  EXPECT_EQ(figure_of(offset("45", "12", "5"), "raceway-bends"), 90);
}

// Common practice of the trade, no code behind it.
TEST(PublishedBends, ABoxOffsetOfTwoTensCountsTwenty) {
  const std::string box_offset = offset("10", "0.375", "5");
  EXPECT_EQ(figure_of(box_offset, "raceway-bends"), 20);
  EXPECT_TRUE(complies(box_offset + bends({"90", "90", "90", "70"})));
  EXPECT_FALSE(complies(box_offset + bends({"90", "90", "90", "71"})));
}

// BD-18. Reference page on concentric bends (rakennusopas.com): 62.82 in, with radius x angle x 0.01745.
TEST(PublishedLengths, AQuarterBend) {
  EXPECT_NEAR(figure_of("<bend angle=\"90deg\" radius=\"40in\"/>", "raceway-length"), 62.82, 0.02);
}

// BD-11 to BD-13. Bender instruction manual B2000, p. 5, Table A: distances between the marks of an offset,
// which are those of an offset with sharp corners. A radius near nothing comes within a sixteenth of an inch
// of it.
TEST(PublishedLengths, OffsetsByRise) {
  struct Printed {
    const char *angle, *rise;
    double apart;
  };
  for (const Printed& p :
       {Printed{"15", "2", 7.75},     Printed{"15", "4", 15.4375}, Printed{"15", "6", 23.1875},
        Printed{"15", "10", 38.625},  Printed{"15", "12", 46.375}, Printed{"15", "14", 54.0625},
        Printed{"15", "16", 61.8125}, Printed{"15", "20", 77.25},  Printed{"15", "22", 85},
        Printed{"30", "4", 8},        Printed{"30", "22", 44},     Printed{"45", "6", 8.5},
        Printed{"45", "8", 11.3125},  Printed{"45", "10", 14.125}, Printed{"45", "12", 16.9375},
        Printed{"45", "14", 19.8125}, Printed{"45", "16", 22.625}, Printed{"45", "18", 25.4375},
        Printed{"45", "20", 28.25},   Printed{"45", "22", 31.125}}) {
    EXPECT_NEAR(figure_of(offset(p.angle, p.rise, "0.001"), "raceway-length"), p.apart, 0.0626)
        << p.angle << " degrees, rise " << p.rise;
  }
}

// BD-03. Conduit Bender Guide (56206 series), p. 7: 8.4 in for a rise of 6 in, with the multiplier 1.4.
// BD-17. Apprenticeship quiz on hand bending (quizgecko.com): multipliers 11.4, 5.76 and 3.86.
TEST(PublishedLengths, MultipliersByAngle) {
  struct Printed {
    const char* angle;
    double multiplier, rounding;
  };
  for (const Printed& p : {Printed{"45", 1.4, 0.015}, Printed{"5", 11.4, 0.08}, Printed{"10", 5.76, 0.005},
                           Printed{"15", 3.86, 0.005}}) {
    EXPECT_NEAR(figure_of(offset(p.angle, "6", "0.001"), "raceway-length"), 6 * p.multiplier, 6 * p.rounding)
        << p.angle;
  }
}

}  // namespace
}  // namespace raceward::published
