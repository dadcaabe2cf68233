// Rings and covers of a box: which of them a box has room for.
#pragma once

#include "figure/figure.hpp"

namespace raceward::figure {

/// Boxes made of gangs, to each of which a yoke is screwed; on others it sits on a ring or a cover.
inline bool takes_yokes(installation::BoxKind kind) {
  using installation::BoxKind;
  return kind == BoxKind::device || kind == BoxKind::masonry || kind == BoxKind::fs || kind == BoxKind::fd;
}

/// Openings that rings and covers close: one, but for boxes made of gangs side by side.
inline std::uint32_t openings_of(const installation::Place& box) {
  return takes_yokes(box.box_kind) ? box.gangs : 1;
}

/// Whether more plaster rings and raised covers are written than the box has openings: each closes one, and
/// none of them lies on another, as extension rings do; nor does a flat cover on a raised one.
inline bool doubled(const installation::Model& model, const installation::Place& box,
                    const installation::Cover& cover) {
  using Kind = installation::Cover::Kind;
  const auto closes = [](Kind kind) { return kind == Kind::plaster_ring || kind == Kind::raised_cover; };
  if (!closes(cover.kind)) return false;
  std::uint32_t alike = 0, raised = 0, flat = 0;
  for (installation::Index i = box.covers.first; i < box.covers.end(); ++i) {
    const Kind kind = model.covers[i].kind;
    alike += closes(kind) ? 1 : 0;
    raised += kind == Kind::raised_cover ? 1 : 0;
    flat += kind == Kind::flat_cover ? 1 : 0;
  }
  // A flat cover lies on the box or on a plaster ring, and nothing on a raised cover but a plate.
  return alike > openings_of(box) || (raised != 0 && raised + flat > openings_of(box));
}

/// Whether more extension rings are written on a box than are put on one in earnest: each may be the same
/// one.
inline bool stacked(const Evaluation& e, const installation::Place& box, const installation::Cover& cover) {
  using Kind = installation::Cover::Kind;
  const Parameter* const most = e.law.parameter("extension-rings-most", Dimension::none);
  if (cover.kind != Kind::extension_ring || most == nullptr) return false;
  std::int64_t rings = 0;
  for (installation::Index i = box.covers.first; i < box.covers.end(); ++i)
    rings += e.model.covers[i].kind == Kind::extension_ring ? 1 : 0;
  return number(rings).count() > most->value.count;
}
inline constexpr std::string_view stacked_why =
    "more extension rings are written on it than a box is likely to be given";

}  // namespace raceward::figure
