// How full raceways are. The values of Chapter 9 (NFPA 70-2023) that these tests work with were read in the
// pages that tests/published/data/tables-sources.md names: 12 AWG THHN 0.0133 in2 (S11), 1/2 EMT 0.622 in
// inside (S12, S13), 53, 31 and 40 % and the 24 in and 0.8 of Notes 4 and 7 (S17, S18).
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "unit/figure/figured.hpp"

namespace raceward::test {
namespace {

using namespace installation;
using figure::Id;

/// So many 12 AWG THHN in R1, 1/2 EMT.
Figured twelves(std::uint16_t count, std::string_view drawing = "P1 -R1- B1",
                std::string_view run = "P1 B1") {
  Figured f(drawing);
  f.laid(f.run(run), count, ConductorSize::awg12, Insulation::thhn);
  return f;
}

TEST(ConductorsInRaceway, AreThoseOfEveryRunThroughIt) {
  Figured f("P1 -R1- B1 -R2- B2");
  f.laid(f.run("P1 B1"), 3, ConductorSize::awg12, Insulation::thhn);
  f.laid(f.run("P1 B1 B2"), 2, ConductorSize::awg10, Insulation::thhn);
  EXPECT_EQ(f.show(Id::conductors_in_raceway, "R1"), "5");
  EXPECT_EQ(f.show(Id::conductors_in_raceway, "R2"), "2");
  EXPECT_EQ(f.show(Id::conductor_area, "R1"), "0.0821 in2");  // 3 x 0.0133 + 2 x 0.0211
}

TEST(ConductorsInRaceway, ACableIsOne) {
  Figured f("P1 -R1- B1");
  const Index run = f.run("P1 B1");
  ConductorKind cable;
  cable.cable = true;
  cable.diameter = length("0.2in");
  f.laid(run, 1, cable);
  Conductor inner;
  inner.circuit = 0;
  inner.of_cable = 1;
  inner.count = 4;
  inner.kind = static_cast<Index>(f.in.model.conductor_kinds.size());
  f.in.model.conductor_kinds.emplace_back();
  f.in.model.conductors.push_back(inner);
  f.in.model.run_conductors.push_back(1);
  f.in.model.runs[0].conductors.count = 2;
  f.in.model.circuits[0].conductors.count = 2;
  EXPECT_EQ(f.show(Id::conductors_in_raceway, "R1"), "1");
  EXPECT_THAT(f.show(Id::conductor_area, "R1"), testing::StartsWith("0.03141592"));
}

TEST(ConductorsInRaceway, AreUnknownWhereTheWayIs) {
  Figured f("P1 -R1- B1 -R2- B2; P1 -R3- B2");
  f.laid(f.run("P1 B2"), 2, ConductorSize::awg12, Insulation::thhn);
  EXPECT_EQ(f.show(Id::conductors_in_raceway, "R1"), "missing: via");
  EXPECT_EQ(f.show(Id::raceway_fill, "R3"), "missing: via");
}

TEST(ConductorArea, TakesTheLargestOfSeveralMarks) {
  Figured f("P1 -R1- B1");
  ConductorKind kind;
  kind.size = ConductorSize::awg12;
  kind.insulations = std::uint64_t{1} << (static_cast<unsigned>(Insulation::thhn) - 1) |
                     std::uint64_t{1} << (static_cast<unsigned>(Insulation::thw) - 1);
  f.laid(f.run("P1 B1"), 1, kind);
  EXPECT_EQ(f.show(Id::conductor_area, "R1"), "0.0181 in2");  // THW, read in S10
}

TEST(ConductorArea, NamesWhatIsMissing) {
  Figured f("P1 -R1- B1 -R2- B2 -R3- B3");
  ConductorKind kind;
  f.laid(f.run("P1 B1"), 1, kind);
  kind.size = ConductorSize::awg12;
  f.laid(f.run("B1 B2"), 1, kind);
  kind.insulations = std::uint64_t{1} << (static_cast<unsigned>(Insulation::bare) - 1);
  f.laid(f.run("B2 B3"), 1, kind);
  EXPECT_EQ(f.show(Id::conductor_area, "R1"), "missing: size");
  EXPECT_EQ(f.show(Id::conductor_area, "R2"), "missing: insulation");
  // Bare, and of no stated construction: the area of a stranded one, which is larger.
  EXPECT_EQ(f.show(Id::conductor_area, "R3"), "0.006 in2");
}

TEST(RacewayArea, NamesWhatIsMissing) {
  Figured f("P1 -R1- B1 -R2- B2");
  f.of("R1").type = RacewayType::unstated;
  f.of("R1").trade_size = TradeSize::unstated;
  f.of("R2").type = RacewayType::wireway_metal;
  EXPECT_EQ(f.show(Id::raceway_area, "R1"), "missing: trade-size type");
  EXPECT_EQ(f.show(Id::raceway_area, "R2"), "missing: height width");
}

TEST(RacewayFill, IsAreaOverArea) {
  Figured f = twelves(9);
  // 9 x 0.0133 / (pi/4 x 0.622 x 0.622) = 0.1197 / 0.30385797... = 0.39393...
  EXPECT_THAT(f.show(Id::raceway_fill, "R1"), testing::StartsWith("39.393"));
  EXPECT_THAT(f.working(Id::raceway_fill, "R1"),
              testing::ElementsAre(
                  "conductors in raceway R1: 9", "conductor area: 9 x 0.0133 in2 (12 AWG THHN) = 0.1197 in2",
                  "area of EMT 1/2: circle of 0.622 in inside = 0.3039 in2 (Chapter 9 Table 4)",
                  "fill: 0.1197 in2 / 0.3039 in2 = 39.39 %"));
}

TEST(RacewayFill, IsNothingWhereNothingLies) {
  Figured f("P1 -R1- B1");
  EXPECT_EQ(f.show(Id::conductors_in_raceway, "R1"), "0");
  EXPECT_EQ(f.show(Id::raceway_fill, "R1"), "0 %");
}

TEST(RacewayFillLimit, DependsOnTheNumber) {
  for (const auto& [count, limit] : {std::pair{1, "53 %"}, {2, "31 %"}, {3, "40 %"}, {12, "40 %"}}) {
    Figured f = twelves(static_cast<std::uint16_t>(count));
    EXPECT_EQ(f.show(Id::raceway_fill_limit_any_length, "R1"), limit) << count;
  }
}

TEST(RacewayFillLimit, IsGreaterForAShortPieceBetweenEnclosures) {
  for (const auto& [long_, limit] : {std::pair{"2ft", "60 %"}, {"24.001in", "40 %"}}) {
    Figured f = twelves(9);
    f.straight("R1", long_);
    EXPECT_EQ(f.show(Id::raceway_fill_limit, "R1"), limit) << long_;
  }
}

TEST(RacewayFillLimit, ConduitBodiesAndJointsAreNoEnclosures) {
  for (const char* other : {"L1", "J1"}) {
    Figured f = twelves(9, std::string("P1 -R1- ") + other, std::string("P1 ") + other);
    f.straight("R1", "12in");
    EXPECT_EQ(f.show(Id::raceway_fill_limit, "R1"), "40 %") << other;
    EXPECT_EQ(f.show(Id::raceway_fill_limit_shortest, "R1"), "40 %") << other;
  }
}

TEST(RacewayFillLimit, IsOpenWhileTheLengthIs) {
  Figured f = twelves(9);
  EXPECT_EQ(f.show(Id::raceway_fill_limit, "R1"), "missing: length");
  EXPECT_EQ(f.show(Id::raceway_fill_limit_any_length, "R1"), "40 %");
  EXPECT_EQ(f.show(Id::raceway_fill_limit_shortest, "R1"), "60 %");
}

TEST(EqualConductors, AsManyAsTheRoundingAllows) {
  Figured f = twelves(9);
  f.straight("R1", "8ft");
  EXPECT_EQ(f.show(Id::equal_conductors_allowed, "R1"), "9");  // 9.14
  // Two 6 AWG THHN (0.0507 in2, S11): 0.31 x 0.30386 / 0.0507 = 1.858, of which the 0.858 counts.
  Figured g("P1 -R1- B1");
  g.laid(g.run("P1 B1"), 2, ConductorSize::awg6, Insulation::thhn);
  g.straight("R1", "8ft");
  EXPECT_EQ(g.show(Id::equal_conductors_allowed, "R1"), "2");
  EXPECT_THAT(g.show(Id::raceway_fill, "R1"), testing::StartsWith("33.37"));
  EXPECT_THAT(g.show(Id::raceway_fill_counted, "R1"),
              testing::StartsWith("30.03"));  // 1.8 x 0.0507 / 0.30386
}

TEST(EqualConductors, OnlyWhereAllAreAlike) {
  Figured f("P1 -R1- B1");
  f.laid(f.run("P1 B1"), 2, ConductorSize::awg12, Insulation::thhn);
  f.laid(f.run("P1 B1"), 1, ConductorSize::awg10, Insulation::thhn);
  f.straight("R1", "8ft");
  EXPECT_EQ(f.show(Id::equal_conductors_allowed, "R1"), "0");
  EXPECT_EQ(f.show(Id::raceway_fill_counted, "R1"), f.show(Id::raceway_fill, "R1"));
}

TEST(EqualConductors, AllowedAndCountedAgree) {
  for (std::uint16_t count = 3; count < 20; ++count) {
    Figured f = twelves(count);
    f.straight("R1", "8ft");
    const bool by_number = count <= std::stoi(f.show(Id::equal_conductors_allowed, "R1"));
    const bool by_share = std::stod(f.show(Id::raceway_fill_counted, "R1")) <= 40;
    EXPECT_EQ(by_number, by_share) << count;
  }
}

}  // namespace
}  // namespace raceward::test
