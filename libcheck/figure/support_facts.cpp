#include "figure/support_facts.hpp"

#include <algorithm>

#include "figure/course.hpp"
#include "figure/devices_by_box.hpp"
#include "figure/machines.hpp"
#include "figure/raceway_kinds.hpp"
#include "figure/shown.hpp"
#include "figure/surroundings.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

constexpr std::string_view a_length = "a length such as 3ft";

Claim stated(Evaluation& e, Subject raceway, YesNo value, std::string_view name, std::string_view expects) {
  if (value != YesNo::unstated) return {value, 0};
  return {YesNo::unstated, e.lacks(raceway, name, expects, installer).missing};
}

constexpr std::string_view yes_or_no = "yes or no";

/// What the document says of a course that only a straight one can be. A course, and nothing in it against
/// that: yes.
Claim claim_straight(Evaluation& e, Subject subject, std::string_view name, std::string_view said) {
  const Raceway& r = e.model.raceways[subject.index];
  if (r.pieces.count == 0 && r.points.count == 0) {
    return {YesNo::unstated,
            e.lacks(subject, "straight", "its course, in pieces or by points", installer_tape,
                    fmt::format(FMT_COMPILE("said to be {}, and no course of it is written"), said))
                .missing};
  }
  bool bends = false;
  each_corner(e.model, r, [&](Index, Angle) { bends = true; });
  for (Index i = r.pieces.first; i < r.pieces.end(); ++i) {
    const PieceKind kind = e.model.pieces[i].kind;
    bends = bends || kind == PieceKind::bend || kind == PieceKind::offset || kind == PieceKind::saddle;
  }
  if (!bends) return {YesNo::yes, 0};
  return {YesNo::unstated, e.lacks(subject, name, yes_or_no, installer,
                                   fmt::format(FMT_COMPILE("said to be {}, and its course bends"), said))
                               .missing};
}

/// A riser goes straight up, as far as its course is told by points, and stands in the open.
Claim claim_upright(Evaluation& e, Subject subject) {
  const Raceway& r = e.model.raceways[subject.index];
  for (const RacewayEnd& end : r.ends) {
    const Place& place = e.model.places[end.place];
    if (place.mounting != Mounting::concealed && place.mounting != Mounting::buried) continue;
    return {YesNo::unstated,
            e.lacks(subject, "vertical-riser", yes_or_no, installer,
                    fmt::format(FMT_COMPILE("said to be a riser, which stands in the open, and {} at its end "
                                            "is {}"),
                                place.id, name_of(place.mounting)))
                .missing};
  }
  for (Index i = r.points.first; i < r.points.end(); ++i) {
    const Point &first = e.model.points[r.points.first], &point = e.model.points[i];
    if (point.x == first.x && point.y == first.y) continue;
    return {YesNo::unstated,
            e.lacks(subject, "vertical-riser", yes_or_no, installer,
                    "said to be a vertical riser, and the points of its course do not stand above each other")
                .missing};
  }
  return claim_straight(e, subject, "vertical-riser", "a vertical riser");
}

/// What is fished lies in closed walls or ceilings, and boxes on the surface lead to none.
Claim claim_fished(Evaluation& e, Subject subject) {
  const Raceway& r = e.model.raceways[subject.index];
  if (r.supports.count != 0) {
    return {YesNo::unstated,
            e.lacks(subject, "fished", "no where a strap can be put near both ends; else supports none",
                    installer, "said to be fished, and it is fastened: where it cannot be is not said")
                .missing};
  }
  const Place* on_surface = nullptr;
  for (const RacewayEnd& end : r.ends) {
    const Place& place = e.model.places[end.place];
    if (place.mounting == Mounting::flush || place.mounting == Mounting::concealed) return {YesNo::yes, 0};
    if (place.mounting == Mounting::surface || place.mounting == Mounting::suspended) on_surface = &place;
  }
  if (on_surface == nullptr) return {YesNo::yes, 0};
  return {YesNo::unstated,
          e.lacks(subject, "fished", "yes where it was drawn through a closed wall or ceiling, else no",
                  installer,
                  fmt::format(FMT_COMPILE("said to be fished, and {} at its end is not set in a wall or "
                                          "ceiling; nor is what is at its other end said to be"),
                              on_surface->id))
              .missing};
}

