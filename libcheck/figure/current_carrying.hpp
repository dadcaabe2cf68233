// Which conductors of a run carry current, and of which kinds they are; gone through once a run.
#pragma once

#include "figure/figure.hpp"
#include "figure/told.hpp"

namespace raceward::figure {

/// Conductors of a run by what they do for the current in a raceway.
struct Carrying {
  std::int64_t ungrounded = 0, switched = 0, travelers = 0, grounded = 0;
  std::int64_t others = 0;    ///< that count as they are: spares, and control conductors said to be loaded
  std::int64_t controls = 0;  ///< control conductors of which nobody says whether they are
  std::int64_t idle = 0;      ///< those that are not
  installation::Index control = installation::none;  ///< of which nobody says it, the first by id
  std::int64_t grounding = 0;  ///< equipment grounding and bonding conductors: they carry none
  MissingId missing = 0;       ///< roles that are not stated, cables without conductors

  /// Of two travelers one carries current at a time.
  [[nodiscard]] std::int64_t hot() const { return ungrounded + switched + (travelers + 1) / 2; }
  Carrying& operator+=(const Carrying& other);
};
const Carrying& carrying_of_run(Evaluation& e, installation::Index run);

/// Ungrounded conductors, those after a switch and travelers: they take the circuit's load.
bool takes_load(installation::Role role);

/// What a circuit lays into a raceway, of all its runs.
struct CircuitCarrying {
  installation::Index circuit = installation::none;
  Carrying laid;
};
/// By circuit, in their order.
std::vector<CircuitCarrying> carrying_in(Evaluation& e, installation::Index raceway);

/// What is open of the heat of conductors: asked for, or taken as it is worst or best for them. Open is what
/// matters seldom: loads with harmonic currents, what control conductors carry, and the sun on roofs.
enum class Open { asked, worst, best };

/// How many conductors in a raceway carry current, remembered for each way to take what is open.
Value carrying_count(Evaluation& e, installation::Index raceway, Open open);

/// Whether one conductor goes before another where either could be named: by circuit and id, whatever their
/// order in the document.
bool by_id(const Evaluation& e, installation::Index a, installation::Index b);

/// A kind of conductor in a run.
struct RunKind {
  installation::Index kind = 0;
  installation::Index conductor =
      0;                   ///< the first of it by id, of those that take the load where there are such
  bool power = false;      ///< some of it are ungrounded: they take the load
  bool grounding = false;  ///< all of it are grounding conductors, which may be bare
};
/// The kinds of a run's conductors, each once; cables left out.
std::span<const RunKind> kinds_of_run(Evaluation& e, installation::Index run);
/// The same by the ids of their conductors where somebody asks for working.
Told<RunKind> told_kinds_of_run(Evaluation& e, installation::Index run);

/// Whether all raceways of a run from its first stop to its last one are known.
bool way_known(const Evaluation& e, installation::Index run);

/// What is missing of the way that the runs of a circuit take; 0 where all of it is known.
MissingId unknown_way(Evaluation& e, installation::Index circuit);

/// How many ungrounded conductors of a circuit are of sizes that may be in parallel.
std::int64_t large_ungrounded(const Evaluation& e, Subject circuit);

/// Ungrounded conductors of one phase side by side share its current; which they are, documents do not say.
/// What is missing where a circuit may have such ones; 0 where it has none.
MissingId side_by_side(Evaluation& e, Subject circuit);

}  // namespace raceward::figure
