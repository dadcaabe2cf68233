// Developed lengths. What they should be follows from geometry; the values are worked out in the comments.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "unit/figure/figured.hpp"

namespace raceward::test {
namespace {

using namespace installation;
using figure::Id;

TEST(RacewayLength, IsTheSumOfItsStraightPieces) {
  Figured f("P1 -R1- B1");
  f.straight("R1", "3ft");
  f.piece("R1", PieceKind::coupling).length = length("1/2in");
  f.piece("R1", PieceKind::coupling);
  f.straight("R1", "2ft");
  EXPECT_EQ(f.show(Id::raceway_length, "R1"), "60.5 in");
}

TEST(RacewayLength, CountsABendByItsArc) {
  Figured f("P1 -R1- B1");
  f.straight("R1", "10in");
  f.bend("R1", "90deg", "4in");
  EXPECT_EQ(f.show(Id::raceway_length, "R1"), "16.2832 in");  // 10 + 2 pi = 16.28319
}

TEST(RacewayLength, CountsAnOffsetByItsArcsAndWhatLiesBetween) {
  Figured f("P1 -R1- B1");
  Piece& p = f.piece("R1", PieceKind::offset);
  p.angle = angle("30deg");
  p.radius = length("6in");
  p.rise = length("4in");
  // Two arcs of pi each, and (4 - 12 (1 - cos 30)) / sin 30 = 4.784610 between them.
  EXPECT_EQ(f.show(Id::raceway_length, "R1"), "11.0678 in");
}

TEST(RacewayLength, AnOffsetOfArcsAloneRisesAtLeastSoMuch) {
  Figured f("P1 -R1- B1");
  Piece& p = f.piece("R1", PieceKind::offset);
  p.angle = angle("60deg");
  p.radius = length("6in");
  p.rise = length("5in");  // the arcs alone rise by 12 (1 - cos 60) = 6
  EXPECT_EQ(f.show(Id::raceway_length, "R1"), "missing: rise");
  EXPECT_THAT(f.why(Id::raceway_length, "R1"), testing::HasSubstr("rise by more than 5 in"));
}

TEST(RacewayLength, TakesAStatedLengthOfABentPiece) {
  Figured f("P1 -R1- B1");
  f.bend("R1", "90deg", "4in").length = length("8in");
  f.piece("R1", PieceKind::saddle).length = length("12in");
  EXPECT_EQ(f.show(Id::raceway_length, "R1"), "20 in");
}

TEST(RacewayLength, ABentPieceIsNotShorterThanItsArc) {
  Figured f("P1 -R1- B1");
  f.bend("R1", "90deg", "20in").length = length("12in");  // the arc alone takes 31.4 in
  EXPECT_EQ(f.show(Id::raceway_length, "R1"), "missing: length");
  EXPECT_THAT(f.why(Id::raceway_length, "R1"), testing::HasSubstr("2 ft 7.4159 in"));
}

TEST(RacewayLength, NamesWhatIsMissing) {
  Figured f("P1 -R1- B1 -R2- B2 -R3- B3");
  f.piece("R1", PieceKind::straight);
  f.bend("R1", "", "");
  f.piece("R2", PieceKind::saddle);
  EXPECT_EQ(f.show(Id::raceway_length, "R1"), "missing: angle length radius");
  EXPECT_EQ(f.show(Id::raceway_length, "R2"), "missing: length");
  EXPECT_EQ(f.show(Id::raceway_length, "R3"), "missing: length");
}

TEST(RacewayLength, AStatedLengthServesWhereTheCourseIsNotKnown) {
  Figured f("P1 -R1- B1 -R2- B2");
  f.of("R1").length = length("10ft");
  f.of("R2").length = length("10ft");
  f.bend("R2", "90deg", "");
  f.straight("R2", "9ft");
  EXPECT_EQ(f.show(Id::raceway_length, "R1"), "120 in");
  EXPECT_EQ(f.show(Id::raceway_length, "R2"), "120 in");
}

TEST(RacewayLength, StatedAndSummedMustAgree) {
  Figured f("P1 -R1- B1 -R2- B2 -R3- B3");
  for (const char* id : {"R1", "R2", "R3"}) f.of(id).length = length("10ft");
  f.straight("R1", "119in");  // an inch off: a tape measure leaves that open
  f.straight("R2", "118in");
  f.straight("R3", "122in");
  EXPECT_EQ(f.show(Id::raceway_length, "R1"), "119 in");
  EXPECT_EQ(f.show(Id::raceway_length, "R2"), "missing: length");
  EXPECT_EQ(f.show(Id::raceway_length, "R3"), "missing: length");
  EXPECT_THAT(f.why(Id::raceway_length, "R2"), testing::HasSubstr("10 ft is stated"));
}

TEST(RacewayLength, FollowsAPolyline) {
  Figured f("P1 -R1- B1 -R2- B2 -R3- B3");
  f.point("R1", "0in", "0in");
  f.point("R1", "3ft", "0in");
  f.point("R1", "3ft", "4ft");
  f.point("R2", "0in", "0in");
  f.point("R2", "3ft", "4ft");
  f.point("R3", "0in", "0in");
  f.point("R3", "10in", "0in", "4in");
  f.point("R3", "10in", "10in");
  EXPECT_EQ(f.show(Id::raceway_length, "R1"), "84 in");
  EXPECT_EQ(f.show(Id::raceway_length, "R2"), "60 in");
  EXPECT_EQ(f.show(Id::raceway_length, "R3"), "18.2832 in");  // 20 - 8 + 2 pi
}

TEST(RacewayLength, ArcsOfAPolylineMustFit) {
  Figured f("P1 -R1- B1");
  f.point("R1", "0in", "0in");
  f.point("R1", "10in", "0in", "12in");
  f.point("R1", "10in", "20in");
  EXPECT_EQ(f.show(Id::raceway_length, "R1"), "missing: radius");
  EXPECT_THAT(f.why(Id::raceway_length, "R1"), testing::HasSubstr("12 in of straight raceway"));
}

TEST(RacewayLength, ShowsItsSum) {
  Figured f("P1 -R1- B1");
  f.straight("R1", "10in");
  f.bend("R1", "90deg", "4in");
  EXPECT_THAT(f.working(Id::raceway_length, "R1"),
              testing::ElementsAre("length of raceway R1: 10 in (straight) + 6.2832 in (bend) = 16.2832 in"));
}

}  // namespace
}  // namespace raceward::test