/// A machine or other fixed equipment is at one of its ends.
Claim claim_from_equipment(Evaluation& e, Subject subject) {
  const Raceway& r = e.model.raceways[subject.index];
  const auto is_machine = [&](const Place& place) {
    const auto among = [&](std::string_view parameter) {
      const Parameter* const words = e.law.parameter(parameter);
      return words != nullptr && is_one_of(words->text, place.equipment_kind);
    };
    return place.kind == PlaceKind::equipment && !place.equipment_kind.empty() && !among("box-words") &&
           !among("lighting-equipment");
  };
  // One that is joined may lead on to one, and equipment of an unknown kind may be one.
  const auto may_lead_to_one = [](const Place& place) {
    return place.kind == PlaceKind::joint || place.kind == PlaceKind::unstated ||
           (place.kind == PlaceKind::equipment && place.equipment_kind.empty());
  };
  bool may_be = false;
  for (const RacewayEnd& end : r.ends) {
    if (is_machine(e.model.places[end.place])) return {YesNo::yes, 0};
    may_be = may_be || may_lead_to_one(e.model.places[end.place]);
  }
  if (r.vertical_riser != YesNo::yes && !may_be) return {YesNo::no, 0};
  return {
      YesNo::unstated,
      e.lacks(
           subject, "vertical-riser", yes_or_no, installer,
           "a riser may go so far unsupported from a machine or other fixed equipment only, and neither of "
           "its ends is at one")
          .missing};
}

/// Threaded couplings are said, and no coupling of another kind is written.
Claim claim_threaded(Evaluation& e, Subject subject) {
  const Raceway& r = e.model.raceways[subject.index];
  for (Index i = r.pieces.first; i < r.pieces.end(); ++i) {
    const Piece& piece = e.model.pieces[i];
    const bool threaded = piece.fitting == Fitting::unstated || piece.fitting == Fitting::threaded_coupling;
    if (piece.kind != PieceKind::expansion && (piece.kind != PieceKind::coupling || threaded)) continue;
    return {
        YesNo::unstated,
        e.lacks(subject, "threaded-couplings", yes_or_no, installer,
                piece.fitting == Fitting::unstated
                    ? std::string("said to have threaded couplings throughout, and its course has an "
                                  "expansion fitting")
                    : fmt::format(
                          FMT_COMPILE("said to have threaded couplings throughout, and its course has a {}"),
                          name_of(piece.fitting)))
            .missing};
  }
  // So do the joints at its ends where it goes on: the span across them counts.
  for (const RacewayEnd& end : r.ends) {
    const Place& joint = e.model.places[end.place];
    if (joint.kind != PlaceKind::joint || e.in.graph.at(end.place).size() < 2) continue;
    if (joint.fitting == Fitting::threaded_coupling) continue;
    return {YesNo::unstated,
            e.lacks({SubjectKind::joint, end.place}, "fitting", "threaded-coupling, or what else joins them",
                    installer,
                    joint.fitting == Fitting::unstated
                        ? std::string()
                        : fmt::format(
                              FMT_COMPILE(
                                  "raceway {} is said to have threaded couplings throughout, and {} joins it "
                                  "to what goes on"),
                              r.id, name_of(joint.fitting)),
                    joint.source)
                .missing};
  }
  return stated(e, subject, r.threaded_couplings, "threaded-couplings",
                "yes for a straight run with threaded couplings throughout, else no");
}

