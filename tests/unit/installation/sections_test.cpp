// Pull sections: where raceways are merged, and that the order of elements does not show.
#include <gtest/gtest.h>

#include <algorithm>

#include "support/sketch.hpp"

namespace raceward::test {
namespace {

std::string sections_of(std::string_view drawing) {
  Sketch s(drawing);
  s.derive();
  return s.sections();
}

TEST(Sections, EachRacewayBetweenPullPointsIsOne) {
  EXPECT_EQ(sections_of("P1 -R1- B1 -R2- L1 -R3- K1"), "R1 P1-B1; R2 B1-L1; R3 L1-K1");
}

TEST(Sections, AJointIsNoPullPoint) { EXPECT_EQ(sections_of("P1 -R1- J1 -R2- B1"), "R1+R2 P1-B1"); }

TEST(Sections, ABoxOutOfReachIsNoPullPoint) {
  EXPECT_EQ(sections_of("B1 -R1- B2! -R2- L1! -R3- B3"), "R1+R2+R3 B1-B3");
}

TEST(Sections, GoAsTheRacewayOfTheLeastIdIsDrawnWhateverTheOrder) {
  const std::string expected = "R2+R9+R10 B1-B3";
  EXPECT_EQ(sections_of("B1 -R2- J1 -R9- J2 -R10- B3"), expected);
  EXPECT_EQ(sections_of("J1 -R9- J2; B3 -R10- J2; B1 -R2- J1"), expected);
  EXPECT_EQ(sections_of("J2 -R10- B3; B1 -R2- J1 -R9- J2"), expected);
  EXPECT_EQ(sections_of("J2 -R10- B3; J1 -R2- B1; J1 -R9- J2"), "R10+R9+R2 B3-B1");
}

TEST(Sections, FromABoxAndBackToItGoAsTheRacewayOfTheLeastIdIsDrawn) {
  EXPECT_EQ(sections_of("B1 -R2- J1 -R1- B1"), "R2+R1 B1-B1");
  EXPECT_EQ(sections_of("B1 -R2- J1; B1 -R1- J1"), "R1+R2 B1-B1");
  EXPECT_EQ(sections_of("B1 -R1- J1 -R3- J2 -R2- B1"), "R1+R3+R2 B1-B1");
}

TEST(Sections, AnUnstatedBoxIsAnUnsureEnd) {
  EXPECT_EQ(sections_of("B1 -R1- B2? -R2- B3"), "R1 B1-B2 unsure B2; R2 B2-B3 unsure B2");
  EXPECT_EQ(sections_of("B0 -R0- B1? -R1- J1 -R2- L2? -R3- B3"),
            "R0 B0-B1 unsure B1; R1+R2 B1-L2 unsure B1; R3 L2-B3 unsure L2");
}

TEST(Sections, NothingGoesOnFromWhereOneRacewayEnds) {
  EXPECT_EQ(sections_of("B1? -R1- J1 -R2- L2?"), "R1+R2 B1-L2");
}

TEST(Sections, PanelsAndEquipmentNeedNoStatement) { EXPECT_EQ(sections_of("P1 -R1- K1"), "R1 P1-K1"); }

TEST(Sections, ADeadEndIsAnEnd) {
  EXPECT_EQ(sections_of("B1 -R1- J1"), "R1 B1-J1");
  EXPECT_EQ(sections_of("B1! -R1- J1 -R2- B2!"), "R1+R2 B1-B2");
}

TEST(Sections, APlaceWithThreeRacewaysBranches) {
  EXPECT_EQ(sections_of("B1 -R1- L1! -R2- B2; L1 -R3- J1 -R4- B3; B3 -R5- B4"),
            "R1+R2+R3+R4 B1-B2 branches L1; R5 B3-B4");
}

TEST(Sections, TwoBranchingClustersThatShareABox) {
  EXPECT_EQ(sections_of("B1 -R1- L1! -R2- B2; L1 -R3- B0; B0 -R4- L2! -R5- B3; L2 -R6- B4"),
            "R1+R2+R3 B0-B1 branches L1; R4+R5+R6 B0-B3 branches L2");
}

TEST(Sections, ABranchNamesAnUnsureEndTheFirstById) {
  EXPECT_EQ(sections_of("B4? -R1- L1! -R2- B2; L1 -R3- B3?; B3 -R4- B5; B4 -R5- B6"),
            "R1+R2+R3 B2-B3 unsure B3 branches L1; R4 B3-B5 unsure B3; R5 B4-B6 unsure B4");
}

TEST(Sections, ARingWithoutPullPointBranches) {
  const std::string expected = "R1+R2+R3 J1-J1 branches J1";
  EXPECT_EQ(sections_of("J1 -R1- J2 -R2- J3 -R3- J1"), expected);
  EXPECT_EQ(sections_of("J3 -R3- J1; J2 -R2- J3; J1 -R1- J2"), expected);
  EXPECT_EQ(sections_of("J1 -R1- J2 -R2- J1"), "R1+R2 J1-J1 branches J1");
}

TEST(Sections, ARingOnAStalkHasOneEnd) {
  EXPECT_EQ(sections_of("B1 -R1- J1 -R2- J2 -R3- J3 -R4- J1"), "R1+R2+R3+R4 B1-J1 branches J1");
}

TEST(Sections, SideBySideToAJointIsAWayAndBack) {
  EXPECT_EQ(sections_of("B1 -R1- J1; J1 -R2- B1"), "R1+R2 B1-B1");
}

TEST(Sections, AreNumberedInTheOrderOfTheirFirstRacewayInTheDocument) {
  Sketch s("J1 -R3- B2; B4 -R1- B5; B1 -R2- J1");
  s.derive();
  EXPECT_EQ(s.in.sections.section_of, (std::vector<installation::Index>{0, 1, 0}));
}

}  // namespace
}  // namespace raceward::test
