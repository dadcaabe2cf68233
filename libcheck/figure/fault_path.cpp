// Impedance of the grounding path.
//
// Method: over the net of what carries fault current. A metal raceway has the impedance that the law gives
// for its type and size, over its length; an equipment grounding conductor that of its size and metal, the
// best where a run has several. Splices, bonds and jumpers count nothing. The single way of least impedance
// counts: what lies beside it would only lower it.
#include "figure/fault_path.hpp"

#include <algorithm>
#include <queue>
#include <utility>

#include "figure/grounding_reach.hpp"
#include "figure/impedance_law.hpp"
#include "figure/raceway_kinds.hpp"
#include "figure/shown.hpp"
#include "figure/type_rows.hpp"

namespace raceward::figure::grounding {

using namespace installation;

namespace {

struct SteelRows : TypeRows {
  void read(const Law& law) { read_by<TradeSize>(law, "raceway-impedance"); }
};

bool grounds(const Conductor& c, bool isolated) {
  const bool role = c.role == Role::equipment_grounding || c.role == Role::bonding;
  return role && (c.isolated == YesNo::yes) == isolated;
}

}  // namespace

PathsBack::Piece PathsBack::raceway(Evaluation& e, Index index) const {
  const auto& rows = e.of_law<SteelRows>();
  const Raceway& raceway = e.model.raceways[index];
  const Subject at{SubjectKind::raceway, index};
  Piece out;
  const Value length = e.get_aside(Id::raceway_length, at);
  out.missing = length.missing;
  if (raceway.type == RacewayType::unstated)
    out.missing = e.missing.both(out.missing, lacks_type(e, at).missing);
  if (raceway.type != RacewayType::unstated && raceway.trade_size == TradeSize::unstated &&
      is_tubular(raceway.type)) {
    out.missing =
        e.missing.both(out.missing, e.lacks(at, "trade-size", "a trade size such as 3/4", installer).missing);
  }
  if (out.missing != 0) return out;
  const std::uint32_t row = rows.of(raceway.type, static_cast<std::size_t>(raceway.trade_size));
  const bool stainless = raceway.material == RacewayMetal::stainless_steel;
  const std::int64_t ohms = row == Table::none || stainless
                                ? Table::blank
                                : rows.table->count(row, rows.table->column("ohms", Dimension::resistance));
  if (ohms == Table::blank) {
    out.missing = e.lacks(Subject{}, "raceway-impedance", "a row for this raceway", ruleset_author,
                          fmt::format(FMT_COMPILE("the ruleset in force gives no impedance for {} {}{}"),
                                      name_of(raceway.type), name_of(raceway.trade_size),
                                      stainless ? " of stainless steel" : ""))
                      .missing;
    return out;
  }
  out.ohms = over_length(ohms, length.count);
  return out;
}

void PathsBack::measure_run(Evaluation& e, Index index, bool isolated) {
  const Run& run = e.model.runs[index];
  auto& pieces = isolated ? isolated_ : plain_;
  Piece by_conduit[conduit_count];
  bool ready[conduit_count] = {};
  const auto of_run = [&](Conduit conduit) -> const Piece& {
    Piece& best = by_conduit[static_cast<std::size_t>(conduit)];
    if (std::exchange(ready[static_cast<std::size_t>(conduit)], true)) return best;
    best.ohms = INT64_MAX;
    for (Index i = run.conductors.first; i < run.conductors.end(); ++i) {
      const Index c = e.model.run_conductors[i];
      const Conductor& conductor = e.model.conductors[c];
      if (!grounds(conductor, isolated) || e.model.conductor_kinds[conductor.kind].cable) continue;
      const ConductorImpedance one = impedance_of(e, c, conduit);
      best.missing = e.missing.both(best.missing, one.missing);
      if (one.missing == 0) best.ohms = std::min(best.ohms, one.value.most());
    }
    if (best.ohms == INT64_MAX) best.ohms = 0;
    return best;
  };
  Index stop = run.stops.first;
  Piece so_far;
  const Range& hops = e.in.routes.run_hops[index];
  for (Index h = hops.first; h < hops.end(); ++h) {
    const Hop& hop = e.in.routes.hops[h];
    const Subject raceway{SubjectKind::raceway, hop.raceway};
    const RacewayType type = e.model.raceways[hop.raceway].type;
    const Value length = e.get_aside(Id::raceway_length, raceway);
    const Piece& wire = of_run(impedance_law(e).conduit(e.model.raceways[hop.raceway]));
    so_far.missing = e.missing.both(so_far.missing, e.missing.both(length.missing, wire.missing));
    if (type == RacewayType::unstated)
      so_far.missing = e.missing.both(so_far.missing, lacks_type(e, raceway).missing);
    if (length) so_far.ohms += over_length(wire.ohms, length.count);
    if (hop.stop == none) continue;
    for (++stop; stop < hop.stop; ++stop) {
      pieces[stop].missing =
          e.lacks({SubjectKind::circuit, run.circuit}, "via", "the raceways that the run takes", designer, {},
                  e.model.stops[stop].source)
              .missing;
    }
    pieces[stop] = so_far;
    so_far = {};
  }
  for (++stop; stop < run.stops.end(); ++stop) {
    pieces[stop].missing =
        e.lacks({SubjectKind::circuit, run.circuit}, "via", "the raceways that the run takes", designer, {},
                e.model.stops[stop].source)
            .missing;
  }
}

void PathsBack::measure_runs(Evaluation& e) {
  const Network& net = network(e);
  plain_.assign(e.model.stops.size(), {});
  isolated_.assign(e.model.stops.size(), {});
  for (Index run = 0; run < e.model.runs.size(); ++run) {
    if (net.held[run].plain != Carries::no) measure_run(e, run, false);
    if (net.held[run].isolated != Carries::no) measure_run(e, run, true);
  }
}

PathsBack::Piece PathsBack::piece(Evaluation& e, const Network& net, const Edge& edge) const {
  switch (edge.kind) {
    case EdgeKind::raceway:
      return raceway(e, edge.about);
    case EdgeKind::run:
      return edge.b == net.stop_node(edge.about) ? plain_[edge.about] : isolated_[edge.about];
    default:
      return {};
  }
}

std::vector<std::int64_t> PathsBack::search(const Network& net, bool known) const {
  // What the search reads of an edge stands together: a large net is read from end to end of memory.
  struct Way {
    Node a = 0, b = 0;
    std::int64_t ohms = -1;  // below 0: not taken
  };
  std::vector<Way> ways;
  ways.reserve(net.edges.size());
  for (std::size_t i = 0; i < net.edges.size(); ++i) {
    const Edge& edge = net.edges[i];
    const bool open_question = !edge.certain || pieces_[i].missing != 0;
    ways.push_back({edge.a, edge.b, !open_question ? pieces_[i].ohms : known ? -1 : 0});
  }
  std::vector<std::int64_t> reached(net.node_count(), INT64_MAX);
  using Far = std::pair<std::int64_t, Node>;
  std::priority_queue<Far, std::vector<Far>, std::greater<>> far;
  std::vector<Node> near;
  const auto improve = [&](Node from, std::uint32_t i) {
    const Way& way = ways[i];
    if (way.ohms < 0) return;
    const std::int64_t cost = reached[from], then = cost + way.ohms;
    const Node to = from == way.a ? way.b : way.a;
    if (then >= reached[to]) return;
    reached[to] = then;
    if (then == cost) {
      near.push_back(to);
    } else {
      far.emplace(then, to);
    }
  };
  const auto improve_all = [&](Node from) {
    for (const std::uint32_t i : net.at(from)) improve(from, i);
  };
  reached[net.source()] = 0;
  std::vector<std::uint8_t> found(net.node_count());
  found[net.source()] = 1;
  std::vector<std::uint32_t> entries;
  for (const std::uint32_t first : net.at(net.source())) {
    // One part of the net after the other, by all the ways from the source into it: what belongs together
    // stands together in memory, and a queue over all parts would go back and forth between them.
    const Node into = net.edges[first].other(net.source());
    if (ways[first].ohms < 0 || found[into] != 0) continue;
    found[into] = 1;
    near.push_back(into);
    while (!near.empty()) {
      const Node node = near.back();
      near.pop_back();
      for (const std::uint32_t i : net.at(node)) {
        if (ways[i].ohms < 0) continue;
        const Node to = node == ways[i].a ? ways[i].b : ways[i].a;
        if (to == net.source()) entries.push_back(i);
        if (std::exchange(found[to], 1) == 0) near.push_back(to);
      }
    }
    for (const std::uint32_t i : entries) improve(net.source(), i);
    entries.clear();
    while (!near.empty() || !far.empty()) {
      // Everything that adds nothing first, without a queue: splices and bonds are most of the net.
      while (!near.empty()) {
        const Node node = near.back();
        near.pop_back();
        improve_all(node);
      }
      if (far.empty()) break;
      const auto [cost, node] = far.top();
      far.pop();
      if (cost == reached[node]) near.push_back(node);
    }
  }
  return reached;
}

void PathsBack::build(Evaluation& e) {
  ready = true;
  const Network& net = network(e);
  measure_runs(e);
  pieces_.reserve(net.edges.size());
  bool open_questions = false;
  for (const Edge& edge : net.edges) {
    pieces_.push_back(piece(e, net, edge));
    open_questions = open_questions || !edge.certain || pieces_.back().missing != 0;
  }
  most_ = search(net, true);
  least_ = open_questions ? search(net, false) : most_;
  if (open_questions) count_hops(net, false);
}

/// What an edge adds; what is open adds nothing, or where only what is known counts is below 0: not taken.
std::int64_t PathsBack::cost_of(std::uint32_t edge, const Network& net, bool known) const {
  const bool open = !net.edges[edge].certain || pieces_[edge].missing != 0;
  return !open ? pieces_[edge].ohms : known ? -1 : 0;
}

/// Whether an edge is part of a least way that comes from the node.
bool PathsBack::leads(const Network& net, std::uint32_t edge, Node from, bool known) const {
  const auto& reached = known ? most_ : least_;
  const std::int64_t so_far = reached[from], then = reached[net.edges[edge].other(from)];
  const std::int64_t more = cost_of(edge, net, known);
  return so_far != INT64_MAX && then != INT64_MAX && more >= 0 && then == so_far + more;
}

void PathsBack::count_hops(const Network& net, bool known) {
  Ways& ways = known ? known_ : least_ways_;
  std::vector<std::uint32_t>& hops = ways.hops;
  ways.back.assign(net.node_count(), UINT32_MAX);
  hops.assign(net.node_count(), UINT32_MAX);
  hops[net.source()] = 0;
  std::vector<Node> near{net.source()};
  for (std::size_t next = 0; next < near.size(); ++next) {
    const Node from = near[next];
    for (const std::uint32_t i : net.at(from)) {
      const Node to = net.edges[i].other(from);
      if (hops[to] != UINT32_MAX || !leads(net, i, from, known)) continue;
      hops[to] = hops[from] + 1;
      near.push_back(to);
    }
  }
}

/// The edge to go back by. Of ways as long by the fewest edges, then by ids, so that the order of elements
/// does not matter. REQUIRES: hops are counted, and lead to the node, which is not the source.
std::uint32_t PathsBack::edge_back(Evaluation& e, const Network& net, Node node, bool known) {
  Ways& ways = known ? known_ : least_ways_;
  std::uint32_t& found = ways.back[node];
  if (found != UINT32_MAX) return found;
  for (const std::uint32_t each : net.at(node)) {
    const Node from = net.edges[each].other(node);
    if (ways.hops[from] + 1 != ways.hops[node] || !leads(net, each, from, known)) continue;
    if (found == UINT32_MAX || told_before(e.model, net.edges[each], net.edges[found])) found = each;
  }
  return found;
}

MissingId PathsBack::missing(Evaluation& e, Node node) {
  const Network& net = network(e);
  if (least_ways_.hops.empty() || least_ways_.hops[node] == UINT32_MAX) return 0;
  told_.resize(net.node_count());
  told_[net.source()].known = true;
  std::vector<std::pair<Node, std::uint32_t>> back;  // with the edge to each, as far as nobody asked before
  for (Node at = node; !told_[at].known; at = net.edges[back.back().second].other(at)) {
    back.emplace_back(at, edge_back(e, net, at, false));
  }
  for (; !back.empty(); back.pop_back()) {
    const auto [at, i] = back.back();
    const Edge& edge = net.edges[i];
    MissingId missing = e.missing.both(told_[edge.other(at)].missing, pieces_[i].missing);
    if (!edge.certain) missing = e.missing.both(missing, net.missing(e, edge));
    told_[at] = {missing, true};
  }
  return told_[node].missing;
}

std::string PathsBack::words(const Evaluation& e, const Edge& edge) const {
  if (edge.kind == EdgeKind::raceway)
    return fmt::format(FMT_COMPILE("raceway {}"), e.model.raceways[edge.about].id);
  return fmt::format(FMT_COMPILE("equipment grounding conductor between {} and {}"),
                     short_place(e.model, e.model.stops[edge.about - 1].place),
                     short_place(e.model, e.model.stops[edge.about].place));
}

void PathsBack::note(Evaluation& e, Node node) {
  const Network& net = network(e);
  if (known_.hops.empty()) count_hops(net, true);
  for (Node at = node; at != net.source() && known_.hops[at] != UINT32_MAX;) {
    const std::uint32_t i = edge_back(e, net, at, true);
    if (pieces_[i].ohms != 0) {
      e.note(FMT_COMPILE("back by {}: {}"), words(e, net.edges[i]), shown_ohms(pieces_[i].ohms));
    }
    at = net.edges[i].other(at);
  }
}

PathsBack& paths_back(Evaluation& e) {
  auto& made = e.once<PathsBack>();
  if (!made.ready) made.build(e);
  return made;
}

}  // namespace raceward::figure::grounding
