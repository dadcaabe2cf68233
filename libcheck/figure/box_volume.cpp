// Volume of boxes and of what is in them; cross-section of conduit bodies.
//
// Method: a box offers its marked volume, or that of its standard size, or that of its inside dimensions, and
// what its rings and covers add. Conductors, clamps, fittings, devices and equipment grounding conductors
// each take allowances; the law says how many and how large. docs/figures/box-volume.md tells it in words.
#include <algorithm>

#include "figure/box_allowances.hpp"
#include "figure/box_contents.hpp"
#include "figure/box_covers.hpp"
#include "figure/box_sides.hpp"
#include "figure/devices_by_box.hpp"
#include "figure/figure.hpp"
#include "figure/logic.hpp"
#include "figure/told.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure::compute {

namespace {

using namespace installation;

std::string_view kind_key(const Place& box) { return name_of(box.box_kind); }

template <class Part>
Maybe<Volume> inside_of(const Part& part) {
  if (!part.width.known() || !part.height.known() || !part.depth.known()) return {};
  return raceward::box_volume(*part.width, *part.height, *part.depth);
}

// A regular octagon takes no more than 0.829 of the square around it.
Volume octagon_in(Volume block) { return Volume::steps(block.count() / 1000 * 829); }  // not law: geometry

/// Octagonal and round boxes, and what deepens them, hold less than their sides multiplied.
bool has_corners_cut(const Place& box) {
  return box.box_kind == BoxKind::octagonal || box.box_kind == BoxKind::round;
}

bool more_than_inside(Volume volume, const Maybe<Volume>& inside) {
  return inside.known() && *inside < volume;
}

/// "a square box", "an octagonal box", "an FS box".
std::string_view article(std::string_view kind) {
  return !kind.empty() && std::string_view("aeioF").find(kind.front()) != std::string_view::npos ? "an" : "a";
}

/// The most that a box of a trade size can hold. Boxes that are ganged hold it for each gang.
Maybe<Volume> nominal(const Place& box) {
  const auto sides = nominal_sides(box.box_size);
  if (!sides) return {};
  const bool ganged = box.box_kind == BoxKind::device || box.box_kind == BoxKind::masonry;
  const auto& [width, height, depth] = *sides;
  const Volume block = raceward::box_volume(width, height, depth);
  if (box.box_kind == BoxKind::octagonal) return octagon_in(block);
  return block * (ganged ? box.gangs : 1);
}

/// Whether an extension ring is said to be wider or taller than the box that it makes deeper, whichever way
/// both are turned.
bool wider_than_box(const Cover& ring, const Place& box) {
  if (!ring.width.known() || !ring.height.known()) return false;
  const auto sides = nominal_sides(box.box_size);
  const bool measured = box.width.known() && box.height.known();
  if (!measured && !sides) return false;
  const auto of_ring = std::minmax({*ring.width, *ring.height});
  const auto of_box =
      measured ? std::minmax({*box.width, *box.height}) : std::minmax({(*sides)[0], (*sides)[1]});
  return of_box.first < of_ring.first || of_box.second < of_ring.second;
}

/// What the law prints for a cast box with one gang more: its words name no sides, and a box marked with more
/// than that is hardly one of so many gangs.
Maybe<Volume> of_one_gang_more(const Table* table, const Place& box) {
  const bool cast = box.box_kind == BoxKind::fs || box.box_kind == BoxKind::fd;
  if (table == nullptr || !cast || box.box_size == BoxSize::unstated) return {};
  const auto row = table->find({kind_key(box), name_of(box.box_size)});
  const std::int64_t printed = table->count(row, table->column("volume", Dimension::volume));
  if (printed == Table::blank) return {};
  const std::int64_t gangs = box.box_size == BoxSize::multiple ? box.gangs : 1;
  return Volume::steps(printed) * (gangs + 1);
}

/// More than a ring or cover is marked with in earnest, where nobody measured it: a plaster ring or raised
/// cover is no larger than its box, and an extension ring no deeper than its box is wide.
Maybe<Volume> beyond_belief(const Table* table, const Cover& cover, const Place& box) {
  if (cover.kind != Cover::Kind::extension_ring) {
    if (const Maybe<Volume> largest = nominal(box); largest.known()) return largest;
    const Maybe<Volume> inside = inside_of(box);
    return inside.known() ? inside : box.volume.known() ? box.volume : of_one_gang_more(table, box);
  }
  const auto sides = nominal_sides(box.box_size);
  const bool measured = box.width.known() && box.height.known();
  if (!measured && !sides) {  // no deeper than the box by far
    const Maybe<Volume> own = box.volume.known() ? box.volume : of_one_gang_more(table, box);
    return own.known() ? Maybe<Volume>(*own * 2) : own;
  }
  const Length width = measured ? *box.width : (*sides)[0], height = measured ? *box.height : (*sides)[1];
  return raceward::box_volume(width, height, std::min(width, height)) * box.gangs;
}

/// Why the volume marked on a ring or cover cannot be; empty where it may be.
std::string_view volume_denied(const Table* table, const Cover& cover, const Place& box) {
  Maybe<Volume> inside = inside_of(cover);
  if (inside.known() && cover.kind == Cover::Kind::extension_ring && has_corners_cut(box))
    inside = octagon_in(*inside);
  if (more_than_inside(*cover.volume, inside))
    return "the marked volume is more than the inside dimensions can hold";
  if (!inside.known() && more_than_inside(*cover.volume, beyond_belief(table, cover, box)))
    return "the marked volume is more than such a box is likely to be given; its inside width, height and "
           "depth "
           "would tell";
  return {};
}

/// Volume of a ring or cover: marked, or of the inside dimensions of an extension ring, which is made like a
/// box. Other rings and covers that nobody marked add what nobody knows.
Maybe<Volume> added_volume(const Evaluation& e, const Cover& cover, const Place& box) {
  if (doubled(e.model, box, cover) || stacked(e, box, cover)) return {};
  if (cover.volume.known())
    return volume_denied(e.law.table("box-volume"), cover, box).empty() ? cover.volume : Maybe<Volume>{};
  const bool deepens = cover.kind == Cover::Kind::extension_ring && !wider_than_box(cover, box);
  return deepens && !has_corners_cut(box) ? inside_of(cover) : Maybe<Volume>{};
}

/// Why a ring or cover adds what nobody knows.
std::string_view added_unknown(const Evaluation& e, const Cover& cover, const Place& box) {
  if (doubled(e.model, box, cover))
    return "several of plaster rings, raised covers and flat ones are written on it, and an opening takes "
           "one";
  if (stacked(e, box, cover)) return stacked_why;
  if (cover.volume.known()) return volume_denied(e.law.table("box-volume"), cover, box);
  if (wider_than_box(cover, box)) return "the ring is written wider than the box";
  if (cover.kind == Cover::Kind::extension_ring && inside_of(cover).known() && has_corners_cut(box))
    return "a ring on such a box holds less than its inside width, height and depth multiplied";
  return "a ring or cover of unknown volume is on the box";
}

bool adds_volume(Cover::Kind kind) {
  return kind != Cover::Kind::flat_cover && kind != Cover::Kind::blank_cover &&
         kind != Cover::Kind::device_cover;
}

/// A depth that is said and the one that the trade size names, which are not of one box.
Value depth_denied(Evaluation& e, Subject s) {
  const Place& box = e.model.places[s.index];
  const auto sides = nominal_sides(box.box_size);
  if (!sides || !box.depth.known()) return Evaluation::value(0);
  constexpr Length wall = Length::steps(3'175'000'000);  // not law: 1/8 in, of metal and rounding
  const Length named = (*sides)[2], said = *box.depth;
  if (said <= named + wall && named <= said + wall) return Evaluation::value(0);
  const std::string why = fmt::format(FMT_COMPILE("a box of size {} is not {} deep"), name_of(box.box_size),
                                      e.text_of(show(said, Unit::inch)));
  const Value a = e.lacks(s, "size", "a size such as 4 x 2-1/8", marking, why),
              b = e.lacks(s, "depth", "a length such as 2-1/8in", installer_tape, why);
  return Evaluation::lacks(e.missing.both(a.missing, b.missing));
}

Value body_of_box(Evaluation& e, Subject s) {
  const Place& box = e.model.places[s.index];
  const Maybe<Volume> inside = inside_of(box);
  const Table* const table = e.law.table("box-volume");
  const bool per_gang = box.box_kind == BoxKind::masonry || box.box_size == BoxSize::multiple;
  if (box.volume.known()) {
    if (more_than_inside(*box.volume, inside)) {
      return e.lacks(
          s, "volume", "a volume such as 30.3in3", marking,
          fmt::format(FMT_COMPILE("the marked {} is more than the inside dimensions can hold ({})"),
                      e.text_of(show(*box.volume, Unit::cubic_inch)),
                      e.text_of(show(*inside, Unit::cubic_inch))));
    }
    const Maybe<Volume> largest = nominal(box);
    if (largest.known() && *largest < *box.volume) {
      return e.lacks(s, "volume", "a volume such as 30.3in3", marking,
                     fmt::format(FMT_COMPILE("the marked {} is more than a box of size {} can hold ({})"),
                                 e.text_of(show(*box.volume, Unit::cubic_inch)), name_of(box.box_size),
                                 e.text_of(show(*largest, Unit::cubic_inch))));
    }
    const Maybe<Volume> wider = of_one_gang_more(table, box);
    if (!inside.known() && wider.known() && *wider < *box.volume) {
      return e.lacks(
          s, "volume", "a volume such as 13.5in3, or its inside width, height and depth beside it", marking,
          fmt::format(FMT_COMPILE("the marked {} is more than such a box with one gang more has ({})"),
                      e.text_of(show(*box.volume, Unit::cubic_inch)),
                      e.text_of(show(*wider, Unit::cubic_inch))));
    }
    if (e.noting()) e.note(FMT_COMPILE("box: {} as marked"), e.text_of(show(*box.volume, Unit::cubic_inch)));
    return Evaluation::value((*box.volume).count());
  }
  if (table != nullptr && box.box_kind != BoxKind::unstated && box.box_size != BoxSize::unstated) {
    const auto row = table->find({kind_key(box), name_of(box.box_size)});
    const std::int64_t printed = table->count(row, table->column("volume", Dimension::volume));
    if (printed != Table::blank) {
      if (const Value wrong = depth_denied(e, s); !wrong) return wrong;
      const Volume one = Volume::steps(printed);
      const Volume volume = per_gang ? one * box.gangs : one;
      if (box.box_kind == BoxKind::device && box.gangs > 1) {
        return e.lacks(s, "volume", "a volume such as 30.3in3", marking,
                       "its size is that of one gang, and it has several");
      }
      if (more_than_inside(volume, inside)) {
        return e.lacks(s, "volume", "a volume such as 30.3in3", marking,
                       fmt::format(FMT_COMPILE("the {} box {} has {}, and the inside dimensions can hold {}"),
                                   name_of(box.box_kind), name_of(box.box_size),
                                   e.text_of(show(volume, Unit::cubic_inch)),
                                   e.text_of(show(*inside, Unit::cubic_inch))));
      }
      e.used(table->cite(row));
      if (e.noting())
        e.note(FMT_COMPILE("box: {} for {} {} box {} ({}){}"), e.text_of(show(volume, Unit::cubic_inch)),
               article(name_of(box.box_kind)), name_of(box.box_kind), name_of(box.box_size),
               e.cited(table->cite(row)),
               per_gang ? fmt::format(FMT_COMPILE(", {} gangs"), box.gangs) : std::string{});
      return Evaluation::value(volume.count(), table->cite(row));
    }
    if (!inside.known()) {
      return e.lacks(s, "volume", "a volume such as 30.3in3", marking,
                     fmt::format(FMT_COMPILE("the table of standard boxes has no {} box {}"),
                                 name_of(box.box_kind), name_of(box.box_size)));
    }
  }
  if (inside.known() && has_corners_cut(box)) {
    return e.lacks(
        s, "volume", "a volume such as 21.5in3", marking,
        fmt::format(FMT_COMPILE("a box that is {} holds less than {} x {} x {}"), name_of(box.box_kind),
                    e.text_of(show(*box.width, Unit::inch)), e.text_of(show(*box.height, Unit::inch)),
                    e.text_of(show(*box.depth, Unit::inch))));
  }
  if (inside.known()) {
    if (e.noting())
      e.note(FMT_COMPILE("box: {} x {} x {} inside = {}"), e.text_of(show(*box.width, Unit::inch)),
             e.text_of(show(*box.height, Unit::inch)), e.text_of(show(*box.depth, Unit::inch)),
             e.text_of(show(*inside, Unit::cubic_inch)));
    return Evaluation::value((*inside).count());
  }
  return e.lacks(s, "volume", "a volume such as 30.3in3, or kind and size, or inside dimensions", marking);
}

}  // namespace

Value box_volume_stated(Evaluation& e, Subject s) {
  const Value body = body_of_box(e, s);
  if (!body) return body;
  Volume sum = Volume::steps(body.count);
  const Place& box = e.model.places[s.index];
  // Rings have no ids: the largest first.
  const auto added_by = [&](const Cover& cover) {
    const auto added = added_volume(e, cover, box);
    return added.known() ? -(*added).count() : 0;
  };
  const std::span covers(e.model.covers.data() + box.covers.first, box.covers.count);
  for (const Cover& cover : told_by(e, covers, added_by)) {
    if (!adds_volume(cover.kind)) continue;
    if (const auto added = added_volume(e, cover, box); added.known()) {
      sum += *added;
      if (e.noting())
        e.note(FMT_COMPILE("ring or cover: + {} = {}"), e.text_of(show(*added, Unit::cubic_inch)),
               e.text_of(show(sum, Unit::cubic_inch)));
    }
  }
  return Evaluation::value(sum.count(), body.cite);
}

Value box_volume(Evaluation& e, Subject s) {
  const Value stated = e.get(Id::box_volume_stated, s);
  if (!stated) return stated;
  MissingId missing = 0;
  const Place& box = e.model.places[s.index];
  for (Index i = box.covers.first; i < box.covers.end(); ++i) {
    const Cover& cover = e.model.covers[i];
    if (!adds_volume(cover.kind) || added_volume(e, cover, box).known()) continue;
    const std::string_view why = added_unknown(e, cover, box);
    const bool too_many = stacked(e, box, cover);
    if (too_many) e.used(e.law.parameter("extension-rings-most")->cite);
    const Value lack =
        too_many
            ? e.lacks(s, "ring", "the extension rings that it has, each once", installer, std::string(why))
            : e.lacks(s, "volume", "the marked volume of the ring or cover, such as 4.5in3", marking,
                      std::string(why), cover.source);
    missing = e.missing.both(missing, lack.missing);
  }
  return missing == 0 ? stated : Evaluation::lacks(missing);
}

Value box_volume_needed(Evaluation& e, Subject s) {
  const BoxContents contents = count_contents(e, s);
  const MissingId missing = e.missing.both(contents.missing, contents.unsaid);
  if (missing != 0) return Evaluation::lacks(missing);
  e.used(contents.cite);
  return Evaluation::value(contents.needed.count(), contents.cite);
}

Value box_volume_needed_at_least(Evaluation& e, Subject s) {
  const BoxContents contents = count_contents(e, s);
  if (contents.missing == 0) e.used(contents.cite);
  if (e.noting() && (contents.missing != 0 || contents.unsaid != 0))
    e.detail(e.get_aside(Id::box_volume, s), at_least);
  return Evaluation::value(contents.needed.count(), contents.cite);
}

Value encloses_disconnect(Evaluation& e, Subject s) {
  if (e.model.places[s.index].box_kind != BoxKind::other) return answer(false);
  MissingId open = 0;
  for (const Index i : devices_in(e, s.index)) {
    const Device& d = e.model.devices[i];
    if (d.kind != DeviceKind::disconnect || d.yokes != 0) continue;
    if (d.no_yoke) return answer(true);
    open = e.missing.both(
        open, e.lacks({SubjectKind::device, i}, "yokes", yokes_or_none, installer, {}, d.source).missing);
  }
  return open == 0 ? answer(false) : Evaluation::lacks(open);
}

Value boxes_written(Evaluation& e, Subject s) {
  const Place& place = e.model.places[s.index];
  if (place.kind == PlaceKind::box || place.kind == PlaceKind::conduit_body) return answer(true);
  const Parameter* const words = e.law.parameter("box-words");
  if (place.kind != PlaceKind::equipment || words == nullptr) return answer(false);
  if (place.equipment_kind.empty())
    return e.lacks(s, "kind", "what the equipment is, such as kiln", designer);
  if (is_one_of(words->text, place.equipment_kind))
    return e.lacks(
        s, "kind", "the same place written as a box or conduit body", designer,
        fmt::format(FMT_COMPILE("a {} is a box, and equipment tells neither its volume nor what it "
                                "measures inside"),
                    place.equipment_kind));
  return answer(false);
}

Value box_allowances(Evaluation& e, Subject s) {
  const BoxContents contents = count_contents(e, s, false);
  if (const MissingId missing = e.missing.both(contents.missing, contents.open); missing != 0)
    return Evaluation::lacks(missing);
  return Evaluation::value(number(contents.entries).count());
}

Value box_volume_left(Evaluation& e, Subject s) {
  const Value volume = e.get(Id::box_volume, s);
  const Value needed = e.get(Id::box_volume_needed, s);
  if (!volume || !needed) return Evaluation::lacks(e.missing.both(volume.missing, needed.missing));
  const Volume left = Volume::steps(volume.count) - Volume::steps(needed.count);
  if (e.noting())
    e.note(FMT_COMPILE("room left: {} - {} = {}"), e.text_of({volume.count, Unit::cubic_inch}),
           e.text_of({needed.count, Unit::cubic_inch}), e.text_of(show(left, Unit::cubic_inch)));
  return Evaluation::value(left.count());
}

}  // namespace raceward::figure::compute
