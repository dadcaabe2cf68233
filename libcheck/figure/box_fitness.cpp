// Whether a box is fit for where it is and for what is in it: wet places, depth, what holds it, setback, free
// conductor.
//
// Method: docs/figures/box-fitness.md tells it in words. Facts are asked for only where they could decide.
#include <algorithm>

#include "figure/box_covers.hpp"
#include "figure/circuit_use.hpp"
#include "figure/devices_by_box.hpp"
#include "figure/facts.hpp"
#include "figure/support_facts.hpp"
#include "figure/surroundings.hpp"
#include "figure/told.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

constexpr std::string_view a_length = "a length such as 1 1/2in";

Location location_of(const Evaluation& e, const Place& place) {
  return place.area == none ? Location::unstated : e.model.areas[place.area].location;
}

/// The devices that are set into a box, and not hung before it.
bool set_into_box(const Device& d) {
  return d.kind != DeviceKind::luminaire && d.kind != DeviceKind::terminal_block;
}

/// The depth that the words of a standard size name last: 2-1/8 in of "4 x 2-1/8".
Maybe<Length> depth_named(BoxSize size) {
  const std::string_view words = name_of(size);
  const std::size_t at = words.rfind(" x ");
  if (at == std::string_view::npos) return {};
  const auto depth = parse_length(std::string(words.substr(at + 3)) + "in");  // not law: length of the word
  return depth ? Maybe<Length>(*depth) : Maybe<Length>{};
}

/// Inside depth of the box alone; for cast boxes the law tells it.
Maybe<Length> own_depth(Evaluation& e, const Place& box, CitationId& cite) {
  if (box.depth.known()) return box.depth;
  if (const Maybe<Length> named = depth_named(box.box_size); named.known()) return named;
  const Table* const table = e.law.table("cast-box-depth");
  if (table == nullptr) return {};
  const std::uint32_t row = table->find({name_of(box.box_kind)});
  const std::int64_t depth = table->count(row, table->column("depth", Dimension::length));
  if (depth == Table::blank) return {};
  cite = table->cite(row);
  return Length::steps(depth);
}

/// A ring or a raised cover makes room in front of the box.
bool adds_depth(Cover::Kind kind) {
  return kind == Cover::Kind::plaster_ring || kind == Cover::Kind::extension_ring ||
         kind == Cover::Kind::raised_cover;
}

/// What a box needs that raceways carry: how many, of what type, by what entries, held how near.
class Carried {
 public:
  Carried(Evaluation& e, Subject s) : e_(e), s_(s) {}

  Value judge() {
    const bool bears = !devices_in(e_, s_.index).empty();
    const Parameter* const far = length("carried-box-support");
    const Parameter* const near = length("carried-device-box-support");
    const Parameter* const largest = e_.law.parameter("carried-box-volume", Dimension::volume);
    const Parameter* const least = e_.law.parameter("carrying-raceways", Dimension::none);
    types_ = e_.law.table("carrying-raceway");
    if (far == nullptr || near == nullptr) return e_.lacks_law("carried-box-support");
    if (largest == nullptr) return e_.lacks_law("carried-box-volume");
    if (least == nullptr) return e_.lacks_law("carrying-raceways");
    if (types_ == nullptr) return e_.lacks_law("carrying-raceway");
    needed_ = least->value.count / number(1).count();
    e_.used(least->cite);
    const Value volume = e_.get(Id::box_volume, s_);
    if (volume && volume.count > largest->value.count) {
      e_.used(largest->cite);
      if (e_.noting()) e_.note(FMT_COMPILE("raceways carry no box above {}"), text_of(largest->value));
      return Evaluation::value(0, largest->cite);
    }
    Value carried = by_raceways(near, least->cite);
    // Without devices, and entered from two sides, it may be held farther off.
    if (!bears && !is_yes(carried)) {
      const Value farther = by_raceways(far, least->cite);
      if (sides() == Sides::several || is_no(farther)) carried = farther;
      if (sides() == Sides::unknown && !is_no(farther)) return lacks_wall(farther);
    }
    if (!volume && !is_no(carried))
      return Evaluation::lacks(e_.missing.both(volume.missing, carried.missing));
    return carried;
  }

