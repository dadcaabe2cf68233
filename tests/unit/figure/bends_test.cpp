// Bends of raceways, sums between pull points, and radii against the least ones of Chapter 9 Table 2 (NFPA
// 70-2023; from memory, as data/tables-sources.md of the published tests says).
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "unit/figure/figured.hpp"

namespace raceward::test {
namespace {

using namespace installation;
using figure::Id;

TEST(RacewayBends, CountEachBend) {
  Figured f("P1 -R1- B1");
  f.straight("R1", "3ft");
  f.bend("R1", "90deg", "4in");
  f.piece("R1", PieceKind::offset).angle = angle("10deg");
  Piece& three = f.piece("R1", PieceKind::saddle);
  three.bends = 3;
  three.angle = angle("45deg");
  three.angle_outer = angle("22.5deg");
  Piece& four = f.piece("R1", PieceKind::saddle);
  four.bends = 4;
  four.angle = angle("15deg");
  EXPECT_EQ(f.show(Id::bend_count, "R1"), "10");          // 1 + 2 + 3 + 4
  EXPECT_EQ(f.show(Id::raceway_bends, "R1"), "260 deg");  // 90 + 20 + (45 + 45) + 60
}

TEST(RacewayBends, AreTheTurnsOfAPolyline) {
  Figured f("P1 -R1- B1");
  f.point("R1", "0in", "0in");
  f.point("R1", "0in", "0in");
  f.point("R1", "3ft", "0in");
  f.point("R1", "6ft", "0in");
  f.point("R1", "6ft", "5ft");
  f.point("R1", "5ft", "6ft");
  EXPECT_EQ(f.show(Id::bend_count, "R1"), "2");
  EXPECT_EQ(f.show(Id::raceway_bends, "R1"), "135 deg");
}

TEST(RacewayBends, AreUnknownWithoutACourse) {
  Figured f("P1 -R1- B1");
  f.of("R1").length = length("10ft");
  EXPECT_EQ(f.show(Id::raceway_bends, "R1"), "missing: bend");
  EXPECT_EQ(f.show(Id::bend_count, "R1"), "missing: bend");
}

TEST(RacewayBends, AreUnknownWithoutAnAngle) {
  Figured f("P1 -R1- B1 -R2- B2");
  f.bend("R1", "", "4in");
  Piece& saddle = f.piece("R2", PieceKind::saddle);
  saddle.angle = angle("45deg");
  EXPECT_EQ(f.show(Id::raceway_bends, "R1"), "missing: angle");
  EXPECT_EQ(f.show(Id::bend_count, "R1"), "1");
  EXPECT_EQ(f.show(Id::raceway_bends, "R2"), "missing: bends");
}

TEST(BendTotal, AddsUpWhereNobodyCanPull) {
  Figured f("P1 -R1- J1 -R2- B1! -R3- B2 -R4- K1");
  for (const char* id : {"R1", "R2", "R3", "R4"}) f.bend(id, "90deg", "4in");
  EXPECT_EQ(f.section(Id::bend_total, 0), "270 deg");
  EXPECT_EQ(f.section(Id::bend_total, 1), "90 deg");
}

TEST(BendTotal, TakesTheWorstWayWhereRacewaysBranch) {
  Figured f("B1 -R1- L1! -R2- B2; L1 -R3- B3");
  f.bend("R1", "90deg", "4in");
  f.bend("R2", "30deg", "4in");
  f.bend("R3", "60deg", "4in");
  EXPECT_EQ(f.section(Id::bend_total), "150 deg");
}

TEST(BendTotal, IsOpenInARing) {
  Figured f("B1 -R1- L1! -R2- L2! -R3- L1");
  for (const char* id : {"R1", "R2", "R3"}) f.bend(id, "90deg", "4in");
  EXPECT_EQ(f.section(Id::bend_total), "missing: accessible");
}

TEST(BendTotal, TellsWhatIsKnownWhereSomethingIsMissing) {
  Figured f("P1 -R1- J1 -R2- B1? -R3- B2");
  f.bend("R1", "90deg", "4in");
  f.bend("R1", "", "4in");
  f.bend("R2", "45deg", "4in");
  EXPECT_EQ(f.section(Id::bend_total), "missing: accessible angle");
  EXPECT_EQ(f.section(Id::bend_total_at_least), "135 deg");
}

TEST(BendTotal, GoesAroundTheCornerOfAConduitBodyThatNobodyCanOpen) {
  const auto total = [](BodyForm form, const char* first) {
    Figured f("P1 -R1- L1! -R2- B1");
    f.in.model.places[f.place("L1")].form = form;
    f.bend("R1", "90deg", "4in");
    f.bend("R1", first, "4in");
    f.bend("R2", "90deg", "4in");
    return f.section(Id::bend_total);
  };
  EXPECT_EQ(total(BodyForm::lb, "90deg"), "360 deg");
  EXPECT_EQ(total(BodyForm::short_elbow, "90deg"), "360 deg");
  EXPECT_EQ(total(BodyForm::c, "90.1deg"), "270.1 deg");
  // Whether it turns conductors matters only beyond the limit.
  for (const BodyForm form : {BodyForm::t, BodyForm::unstated}) {
    EXPECT_EQ(total(form, "90deg"), "270 deg");
    EXPECT_EQ(total(form, "90.1deg"), "missing: form");
  }
}

TEST(BendTotalLimit, IsUnknownForAnUnknownType) {
  Figured f("P1 -R1- J1 -R2- B1");
  EXPECT_EQ(f.section(Id::bend_total_limit), "360 deg");
  Figured g("P1 -R1- J1 -R2- B1");
  g.of("R2").type = RacewayType::unstated;
  EXPECT_EQ(g.section(Id::bend_total_limit), "missing: type");
}

TEST(TightestBend, IsTheOneWithTheSmallestMargin) {
  Figured f("P1 -R1- B1");
  f.bend("R1", "90deg", "5in");
  f.bend("R1", "45deg", "4 1/4in");
  f.bend("R1", "90deg", "6in");
  EXPECT_EQ(f.show(Id::field_bends, "R1"), "3");
  EXPECT_EQ(f.show(Id::tightest_bend_radius, "R1"), "4.25 in");
  EXPECT_EQ(f.show(Id::tightest_bend_radius_needed, "R1"), "4 in");
  EXPECT_EQ(f.show(Id::tightest_bend_margin, "R1"), "0.25 in");
}

TEST(TightestBend, AFactoryElbowIsNotMadeOnSite) {
  Figured f("P1 -R1- B1");
  f.bend("R1", "90deg", "1in", Bender::factory);
  EXPECT_EQ(f.show(Id::field_bends, "R1"), "0");
  EXPECT_EQ(f.show(Id::bend_count, "R1"), "1");
}

TEST(TightestBend, ACertainFaultWinsOverAnUnknownBend) {
  Figured f("P1 -R1- B1");
  f.bend("R1", "90deg", "");
  f.bend("R1", "90deg", "3in");
  EXPECT_EQ(f.show(Id::tightest_bend_margin, "R1"), "-1 in");
}

TEST(TightestBend, AnUnknownBendWinsOverAGoodOne) {
  Figured f("P1 -R1- B1");
  f.bend("R1", "90deg", "");
  f.bend("R1", "90deg", "5in");
  EXPECT_EQ(f.show(Id::tightest_bend_margin, "R1"), "missing: radius");
}

TEST(TightestBend, TheBenderMattersOnlyBetweenTheColumns) {
  Figured f("P1 -R1- B1 -R2- B2 -R3- B3");
  for (const char* id : {"R1", "R2", "R3"}) f.of(id).trade_size = TradeSize::s3_4;
  f.bend("R1", "90deg", "5in", Bender::unstated);
  f.bend("R2", "90deg", "4.9in", Bender::unstated);
  f.bend("R3", "90deg", "3in", Bender::unstated);
  EXPECT_EQ(f.show(Id::tightest_bend_margin, "R1"), "0 in");
  EXPECT_EQ(f.show(Id::tightest_bend_margin, "R2"), "missing: bender");
  EXPECT_EQ(f.show(Id::tightest_bend_margin, "R3"), "missing: bender");  // it may be a factory elbow
  EXPECT_THAT(f.why(Id::tightest_bend_margin, "R3"), testing::HasSubstr("too tight for a bend made on site"));
}

TEST(TightestBend, FlexibleRacewaysAreLaidByHand) {
  Figured f("P1 -R1- B1");
  f.of("R1").type = RacewayType::lfmc;
  f.of("R1").trade_size = TradeSize::s3_4;
  f.bend("R1", "90deg", "4 3/4in", Bender::unstated);
  EXPECT_EQ(f.show(Id::tightest_bend_radius_needed, "R1"), "5 in");
}

TEST(TightestBend, WirewaysAreNotBent) {
  Figured f("P1 -R1- B1");
  f.of("R1").type = RacewayType::wireway_metal;
  f.of("R1").trade_size = TradeSize::unstated;
  EXPECT_EQ(f.show(Id::field_bends, "R1"), "0");
}

TEST(TightestBend, ShowsEachBend) {
  Figured f("P1 -R1- B1");
  f.bend("R1", "90deg", "5in");
  EXPECT_THAT(
      f.working(Id::tightest_bend_margin, "R1"),
      testing::ElementsAre("bend 1 of raceway R1, 90 deg: radius 5 in, at least 4 in for trade size 1/2, "
                           "one-shot or full-shoe bender (Chapter 9 Table 2)"));
}

}  // namespace
}  // namespace raceward::test
