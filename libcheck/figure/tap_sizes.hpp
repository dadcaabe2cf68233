// Which sizes of conductors of a circuit visit which places; found once for each circuit.
#pragma once

#include <algorithm>
#include <cstdint>
#include <utility>
#include <vector>

#include "figure/grounding_size_law.hpp"

namespace raceward::figure {

/// What the runs of a circuit with conductors of several sizes tell of the smaller ones. All are sorted.
struct Sizes {
  struct At {
    Index place = installation::none;
    installation::ConductorSize largest = installation::ConductorSize::unstated;
    std::uint32_t runs = 0;  // that take load and visit it
  };
  installation::ConductorSize largest = installation::ConductorSize::unstated;
  std::vector<At> at;                         // the rest is empty where all are of one size
  std::vector<std::pair<Index, Index>> runs;  // by conductor
  std::vector<Index> from_source;             // conductors with a run that visits the panel
  std::vector<Index> unsaid;                  // those that may take load, and of a size that may be larger

  [[nodiscard]] const At* find(Index place) const {
    const auto found = std::ranges::lower_bound(at, place, {}, &At::place);
    return found == at.end() || found->place != place ? nullptr : &*found;
  }
  [[nodiscard]] installation::ConductorSize largest_at(Index place) const {
    const At* const found = find(place);
    return found == nullptr ? installation::ConductorSize::unstated : found->largest;
  }
};

const Sizes& sizes_of(Evaluation& e, Index circuit);

inline installation::ConductorSize size_of(const installation::Model& model, Index conductor) {
  return model.conductor_kinds[model.conductors[conductor].kind].size;
}

/// Whether it is smaller than others of its circuit that take the load.
bool is_smaller(Evaluation& e, Index circuit, Index conductor);
/// Whether a run with a smaller conductor visits the panel of its circuit's overcurrent device.
bool begins_at_source(Evaluation& e, Index circuit, Index conductor);

}  // namespace raceward::figure
