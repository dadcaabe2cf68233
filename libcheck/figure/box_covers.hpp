// Rings and covers of a box: which of them a box has room for.
#pragma once

#include "figure/figure.hpp"

namespace raceward::figure {

/// Whether more plaster rings or raised covers are written than the box has gangs: each closes an opening,
/// and none of them lies on another, as extension rings do.
inline bool doubled(const installation::Model& model, const Place& box, const installation::Cover& cover) {
  using Kind = installation::Cover::Kind;
  if (cover.kind != Kind::plaster_ring && cover.kind != Kind::raised_cover) return false;
  std::uint32_t alike = 0;
  for (installation::Index i = box.covers.first; i < box.covers.end(); ++i)
    if (model.covers[i].kind == cover.kind) ++alike;
  return alike > box.gangs;
}

}  // namespace raceward::figure
