#include "figure/course.hpp"

namespace raceward::figure {

namespace {

using installation::Point;

struct Vector {
  Length x, y, z;
};

Vector from_to(const Point& a, const Point& b) { return {b.x - a.x, b.y - a.y, b.z - a.z}; }

wide_int times(Length a, Length b) { return wide_int{a.count()} * b.count(); }

double length_of(wide_int x, wide_int y, wide_int z) {
  return std::hypot(static_cast<double>(x), static_cast<double>(y), static_cast<double>(z));
}

}  // namespace

std::optional<Length> length_by_shape(const installation::Piece& p) {
  using installation::PieceKind;
  if (!p.angle.known() || !p.radius.known()) return {};
  if (p.kind == PieceKind::bend) return arc(*p.angle, *p.radius);
  if (p.kind == PieceKind::offset && p.rise.known()) return offset_length(*p.angle, *p.radius, *p.rise);
  return {};
}

Length distance(const Point& a, const Point& b) {
  const Vector v = from_to(a, b);
  const Length none{};
  const int along = (v.x != none ? 1 : 0) + (v.y != none ? 1 : 0) + (v.z != none ? 1 : 0);
  if (along > 1) return curved(length_of(v.x.count(), v.y.count(), v.z.count()));
  const Length sum = v.x + v.y + v.z;
  return sum < none ? -sum : sum;
}

std::optional<Point> stands_at(const installation::Place& place) {
  if (!place.x.known() || !place.y.known() || !place.z.known()) return {};
  Point out;
  out.x = *place.x;
  out.y = *place.y;
  out.z = *place.z;
  return out;
}

Length reach_of(const installation::Place& place) {
  using installation::PlaceKind;
  const bool machine = place.kind == PlaceKind::equipment || place.kind == PlaceKind::panel;
  Length most = machine ? machine_tolerance : Length{};
  for (const installation::Maybe<Length>& side : {place.width, place.height, place.depth})
    if (side.known() && *side > most) most = *side;
  return most + place_tolerance;
}

Angle turn_at(const Point& before, const Point& at, const Point& after) {
  const Vector a = from_to(before, at);
  const Vector b = from_to(at, after);
  // Coordinates are within kilometres, so that these integers are exact.
  const wide_int dot = times(a.x, b.x) + times(a.y, b.y) + times(a.z, b.z);
  const wide_int x = times(a.y, b.z) - times(a.z, b.y);
  const wide_int y = times(a.z, b.x) - times(a.x, b.z);
  const wide_int z = times(a.x, b.y) - times(a.y, b.x);
  if (x == 0 && y == 0 && z == 0) return dot < 0 ? half_turn : Angle{};
  if (dot == 0) return quarter_turn;
  const double turn = std::atan2(length_of(x, y, z), static_cast<double>(dot)) / std::numbers::pi;
  return Angle::steps(std::llround(turn * static_cast<double>(half_turn.count())));
}

}  // namespace raceward::figure
