// Ends of some of a circuit's conductors, by the box that they are in.
#pragma once

#include <algorithm>
#include <optional>
#include <vector>

#include "installation/model.hpp"

namespace raceward::figure {

/// Goes through the boxes of those runs of a circuit that `holds` names. read(run, stop, ends) makes an AtBox
/// of a stop, or nothing; `ends` are two for a run that goes on, one for one that begins or ends. An AtBox
/// has a `place`, and add() takes in another of its box. In order of the names of boxes, so that the order of
/// elements says nothing.
template <class AtBox, class Holds, class Read>
std::vector<AtBox> ends_by_box(const installation::Model& model, const installation::Circuit& circuit,
                               Holds holds, Read read) {
  using installation::Index;
  std::vector<AtBox> each;
  for (Index r = circuit.runs.first; r < circuit.runs.end(); ++r) {
    const installation::Run& run = model.runs[r];
    if (!holds(run)) continue;
    for (Index s = run.stops.first; s < run.stops.end(); ++s) {
      const Index place = model.stops[s].place;
      if (place == installation::none || model.places[place].kind != installation::PlaceKind::box) continue;
      const std::optional<AtBox> at =
          read(run, s, s != run.stops.first && s + 1 != run.stops.end() ? 2U : 1U);
      if (at) each.push_back(*at);
    }
  }
  std::ranges::stable_sort(each, {}, &AtBox::place);
  std::vector<AtBox> out;
  for (const AtBox& at : each) {
    if (out.empty() || out.back().place != at.place) {
      out.push_back(at);
    } else {
      out.back().add(at);
    }
  }
  std::ranges::sort(out, {}, [&](const AtBox& at) { return model.places[at.place].id; });
  return out;
}

}  // namespace raceward::figure
