// Routes and pull sections of random small graphs against the plainest method: all simple paths, one by one.
#include <gtest/gtest.h>

#include <algorithm>
#include <random>
#include <set>

#include "support/sketch.hpp"

namespace raceward::test {
namespace {

using namespace installation;
using Path = std::vector<Index>;  // raceways in order

/// Every path from a place to another that passes no place twice.
class Paths {
 public:
  Paths(const Model& model, Index from, Index to)
      : model_(model), to_(to), seen_(model.places.size(), false) {
    go(from);
  }
  std::vector<Path> all;

 private:
  void go(Index at) {
    if (at == to_) {
      all.push_back(path_);
      return;
    }
    seen_[at] = true;
    for (Index r = 0; r < model_.raceways.size(); ++r) {
      const auto& ends = model_.raceways[r].ends;
      for (const int side : {0, 1}) {
        const Index next = ends[1 - side].place;
        if (ends[side].place != at || seen_[next]) continue;
        path_.push_back(r);
        go(next);
        path_.pop_back();
      }
    }
    seen_[at] = false;
  }

  const Model& model_;
  Index to_;
  std::vector<bool> seen_;
  Path path_;
};

Sketch random_sketch(std::mt19937& random, Index places, Index raceways) {
  Sketch s;
  const std::string_view kinds = "PBBBBLKJJ";
  const std::string_view marks[] = {"", "", "!", "?"};
  for (Index i = 0; i < places; ++i) {
    std::string id(1, kinds[random() % kinds.size()]);
    id += std::to_string(i);
    id += marks[random() % 4];
    s.place(id);
  }
  for (Index i = 0; i < raceways; ++i) {
    const auto from = static_cast<Index>(random() % places);
    const auto to = static_cast<Index>((from + 1 + random() % (places - 1)) % places);
    s.raceway("R" + std::to_string(i), from, to);
  }
  return s;
}

TEST(RoutesProperty, AgreeWithAllSimplePaths) {
  std::mt19937 random(20231);
  int unique = 0, ambiguous = 0, apart = 0;
  for (int round = 0; round < 1500; ++round) {
    const Index places = 2 + random() % 7;
    Sketch s = random_sketch(random, places, 1 + random() % (places + 2));
    Model& m = s.in.model;
    for (Index from = 0; from < places; ++from) {  // one run a pair, so that each answer stands alone
      for (Index to = 0; to < places; ++to) {
        if (from != to) s.run(std::string(m.places[from].id) + " " + std::string(m.places[to].id));
      }
    }
    s.derive();
    std::set<Index> uncertain;  // raceways that some ambiguous run may pass
    for (Index run = 0; run < m.runs.size(); ++run) {
      const Index stop = m.runs[run].stops.first + 1;
      const std::vector<Path> paths = Paths(m, m.stops[stop - 1].place, m.stops[stop].place).all;
      const Range hops = s.in.routes.run_hops[run];
      Path found;
      for (Index h = hops.first; h < hops.end(); ++h) found.push_back(s.in.routes.hops[h].raceway);
      const bool is_ambiguous =
          std::any_of(s.in.routes.ambiguities.begin(), s.in.routes.ambiguities.end(),
                      [&](const Ambiguity& a) { return a.run == run && a.stop == stop; });
      const bool is_fault = std::any_of(s.in.routes.faults.begin(), s.in.routes.faults.end(),
                                        [&](const RouteFault& f) { return f.stop == stop; });
      if (paths.empty()) {
        EXPECT_TRUE(is_fault && !is_ambiguous && found.empty());
        ++apart;
      } else if (paths.size() == 1) {
        EXPECT_EQ(found, paths.front());
        EXPECT_FALSE(is_ambiguous || is_fault);
        ++unique;
      } else {
        EXPECT_TRUE(is_ambiguous && !is_fault && found.empty());
        for (const Path& path : paths) uncertain.insert(path.begin(), path.end());
        ++ambiguous;
      }
    }
    // All that a path may pass is marked, and nothing that no path passes.
    for (Index r = 0; r < m.raceways.size(); ++r) {
      EXPECT_EQ(s.in.routes.block_ambiguity[s.in.graph.block[r]] != none, uncertain.count(r) == 1);
    }
    if (HasFailure()) FAIL() << "round " << round;
  }
  for (const int seen : {unique, ambiguous, apart}) EXPECT_GT(seen, 1000);
}

TEST(RoutesProperty, ABridgeIsARacewayWithoutWhichItsEndsAreApart) {
  std::mt19937 random(7);
  for (int round = 0; round < 1000; ++round) {
    const Index places = 2 + random() % 8;
    Sketch s = random_sketch(random, places, 1 + random() % (places + 3));
    s.derive();
    for (Index r = 0; r < s.in.model.raceways.size(); ++r) {
      Model without;
      without.places = s.in.model.places;
      without.raceways = s.in.model.raceways;
      without.raceways.erase(without.raceways.begin() + r);
      const auto& ends = s.in.model.raceways[r].ends;
      const bool apart = Paths(without, ends[0].place, ends[1].place).all.empty();
      ASSERT_EQ(s.in.graph.bridge[r] != 0, apart) << "round " << round << " raceway " << r;
    }
  }
}

TEST(RoutesProperty, EveryHopContinuesAndEveryVisitHasItsHops) {
  std::mt19937 random(99);
  for (int round = 0; round < 500; ++round) {
    const Index places = 2 + random() % 9;
    Sketch s = random_sketch(random, places, 1 + random() % (places + 1));
    for (int run = 0; run < 3; ++run) {
      std::string stops;
      for (int i = 0; i < 5; ++i) stops += std::string(s.in.model.places[random() % places].id) + " ";
      s.run(stops);
    }
    s.derive();
    const Routes& routes = s.in.routes;
    std::size_t passings = 0, ends = 0;
    for (Index run = 0; run < s.in.model.runs.size(); ++run) {
      const Range range = routes.run_hops[run];
      for (Index h = range.first; h < range.end(); ++h) {
        const Hop& hop = routes.hops[h];
        const auto& at = s.in.model.raceways[hop.raceway].ends;
        EXPECT_EQ((std::set{at[0].place, at[1].place}), (std::set{hop.from, hop.to}));
        if (hop.stop != none) {
          EXPECT_EQ(s.in.model.stops[hop.stop].place, hop.to);
        }
        if (hop.stop == none) {
          EXPECT_EQ(routes.hops[h + 1].from, hop.to);
        }
      }
    }
    for (Index place = 0; place < places; ++place) {
      for (const Visit& visit : routes.visits_at(place)) {
        if (visit.arrives) {
          EXPECT_EQ(routes.hops[visit.hop_in].to, place);
        }
        if (visit.leaves) {
          EXPECT_EQ(routes.hops[visit.hop_out].from, place);
        }
        ends += (visit.arrives ? 1u : 0u) + (visit.leaves ? 1u : 0u);
      }
    }
    for (Index r = 0; r < s.in.model.raceways.size(); ++r) passings += routes.runs_in(r).size();
    EXPECT_EQ(passings, routes.hops.size());
    EXPECT_EQ(ends, 2 * routes.hops.size());
    if (HasFailure()) FAIL() << "round " << round;
  }
}
/// The same installation with places and raceways in another order.
/// The same installation with places and raceways in another order, and every raceway perhaps turned round.
Sketch shuffled(const Sketch& s, std::mt19937& random) {
  const Model& m = s.in.model;
  std::vector<Index> places(m.places.size()), raceways(m.raceways.size());
  for (Index i = 0; i < places.size(); ++i) places[i] = i;
  for (Index i = 0; i < raceways.size(); ++i) raceways[i] = i;
  std::shuffle(places.begin(), places.end(), random);
  std::shuffle(raceways.begin(), raceways.end(), random);
  Sketch out;
  for (const Index i : places)
    out.in.model.places[out.place(m.places[i].id)].accessible = m.places[i].accessible;
  for (const Index i : raceways) {
    const auto& ends = m.raceways[i].ends;
    out.raceway(m.raceways[i].id, out.place(m.places[ends[0].place].id),
                out.place(m.places[ends[1].place].id));
  }
  return out;
}

TEST(SectionsProperty, TheOrderOfElementsDoesNotShow) {
  std::mt19937 random(4242);
  int merged = 0, branching = 0;
  for (int round = 0; round < 2000; ++round) {
    const Index places = 2 + random() % 9;
    Sketch s = random_sketch(random, places, 1 + random() % (places + 2));
    s.derive();
    const std::string sections = s.sections();
    if (sections.find('+') != std::string::npos) ++merged;
    if (sections.find("branches") != std::string::npos) ++branching;
    for (int i = 0; i < 3; ++i) {
      Sketch other = shuffled(s, random);
      other.derive();
      ASSERT_EQ(other.sections(), sections);
    }
  }
  EXPECT_GT(merged, 300);
  EXPECT_GT(branching, 100);
}

TEST(SectionsProperty, JoinExactlyWhatMeetsWhereNobodyCanPull) {
  std::mt19937 random(31);
  for (int round = 0; round < 1000; ++round) {
    const Index places = 2 + random() % 9;
    Sketch s = random_sketch(random, places, 1 + random() % (places + 2));
    s.derive();
    const Model& m = s.in.model;
    std::vector<Index> group(m.raceways.size());
    for (Index r = 0; r < group.size(); ++r) group[r] = r;
    for (bool changed = true; changed;) {  // to the fixed point, pair by pair
      changed = false;
      for (Index a = 0; a < group.size(); ++a) {
        for (Index b = 0; b < group.size(); ++b) {
          for (const RacewayEnd& x : m.raceways[a].ends) {
            for (const RacewayEnd& y : m.raceways[b].ends) {
              const Place& place = m.places[x.place];
              const bool pulls = place.kind != PlaceKind::joint && place.accessible != YesNo::no;
              if (x.place != y.place || pulls || group[b] <= group[a]) continue;
              group[b] = group[a];
              changed = true;
            }
          }
        }
      }
    }
    for (Index a = 0; a < group.size(); ++a) {
      for (Index b = 0; b < group.size(); ++b) {
        ASSERT_EQ(group[a] == group[b], s.in.sections.section_of[a] == s.in.sections.section_of[b])
            << "round " << round;
      }
    }
  }
}

}  // namespace
}  // namespace raceward::test
