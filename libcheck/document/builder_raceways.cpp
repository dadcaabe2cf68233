// Raceways: ends, course, supports.
#include <fmt/format.h>

#include "document/builder.hpp"
#include "document/each_child.hpp"
#include "quantity/fault.hpp"

namespace raceward::document {

using namespace installation;
using quantity::quoted;

void Builder::raceway(const WrittenElement& node) {
  namespace a = at::raceway;
  const auto index = static_cast<Index>(model_.raceways.size());
  Raceway& raceway = model_.raceways.emplace_back();
  raceway.source = fields_.source;
  fields_.read(a::id, raceway.id);
  fields_.read(a::name, raceway.name);
  fields_.read(a::type, raceway.type);
  fields_.read(a::trade_size, raceway.trade_size);
  fields_.read(a::length, raceway.length);
  if (fields_.has(a::supports)) raceway.supports_none = YesNo::yes;  // the list's only word
  fields_.read(a::no_fastening_point, raceway.no_fastening_point);
  fields_.read(a::threaded_couplings, raceway.threaded_couplings);
  fields_.read(a::vertical_riser, raceway.vertical_riser);
  fields_.read(a::flexibility_needed, raceway.flexibility_needed);
  fields_.read(a::ceiling_whip, raceway.ceiling_whip);
  fields_.read(a::fished, raceway.fished);
  fields_.read(a::accepted_unfastened, raceway.accepted_unfastened);
  fields_.read(a::reamed, raceway.reamed);
  fields_.read(a::unbroken, raceway.unbroken);
  fields_.read(a::listed_for_grounding, raceway.grounding_listed);
  fields_.read(a::moves_after_installation, raceway.movement);
  fields_.read(a::in_earth, raceway.in_earth);
  fields_.read(a::burial_depth, raceway.burial_depth);
  fields_.read(a::beneath, raceway.beneath);
  fields_.read(a::above_roof, raceway.above_roof);
  fields_.read(a::damage, raceway.damage);
  fields_.read(a::corrosion_protected, raceway.corrosion_protected);
  fields_.read(a::listed_for_place, raceway.place_listed);
  fields_.read(a::listed_for_heat, raceway.heat_listed);
  fields_.read(a::divided, raceway.divided);
  fields_.read(a::material, raceway.material);
  fields_.read(a::width, raceway.width);
  fields_.read(a::height, raceway.height);
  link(Link::raceway_from, index, a::from);
  link(Link::raceway_to, index, a::to);
  link(Link::raceway_area, index, a::area);
  const std::string_view from = fields_.text(a::from), to = fields_.text(a::to);
  raceway.pieces.first = static_cast<Index>(model_.pieces.size());
  raceway.points.first = static_cast<Index>(model_.points.size());
  raceway.supports.first = static_cast<Index>(model_.supports.size());
  Offset first_piece = 0, first_point = 0;
  each_child(node, Element::raceway, [&](const WrittenElement& child, Element element) {
    switch (element) {
      case Element::end:
        end(raceway, from, to);
        break;
      case Element::support:
        support();
        break;
      case Element::point:
        if (first_point == 0) first_point = fields_.source;
        point();
        break;
      default:
        if (first_piece == 0) first_piece = fields_.source;
        piece(element);
        break;
    }
    each_child(child, element, [](const WrittenElement&, Element) {});
  });
  finish_course(raceway, first_piece, first_point);
}

// Which of the raceway's ends it is, its place says.
void Builder::end(Raceway& raceway, std::string_view from, std::string_view to) {
  namespace a = at::end;
  const std::string_view place = fields_.text(a::place);
  if (place.empty() || from.empty() || to.empty()) return;
  if (place != from && place != to) {
    fault(
        fields_.source, "place",
        fmt::format("raceway {} has no end at {}; it joins {} and {}", raceway.id, quoted(place), from, to));
    return;
  }
  RacewayEnd& end = raceway.ends[place == from ? 0 : 1];
  if (end.source != 0) {
    fault(fields_.source, "place",
          fmt::format("a second <end> at {}; a raceway has one at each of its places", place));
    return;
  }
  end.source = fields_.source;
  fields_.read(a::fitting, end.fitting);
  fields_.read(a::knockout, end.knockout);
  fields_.read(a::listed, end.listed);
  fields_.read(a::raintight, end.raintight);
  fields_.read(a::tight, end.tight);
  fields_.read(a::bonded, end.bonded);
  fields_.read(a::wall, end.wall);
  fields_.read(a::row, end.row);
}

void Builder::piece(Element element) {
  Piece& piece = model_.pieces.emplace_back();
  piece.source = fields_.source;
  const auto bent = [&](PieceKind kind, unsigned angle, unsigned radius, unsigned bender, unsigned length) {
    piece.kind = kind;
    fields_.read(angle, piece.angle);
    fields_.read(radius, piece.radius);
    fields_.read(bender, piece.bender);
    fields_.read(length, piece.length);
  };
  switch (element) {
    case Element::bend: {
      namespace a = at::bend;
      bent(PieceKind::bend, a::angle, a::radius, a::bender, a::length);
      break;
    }
    case Element::offset: {
      namespace a = at::offset;
      bent(PieceKind::offset, a::angle, a::radius, a::bender, a::length);
      fields_.read(a::rise, piece.rise);
      break;
    }
    case Element::saddle: {
      namespace a = at::saddle;
      bent(PieceKind::saddle, a::angle, a::radius, a::bender, a::length);
      fields_.read(a::rise, piece.rise);
      fields_.read(a::bends, piece.bends);
      fields_.read(a::outer_angle, piece.angle_outer);
      break;
    }
    case Element::coupling:
      piece.kind = PieceKind::coupling;
      fields_.read(at::coupling::fitting, piece.fitting);
      fields_.read(at::coupling::raintight, piece.raintight);
      fields_.read(at::coupling::length, piece.length);
      break;
    case Element::expansion:
      piece.kind = PieceKind::expansion;
      fields_.read(at::expansion::fitting, piece.fitting);
      fields_.read(at::expansion::length, piece.length);
      break;
    default:
      piece.kind = PieceKind::straight;
      fields_.read(at::straight::length, piece.length);
      break;
  }
}

void Builder::point() {
  namespace a = at::point;
  Point& point = model_.points.emplace_back();
  point.source = fields_.source;
  if (fields_.has(a::at)) {
    point.x = fields_.place[0];
    point.y = fields_.place[1];
    point.z = fields_.place[2];
  }
  fields_.read(a::radius, point.radius);
  fields_.read(a::bender, point.bender);
}

void Builder::support() {
  Support& support = model_.supports.emplace_back();
  support.source = fields_.source;
  fields_.read(at::support::kind, support.kind);
  fields_.read(at::support::at, support.at);
}

void Builder::finish_course(Raceway& raceway, Offset first_piece, Offset first_point) {
  raceway.pieces.count = static_cast<Index>(model_.pieces.size()) - raceway.pieces.first;
  raceway.points.count = static_cast<Index>(model_.points.size()) - raceway.points.first;
  raceway.supports.count = static_cast<Index>(model_.supports.size()) - raceway.supports.first;
  raceway.polyline = raceway.points.count > 0;
  if (first_piece != 0 && first_point != 0)
    faults_.add(std::max(first_piece, first_point),
                fmt::format("the course of raceway {} is given by pieces and by points; keep one of the two",
                            raceway.id));
  else if (raceway.points.count == 1)
    faults_.add(first_point, "a course by points has at least two: its two ends");
  if (raceway.supports_none == YesNo::yes && raceway.supports.count > 0)
    fault(raceway.source, "supports",
          fmt::format("raceway {} is said to have no supports, and line {} lists one", raceway.id,
                      locate(model_, model_.supports[raceway.supports.first].source).line));
}

}  // namespace raceward::document
