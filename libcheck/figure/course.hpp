// Geometry of a raceway's course: arcs, offsets, corners of a polyline.
//
// Floating point is used here (sines, square roots, angles between directions) and for pulls (pulling.cpp).
// What comes of it is rounded to the steps below, far coarser than its errors, so that every platform gives
// the same figures; a length from it may differ from the true one by half a step for each piece, an angle by
// half a step for each corner.
#pragma once

#include <cmath>
#include <cstdint>
#include <limits>
#include <numbers>
#include <optional>

#include "figure/circle.hpp"
#include "figure/figure.hpp"
#include "installation/model.hpp"

namespace raceward::figure {

/// Lengths of arcs and slanted pieces are rounded to 0.0001 in.
inline constexpr Length curve_step = Length::steps(2'540'000);  // not law: 0.0001 in
/// Angles between directions are rounded to a millionth of a degree, the step of an angle.

inline constexpr Angle quarter_turn = degrees(90);  // not law: geometry
inline constexpr Angle half_turn = degrees(180);    // not law: geometry

/// Two statements of one length agree where they differ by no more than an inch or a hundredth, whichever is
/// more: what a tape measure and a bender leave open.
inline constexpr Length tape_tolerance = inches(1);
inline constexpr std::int64_t tape_parts = 100;  // not law: a hundredth
constexpr Length tolerance_of(Length stated) {
  const Length part = Length::steps(stated.count() / tape_parts);
  return part > tape_tolerance ? part : tape_tolerance;
}

/// A raceway meets an enclosure at its wall, and the enclosure's place is some point of it: within a foot and
/// its largest stated dimension. Machines and panels seldom state theirs.
inline constexpr Length place_tolerance = inches(12);    // not law: tolerance of measuring
inline constexpr Length machine_tolerance = inches(72);  // not law: tolerance of measuring

constexpr Length to_curve_step(Length exact) {
  const std::int64_t step = curve_step.count();
  return Length::steps((exact.count() + step / 2) / step * step);
}

/// Picometres to the nearest curve step; lengths are not negative.
inline Length curved(double picometres) {
  constexpr auto most = static_cast<double>(std::numeric_limits<std::int64_t>::max());
  if (!(picometres > 0)) return {};
  if (picometres >= most) return Length::steps(detail::saturate(wide_int{1} << 100));
  return to_curve_step(Length::steps(static_cast<std::int64_t>(picometres)));
}

inline double radians(Angle angle) {
  return static_cast<double>(angle.count()) / static_cast<double>(half_turn.count()) * std::numbers::pi;
}

/// Length of an arc. No floating point.
constexpr Length arc(Angle angle, Length radius) {
  constexpr Angle most = half_turn * 20;  // not law: beyond it the product would not fit
  const Angle turn = angle > most ? most : angle;
  const wide_int numerator = wide_int{radius.count()} * turn.count() * pi_numerator;
  return to_curve_step(Length::steps(detail::saturate(numerator / (pi_denominator * half_turn.count()))));
}

/// Tangent length of a bend: from where the arc begins to the corner. The turn is less than 180 degrees.
inline Length tangent(Angle turn, Length radius) {
  return curved(static_cast<double>(radius.count()) * std::tan(radians(turn) / 2));
}

/// From the first arc's begin to the second one's end, for two equal bends that step aside by `rise`.
/// Negative where the arcs alone step aside by more.
inline Length offset_length(Angle angle, Length radius, Length rise) {
  const double turn = radians(angle);
  const double by_arcs = 2 * static_cast<double>(radius.count()) * (1 - std::cos(turn));
  const double between = (static_cast<double>(rise.count()) - by_arcs) / std::sin(turn);
  if (between < -static_cast<double>(curve_step.count())) return Length::steps(-1);
  return arc(angle, radius) * 2 + curved(between);
}

/// Developed length of a bend or offset whose shape is stated, whatever length is; nothing where it is not,
/// negative where the shape cannot be.
std::optional<Length> length_by_shape(const installation::Piece& piece);

/// Distance between two points; exact where they lie along an axis.
Length distance(const installation::Point& a, const installation::Point& b);

/// Where an enclosure is said to be in space; nothing where it is not said.
std::optional<installation::Point> stands_at(const installation::Place& place);
/// How far from there a raceway or a conductor may meet it.
Length reach_of(const installation::Place& place);

/// Change of direction at `at` on the way from `before` to `after`, 0 to 180 degrees; exact for 0, 90 and
/// 180. The points differ from each other.
Angle turn_at(const installation::Point& before, const installation::Point& at,
              const installation::Point& after);

inline bool same_place(const installation::Point& a, const installation::Point& b) {
  return a.x == b.x && a.y == b.y && a.z == b.z;
}

/// What of a raceway's course cannot be true together, or not with its stated length; 0 where nothing.
MissingId course_contradiction(Evaluation& e, installation::Index raceway);

/// Calls use(point, turn) for each corner of a polyline, in order, where its direction changes. A point
/// written twice in succession is one.
template <class Use>
void each_corner(const installation::Model& model, const installation::Raceway& raceway, Use use) {
  using installation::Index;
  using installation::none;
  Index before = none, at = none;
  for (Index i = raceway.points.first; i < raceway.points.end(); ++i) {
    if (at != none && same_place(model.points[i], model.points[at])) continue;
    if (before != none) {
      const Angle turn = turn_at(model.points[before], model.points[at], model.points[i]);
      if (turn > Angle{}) use(at, turn);
    }
    before = at;
    at = i;
  }
}

}  // namespace raceward::figure