 private:
  enum class Sides : std::uint8_t { one, several, unknown };

  const Parameter* length(std::string_view name) { return e_.law.parameter(name, Dimension::length); }

  /// Those that may turn out to carry count for "perhaps".
  Value by_raceways(const Parameter* nearest, CitationId cite) {
    surely_ = perhaps_ = 0;
    missing_ = 0;
    for (const Adjacent& at : told_at(e_, s_.index)) carrier(at.raceway, nearest->value.count);
    e_.used(nearest->cite);
    if (e_.noting())
      e_.note(
          FMT_COMPILE(
              "raceways that carry it by threaded entries and are held within {1}: {0}; needed: {2} ({3})"),
          perhaps_, text_of(nearest->value), needed_, e_.cited(cite));
    if (perhaps_ < needed_) return Evaluation::value(0, cite);
    return surely_ < needed_ ? Evaluation::lacks(missing_) : answer(true, cite);
  }

  const RacewayEnd& entry_of(Index raceway) const {
    const Raceway& r = e_.model.raceways[raceway];
    return r.ends[r.ends[0].place == s_.index ? 0 : 1];
  }

  [[nodiscard]] Sides sides() const {
    std::uint8_t first = 0;
    bool unknown = false;
    for (const Adjacent& at : e_.in.graph.at(s_.index)) {
      const std::uint8_t wall = entry_of(at.raceway).wall;
      if (wall == 0) unknown = true;
      if (wall != 0 && first != 0 && wall != first) return Sides::several;
      if (first == 0) first = wall;
    }
    return unknown ? Sides::unknown : Sides::one;
  }

  Value lacks_wall(const Value& farther) {
    MissingId missing = farther.missing;
    for (const Adjacent& at : e_.in.graph.at(s_.index)) {
      const RacewayEnd& entry = entry_of(at.raceway);
      if (entry.wall != 0) continue;
      const Value lack = e_.lacks({SubjectKind::raceway, at.raceway}, entry.source == 0 ? "end" : "wall",
                                  "the wall of the box that it enters by", installer,
                                  "entered from one side only, the box must be held nearer", entry.source);
      missing = e_.missing.both(missing, lack.missing);
    }
    return Evaluation::lacks(missing);
  }

  void carrier(Index raceway, std::int64_t nearest) {
    const Raceway& r = e_.model.raceways[raceway];
    const Subject subject{SubjectKind::raceway, raceway};
    const int end = r.ends[0].place == s_.index ? 0 : 1;
    const RacewayEnd& entry = r.ends[end];
    MissingId missing = 0;
    const auto lack = [&](const Value& v) { missing = e_.missing.both(missing, v.missing); };
    if (r.type == RacewayType::unstated) {
      lack(e_.lacks(subject, "type", "a raceway type such as RMC", installer, {}, r.source));
    } else {
      const std::uint32_t row = types_->find({name_of(r.type)});
      if (row == Table::none || types_->text(row, types_->column("carries")) != "yes") return;
    }
    if (entry.fitting == Fitting::unstated)
      lack(e_.lacks(subject, entry.source == 0 ? "end" : "fitting", "threaded-hub where it is screwed in",
                    installer, {}, entry.source));
    else if (entry.fitting != Fitting::threaded_hub)
      return;
    const Supports& supports = supports_of(e_, subject);
    if (supports.missing != 0) {
      missing = e_.missing.both(missing, supports.missing);
    } else {
      const Fastened& held = supports.kinds == 0 ? supports.surely : supports.perhaps;
      if (held.count == 0) return;
      const EndDistances d = end_distances(e_, subject, supports, held);
      if (d.missing == 0 && (end == 0 ? d.from : d.to) > nearest) return;
      missing = e_.missing.both(missing, e_.missing.both(d.missing, supports.kinds));
    }
    ++perhaps_;
    if (missing == 0) ++surely_;
    missing_ = e_.missing.both(missing_, missing);
  }

