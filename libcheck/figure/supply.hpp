// What of a circuit reaches the equipment that it ends at: its conductors, phases, voltage.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "figure/figure.hpp"

namespace raceward::figure {

/// The receptacle that equipment is plugged into, or none; none of other places.
inline installation::Index receptacle_of(const installation::Model& model, installation::Index place) {
  const installation::Place& at = model.places[place];
  return at.kind == installation::PlaceKind::equipment ? model.machines[at.machine].plugged_into
                                                       : installation::none;
}
/// Equipment that is plugged into a receptacle, by id.
std::span<const installation::Index> plugged_into(Evaluation& e, installation::Index device);

/// Whether the circuit is on the terminals of the device.
bool is_on(const installation::Model& model, const installation::Device& device, installation::Index circuit);

/// A circuit that ends at equipment, or at the receptacle that it is plugged into.
struct End {
  Index circuit = installation::none, place = installation::none;
  Index stop = installation::none;     ///< one that says so, else one that leaves it open
  bool said = false;                   ///< that its conductors end there
  std::uint32_t first = 0, count = 0;  ///< its runs there, in Ends::runs
};

/// Found once a check.
class Ends {
 public:
  void read(const installation::Model& model);
  bool ready = false;

  [[nodiscard]] std::span<const End> all() const { return ends_; }
  /// In order of the document.
  [[nodiscard]] std::span<const End> of(Index circuit) const {
    return {ends_.data() + first_[circuit], ends_.data() + first_[circuit + 1]};
  }
  /// Null where the circuit does not end there.
  [[nodiscard]] const End* at(Index circuit, Index place) const;
  [[nodiscard]] std::span<const Index> runs(const End& end) const {
    return {runs_.data() + end.first, end.count};
  }

 private:
  std::vector<End> ends_;  // by circuit, then place
  std::vector<std::uint32_t> first_;
  std::vector<Index> runs_;
};
const Ends& ends(Evaluation& e);

/// 1 where three phases reach the place, as far as its conductors, those at the panel, the overcurrent device
/// and the voltage of the equipment tell; 0 where one does.
Value three_phases_at(Evaluation& e, Index circuit, Index place);

/// 1 where three phases of the circuit begin in its panel, whatever leads on from there; 0 where one does.
Value three_phases_of(Evaluation& e, Index circuit);

/// How many ungrounded conductors of the circuit begin in its panel, or where no run goes there, are in it.
std::uint32_t ungrounded_at_source(Evaluation& e, Index circuit);

/// Poles of the circuit's overcurrent device, where they tell how many conductors begin at it; else 0.
std::uint32_t poles_of(const installation::Model& model, Index circuit);

/// How many ungrounded conductors of each set reach the place; missing where that is open.
Value ungrounded_at(Evaluation& e, Index circuit, Index place);

/// What is contradicted where a circuit's voltage is not that of the conductors that begin in its panel: two
/// ungrounded ones and no grounded one have that of the panel, one beside a grounded one that to ground. 0
/// where nothing is.
MissingId voltage_contradicted(Evaluation& e, Index circuit);

/// The voltage that equipment is on: between conductors, or to ground where it is made for that and a
/// grounded conductor is there.
Value voltage_at(Evaluation& e, Index circuit, Index place);

/// Whether it is made for the voltage to ground of the other legs of a three-phase system of which one has
/// more.
bool is_high_leg(Evaluation& e, std::int64_t made_for, std::int64_t volts, std::int64_t to_ground);

/// Whether equipment made for one voltage may be on the other; `used`: the row that allows it is noted.
bool voltage_fits(Evaluation& e, std::int64_t made_for, std::int64_t volts, bool used = false);

}  // namespace raceward::figure
