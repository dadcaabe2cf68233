// What follows from an installation as written: who is joined to whom, which way conductors go, where one can
// pull.
//
// Built once after loading, immutable. Everything is linear in the document, or refused with a RouteFault.
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "installation/model.hpp"

namespace raceward::installation {

/// One raceway end as seen from a place.
struct Adjacent {
  Index place = none;  ///< at the other end
  Index raceway = none;
};

/// Places and raceways as a graph: compact adjacency, spanning forest, blocks (biconnected components).
struct Graph {
  std::vector<Index> first;         ///< per place, into adjacent; one more at the end
  std::vector<Adjacent> adjacent;   ///< per place in document order of raceways
  std::vector<Index> parent_place;  ///< spanning forest: none for a root
  std::vector<Index> parent_raceway;
  std::vector<Index> depth;
  std::vector<Index> component;  ///< per place: number of its connected component
  std::vector<Index> block;      ///< per raceway: number of its block
  std::vector<std::uint8_t>
      bridge;  ///< per raceway: 1 where it is alone in its block (no second way round it)
  Index block_count = 0;

  [[nodiscard]] std::span<const Adjacent> at(Index place) const {
    return {adjacent.data() + first[place], first[place + 1] - first[place]};
  }
};
/// REQUIRES: every raceway joins two different places.
Graph build_graph(const Model& model);

/// One raceway that a run passes, in order.
struct Hop {
  Index raceway = none;
  Index from = none, to = none;  ///< places
  Index stop = none;  ///< the stop reached by it; none where it only passes through `to` on the way
};

/// A run at a place: a stop of the document, or a place that a derived path passes through unbroken.
struct Visit {
  Index run = none;
  Index stop = none;                    ///< none: passes through on a derived path
  bool arrives = false;                 ///< has a hop into the place
  bool leaves = false;                  ///< has a hop out of the place
  Index hop_in = none, hop_out = none;  ///< into Routes::hops
};

/// A step between two successive stops that has more than one path, so that the document must say which
/// (via).
struct Ambiguity {
  Index stop = none;  ///< the later stop
  Index run = none;
};

/// Which of two is named, whatever their order in the document.
bool told_before(const Model& model, const Ambiguity& a, const Ambiguity& b);

/// A step that no raceway joins, or more than the engine follows: derived paths pass at most 64 raceways for
/// each raceway and stop of the document, taken together.
struct RouteFault {
  enum class Kind : std::uint8_t { not_joined, via_does_not_lead, too_long } kind{};
  Index stop = none;
  Index via = none;  ///< the offending raceway of a via list; the first one where the run begins with it
};

/// The way of every run through the raceways.
///
/// A step with `via` follows it. Without, it takes the only path through the graph; where there are several
/// (raceways side by side, or a ring, even if one raceway joins the two places directly) it is an Ambiguity.
/// A step without hops (ambiguous or faulty) is left out; the run goes on from its later stop.
struct Routes {
  std::vector<Hop> hops;
  std::vector<Range> run_hops;         ///< per run
  std::vector<Ambiguity> ambiguities;  ///< in order of stops
  std::vector<RouteFault> faults;
  std::vector<Index> raceway_first;  ///< CSR: per raceway, into raceway_runs
  std::vector<Index> raceway_runs;   ///< runs that pass it, once for each passing
  std::vector<Index> place_first;    ///< CSR: per place, into visits
  std::vector<Visit> visits;
  std::vector<Index>
      block_ambiguity;  ///< per block of the graph: of ambiguities that may pass it the one to name, or none

  [[nodiscard]] std::span<const Index> runs_in(Index raceway) const {
    return {raceway_runs.data() + raceway_first[raceway],
            raceway_first[raceway + 1] - raceway_first[raceway]};
  }
  [[nodiscard]] std::span<const Visit> visits_at(Index place) const {
    return {visits.data() + place_first[place], place_first[place + 1] - place_first[place]};
  }
};
Routes derive_routes(const Model& model, const Graph& graph);

/// Raceways between two pull points, in order. Panels, equipment, accessible boxes and accessible conduit
/// bodies are pull points; joints and places stated not to be accessible are not. Places whose accessibility
/// is not stated are taken as ends and named in `unsure`.
struct PullSection {
  Index ends[2] = {none, none};  ///< places; as the raceway of the least id is drawn
  Range raceways;                ///< into Sections::raceways, in order from ends[0]
  Index unsure = none;           ///< an end whose accessibility is not stated
  Index branches_at =
      none;  ///< a place within it that joins three or more raceways, or closes a ring; then the
             ///< raceways stand in order of their ids, and ends are the first two of all ends
};
struct Sections {
  std::vector<PullSection> sections;
  std::vector<Index> raceways;
  std::vector<Index> section_of;  ///< per raceway
};
Sections derive_sections(const Model& model, const Graph& graph);
/// Whether somebody can pull at a place. One whose accessibility is not stated is taken as a pull point.
bool is_pull_point(const Place& place);

/// The kind of subject that a place is.
SubjectKind subject_kind(PlaceKind kind);

/// Id of a subject as documents and reports write it; derived subjects are named after what they are made of
/// ("R3+R4" for a pull section of two raceways).
std::string id_of(const Model& model, const Sections& sections, Subject subject);
/// The subject in words with its chain of places: "raceway R3, box B2 to box B4".
std::string words_of(const Model& model, const Sections& sections, Subject subject);
/// Where the subject stands in the file (a pull section: its first raceway).
Offset offset_of(const Model& model, const Sections& sections, Subject subject);
/// How many subjects of a kind there are; subjects of place kinds are listed by subjects_of.
std::uint32_t count_of(const Model& model, const Sections& sections, SubjectKind kind);
/// All subjects of a kind in document order.
std::vector<Subject> subjects_of(const Model& model, const Sections& sections, SubjectKind kind);

}  // namespace raceward::installation

namespace raceward {

/// A loaded installation with all that is derived from its structure. Opaque to embedders.
class Installation {
 public:
  installation::Model model;
  installation::Graph graph;
  installation::Routes routes;
  installation::Sections sections;
};

}  // namespace raceward