Supports& read_supports(Evaluation& e, Subject subject, Supports& out) {
  const Raceway& r = e.model.raceways[subject.index];
  out.missing = out.kinds = 0;
  out.surely = out.perhaps = {};
  out.framing = false;
  out.at.clear();
  for (Index i = r.supports.first; i < r.supports.end(); ++i) {
    const Support& support = e.model.supports[i];
    if (!support.at.known()) {
      out.missing = e.missing.both(
          out.missing, e.lacks(subject, "at", a_length, installer_tape, {}, support.source).missing);
      continue;
    }
    const std::int64_t at = (*support.at).count();
    out.at.push_back(at);
    if (support.kind == SupportKind::framing) {
      out.framing = true;
      continue;
    }
    out.perhaps.add(at);
    if (support.kind != SupportKind::unstated) {
      out.surely.add(at);
      continue;
    }
    const Value kind = e.lacks(subject, "kind", "a word such as strap or trapeze", installer,
                               "resting in the framing is no fastening", support.source);
    out.kinds = e.missing.both(out.kinds, kind.missing);
  }
  if (!std::is_sorted(out.at.begin(), out.at.end())) std::sort(out.at.begin(), out.at.end());
  if (r.supports_none == YesNo::yes && r.supports.count != 0) {
    out.missing = e.lacks(subject, "supports", "none, or a list of supports", installer,
                          "it is said to have none, and supports are listed")
                      .missing;
  } else if (r.supports_none != YesNo::yes && r.supports.count == 0) {
    out.missing =
        e.lacks(subject, "support",
                "each support with its distance, such as at=\"3ft\"; or supports=\"none\"", installer_tape)
            .missing;
  }
  return out;
}

}  // namespace

const Supports& supports_of(Evaluation& e, Subject subject) {
  auto& supports = e.once<Supports>();
  if (supports.of == subject.index) return supports;
  supports.of = subject.index;
  return read_supports(e, subject, supports);
}

MissingId beyond_end(Evaluation& e, Subject subject, const Supports& s, std::int64_t length) {
  if (s.at.empty() || s.at.back() <= length) return 0;
  const Raceway& r = e.model.raceways[subject.index];
  Index beyond = r.supports.first;
  while ((*e.model.supports[beyond].at).count() != s.at.back()) ++beyond;
  return e
      .lacks(
          subject, "at", a_length, installer_tape,
          fmt::format(FMT_COMPILE("this support at {} lies beyond the end of the raceway, which is {} long"),
                      shown_along(e, s.at.back()), shown_along(e, length)),
          e.model.supports[beyond].source)
      .missing;
}

namespace {

/// A raceway of its own goes on below the ground, or may, from the joint at that end.
Index goes_on_in_earth(Evaluation& e, Index raceway, std::size_t end) {
  const Index joint = e.model.raceways[raceway].ends[end].place;
  if (e.model.places[joint].kind != PlaceKind::joint) return none;
  for (const Adjacent& at : e.in.graph.at(joint)) {
    if (at.raceway == raceway) continue;
    if (is_buried(e, e.model.raceways[at.raceway]) || earth_open(e, at.raceway, true) != 0) return at.raceway;
  }
  return none;
}

/// The one raceway that goes on from the joint at that end; none where there is not one.
Index beyond_joint(const Evaluation& e, Index raceway, std::size_t end) {
  const Index joint = e.model.raceways[raceway].ends[end].place;
  const auto around = e.in.graph.at(joint);
  if (e.model.places[joint].kind != PlaceKind::joint || around.size() != 2) return none;
  return around[around[0].raceway == raceway ? 1 : 0].raceway;
}

}  // namespace

bool goes_on_as_itself(const Raceway& r, const Raceway& beyond) {
  return is_tubular(r.type) && !is_flexible(r.type) && beyond.type == r.type;
}

