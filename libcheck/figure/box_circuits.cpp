#include "figure/box_circuits.hpp"

#include <algorithm>

#include "figure/devices_by_box.hpp"
#include "figure/run_contents.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

using ByCircuit = std::vector<std::pair<Index, ConductorSize>>;

/// The least of what each circuit has as its largest.
ConductorSize least_of(ByCircuit sizes) {
  ConductorSize least{};
  std::sort(sizes.begin(), sizes.end());
  for (std::size_t i = 0; i < sizes.size(); ++i) {
    if (i + 1 < sizes.size() && sizes[i + 1].first == sizes[i].first) continue;
    least = least == ConductorSize::unstated ? sizes[i].second : std::min(least, sizes[i].second);
  }
  return least;
}

}  // namespace

const ConductorSize* CircuitsInBox::largest(Index circuit) {
  if (largest_.empty()) {
    for (const Visit& visit : e_.in.routes.visits_at(box_)) {
      if (visit.stop == none) continue;
      largest_.emplace_back(e_.model.runs[visit.run].circuit, run_contents(e_, visit.run).largest);
    }
    std::sort(largest_.begin(), largest_.end());
  }
  const auto after = std::upper_bound(largest_.begin(), largest_.end(),
                                      std::pair{circuit, static_cast<ConductorSize>(0xff)});
  return after != largest_.begin() && std::prev(after)->first == circuit ? &std::prev(after)->second
                                                                         : nullptr;
}

SizeRange CircuitsInBox::on(Index device) {
  const Device& d = e_.model.devices[device];
  const ConductorSize said = d.conductor_size;
  if (said != ConductorSize::unstated) return {said, said, said};
  if (d.circuits.count == 0) return any();
  SizeRange out;
  for (Index i = d.circuits.first; i < d.circuits.end(); ++i) {
    if (const ConductorSize* const found = largest(e_.model.device_circuits[i]))
      out.most = std::max(out.most, *found);
  }
  out.least = least_piece_on(e_, device, Untreated::spliced);
  out.least_passing = out.least < out.most ? least_piece_on(e_, device, Untreated::passing) : out.least;
  return out;
}

const SizeRange& CircuitsInBox::any() {
  if (any_) return *any_;
  SizeRange& out = any_.emplace();
  const ConductorSize piece = least_piece(e_);
  if (piece == ConductorSize::unstated) return out;
  ByCircuit sizes, passing;
  for (const Visit& visit : e_.in.routes.visits_at(box_)) {
    if (visit.stop == none) continue;
    const ConductorSize largest = run_contents(e_, visit.run).largest;
    out.most = std::max(out.most, largest);
    const auto least = [&](Untreated as) {
      return may_splice(visit, e_.model.stops[visit.stop], as) ? std::min(piece, largest) : largest;
    };
    sizes.emplace_back(e_.model.runs[visit.run].circuit, least(Untreated::spliced));
    passing.emplace_back(e_.model.runs[visit.run].circuit, least(Untreated::passing));
  }
  out.least = least_of(std::move(sizes));
  out.least_passing = least_of(std::move(passing));
  return out;
}

}  // namespace raceward::figure
