// The way of a circuit's current: from the panel where it begins through the raceways that its conductors
// take, with their impedance.
#pragma once

#include <optional>
#include <vector>

#include "figure/impedance_law.hpp"

namespace raceward::figure {

/// Impedance of the conductors that bring the current and of those that take it back, in steps of resistance:
/// no more than, and no less than.
struct WayImpedance {
  std::int64_t out_most = 0, back_most = 0;
  std::int64_t out_least = 0, back_least = 0;

  WayImpedance& operator+=(const WayImpedance& other);
  [[nodiscard]] std::int64_t most() const { return out_most + back_most; }
  friend auto operator<=>(const WayImpedance&, const WayImpedance&) = default;
};

/// A raceway that the current of a circuit passes.
struct WayStep {
  installation::Index a = installation::none, b = installation::none;  ///< places at its ends
  installation::Index raceway = installation::none;
  WayImpedance impedance;
  MissingId missing = 0;  ///< then the impedance is less than it should be
};

/// A place that the current reaches, by the way of least impedance.
struct WayPlace {
  installation::Index place = installation::none;
  std::uint32_t step = UINT32_MAX;    ///< that leads here; none at the panel
  std::uint32_t before = UINT32_MAX;  ///< the place before it, in Way::places
  WayImpedance impedance;
};

struct Way {
  std::vector<WayStep> steps;
  std::vector<WayPlace> places;  ///< those that are reached, the panel first
  MissingId missing = 0;     ///< of the way itself: where it begins, where it goes, what its conductors are
  MissingId unmeasured = 0;  ///< of its steps
  std::uint32_t ungrounded = 0, grounded = 0;  ///< conductors of the circuit
};

/// Without a power factor: for any that the law lets loads have.
Way way_of(Evaluation& e, installation::Index circuit, std::optional<Number> power_factor);

/// The device of the circuit in a place, the first by id; the place itself where none is there.
Subject outlet_at(Evaluation& e, installation::Index circuit, installation::Index place);

/// The panel where a circuit begins, and the circuit of the document that feeds it; none where it is not
/// said.
installation::Index panel_of(const Evaluation& e, installation::Index circuit);
installation::Index feeder_of(const Evaluation& e, installation::Index circuit);

/// What adds up from the feeders on to each circuit; found once for each.
template <class Sum>
struct AlongFeeders {
  std::vector<Sum> sums;
  std::vector<std::uint8_t> state;

  /// `make` gives the sum of a circuit, given that of its feeder (or null) and what is missing because the
  /// feeders lead in a circle. One after the other: a chain of panels may be long.
  template <class Make>
  const Sum& of(Evaluation& e, installation::Index circuit, Make make) {
    sums.resize(e.model.circuits.size());
    state.resize(e.model.circuits.size());
    std::vector<installation::Index> way;
    installation::Index at = circuit;
    for (; at != installation::none && state[at] == not_yet; at = feeder_of(e, at)) {
      state[at] = in_work;
      way.push_back(at);
    }
    MissingId circle = 0;
    if (at != installation::none && state[at] == in_work) {
      circle = leads_back(e, panel_of(e, at));
      at = installation::none;
    }
    for (; !way.empty(); way.pop_back()) {
      const installation::Index here = way.back();
      sums[here] = make(here, at == installation::none ? nullptr : &sums[at], circle);
      state[here] = done;
      at = here;
    }
    return sums[circuit];
  }

 private:
  enum : std::uint8_t { not_yet, in_work, done };
  static MissingId leads_back(Evaluation& e, installation::Index panel) {
    return e
        .lacks({SubjectKind::panel, panel}, "fed-by", "the circuit that feeds it", designer,
               "what feeds it leads back to it", e.model.places[panel].source)
        .missing;
  }
};

/// Notes the raceways on the way to a place, with the working of their lengths.
void note_way(Evaluation& e, const Way& way, const WayPlace& to);

}  // namespace raceward::figure
