// Joints of a raceway between its supports, of which the law may allow one.
//
// Method: a joint stands where the pieces before it end. Where the length of one of them is not known, all
// joints may lie between two supports.
#include <algorithm>

#include "figure/course.hpp"
#include "figure/support_facts.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

/// Joints in a raceway and at its ends where it goes on, in steps along it; not `placed` where the length of
/// a piece before one of them is not known.
struct Joints {
  std::vector<std::int64_t> at;
  bool written = false;  ///< some stand in its course
  bool placed = true;
};

Joints joints_of(const Model& model, const Raceway& r) {
  Joints out;
  std::int64_t along = 0;
  if (model.places[r.ends[0].place].kind == PlaceKind::joint) out.at.push_back(0);
  bool known = true;
  for (Index i = r.pieces.first; i < r.pieces.end(); ++i) {
    const Piece& piece = model.pieces[i];
    const bool joint = piece.kind == PieceKind::coupling || piece.kind == PieceKind::expansion;
    if (joint) {
      out.at.push_back(along);
      out.written = true;
      out.placed = out.placed && known;
    }
    const std::optional<Length> by_shape = length_by_shape(piece);
    if (piece.length.known())
      along += (*piece.length).count();
    else if (by_shape)
      along += (*by_shape).count();
    else
      known = known && joint;
  }
  if (model.places[r.ends[1].place].kind == PlaceKind::joint) {
    out.at.push_back(along);
    out.placed = out.placed && known;
  }
  return out;
}

/// Whether more than one of them lies between two supports that are farther apart than without a condition.
/// Before the first support and beyond the last one it goes on to others, or ends.
bool several_between(Evaluation& e, Subject subject, const Joints& joints) {
  const Supports& s = supports_of(e, subject);
  if (!joints.placed || s.missing != 0 || s.at.empty()) return true;
  const std::int64_t usual = support_rows(e, e.model.raceways[subject.index]).general.spacing;
  std::int64_t from = INT64_MIN;
  for (std::size_t i = 0; i <= s.at.size(); ++i) {
    const bool last = i == s.at.size();
    const std::int64_t to = last ? INT64_MAX : s.at[i];
    const bool wide = i == 0 || last || to - from > usual;
    const auto between = [&](std::int64_t at) { return from < at && at < to; };
    if (wide && std::count_if(joints.at.begin(), joints.at.end(), between) > 1) return true;
    from = to;
  }
  return false;
}

}  // namespace

Claim claim_one_joint(Evaluation& e, Subject subject) {
  const Raceway& r = e.model.raceways[subject.index];
  const Joints joints = joints_of(e.model, r);
  if (r.unbroken == YesNo::no && !joints.written) {
    return {YesNo::unstated, e.lacks(subject, "coupling", "its course, with each joint", installer_tape,
                                     "said to have joints, of which none is written")
                                 .missing};
  }
  if (joints.at.size() > 1 && several_between(e, subject, joints)) {
    return {YesNo::unstated,
            e.lacks(subject, "support", "supports between its joints", installer_tape,
                    "no more than one joint may lie between two supports so far apart, and it has more")
                .missing};
  }
  if (r.pieces.count != 0 || r.unbroken != YesNo::unstated) return {YesNo::yes, 0};
  return {YesNo::unstated,
          e.lacks(subject, "unbroken", "yes where no joint lies in it; else its course, with each joint",
                  installer)
              .missing};
}

}  // namespace raceward::figure
