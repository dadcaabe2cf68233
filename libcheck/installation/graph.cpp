// Adjacency by counting sort; blocks and spanning forest by one depth-first search of Boost.Graph.
#include <boost/graph/biconnected_components.hpp>
#include <boost/graph/depth_first_search.hpp>
#include <boost/iterator/counting_iterator.hpp>
#include <boost/iterator/iterator_facade.hpp>
#include <boost/property_map/property_map.hpp>

#include "installation/derived.hpp"

#ifdef BOOST_RECURSIVE_DFS
#error "a chain of a million raceways needs the search without recursion"
#endif

namespace raceward::installation {

namespace {

/// One raceway as seen from one of its places.
struct Edge {
  Index source = none;
  Adjacent to;
  friend bool operator==(const Edge& a, const Edge& b) {
    return a.source == b.source && a.to.raceway == b.to.raceway;
  }
};

class EdgeIterator : public boost::iterator_facade<EdgeIterator, Edge, std::random_access_iterator_tag, Edge,
                                                   std::ptrdiff_t> {
 public:
  EdgeIterator() = default;
  EdgeIterator(Index source, const Adjacent* at) : source_(source), at_(at) {}

 private:
  friend class boost::iterator_core_access;
  [[nodiscard]] Edge dereference() const { return {source_, *at_}; }
  [[nodiscard]] bool equal(const EdgeIterator& other) const { return at_ == other.at_; }
  void increment() { ++at_; }
  void decrement() { --at_; }
  void advance(std::ptrdiff_t n) { at_ += n; }
  [[nodiscard]] std::ptrdiff_t distance_to(const EdgeIterator& other) const { return other.at_ - at_; }

  Index source_ = none;
  const Adjacent* at_ = nullptr;
};

struct Traversal : boost::incidence_graph_tag, boost::vertex_list_graph_tag {};

/// Our adjacency as Boost.Graph wants to see one, so that nothing is copied.
struct View {
  using vertex_descriptor = Index;
  using edge_descriptor = Edge;
  using directed_category = boost::undirected_tag;
  using edge_parallel_category = boost::allow_parallel_edge_tag;
  using traversal_category = Traversal;
  using vertices_size_type = Index;
  using edges_size_type = Index;
  using degree_size_type = Index;
  using vertex_iterator = boost::counting_iterator<Index>;
  using out_edge_iterator = EdgeIterator;
  static Index null_vertex() { return none; }

  const Graph* graph = nullptr;
};

Index num_vertices(const View& v) { return static_cast<Index>(v.graph->first.size() - 1); }
std::pair<View::vertex_iterator, View::vertex_iterator> vertices(const View& v) {
  return {View::vertex_iterator(0), View::vertex_iterator(num_vertices(v))};
}
std::pair<EdgeIterator, EdgeIterator> out_edges(Index place, const View& v) {
  const auto at = v.graph->at(place);
  return {EdgeIterator(place, at.data()), EdgeIterator(place, at.data() + at.size())};
}
Index out_degree(Index place, const View& v) { return static_cast<Index>(v.graph->at(place).size()); }
Index source(const Edge& e, const View&) { return e.source; }
Index target(const Edge& e, const View&) { return e.to.place; }

/// Keeps the tree that the search walks.
class Forest : public boost::default_dfs_visitor {
 public:
  Forest(Graph& graph, Index& components) : graph_(&graph), components_(&components) {}

  void start_vertex(Index, const View&) { ++*components_; }
  void discover_vertex(Index place, const View&) { graph_->component[place] = *components_ - 1; }
  void tree_edge(const Edge& e, const View&) {
    graph_->parent_place[e.to.place] = e.source;
    graph_->parent_raceway[e.to.place] = e.to.raceway;
    graph_->depth[e.to.place] = graph_->depth[e.source] + 1;
  }

 private:
  Graph* graph_;
  Index* components_;
};

/// Property map from a raceway to its block.
struct BlockMap {
  using key_type = Edge;
  using value_type = std::size_t;
  using reference = void;
  using category = boost::writable_property_map_tag;
  Index* block;
};
void put(const BlockMap& map, const Edge& e, std::size_t block) {
  map.block[e.to.raceway] = static_cast<Index>(block);
}

void fill_adjacency(const Model& model, Graph& out) {
  const std::size_t places = model.places.size();
  out.first.assign(places + 1, 0);
  for (const Raceway& r : model.raceways) {
    ++out.first[r.ends[0].place];
    ++out.first[r.ends[1].place];
  }
  Index sum = 0;
  for (Index& first : out.first) sum += std::exchange(first, sum);
  std::vector<Index> next(out.first.begin(), out.first.end() - 1);
  out.adjacent.resize(model.raceways.size() * 2);
  for (Index i = 0; i < model.raceways.size(); ++i) {
    const Index from = model.raceways[i].ends[0].place;
    const Index to = model.raceways[i].ends[1].place;
    out.adjacent[next[from]++] = {to, i};
    out.adjacent[next[to]++] = {from, i};
  }
}

/// The search passes over a raceway that lies beside the one by which it entered a place: they share a block.
void join_parallels(const Model& model, Graph& out) {
  for (Index i = 0; i < model.raceways.size(); ++i) {
    if (out.block[i] != none) continue;
    const Index a = model.raceways[i].ends[0].place;
    const Index b = model.raceways[i].ends[1].place;
    const Index lower = out.parent_place[a] == b ? a : b;
    out.block[i] = out.block[out.parent_raceway[lower]];
  }
}

}  // namespace

Graph build_graph(const Model& model) {
  const std::size_t places = model.places.size();
  const std::size_t raceways = model.raceways.size();
  Graph out;
  fill_adjacency(model, out);
  out.parent_place.assign(places, none);
  out.parent_raceway.assign(places, none);
  out.depth.assign(places, 0);
  out.component.assign(places, none);
  out.block.assign(raceways, none);
  out.bridge.assign(raceways, 0);

  Index components = 0;
  const View view{&out};
  const auto index = boost::identity_property_map();
  const auto found = boost::biconnected_components(
      view, BlockMap{out.block.data()}, boost::graph_detail::dummy_output_iterator(),
      boost::vertex_index_map(index).visitor(Forest(out, components)));
  out.block_count = static_cast<Index>(found.first);

  join_parallels(model, out);
  std::vector<Index> size(out.block_count, 0);
  for (const Index block : out.block) ++size[block];
  for (std::size_t i = 0; i < raceways; ++i) out.bridge[i] = size[out.block[i]] == 1 ? 1 : 0;
  return out;
}

}  // namespace raceward::installation
