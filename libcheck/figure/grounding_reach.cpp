#include "figure/grounding_reach.hpp"

#include <algorithm>
#include <queue>
#include <string_view>
#include <tuple>

#include "figure/first_by_id.hpp"

namespace raceward::figure::grounding {

using namespace installation;

namespace {

// A report that names more unknown connections of one path than these helps nobody, and a chain of thousands
// must not name thousands for each of its boxes.
constexpr std::uint32_t most_told = 16;  // not law: a bound of ours

/// Whether an edge may lie in a path that this size divides, after so much flexible length.
bool may_follow(const Network& net, const Edge& edge, TradeSize size, std::int64_t length) {
  if (edge.flexible == none) return true;
  const Flexible& f = net.flexible[edge.flexible];
  if (length + f.length > f.allows) return false;
  return f.size == TradeSize::unstated || (f.size >= size && f.beside <= size);
}

std::int64_t length_of(const Network& net, const Edge& edge) {
  return edge.flexible == none ? 0 : net.flexible[edge.flexible].length;
}

std::vector<TradeSize> dividing_sizes(const Network& net) {
  std::vector<TradeSize> sizes;
  for (const Flexible& f : net.flexible) {
    if (std::find(sizes.begin(), sizes.end(), f.beside) == sizes.end()) sizes.push_back(f.beside);
  }
  std::sort(sizes.begin(), sizes.end());
  if (sizes.empty()) sizes.push_back(TradeSize::unstated);
  return sizes;
}

/// What tells edges into one node apart, whatever the order of elements.
using Key = std::tuple<EdgeKind, std::string_view, std::string_view, std::string_view, std::uint32_t>;
Key key_of(const Model& model, const Edge& edge) {
  switch (edge.kind) {
    case EdgeKind::raceway:
      return {edge.kind, model.raceways[edge.about].id, {}, {}, 0};
    case EdgeKind::jumper:
      return {edge.kind, model.bonding_jumpers[edge.about].id, {}, {}, 0};
    case EdgeKind::source:
    case EdgeKind::bond:
      return {edge.kind, model.places[edge.about].id, {}, {}, 0};
    case EdgeKind::run:
    case EdgeKind::join:
    case EdgeKind::claim:
      break;
  }
  const auto after = std::upper_bound(model.runs.begin(), model.runs.end(), edge.about,
                                      [](Index s, const Run& run) { return s < run.stops.first; });
  const Run& run = *(after - 1);
  Index conductor = none;
  for (Index i = run.conductors.first; i < run.conductors.end(); ++i)
    hold_first(model.conductors, conductor, model.run_conductors[i]);
  return {edge.kind, model.circuits[run.circuit].id, model.places[model.stops[edge.about].place].id,
          conductor == none ? std::string_view() : model.conductors[conductor].id,
          edge.about - run.stops.first};
}

}  // namespace

void Reach::search_certain(const Network& net) {
  ready = true;
  sizes_ = dividing_sizes(net);
  certain_.assign(net.node_count(), 0);
  using Far = std::pair<std::int64_t, Node>;  // flexible length so far
  std::vector<std::int64_t> length;
  std::vector<Node> near;
  for (const TradeSize size : sizes_) {
    length.assign(net.node_count(), INT64_MAX);
    std::priority_queue<Far, std::vector<Far>, std::greater<>> far;
    far.emplace(0, net.source());
    length[net.source()] = 0;
    while (!far.empty()) {
      const auto [so_far, start] = far.top();
      far.pop();
      if (so_far > length[start]) continue;
      // Everything that adds no length first, without a queue: that is nearly everything.
      near.push_back(start);
      while (!near.empty()) {
        const Node node = near.back();
        near.pop_back();
        certain_[node] = 1;
        for (const std::uint32_t i : net.at(node)) {
          const Edge& edge = net.edges[i];
          if (!edge.certain || !may_follow(net, edge, size, so_far)) continue;
          const Node to = edge.other(node);
          const std::int64_t then = so_far + length_of(net, edge);
          if (then >= length[to]) continue;
          length[to] = then;
          if (then == so_far) {
            near.push_back(to);
          } else {
            far.emplace(then, to);
          }
        }
      }
    }
  }
}

bool told_before(const Model& model, const Edge& a, const Edge& b) {
  return key_of(model, a) < key_of(model, b);
}

bool Reach::Search::before(const Cost& a, const Cost& b) const {
  if (length_first) {
    return std::tie(a.flexible, a.unknown, a.hops) < std::tie(b.flexible, b.unknown, b.hops);
  }
  return std::tie(a.unknown, a.flexible, a.hops) < std::tie(b.unknown, b.flexible, b.hops);
}

void Reach::run(const Network& net, Search& search) {
  search.costs.assign(net.node_count(), {});
  struct Item {
    Cost cost;
    Node node = 0;
  };
  const auto later = [&](const Item& a, const Item& b) { return search.before(b.cost, a.cost); };
  std::priority_queue<Item, std::vector<Item>, decltype(later)> far(later);
  // What costs one more edge and nothing else comes up in the order in which it is found, without a queue
  // that sorts: that is nearly everything.
  std::vector<Item> near;
  std::size_t next = 0;
  search.costs[net.source()] = {0, 0, 0};
  near.push_back({search.costs[net.source()], net.source()});
  while (next < near.size() || !far.empty()) {
    const bool is_near = next < near.size() && (far.empty() || !later(near[next], far.top()));
    const Item item = is_near ? near[next] : far.top();
    if (is_near) {
      ++next;
    } else {
      far.pop();
    }
    if (!(item.cost == search.costs[item.node])) continue;
    for (const std::uint32_t i : net.at(item.node)) {
      const Edge& edge = net.edges[i];
      if (!may_follow(net, edge, search.size, item.cost.flexible)) continue;
      const Cost then{item.cost.unknown + (edge.certain ? 0u : 1u), item.cost.hops + 1,
                      item.cost.flexible + length_of(net, edge)};
      Cost& now = search.costs[edge.other(item.node)];
      if (now.reached() && !search.before(then, now)) continue;
      now = then;
      const bool adds_one = then.unknown == item.cost.unknown && then.flexible == item.cost.flexible;
      if (adds_one) {
        near.push_back({then, edge.other(item.node)});
      } else {
        far.push({then, edge.other(item.node)});
      }
    }
  }
}

/// One for each size.
std::vector<Reach::Search>& Reach::searches(const Network& net, bool length_first) {
  std::vector<Search>& made = length_first ? by_length_ : by_unknown_;
  // Without flexible raceways the order makes no difference to what is reached.
  if (!made.empty() || (length_first && net.flexible.empty())) return made;
  for (const TradeSize size : sizes_) {
    Search& search = made.emplace_back();
    search.size = size;
    search.length_first = length_first;
    run(net, search);
    search.told.resize(net.node_count());
  }
  return made;
}

Reach::Search* Reach::best(const Network& net, Node node) {
  Search* found = nullptr;
  for (const bool length_first : {false, true}) {
    for (Search& search : searches(net, length_first)) {
      if (!search.costs[node].reached()) continue;
      if (found == nullptr || found->before(search.costs[node], found->costs[node])) found = &search;
    }
    if (found != nullptr) break;
  }
  return found;
}

bool Reach::possible(const Network& net, Node node) { return certain(node) || best(net, node) != nullptr; }

std::int64_t Reach::shortest(const Network& net, Node node) {
  std::int64_t least = INT64_MAX;
  for (const bool length_first : {false, true}) {
    for (const Search& search : searches(net, length_first)) {
      if (search.costs[node].reached()) least = std::min(least, search.costs[node].flexible);
    }
  }
  return least;
}

std::uint32_t Reach::edge_to(Evaluation& e, const Network& net, const Search& search, Node node) {
  const Cost& cost = search.costs[node];
  const std::uint32_t no_edge = UINT32_MAX;
  std::uint32_t found = no_edge;
  for (const std::uint32_t i : net.at(node)) {
    const Edge& edge = net.edges[i];
    const Cost& from = search.costs[edge.other(node)];
    if (!from.reached() || !may_follow(net, edge, search.size, from.flexible)) continue;
    const Cost then{from.unknown + (edge.certain ? 0u : 1u), from.hops + 1,
                    from.flexible + length_of(net, edge)};
    if (!(then == cost)) continue;
    if (found == no_edge || told_before(e.model, edge, net.edges[found])) found = i;
  }
  return found;
}

MissingId Reach::missing(Evaluation& e, const Network& net, Node node) {
  Search& search = *best(net, node);
  search.told[net.source()].known = true;
  std::vector<std::pair<Node, std::uint32_t>> back;  // with the edge to each
  for (Node at = node; !search.told[at].known;) {
    const std::uint32_t edge = edge_to(e, net, search, at);
    back.emplace_back(at, edge);
    at = net.edges[edge].other(at);
  }
  for (; !back.empty(); back.pop_back()) {
    const auto [at, i] = back.back();
    const Edge& edge = net.edges[i];
    Told told = search.told[edge.other(at)];
    if (!edge.certain && told.unknown < most_told) {
      told.missing = e.missing.both(told.missing, net.missing(e, edge));
      ++told.unknown;
    }
    search.told[at] = told;
  }
  return search.told[node].missing;
}

Reach& reach(Evaluation& e) {
  auto& made = e.once<Reach>();
  if (!made.ready) made.search_certain(network(e));
  return made;
}

}  // namespace raceward::figure::grounding