  Evaluation& e_;
  Subject s_;
  const Table* types_ = nullptr;
  std::int64_t needed_ = 0, surely_ = 0, perhaps_ = 0;
  MissingId missing_ = 0;
};

/// Whether conductors end or are joined in the place: yes, no, or what would tell.
struct Ending {
  bool any = false;
  MissingId missing = 0;
};
Ending ending_in(Evaluation& e, Index place) {
  Ending out;
  const auto ends = [](StopTreatment t) {
    return t == StopTreatment::spliced || t == StopTreatment::terminated;
  };
  for (const Visit& visit : e.in.routes.visits_at(place)) {
    if (visit.stop == none) continue;
    const Stop& stop = e.model.stops[visit.stop];
    if (ends(stop.ungrounded) || ends(stop.grounding)) out.any = true;
    if (stop.ungrounded == StopTreatment::unstated) {
      const Value lack = lacks_end_of(e, e.model.runs[visit.run].circuit, visit.stop);
      out.missing = e.missing.both(out.missing, lack.missing);
    }
  }
  return out;
}

}  // namespace

Value box_location_asked(Evaluation& e, Subject s) {
  const Place& box = e.model.places[s.index];
  const Location at = location_of(e, box);
  if (at != Location::unstated) return answer(at != Location::dry);
  if (box.wet_listed == YesNo::yes) return answer(true);
  return Evaluation::lacks(lacks_location(e, s, box.area));
}

Value box_suits_location(Evaluation& e, Subject s) {
  const Place& box = e.model.places[s.index];
  if (box.wet_listed == YesNo::yes) {
    if (e.noting()) e.note(FMT_COMPILE("stated: it is listed for wet locations"));
    return answer(true);
  }
  if (location_of(e, box) == Location::damp) {
    if (attested(e, Attested::kept_dry, box.id)) {
      if (e.noting()) e.note(FMT_COMPILE("attested: moisture is kept out of it"));
      return answer(true);
    }
    return e.lacks(s, "listed-wet",
                   "yes; or <attest fact=\"kept-dry\"> where it stands so that moisture stays out", installer,
                   "in a damp place moisture must be kept out of it");
  }
  return stated(e, s, box.wet_listed, "listed-wet", marking);
}

Value box_depth(Evaluation& e, Subject s) {
  const Place& box = e.model.places[s.index];
  CitationId cite = no_citation;
  const Maybe<Length> own = own_depth(e, box, cite);
  if (!own.known())
    return e.lacks(s, "depth", "an inside depth such as 1 1/2in, or kind and size", installer_tape);
  if (box.depth.known()) {
    const Maybe<Length> named = depth_named(box.box_size);
    if (named.known() && *named < *box.depth)
      return e.lacks(s, "depth", a_length, installer_tape,
                     fmt::format(FMT_COMPILE("a box of size {} is said to be {} deep inside"),
                                 name_of(box.box_size), e.text_of(show(*box.depth, Unit::inch))));
  }
  Length sum = *own;
  if (e.noting()) e.note(FMT_COMPILE("depth of the box: {}"), e.text_of(show(sum, Unit::inch)));
  MissingId missing = 0;
  // Rings have no ids: the deepest first.
  const auto deepest = [](const Cover& c) { return c.depth.known() ? -(*c.depth).count() : 0; };
  const std::span covers(e.model.covers.data() + box.covers.first, box.covers.count);
  for (const Cover& cover : told_by(e, covers, deepest)) {
    if (!adds_depth(cover.kind)) continue;
    if (doubled(e.model, box, cover)) {
      missing = e.missing.both(
          missing, e.lacks(s, "depth", "one ring or raised cover for each opening", installer_tape,
                           "several are written on it, and an opening takes one", cover.source)
                       .missing);
    } else if (stacked(e, box, cover)) {
      missing = e.missing.both(missing, e.lacks(s, "ring", "the extension rings that it has, each once",
                                                installer, std::string(stacked_why))
                                            .missing);
    } else if (cover.depth.known()) {
      sum += *cover.depth;
      if (e.noting())
        e.note(FMT_COMPILE("ring or cover: + {} = {}"), e.text_of(show(*cover.depth, Unit::inch)),
               e.text_of(show(sum, Unit::inch)));
    } else {
      const Value lack =
          e.lacks(s, "depth", a_length, installer_tape, "it makes the box deeper", cover.source);
      missing = e.missing.both(missing, lack.missing);
    }
  }
  if (missing != 0) {
    const Value needed = e.get_aside(Id::box_depth_needed, s);
    if (needed && sum.count() < needed.count) return Evaluation::lacks(missing);
  }
  if (cite != no_citation) e.used(cite);
  return Evaluation::value(sum.count(), cite);
}

