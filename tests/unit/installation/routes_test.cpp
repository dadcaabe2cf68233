// The way of runs: direct, derived, by via, ambiguous, faulty; who visits a place; what hostile files cost.
#include <gtest/gtest.h>

#include "support/sketch.hpp"

namespace raceward::test {
namespace {

using namespace installation;

TEST(Routes, GoFromStopToStop) {
  Sketch s("P1 -R1- B1 -R2- B2");
  s.run("P1 B1 B2");
  s.derive();
  EXPECT_EQ(s.hops(0), "R1:P1>B1* R2:B1>B2*");
  EXPECT_EQ(s.troubles(), "");
  EXPECT_EQ(s.visits("P1"), "run0 stop >R1");
  EXPECT_EQ(s.visits("B1"), "run0 stop R1>R2");
  EXPECT_EQ(s.visits("B2"), "run0 stop R2>");
}

TEST(Routes, PassThePlacesOfTheOnlyPath) {
  Sketch s("P1 -R1- B1 -R2- B2 -R3- B3; B1 -R4- B4 -R5- B5");
  s.run("B3 B5");
  s.derive();
  EXPECT_EQ(s.hops(0), "R3:B3>B2 R2:B2>B1 R4:B1>B4 R5:B4>B5*");
  EXPECT_EQ(s.visits("B1"), "run0 through R2>R4");
  EXPECT_EQ(s.visits("P1"), "");
}

TEST(Routes, AreAmbiguousWhereThereIsAWayRoundThoughOneRacewayJoinsThePlaces) {
  Sketch s("P1 -R1- B1 -R2- B2 -R3- P1");
  s.run("P1 B2");
  s.derive();
  EXPECT_EQ(s.hops(0), "");
  EXPECT_EQ(s.troubles(), "B2 ambiguous");
  EXPECT_EQ(s.uncertain(), "R1 R2 R3");
}

TEST(Routes, SideBySideAreAmbiguous) {
  Sketch s("P1 -R1- B1 -R2- B2; B2 -R3- B1; B2 -R4- B3");
  s.run("P1 B1 B2 B3");
  s.derive();
  EXPECT_EQ(s.hops(0), "R1:P1>B1* R4:B2>B3*");
  EXPECT_EQ(s.troubles(), "B2 ambiguous");
  EXPECT_EQ(s.uncertain(), "R2 R3");
  EXPECT_EQ(s.visits("B1"), "run0 stop R1>");
  EXPECT_EQ(s.visits("B2"), "run0 stop >R4");
}

TEST(Routes, RoundARingAreAmbiguousOnAllTheWay) {
  Sketch s("P1 -R1- B1 -R2- B2 -R3- B3 -R4- B4 -R5- B1; B3 -R6- B6; B4 -R7- B7");
  s.run("P1 B6");
  s.derive();
  EXPECT_EQ(s.hops(0), "");
  EXPECT_EQ(s.troubles(), "B6 ambiguous");
  EXPECT_EQ(s.uncertain(), "R1 R2 R3 R4 R5 R6");
}

TEST(Routes, MarkOnlyTheBlocksBetweenTheTwoPlaces) {
  // Two rings at B1, and the run stays in one of them though both hang from the same place.
  Sketch s("P1 -R1- B1 -R2- B2 -R3- B3 -R4- B4 -R5- B1; B1 -R6- B6 -R7- B7 -R8- B1");
  s.run("B2 B4");
  s.derive();
  EXPECT_EQ(s.troubles(), "B4 ambiguous");
  EXPECT_EQ(s.uncertain(), "R2 R3 R4 R5");
}

TEST(Routes, OfTheAmbiguitiesOfABlockIdsTellWhichIsNamed) {
  Sketch s("B1 -R1- B2; B2 -R2- B1");
  s.run("B1 B2 B1");
  s.derive();
  ASSERT_EQ(s.in.routes.ambiguities.size(), 2u);
  EXPECT_EQ(s.in.routes.block_ambiguity, std::vector<Index>{1});  // to B1
  EXPECT_EQ(s.in.routes.ambiguities[0].run, 0u);
  EXPECT_EQ(s.in.routes.ambiguities[0].stop, 1u);
}

TEST(Routes, FollowVia) {
  Sketch s("P1 -R1- B1 -R2- B2 -R3- P1; B1 -R4- B2; B2 -R5- B3");
  s.run("P1 B2(R1 R4) B3");
  s.derive();
  EXPECT_EQ(s.hops(0), "R1:P1>B1 R4:B1>B2* R5:B2>B3*");
  EXPECT_EQ(s.troubles(), "");
  EXPECT_EQ(s.visits("B1"), "run0 through R1>R4");
}

TEST(Routes, ViaMustContinueFromThePlaceReached) {
  Sketch s("P1 -R1- B1 -R2- B2 -R3- B3 -R4- B4");
  s.run("P1 B3(R1 R3) B4");
  s.derive();
  EXPECT_EQ(s.hops(0), "R4:B3>B4*");
  EXPECT_EQ(s.troubles(), "B3 via R3");
  EXPECT_EQ(s.visits("B1"), "");
  EXPECT_EQ(s.visits("B3"), "run0 stop >R4");
}

TEST(Routes, ViaMustEndAtTheStop) {
  Sketch s("P1 -R1- B1 -R2- B2 -R3- B3");
  s.run("P1 B3(R1 R2)");
  s.derive();
  EXPECT_EQ(s.hops(0), "");
  EXPECT_EQ(s.troubles(), "B3 via R2");
}

TEST(Routes, ViaOfTheFirstStopLeadsFromNowhere) {
  Sketch s("P1 -R1- B1");
  s.run("P1(R1) B1");
  s.derive();
  EXPECT_EQ(s.hops(0), "R1:P1>B1*");
  EXPECT_EQ(s.troubles(), "P1 via R1");
}

TEST(Routes, ViaMayLeadBackToThePlaceItCameFrom) {
  Sketch s("B1 -R1- B2 -R2- B1");
  s.run("B1 B1(R1 R2)");
  s.derive();
  EXPECT_EQ(s.hops(0), "R1:B1>B2 R2:B2>B1*");
  EXPECT_EQ(s.visits("B1"), "run0 stop >R1; run0 stop R2>");
}

TEST(Routes, PlacesThatNothingJoins) {
  Sketch s("P1 -R1- B1; P2 -R2- B2; B3");
  s.run("P1 B1 B2 B3");
  s.run("B2 P2");
  s.derive();
  EXPECT_EQ(s.hops(0), "R1:P1>B1*");
  EXPECT_EQ(s.hops(1), "R2:B2>P2*");
  EXPECT_EQ(s.troubles(), "B2 not joined; B3 not joined");
  EXPECT_EQ(s.visits("B3"), "run0 stop >");
}

TEST(Routes, AStopTwiceInARowIsAFault) {
  Sketch s("P1 -R1- B1 -R2- B2");
  s.run("P1 B1 B1 B2");
  s.derive();
  EXPECT_EQ(s.hops(0), "R1:P1>B1* R2:B1>B2*");
  EXPECT_EQ(s.troubles(), "B1 not joined");
  EXPECT_EQ(s.visits("B1"), "run0 stop R1>; run0 stop >R2");
}

TEST(Routes, OutAndBackPassesARacewayTwice) {
  Sketch s("P1 -R1- B1 -R2- B2");
  s.run("P1 B1 B2 B1");
  s.run("P1 B2");
  s.derive();
  EXPECT_EQ(s.hops(0), "R1:P1>B1* R2:B1>B2* R2:B2>B1*");
  const auto runs = s.in.routes.runs_in(s.raceway("R2"));
  EXPECT_EQ(std::vector<Index>(runs.begin(), runs.end()), (std::vector<Index>{0, 0, 1}));
  EXPECT_EQ(s.visits("B1"), "run0 stop R1>R2; run0 stop R2>; run1 through R1>R2");
}

TEST(Routes, ARunOfOneStopGoesNowhere) {
  Sketch s("P1 -R1- B1");
  s.run("P1");
  s.derive();
  EXPECT_EQ(s.troubles(), "");
  EXPECT_EQ(s.visits("P1"), "run0 stop >");
}

/// A chain of joints, and a run to and fro between its ends.
void there_and_back(Model& m, Index length, Index steps) {
  m.places.resize(length + 1);
  m.raceways.resize(length);
  for (Place& place : m.places) place.kind = PlaceKind::joint;
  for (Index i = 0; i < length; ++i) {
    m.raceways[i].ends[0].place = i;
    m.raceways[i].ends[1].place = i + 1;
  }
  m.stops.resize(steps + 1);
  for (Index i = 0; i <= steps; ++i) m.stops[i].place = i % 2 == 0 ? 0 : length;
  Run run;
  run.stops = {0, steps + 1};
  m.runs.push_back(run);
}

TEST(Routes, FollowAMillionRacewaysInOneStep) {
  Sketch s;
  there_and_back(s.in.model, 1'000'000, 2);
  s.derive();
  EXPECT_TRUE(s.in.routes.faults.empty());
  EXPECT_EQ(s.in.routes.hops.size(), 2'000'000u);
  EXPECT_EQ(s.in.routes.visits_at(500'000).size(), 2u);
}

TEST(Routes, RefuseWhatGrowsBeyondTheDocument) {
  Sketch s;
  there_and_back(s.in.model, 10'000, 10'000);
  s.derive();
  const std::size_t allowed = 64 * (10'000 + 10'001) + 4096;
  EXPECT_LE(s.in.routes.hops.size(), allowed);
  EXPECT_GT(s.in.routes.hops.size(), allowed - 10'001);
  ASSERT_FALSE(s.in.routes.faults.empty());
  EXPECT_EQ(s.in.routes.faults.size() + s.in.routes.hops.size() / 10'000, 10'000u);
  for (const RouteFault& fault : s.in.routes.faults) EXPECT_EQ(fault.kind, RouteFault::Kind::too_long);
}

TEST(Routes, ALargeRingCostsNoMoreThanASmallOne) {
  Sketch s;
  Model& m = s.in.model;
  there_and_back(m, 10'000, 10'000);
  Raceway closing;
  closing.ends[0].place = 9'999;
  closing.ends[1].place = 1;
  m.raceways.push_back(closing);
  s.derive();
  EXPECT_TRUE(s.in.routes.faults.empty());
  EXPECT_EQ(s.in.routes.ambiguities.size(), 10'000u);
}

TEST(Routes, TwoHubsWithManyRacewaysAreSearchedQuickly) {
  // 2 x 50 000 raceways and 100 000 steps between the hubs: ten thousand million looks if each step read the
  // lists of the hubs.
  Sketch s;
  Model& m = s.in.model;
  constexpr Index spokes = 50'000;
  there_and_back(m, 1, 100'000);
  const auto join = [&](Index from, Index to) {
    Raceway raceway;
    raceway.ends[0].place = from;
    raceway.ends[1].place = to;
    m.raceways.push_back(raceway);
  };
  m.raceways.clear();
  m.places.resize(2 + spokes);
  for (Index i = 0; i < spokes; ++i) {
    join(0, 2 + i);
    join(1, 2 + i);
  }
  join(0, 1);
  s.derive();
  EXPECT_TRUE(s.in.routes.faults.empty());
  EXPECT_EQ(s.in.routes.ambiguities.size(), 100'000u);
  EXPECT_EQ(s.in.routes.runs_in(2 * spokes).size(), 0u);
}

}  // namespace
}  // namespace raceward::test