EndDistances end_distances(Evaluation& e, Subject subject, const Supports& s, const Fastened& fastened) {
  EndDistances out;
  const Value length = e.get(Id::raceway_length, subject);
  out.missing = length ? beyond_end(e, subject, s, length.count) : length.missing;
  if (out.missing != 0) return out;
  out.length = length.count;
  const Raceway& r = e.model.raceways[subject.index];
  MissingId open[2]{};  // whether it goes on as itself
  for (const std::size_t end : {0u, 1u}) {
    const Index below = goes_on_in_earth(e, subject.index, end);
    out.in_earth[end] = below != none;
    if (below != none) {
      out.missing = e.missing.both(out.missing, wrong_in_earth(e, below));
      continue;
    }
    const Index beyond = beyond_joint(e, subject.index, end);
    if (beyond == none) continue;
    out.goes_on[end] = goes_on_as_itself(r, e.model.raceways[beyond]);
    if (e.model.raceways[beyond].type == RacewayType::unstated && is_tubular(r.type) &&
        !is_flexible(r.type)) {
      open[end] =
          e.lacks({SubjectKind::raceway, beyond}, "type", "a raceway type such as EMT", installer,
                  "whether the one that leads to it has an end at their joint is not known without it")
              .missing;
    }
  }
  if (out.missing != 0) return out;
  out.from = out.in_earth[0] || out.goes_on[0] ? 0 : fastened.first;
  out.to = out.in_earth[1] || out.goes_on[1] ? 0 : length.count - fastened.last;
  // An end that may be none matters where it is the farther one.
  if (out.from > out.to) out.missing = open[0];
  if (out.to > out.from) out.missing = open[1];
  if (out.to == out.from && open[0] != 0 && open[1] != 0) out.missing = e.missing.both(open[0], open[1]);
  return out;
}

void Fastened::add(std::int64_t at) {
  first = count == 0 ? at : std::min(first, at);
  last = count == 0 ? at : std::max(last, at);
  ++count;
}

void Claim::also(Evaluation& e, const Claim& other) {
  if (holds == YesNo::no || other.holds == YesNo::no) {
    *this = {YesNo::no, 0};
    return;
  }
  if (other.holds == YesNo::unstated) holds = YesNo::unstated;
  missing = e.missing.both(missing, other.missing);
}

namespace {

/// An enclosure or earth holds each of its ends: a joint does not.
Claim claim_enclosed(Evaluation& e, Subject subject) {
  Claim claim{YesNo::yes, 0};
  for (const std::size_t end : {0u, 1u}) {
    if (e.model.places[e.model.raceways[subject.index].ends[end].place].kind != PlaceKind::joint) continue;
    const Index below = goes_on_in_earth(e, subject.index, end);
    if (below == none) return {YesNo::no, 0};
    if (const MissingId missing = wrong_in_earth(e, below); missing != 0)
      claim.also(e, {YesNo::unstated, missing});
  }
  return claim;
}

/// It hangs from one box, and another hangs from it.
bool is_pendant_stem(const Model& model, const Raceway& r) {
  const auto hangs = [&](std::size_t end) {
    return model.places[r.ends[end].place].mounting == Mounting::suspended;
  };
  return hangs(0) != hangs(1);
}

}  // namespace