Value box_depth_needed(Evaluation& e, Subject s) {
  const Parameter* const least = e.law.parameter("box-depth", Dimension::length);
  const Parameter* const behind = e.law.parameter("box-depth-behind-device", Dimension::length);
  if (least == nullptr) return e.lacks_law("box-depth");
  if (behind == nullptr) return e.lacks_law("box-depth-behind-device");
  MissingId missing = 0;
  Length deepest;
  bool any = false;
  for (const Index i : devices_in(e, s.index)) {
    const Device& d = e.model.devices[i];
    if (!set_into_box(d)) continue;
    any = true;
    if (d.depth.known()) {
      deepest = std::max(deepest, *d.depth);
    } else {
      const Value lack = e.lacks({SubjectKind::device, i}, "depth",
                                 "how far it reaches behind its yoke, such as 1.25in", marking, {}, d.source);
      missing = e.missing.both(missing, lack.missing);
    }
  }
  if (missing != 0) return Evaluation::lacks(missing);
  if (!any) {
    e.used(least->cite);
    if (e.noting()) e.note(FMT_COMPILE("no device in it: at least {}"), text_of(least->value));
    return Evaluation::value(least->value.count, least->cite);
  }
  const Length needed = deepest + Length::steps(behind->value.count);
  e.used(behind->cite);
  if (e.noting())
    e.note(FMT_COMPILE("deepest device {} + {} behind it = {} ({})"), e.text_of(show(deepest, Unit::inch)),
           text_of(behind->value), e.text_of(show(needed, Unit::inch)), e.cited(behind->cite));
  return Evaluation::value(std::max(needed.count(), least->value.count), behind->cite);
}

Value box_held(Evaluation& e, Subject s) {
  const Place& box = e.model.places[s.index];
  switch (box.mounting) {
    case Mounting::raceway:
      return Carried(e, s).judge();
    case Mounting::suspended: {
      const Parameter* const largest = e.law.parameter("suspended-box-volume", Dimension::volume);
      if (largest == nullptr) return e.lacks_law("suspended-box-volume");
      const Value volume = e.get(Id::box_volume, s);
      if (!volume) return volume;
      e.used(largest->cite);
      return answer(volume.count <= largest->value.count, largest->cite);
    }
    case Mounting::unstated:
      return e.lacks(s, "mounting", "surface, flush, concealed, suspended, buried or raceway", installer);
    default:
      if (e.noting()) e.note(FMT_COMPILE("stated: it is fastened, mounting is {}"), name_of(box.mounting));
      return answer(true);
  }
}

Value setback_asked(Evaluation& e, Subject s) {
  const Mounting mounting = e.model.places[s.index].mounting;
  if (mounting == Mounting::unstated)
    return e.lacks(s, "mounting", "surface, flush, concealed, suspended, buried or raceway", installer);
  return answer(mounting == Mounting::flush);
}

Value box_setback(Evaluation& e, Subject s) {
  return given(e, s, e.model.places[s.index].setback, Unit::inch, "setback", "a length such as 1/8in, or 0in",
               installer_tape);
}

