#include "figure/visits_on.hpp"

#include <algorithm>
#include <numeric>

namespace raceward::figure {

using namespace installation;

std::span<const Index> VisitsByCircuit::of(const Evaluation& e, Index place, Index circuit) {
  const Routes& routes = e.in.routes;
  if (sorted_.empty()) {
    sorted_.assign(e.model.places.size(), 0);
    order_.resize(routes.visits.size());
  }
  const auto visits = routes.visits_at(place);
  if (visits.empty()) return {};
  const auto first = static_cast<Index>(visits.data() - routes.visits.data());
  const std::span here = std::span(order_).subspan(first, visits.size());
  const auto circuit_of = [&](Index visit) { return e.model.runs[routes.visits[visit].run].circuit; };
  if (sorted_[place] == 0) {
    sorted_[place] = 1;
    std::iota(here.begin(), here.end(), first);
    std::ranges::stable_sort(here, {}, circuit_of);
  }
  const auto begin = std::ranges::lower_bound(here, circuit, {}, circuit_of);
  const auto end = std::ranges::upper_bound(here, circuit, {}, circuit_of);
  return {begin, end};
}

}  // namespace raceward::figure
