#include "figure/box_pieces.hpp"

#include <algorithm>

#include "figure/circuit_use.hpp"

namespace raceward::figure {

using namespace installation;

MissingId UntreatedStops::missing(Evaluation& e, Subject box, bool of_grounding, bool of_others) const {
  MissingId missing = 0;
  for (const auto& [grounding, stop] : stops_) {
    if (!(grounding ? of_grounding : of_others)) continue;
    const Value lack = e.lacks(box, grounding ? "grounding" : "conductors",
                               "terminated, spliced, through or looped", installer, {}, stop);
    missing = e.missing.both(missing, lack.missing);
  }
  return missing;
}

void Pieces::device(Index device, const SizeRange& sizes, const Parameter* factor, std::int64_t count) {
  const auto room = [&](ConductorSize size) { return law_.volume[static_cast<std::size_t>(size)]; };
  const auto less = [&](ConductorSize least) {
    const bool smaller = least != ConductorSize::unstated && least < sizes.most;
    if (!smaller || room(sizes.most) == Table::blank || room(least) == Table::blank) return Volume{};
    return times(factor, Volume::steps(room(sizes.most) - room(least)) * std::max<std::int64_t>(1, count));
  };
  const Volume most = less(sizes.least);
  if (most.count() == 0) return;
  less_ += most;
  less_passing_ += less(sizes.least_passing);
  (e_.model.devices[device].circuits.count == 0 ? on_any_circuit_ : on_said_circuit_).push_back(device);
}

MissingId Pieces::missing() const {
  MissingId missing = 0;
  for (const Index d : on_said_circuit_) {
    missing = e_.missing.both(
        missing, e_.lacks({SubjectKind::device, d}, "conductor-size", "a size such as 14 AWG", installer,
                          "conductors are spliced in its box, and pieces of another size may lead to it",
                          e_.model.devices[d].source)
                     .missing);
  }
  for (const Index d : on_any_circuit_) missing = e_.missing.both(missing, lacks_circuit_of(e_, d).missing);
  return missing;
}

}  // namespace raceward::figure