Claim claim_of_raceway(Evaluation& e, Subject subject, Conditions asked) {
  const Raceway& r = e.model.raceways[subject.index];
  Claim claim{YesNo::yes, 0};
  // "No" first, so that nothing is asked for in vain.
  const auto fails = [&](Condition one, YesNo value) { return asks(asked, one) && value == YesNo::no; };
  if (fails(Condition::no_fastening_point, r.no_fastening_point) ||
      fails(Condition::threaded_couplings, r.threaded_couplings) ||
      fails(Condition::vertical_riser, r.vertical_riser) ||
      fails(Condition::flexibility_needed, r.flexibility_needed) ||
      fails(Condition::ceiling_whip, r.ceiling_whip) || fails(Condition::fished, r.fished) ||
      fails(Condition::accepted, r.accepted_unfastened) ||
      (asks(asked, Condition::pendant_stem) && !is_pendant_stem(e.model, r))) {
    return {YesNo::no, 0};
  }
  // Rare enough that only who says it claims it.
  if (asks(asked, Condition::fished) && r.fished == YesNo::unstated) return {YesNo::no, 0};
  // A long stem may be of several pieces: who accepts it has seen them.
  const bool held_at_ends = asks(asked, Condition::accepted) || asks(asked, Condition::pendant_stem);
  if (held_at_ends && asks(asked, Condition::short_length)) {
    claim.also(e, claim_enclosed(e, subject));
    if (claim.holds == YesNo::no) return claim;
  }
  if (asks(asked, Condition::accepted)) {
    claim.also(
        e, r.accepted_unfastened != YesNo::unstated
               ? Claim{r.accepted_unfastened, 0}
               : Claim{YesNo::unstated,
                       e.lacks(subject, "accepted-unfastened",
                               "yes where it accepts that the enclosures at its ends alone hold it, else no",
                               "the authority that inspects")
                           .missing});
  }
  if (asks(asked, Condition::no_fastening_point)) {
    claim.also(e, stated(e, subject, r.no_fastening_point, "no-fastening-point",
                         "yes where the structure gives nothing to fasten it to within the usual distance of "
                         "its ends, so that a strap may be "
                         "farther off; no where it does"));
  }
  if (asks(asked, Condition::threaded_couplings)) {
    claim.also(e, claim_threaded(e, subject));
  }
  if (asks(asked, Condition::straight)) {
    claim.also(e, claim_straight(e, subject, "threaded-couplings", "a straight run with threaded couplings"));
  }
  if (asks(asked, Condition::vertical_riser)) {
    claim.also(e, stated(e, subject, r.vertical_riser, "vertical-riser",
                         "yes where it rises in the open from a machine or other fixed equipment, straight "
                         "up, and is held "
                         "at its top and its bottom; else no"));
    claim.also(e, claim_upright(e, subject));
  }
  if (asks(asked, Condition::fished)) claim.also(e, claim_fished(e, subject));
  if (asks(asked, Condition::from_equipment)) claim.also(e, claim_from_equipment(e, subject));
  if (asks(asked, Condition::one_joint)) claim.also(e, claim_one_joint(e, subject));
  if (asks(asked, Condition::flexibility_needed)) {
    const bool denied = r.flexibility_needed == YesNo::yes && r.movement == YesNo::no;
    claim.also(e, denied ? Claim{YesNo::unstated,
                                 e.lacks(subject, "flexibility-needed", yes_or_no, installer,
                                         "said to be needed, and what it serves is said not to move")
                                     .missing}
                         : stated(e, subject, r.flexibility_needed, "flexibility-needed",
                                  "yes where what it serves must stay movable, else no"));
  }
  if (asks(asked, Condition::ceiling_whip)) {
    if (r.ceiling_whip == YesNo::unstated && !may_be_whip(e, subject)) return {YesNo::no, 0};
    claim.also(e, stated(e, subject, r.ceiling_whip, "ceiling-whip", whip_word));
  }
  return claim;
}

namespace {

/// How far from its end a raceway may be fastened by the exceptions that hold for it.
std::int64_t farthest(Evaluation& e, Index raceway) {
  const SupportRows& rows = support_rows(e, e.model.raceways[raceway]);
  std::int64_t most = rows.general.termination;
  for (const SupportRow& row : rows.exceptions) {
    if (row.termination <= most || asks(row.conditions, Condition::short_length)) continue;
    if (claim_of_raceway(e, {SubjectKind::raceway, raceway}, row.conditions).holds == YesNo::yes)
      most = row.termination;
  }
  return most;
}

}  // namespace

