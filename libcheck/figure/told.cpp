#include "figure/told.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

/// Compares two runs by `at(run, i)`, an id, for so many of each; below 0 where the first comes before.
template <class Count, class At>
int compared(Index a, Index b, const Count& count, const At& at) {
  const Index of_a = count(a), of_b = count(b);
  for (Index i = 0; i < std::min(of_a, of_b); ++i) {
    const auto one = id_key(at(a, i)), other = id_key(at(b, i));
    if (one != other) return one < other ? -1 : 1;
  }
  return of_a == of_b ? 0 : of_a < of_b ? -1 : 1;
}

}  // namespace

bool run_before(const Evaluation& e, Index a, Index b) {
  const Model& model = e.model;
  const Index of_a = model.runs[a].circuit, of_b = model.runs[b].circuit;
  if (of_a != of_b) return id_before(model.circuits[of_a].id, model.circuits[of_b].id);
  const auto& routes = e.in.routes;
  const int by_way = compared(
      a, b, [&](Index run) { return routes.run_hops[run].count; },
      [&](Index run, Index i) {
        return model.raceways[routes.hops[routes.run_hops[run].first + i].raceway].id;
      });
  if (by_way != 0) return by_way < 0;
  const int by_stops = compared(
      a, b, [&](Index run) { return model.runs[run].stops.count; },
      [&](Index run, Index i) {
        const Index place = model.stops[model.runs[run].stops.first + i].place;
        return place == none ? std::string_view() : model.places[place].id;
      });
  if (by_stops != 0) return by_stops < 0;
  const auto ids = [&](Index run) {
    std::vector<std::pair<std::size_t, std::string_view>> out;
    const Range& conductors = model.runs[run].conductors;
    for (Index i = conductors.first; i < conductors.end(); ++i)
      out.push_back(id_key(model.conductors[model.run_conductors[i]].id));
    std::ranges::sort(out);
    return out;
  };
  return ids(a) < ids(b);
}

}  // namespace raceward::figure
