// Adjacency, components, blocks and bridges of small graphs that a person can check, and of hostile ones.
#include <gtest/gtest.h>

#include <set>

#include "support/sketch.hpp"

namespace raceward::test {
namespace {

using namespace installation;

std::string bridges(const Sketch& s) {
  std::string out;
  for (Index r = 0; r < s.in.model.raceways.size(); ++r) {
    if (s.in.graph.bridge[r] != 0) out += (out.empty() ? "" : " ") + std::string(s.in.model.raceways[r].id);
  }
  return out;
}

bool same_block(const Sketch& s, std::string_view a, std::string_view b) {
  return s.in.graph.block[s.raceway(a)] == s.in.graph.block[s.raceway(b)];
}

TEST(Graph, ListsNeighboursInTheOrderOfRaceways) {
  Sketch s("B1 -R1- P1; P1 -R2- B2; B3 -R3- P1");
  s.derive();
  std::string seen;
  for (const Adjacent& next : s.in.graph.at(s.place("P1"))) {
    seen += std::string(s.in.model.raceways[next.raceway].id) + ">" +
            std::string(s.in.model.places[next.place].id) + " ";
  }
  EXPECT_EQ(seen, "R1>B1 R2>B2 R3>B3 ");
}

TEST(Graph, OfNothingIsEmpty) {
  Sketch s;
  s.derive();
  EXPECT_EQ(s.in.graph.first, std::vector<Index>{0});
  EXPECT_EQ(s.in.graph.block_count, 0u);
  EXPECT_TRUE(s.in.routes.hops.empty());
  EXPECT_TRUE(s.in.sections.sections.empty());
}

TEST(Graph, KeepsAPlaceThatNoRacewayEnters) {
  Sketch s("P1 -R1- B1; B2");
  s.derive();
  EXPECT_TRUE(s.in.graph.at(s.place("B2")).empty());
  EXPECT_NE(s.in.graph.component[s.place("B2")], s.in.graph.component[s.place("B1")]);
  EXPECT_EQ(s.in.graph.component[s.place("P1")], s.in.graph.component[s.place("B1")]);
}

TEST(Graph, EveryRacewayOfATreeIsABridge) {
  Sketch s("P1 -R1- B1 -R2- B2; B1 -R3- B3");
  s.derive();
  EXPECT_EQ(bridges(s), "R1 R2 R3");
  EXPECT_EQ(s.in.graph.block_count, 3u);
}

TEST(Graph, ARingIsOneBlock) {
  Sketch s("P1 -R1- B1 -R2- B2 -R3- B3 -R4- B1; B3 -R5- B4");
  s.derive();
  EXPECT_EQ(bridges(s), "R1 R5");
  EXPECT_EQ(s.in.graph.block_count, 3u);
  EXPECT_TRUE(same_block(s, "R2", "R4"));
  EXPECT_FALSE(same_block(s, "R1", "R2"));
}

TEST(Graph, TwoRingsThatShareABoxAreTwoBlocks) {
  Sketch s("B1 -R1- B2 -R2- B3 -R3- B1; B1 -R4- B4 -R5- B5 -R6- B1");
  s.derive();
  EXPECT_EQ(s.in.graph.block_count, 2u);
  EXPECT_FALSE(same_block(s, "R1", "R4"));
}

TEST(Graph, RacewaysSideBySideAreOneBlockAndNoBridge) {
  Sketch s("P1 -R1- B1 -R2- B2; B1 -R3- B2; B2 -R4- B1; B2 -R5- B3");
  s.derive();
  EXPECT_EQ(bridges(s), "R1 R5");
  EXPECT_EQ(s.in.graph.block_count, 3u);
  EXPECT_TRUE(same_block(s, "R2", "R3"));
  EXPECT_TRUE(same_block(s, "R2", "R4"));
}

TEST(Graph, RacewaysSideBySideInARingBelongToTheRing) {
  Sketch s("B1 -R1- B2 -R2- B3 -R3- B1; B1 -R4- B3; B2 -R5- B1");
  s.derive();
  EXPECT_EQ(s.in.graph.block_count, 1u);
  EXPECT_EQ(bridges(s), "");
}

TEST(Graph, TheForestHoldsEveryPlaceOnce) {
  Sketch s("P1 -R1- B1 -R2- B2 -R3- B3 -R4- B1; P2 -R5- B5 -R6- B6; B5 -R7- B6");
  s.derive();
  const Graph& g = s.in.graph;
  for (Index place = 0; place < s.in.model.places.size(); ++place) {
    if (g.parent_place[place] == none) {
      EXPECT_EQ(g.depth[place], 0u);
      EXPECT_EQ(g.parent_raceway[place], none);
      continue;
    }
    EXPECT_EQ(g.depth[place], g.depth[g.parent_place[place]] + 1);
    EXPECT_EQ(g.component[place], g.component[g.parent_place[place]]);
    const auto& ends = s.in.model.raceways[g.parent_raceway[place]].ends;
    EXPECT_EQ((std::set{ends[0].place, ends[1].place}), (std::set{place, g.parent_place[place]}));
  }
  const std::set<Index> components(g.component.begin(), g.component.end());
  EXPECT_EQ(components, (std::set<Index>{0, 1}));
}

TEST(Graph, AChainOfAMillionNeedsNoDeepStack) {
  Sketch s;
  Model& m = s.in.model;
  constexpr Index length = 1'000'000;
  m.places.resize(length + 1);
  m.raceways.resize(length);
  for (Index i = 0; i < length; ++i) {
    m.places[i].kind = PlaceKind::joint;
    m.raceways[i].ends[0].place = i;
    m.raceways[i].ends[1].place = i + 1;
  }
  s.derive();
  EXPECT_EQ(s.in.graph.block_count, length);
  EXPECT_EQ(s.in.graph.depth[length], length);
  ASSERT_EQ(s.in.sections.sections.size(), 1u);
  EXPECT_EQ(s.in.sections.sections[0].raceways.count, length);
  EXPECT_EQ(s.in.sections.sections[0].branches_at, none);
}

TEST(Graph, ARingOfAMillionIsOneBlockAndOneSection) {
  Sketch s;
  Model& m = s.in.model;
  constexpr Index length = 1'000'000;
  m.places.resize(length);
  m.raceways.resize(length);
  for (Index i = 0; i < length; ++i) {
    m.places[i].kind = PlaceKind::joint;
    m.raceways[i].ends[0].place = i;
    m.raceways[i].ends[1].place = (i + 1) % length;
  }
  s.derive();
  EXPECT_EQ(s.in.graph.block_count, 1u);
  ASSERT_EQ(s.in.sections.sections.size(), 1u);
  EXPECT_NE(s.in.sections.sections[0].branches_at, none);
}

TEST(Graph, AStarOfAHundredThousandIsAllBridges) {
  Sketch s;
  Model& m = s.in.model;
  constexpr Index points = 100'000;
  m.places.resize(points + 1);
  m.raceways.resize(points);
  for (Place& place : m.places) place.kind = PlaceKind::panel;
  for (Index i = 0; i < points; ++i) {
    m.raceways[i].ends[0].place = i + 1;
    m.raceways[i].ends[1].place = 0;
  }
  s.derive();
  EXPECT_EQ(s.in.graph.block_count, points);
  EXPECT_EQ(s.in.graph.at(0).size(), points);
  EXPECT_EQ(s.in.sections.sections.size(), points);
}

TEST(Graph, AHundredThousandSideBySideAreOneBlock) {
  Sketch s;
  Model& m = s.in.model;
  m.places.resize(2);
  m.raceways.resize(100'000);
  for (Place& place : m.places) place.kind = PlaceKind::panel;
  for (Raceway& raceway : m.raceways) {
    raceway.ends[0].place = 1;
    raceway.ends[1].place = 0;
  }
  s.derive();
  EXPECT_EQ(s.in.graph.block_count, 1u);
  EXPECT_EQ(s.in.sections.sections.size(), m.raceways.size());
}

}  // namespace
}  // namespace raceward::test
