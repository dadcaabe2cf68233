// What hangs on each circuit; found once a check.
#pragma once

#include <span>
#include <vector>

#include "figure/figure.hpp"

namespace raceward::figure {

struct OnCircuit {
  std::uint32_t outlets = 0;  ///< receptacles, luminaires, equipment that takes something
  std::uint32_t receptacles =
      0;  ///< places to plug in; one of a receptacle that does not say how many it has
  Index uncounted = installation::none;  ///< such a receptacle
  std::uint32_t taken = 0;  ///< of receptacles those that are single, and written equipment is plugged into
  std::uint32_t perhaps_taken = 0;      ///< of other those that do not say how many they are, the same
  std::uint32_t other = 0;              ///< receptacles that are not taken, and luminaires
  Index outlet = installation::none;    ///< a receptacle or luminaire, the first by id
  Index unplaced = installation::none;  ///< a device that does not say its circuit, in a box that this visits
  Index unplaced_receptacle = installation::none;  ///< the same of a receptacle
  Index largest = installation::none;              ///< equipment of the largest load
  std::int64_t continuous = 0;                     ///< sum of the loads that are said to be continuous
  Index unknown = installation::none;  ///< equipment that may be continuous, or of a load that is not said
};

class CircuitUse {
 public:
  void read(Evaluation& e);

  /// What hangs on all circuits that share a pole of its overcurrent device with the circuit: the law takes
  /// them for one.
  [[nodiscard]] const OnCircuit& on(Index circuit) const {
    const Index group = group_[circuit];
    return group == installation::none || groups_[group].open ? own_[circuit] : groups_[group].on;
  }
  /// What hangs on the circuit itself.
  [[nodiscard]] const OnCircuit& own(Index circuit) const { return own_[circuit]; }
  /// The circuits that share a pole with the circuit, by id, and itself.
  [[nodiscard]] std::span<const Index> together(const Index& circuit) const {
    const Index group = group_[circuit];
    return group == installation::none || groups_[group].open
               ? std::span(&circuit, 1)
               : std::span<const Index>(groups_[group].circuits);
  }
  /// Others that may share a pole with the circuit, by id: of the same overcurrent device, or of the same
  /// panel and without one.
  [[nodiscard]] const std::vector<Index>& may_share(Index circuit) const {
    return groups_[group_[circuit]].circuits;
  }
  [[nodiscard]] bool sharing_open(Index circuit) const {
    return group_[circuit] != installation::none && groups_[group_[circuit]].open;
  }
  /// The one circuit that ends at equipment, or none where none or several do.
  [[nodiscard]] Index feeding(Index place) const {
    return several_[place] != 0 ? installation::none : feeding_[place];
  }
  /// All that do, by id.
  [[nodiscard]] std::span<const Index> all_feeding(Index place) const {
    return {fed_.data() + first_fed_[place], fed_.data() + first_fed_[place + 1]};
  }
  [[nodiscard]] bool several_feed(Index place) const { return several_[place] != 0; }
  bool ready = false;

 private:
  struct Group {
    std::vector<Index> circuits;
    OnCircuit on;
    bool open = false;
  };
  void read_groups(Evaluation& e);

  std::vector<OnCircuit> own_;
  std::vector<Index> group_;  // by circuit; none: alone on its poles
  std::vector<Group> groups_;
  std::vector<Index> feeding_;         // by place
  std::vector<std::uint8_t> several_;  // by place
  std::vector<Index> fed_;             // circuits, by place
  std::vector<Index> first_fed_;       // by place, in fed_
};
const CircuitUse& circuit_use(Evaluation& e);

Value lacks_circuit_of(Evaluation& e, Index device);
/// How many receptacles a device holds is not said.
Value lacks_receptacle_count(Evaluation& e, Index device);
/// Missing where a device says no circuit on its terminals, or one that does not come to its box.
Value circuits_come(Evaluation& e, Index device);
/// What conductors of a circuit end at a place, or may: it visits it otherwise than straight through.
struct Ended {
  std::size_t legs = 0;             ///< ungrounded ones, and what may be one
  bool grounded = false;            ///< some
  Index open = installation::none;  ///< a stop that does not say whether its grounded conductor ends there
};
Ended ended_at(Evaluation& e, Index circuit, Index place);
/// Which of the circuits of an overcurrent device share a pole of it is not said.
Value lacks_sharing(Evaluation& e, Index circuit);
/// Names the circuits that share its pole, where there are such.
void note_sharing(Evaluation& e, Index circuit);

/// Whether the circuit ends at the stop is not said, or cannot be as it is said.
Value lacks_end_of(Evaluation& e, Index circuit, Index stop);
/// Which of several circuits feeds the equipment, or that one does, is not said.
Value lacks_one_circuit(Evaluation& e, Index place);

/// Missing where a circuit is said to be a feeder, and has outlets itself; else 0.
MissingId outlets_of_feeder(Evaluation& e, Index circuit);

/// The panel behind a circuit for which more was calculated than the circuit is said to carry, or none.
Index panel_beyond_load(Evaluation& e, Index circuit);
/// What is contradicted there; 0 where nothing is.
MissingId load_behind_contradicted(Evaluation& e, Index circuit);

/// What is contradicted where equipment on a circuit takes more than all of it is said to, or more or less
/// than its own power makes, where heaters and the like take more together, or where the floor area of the
/// panel that it feeds makes more; 0 where nothing is. Not of welders, kitchen ranges and transformers, of
/// which less counts.
MissingId load_on_contradicted(Evaluation& e, Index circuit);
/// The same, and whether all that contradicts it says more: then it is no less than what is said.
struct LoadContradicted {
  MissingId missing = 0;
  bool only_more = true;
};
LoadContradicted load_contradicted(Evaluation& e, Index circuit);

/// The overcurrent device's rating, or what is missing for it.
Value device_rating_of(Evaluation& e, Index circuit);

}  // namespace raceward::figure