Claim claim_held(Evaluation& e, Subject subject, std::int64_t own, std::int64_t allowed) {
  const Onward on[] = {onward(e, subject, 0), onward(e, subject, 1)};
  const MissingId open = e.missing.both(on[0].hangs_missing, on[1].hangs_missing);
  if (open == 0 && own + on[0].hangs + on[1].hangs <= allowed) return {YesNo::yes, 0};
  const auto near_of = [&](Index raceway) {
    const SupportRows& rows = support_rows(e, e.model.raceways[raceway]);
    return rows.known ? rows.general.termination : Table::blank;
  };
  const Raceway& r = e.model.raceways[subject.index];
  Claim claim{YesNo::yes, 0};
  for (const int end : {0, 1}) {
    const bool held = on[end].hangs == 0 || on[end].hangs <= near_of(subject.index);
    if (on[end].hangs_missing == 0 && held) continue;
    const std::string_view joint = e.model.places[r.ends[end].place].id;
    if (e.noting() && on[end].hangs != 0) {
      e.note(FMT_COMPILE("joint {} fastens nothing: {}{} beyond it to where it is fastened"), joint,
             on[end].hangs_missing == 0 ? "" : "at least ", shown_along(e, on[end].hangs));
    }
    const Index by = on[end].hangs_on;
    const std::int64_t near = by == none ? Table::blank : near_of(by);
    if (near != Table::blank && on[end].hangs > farthest(e, by)) return {YesNo::no, 0};
    MissingId missing = on[end].hangs_missing;
    if (missing == 0 && by != none) {
      missing = e.lacks({SubjectKind::raceway, by}, "support", "a support that fastens it at the joint",
                        installer_tape,
                        fmt::format(FMT_COMPILE("raceway {} hangs free from joint {}, which is {} from the "
                                                "next fastening"),
                                    r.id, joint, shown_along(e, on[end].hangs)))
                    .missing;
    }
    claim.also(e, {YesNo::unstated, missing});
  }
  return claim;
}

namespace {

/// Whether a luminaire or other equipment is at a place: devices say it, or the word for a piece of
/// equipment.
Claim served_at(Evaluation& e, Index index) {
  const Place& place = e.model.places[index];
  const Subject subject{subject_kind(place.kind), index};
  if (place.kind == PlaceKind::equipment) {
    if (place.equipment_kind.empty()) {
      return {YesNo::unstated,
              e.lacks(subject, "kind", "luminaire, air-handler or another word", installer, {}, place.source)
                  .missing};
    }
    if (luminaire_in(e, index)) return {YesNo::yes, 0};
    const Parameter* const boxes = e.law.parameter("box-words");
    const bool is_box = boxes != nullptr && is_one_of(boxes->text, place.equipment_kind);
    return {is_box ? YesNo::no : YesNo::yes, 0};
  }
  if (place.kind != PlaceKind::box) return {YesNo::no, 0};
  if (luminaire_in(e, index)) return {YesNo::yes, 0};
  return {YesNo::unstated,
          e.lacks(subject, "device", "the luminaire that it carries", installer, {}, place.source).missing};
}

Claim whip_to_nothing(Evaluation& e, Subject subject) {
  return {YesNo::unstated, e.lacks(subject, "ceiling-whip", yes_or_no, installer,
                                   "said to go to a luminaire or other equipment, and neither is at its ends")
                               .missing};
}

/// Nothing that is written of a place says that no luminaire or other equipment is there.
bool may_be_served(Evaluation& e, Index index) {
  const Place& place = e.model.places[index];
  if (place.kind == PlaceKind::equipment) return served_at(e, index).holds != YesNo::no;
  if (place.kind != PlaceKind::box) return place.kind == PlaceKind::unstated;
  if (luminaire_in(e, index)) return true;
  const auto blank = [&](const Cover& c) { return c.kind == Cover::Kind::blank_cover; };
  const auto covers = e.model.covers.begin() + place.covers.first;
  if (std::any_of(covers, covers + place.covers.count, blank)) return false;
  const auto devices = devices_in(e, index);
  const auto other = [&](Index d) { return e.model.devices[d].kind != DeviceKind::unstated; };
  return devices.empty() || !std::all_of(devices.begin(), devices.end(), other);
}

}  // namespace

bool may_be_whip(Evaluation& e, Subject subject) {
  for (const int end : {0, 1}) {
    const Index place = e.model.raceways[subject.index].ends[end].place;
    // Beyond a coupling a flexible raceway may go on to one; rigid conduit or tubing is no part of a whip.
    const bool joint = e.model.places[place].kind == PlaceKind::joint;
    if (joint ? onward(e, subject, end).alike : may_be_served(e, place)) return true;
  }
  return false;
}

