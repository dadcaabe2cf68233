// Time of what is derived from structure, for 10^2 to 10^5 raceways; it must grow linearly.
#include <benchmark/benchmark.h>

#include <deque>
#include <random>
#include <string>

#include "installation/derived.hpp"

namespace {

using namespace raceward;
using namespace raceward::installation;

struct Drawn {
  Model model;
  std::deque<std::string> ids;
};

/// Panels that feed trees of boxes, one in eight behind a finish; from each panel runs down to some boxes, by
/// every second box on the way. `loops` adds raceways that close rings, one in ten.
Drawn draw(Index raceways, bool loops) {
  Drawn out;
  Model& m = out.model;
  std::mt19937 random(1);
  constexpr Index tree = 32;  // raceways a panel
  const auto id = [&](char letter, std::size_t n) {
    return std::string_view(out.ids.emplace_back(letter + std::to_string(n)));
  };
  const auto join = [&](Index from, Index to) {
    Raceway raceway;
    raceway.id = id('R', m.raceways.size());
    raceway.ends[0].place = from;
    raceway.ends[1].place = to;
    m.raceways.push_back(raceway);
  };
  while (m.raceways.size() < raceways) {
    const auto panel = static_cast<Index>(m.places.size());
    std::vector<Index> above = {none};
    for (Index i = 0; i <= tree; ++i) {
      Place place;
      place.kind = i == 0 ? PlaceKind::panel : PlaceKind::box;
      place.accessible = i % 8 == 5 ? YesNo::no : YesNo::yes;
      place.id = id(i == 0 ? 'P' : 'B', m.places.size());
      m.places.push_back(place);
      if (i == 0) continue;
      above.push_back(i - 1 - static_cast<Index>(random() % std::min<Index>(i, 3)));
      join(panel + above[i], panel + i);
      if (loops && i % 10 == 9) join(panel + i, panel + above[above[i]]);
    }
    for (Index leaf = 2; leaf <= tree; leaf += 3) {
      std::vector<Index> way;
      for (Index at = leaf; at != none; at = above[at]) way.push_back(panel + at);
      Run run;
      run.stops.first = static_cast<Index>(m.stops.size());
      for (std::size_t i = way.size(); i-- > 0;) {
        if (i % 2 == 1 && i + 1 != way.size()) continue;
        Stop stop;
        stop.place = way[i];
        m.stops.push_back(stop);
      }
      run.stops.count = static_cast<Index>(m.stops.size()) - run.stops.first;
      m.runs.push_back(run);
    }
  }
  return out;
}

void graph(benchmark::State& state) {
  const Drawn drawn = draw(static_cast<Index>(state.range(0)), state.range(1) != 0);
  for (auto _ : state) benchmark::DoNotOptimize(build_graph(drawn.model));
  state.SetComplexityN(static_cast<std::int64_t>(drawn.model.raceways.size()));
}

void routes(benchmark::State& state) {
  const Drawn drawn = draw(static_cast<Index>(state.range(0)), state.range(1) != 0);
  const Graph graph = build_graph(drawn.model);
  for (auto _ : state) {
    const Routes found = derive_routes(drawn.model, graph);
    if (!found.faults.empty()) state.SkipWithError("a run cannot be followed");
    benchmark::DoNotOptimize(found.hops.data());
  }
  state.SetComplexityN(static_cast<std::int64_t>(drawn.model.raceways.size()));
}

void sections(benchmark::State& state) {
  const Drawn drawn = draw(static_cast<Index>(state.range(0)), state.range(1) != 0);
  const Graph graph = build_graph(drawn.model);
  for (auto _ : state) benchmark::DoNotOptimize(derive_sections(drawn.model, graph));
  state.SetComplexityN(static_cast<std::int64_t>(drawn.model.raceways.size()));
}

void all_derived(benchmark::State& state) {
  const Drawn drawn = draw(static_cast<Index>(state.range(0)), state.range(1) != 0);
  for (auto _ : state) {
    const Graph graph = build_graph(drawn.model);
    benchmark::DoNotOptimize(derive_routes(drawn.model, graph));
    benchmark::DoNotOptimize(derive_sections(drawn.model, graph));
  }
  state.SetComplexityN(static_cast<std::int64_t>(drawn.model.raceways.size()));
  state.counters["raceways"] = static_cast<double>(drawn.model.raceways.size());
  state.counters["stops"] = static_cast<double>(drawn.model.stops.size());
}

void sizes(benchmark::internal::Benchmark* b) {
  b->ArgNames({"raceways", "loops"})->ArgsProduct({{100, 1'000, 10'000, 100'000}, {0, 1}});
  b->Unit(benchmark::kMicrosecond)->Complexity(benchmark::oN);
}
BENCHMARK(graph)->Apply(sizes);
BENCHMARK(routes)->Apply(sizes);
BENCHMARK(sections)->Apply(sizes);
BENCHMARK(all_derived)->Apply(sizes);

}  // namespace
