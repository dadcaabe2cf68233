// What may carry fault current in an installation: a graph of metal and of spliced grounding conductors.
//
// Nodes: per place its metal, the equipment grounding conductors joined in it (one node, however many), and
// the isolated ones joined in it; per stop of a run that holds such conductors, the conductors there; one
// source. Edges are certain or unknown; what carries nothing is left out. Linear in the document.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "figure/grounding_raceway.hpp"
#include "figure/panel_feeder.hpp"

namespace raceward::figure::grounding {

using Node = std::uint32_t;

enum class Part : std::uint8_t { metal, wires, isolated };

/// What an edge is. `about` of the edge: a place, a raceway, a stop, or a bonding jumper.
enum class EdgeKind : std::uint8_t {
  source,   ///< place: a panel that the supply grounds
  raceway,  ///< raceway
  run,      ///< stop: from the stop before it
  join,     ///< stop: the conductors are spliced or terminated in the place
  claim,    ///< stop: isolated conductors, where no others are joined that could serve the place
  bond,     ///< place: the conductors joined in it are connected to its metal
  jumper,   ///< bonding jumper
};

struct Edge {
  Node a = 0, b = 0;
  installation::Index about = installation::none;
  installation::Index flexible = installation::none;  ///< in Network::flexible
  EdgeKind kind{};
  bool certain = false;

  [[nodiscard]] Node other(Node from) const { return from == a ? b : a; }
};

/// A flexible raceway in the path.
struct Flexible {
  installation::Index raceway = installation::none;
  std::int64_t length = 0;          ///< in steps; 0 where it is not known
  std::int64_t allows = INT64_MAX;  ///< all flexible raceways up to and with this one
  installation::TradeSize size{};
  installation::TradeSize beside{};  ///< the least size that others in the path may have
};

/// Whether a run holds equipment grounding conductors.
struct Held {
  Carries plain = Carries::no;
  Carries isolated = Carries::no;
};

class Network {
 public:
  void build(Evaluation& e);

  [[nodiscard]] Node node(installation::Index place, Part part) const {
    return place * 3 + static_cast<Node>(part);  // not law: nodes a place
  }
  /// The node of a run's conductors at a stop; of plain ones where it has both.
  [[nodiscard]] Node stop_node(installation::Index stop) const { return stops_from_ + stop; }
  [[nodiscard]] Node source() const { return source_; }
  [[nodiscard]] std::size_t node_count() const { return source_ + std::size_t{1}; }
  [[nodiscard]] std::span<const std::uint32_t> at(Node node) const {
    return {edges_at_.data() + first_[node], first_[node + 1] - first_[node]};
  }
  [[nodiscard]] bool any_at(Node node) const { return first_[node] != first_[node + 1]; }

  /// An end said to be bonded in a nonmetallic place where no conductor is joined that it could be bonded to.
  /// REQUIRES: the raceway is in the network.
  [[nodiscard]] bool bonded_to_nothing(const installation::Model& model, installation::Index raceway,
                                       int end) const;
  /// Nothing is at a node, whatever isolated conductors may be.
  [[nodiscard]] bool nothing_at(Node node) const;
  /// Only isolated conductors are joined in the place.
  [[nodiscard]] bool only_isolated(installation::Index place) const {
    return wired_[place] == Wired::isolated;
  }
  /// What a panel is to the path. unknown: it is not said what grounds it, or what feeds it.
  [[nodiscard]] Carries is_source(const installation::Model& model, installation::Index place) const;
  /// What is missing for an unknown edge.
  MissingId missing(Evaluation& e, const Edge& edge) const;

  bool ready = false;
  Bridged bridged;
  std::vector<Edge> edges;
  std::vector<Flexible> flexible;
  std::vector<Held> held;            ///< per run
  std::vector<PanelFeeder> feeders;  ///< per place

 private:
  enum class Wired : std::uint8_t { no, perhaps, isolated, yes };
  /// What is missing of the conductors joined in a place of no metal, which the ends bonded there go to.
  MissingId joins_missing(Evaluation& e, installation::Index place) const;
  void add(EdgeKind kind, installation::Index about, Node a, Node b, bool certain);
  void add_sources(Evaluation& e);
  void add_raceways(Evaluation& e);
  void add_runs(Evaluation& e);
  void add_run(Evaluation& e, const installation::Run& run, Part part, Carries held);
  void add_claims(const installation::Model& model);
  void doubt_bonded_ends(const Evaluation& e);
  void add_bonds(Evaluation& e);
  void add_jumpers(Evaluation& e);
  void index();

  Node stops_from_ = 0, isolated_from_ = 0, source_ = 0;
  std::uint32_t runs_from_edge_ = 0;  // edges of runs begin here
  std::vector<std::uint32_t> first_, edges_at_;
  std::vector<std::uint8_t> bonded_;  // per place, while building; see add_run
  std::vector<Wired> wired_;          // per place: conductors are joined in it, or may be, or a jumper
  std::vector<installation::Index> isolated_stops_;  // where isolated ones are joined, while building
  std::vector<std::uint8_t> faulty_;  // per stop: the step to it leads nowhere; empty where none does
};
const Network& network(Evaluation& e);

/// A place of metal that is said to be connected to nothing.
bool joins_nothing(const installation::Model& model, installation::Index place);
/// A stop at a panel that does not say whether the conductors end at the bar that its metal is bonded to.
bool lacks_bar(const installation::Model& model, const installation::Stop& stop);
/// An insulated equipment grounding conductor of which nobody says whether it is isolated.
bool may_be_isolated(const installation::Model& model, installation::Index conductor);
bool may_be_isolated(const installation::Model& model, const installation::Run& run);
/// Asks it of those of a run.
MissingId lacks_isolated(Evaluation& e, const installation::Run& run, std::string_view why);
/// How a stop treats equipment grounding conductors.
inline installation::StopTreatment treatment(const installation::Stop& stop) {
  return stop.grounding != installation::StopTreatment::unstated ? stop.grounding : stop.ungrounded;
}
inline bool joins(installation::StopTreatment t) {
  return t == installation::StopTreatment::spliced || t == installation::StopTreatment::terminated;
}
inline bool passes(installation::StopTreatment t) {
  return t == installation::StopTreatment::through || t == installation::StopTreatment::looped;
}
/// A conductor that passes unbroken may be held under a screw of the box: where the stop says so, or does not
/// say it, of a box that is said to be grounded by wire.
inline bool may_pass_under_a_screw(const installation::Place& place, const installation::Stop& stop) {
  using installation::YesNo;
  return stop.bonded == YesNo::yes ||
         (stop.bonded == YesNo::unstated && place.grounded_by == installation::GroundedBy::wire);
}

}  // namespace raceward::figure::grounding