Claim claim_whip(Evaluation& e, Subject subject, int end) {
  const Raceway& r = e.model.raceways[subject.index];
  if (r.ceiling_whip != YesNo::yes) return {YesNo::yes, 0};
  const Claim here = served_at(e, r.ends[end].place);
  if (here.holds == YesNo::yes) return here;
  const Claim there = served_at(e, r.ends[1 - end].place);
  if (there.holds == YesNo::yes) return {YesNo::no, 0};
  if (here.holds == YesNo::no && there.holds == YesNo::no) return whip_to_nothing(e, subject);
  return here;
}

Claim claim_whip(Evaluation& e, Subject subject) {
  const Raceway& r = e.model.raceways[subject.index];
  if (r.ceiling_whip != YesNo::yes) return {YesNo::yes, 0};
  const Claim from = served_at(e, r.ends[0].place), to = served_at(e, r.ends[1].place);
  if (from.holds == YesNo::yes || to.holds == YesNo::yes) return {YesNo::yes, 0};
  if (from.holds == YesNo::no && to.holds == YesNo::no) return whip_to_nothing(e, subject);
  return {YesNo::unstated, e.missing.both(from.missing, to.missing)};
}

Claim claim_flexible(Evaluation& e, Subject subject, int end, bool both) {
  const RacewayEnd(&ends)[2] = e.model.raceways[subject.index].ends;
  const auto is_equipment = [&](int at) {
    return e.model.places[ends[at].place].kind == PlaceKind::equipment;
  };
  if (is_equipment(end)) return {YesNo::yes, 0};
  if (is_equipment(1 - end)) return {YesNo::no, 0};
  if (!both) return {YesNo::yes, 0};
  return {YesNo::unstated,
          e.lacks(subject, "support", "a support near the end where it need not stay movable", installer_tape,
                  "it may be fastened farther off at the end where it must stay movable, and which of its "
                  "ends that is is not known: neither is at equipment")
              .missing};
}

Claim claim_unbroken(Evaluation& e, Subject subject, int end, std::int64_t distance) {
  const Raceway& r = e.model.raceways[subject.index];
  if (r.pieces.count == 0) {
    return stated(e, subject, r.unbroken, "unbroken", "yes where no coupling lies in it, else no");
  }
  const auto is_coupling = [](const Piece& p) {
    return p.kind == PieceKind::coupling || p.kind == PieceKind::expansion;
  };
  const auto pieces = e.model.pieces.begin() + r.pieces.first;
  // Said to be broken, and no coupling written: then nobody knows where it is.
  if (r.unbroken == YesNo::no && std::none_of(pieces, pieces + r.pieces.count, is_coupling)) {
    return {YesNo::no, 0};
  }
  // A lower bound of where each piece begins: bends of unknown length and shape count nothing.
  std::int64_t begins = 0;
  MissingId unsure = 0;
  for (Index n = 0; n < r.pieces.count; ++n) {
    const Index i = end == 0 ? r.pieces.first + n : r.pieces.end() - 1 - n;
    const Piece& piece = e.model.pieces[i];
    if (begins >= distance) break;
    if (is_coupling(piece)) {
      if (unsure == 0) return {YesNo::no, 0};
      return {YesNo::unstated, unsure};
    }
    const std::optional<Length> by_shape = length_by_shape(piece);
    if (piece.length.known()) {
      begins += (*piece.length).count();
    } else if (by_shape && *by_shape >= Length{}) {
      begins += (*by_shape).count();
    } else if (unsure == 0) {
      unsure = e.lacks(subject, "length", a_length, installer_tape, {}, piece.source).missing;
    }
  }
  return {YesNo::yes, 0};
}

std::string shown_along(const Evaluation& e, std::int64_t length) { return e.text_of({length, Unit::foot}); }

}  // namespace raceward::figure