Value box_setback_limit(Evaluation& e, Subject s) {
  const Place& box = e.model.places[s.index];
  const Parameter* const soft = e.law.parameter("setback-combustible", Dimension::length);
  const Parameter* const hard = e.law.parameter("setback-noncombustible", Dimension::length);
  if (soft == nullptr) return e.lacks_law("setback-combustible");
  if (hard == nullptr) return e.lacks_law("setback-noncombustible");
  // What either surface allows, or neither, needs no word of which it is.
  const bool decided = box.setback.known() && ((*box.setback).count() <= soft->value.count ||
                                               (*box.setback).count() > hard->value.count);
  if (box.finish == Finish::unstated && !decided)
    return e.lacks(s, "finish", "combustible or noncombustible", installer);
  const bool burns = box.finish == Finish::combustible ||
                     (box.finish == Finish::unstated && (*box.setback).count() <= soft->value.count);
  const Parameter* const limit = burns ? soft : hard;
  e.used(limit->cite);
  return Evaluation::value(limit->value.count, limit->cite);
}

Value free_conductors_asked(Evaluation& e, Subject s) {
  const Ending ending = ending_in(e, s.index);
  if (ending.any) return answer(true);
  return ending.missing != 0 ? Evaluation::lacks(ending.missing) : Evaluation::value(0);
}

Value free_conductor(Evaluation& e, Subject s) {
  return given(e, s, e.model.places[s.index].free_conductor, Unit::inch, "free-conductor",
               "a length such as 6in", installer_tape);
}

Value free_conductor_needed(Evaluation& e, Subject) {
  return set_by_law(e, "free-conductor", Dimension::length);
}

Value free_conductor_outside(Evaluation& e, Subject s) {
  const Place& box = e.model.places[s.index];
  const Maybe<Length>& said = box.free_conductor_outside;
  if (said.known() && box.free_conductor.known() && *said > *box.free_conductor) {
    return e.lacks(s, "free-conductor-outside", "a length such as 3in", installer_tape,
                   "more of them is said to be outside than is free at all");
  }
  // The straight way from an entry to the opening is no longer than the box is deep: so much can be outside.
  const Value depth = e.get_aside(Id::box_depth, s);
  const bool bounded = depth && box.free_conductor.known();
  const std::int64_t outside = bounded ? (*box.free_conductor).count() - depth.count : 0;
  const Value needed = e.get(Id::free_conductor_outside_needed, s);
  const bool suffices = needed && bounded && outside >= needed.count;
  if (said.known()) {
    if (suffices && (*said).count() < needed.count) {
      return e.lacks(s, "free-conductor-outside", "a length such as 3in", installer_tape,
                     "less of them is said to be outside than is free beyond the depth of the box");
    }
    return given(e, s, said, Unit::inch, "free-conductor-outside", "a length such as 3in", installer_tape);
  }
  if (suffices) {
    if (e.noting())
      e.note(FMT_COMPILE("of {} free, at most the depth of {} is inside: {} outside"),
             e.text_of(show(*box.free_conductor, Unit::inch)), e.text_of({depth.count, Unit::inch}),
             e.text_of({outside, Unit::inch}));
    return Evaluation::value(outside);
  }
  return e.lacks(s, "free-conductor-outside", "how far they reach out of the opening, such as 3in",
                 installer_tape);
}

Value free_conductor_outside_needed(Evaluation& e, Subject s) {
  const Place& box = e.model.places[s.index];
  const Parameter* const wide = e.law.parameter("free-conductor-opening", Dimension::length);
  if (wide == nullptr) return e.lacks_law("free-conductor-opening");
  const Value outside = set_by_law(e, "free-conductor-outside", Dimension::length);
  const auto is_wide = [&](const Maybe<Length>& m) { return m.known() && (*m).count() >= wide->value.count; };
  // An opening that nobody measured is taken to be narrow, as nearly all are: that asks for more.
  if (is_wide(box.width) && is_wide(box.height) && box.covers.count == 0) {
    e.used(wide->cite);
    if (e.noting())
      e.note(FMT_COMPILE("its opening is {} or more each way: nothing is asked outside of it"),
             text_of(wide->value));
    return Evaluation::value(0, wide->cite);
  }
  return outside;
}

}  // namespace raceward::figure::compute
