// How long a raceway is, along its centre line.
//
// Method: the sum of its pieces, bends by their arc; or the distances between the points of a polyline, its
// corners rounded where their radius is known; or the stated length. A stated length and a course must agree,
// and both with the places of the ends.
// docs/figures/bends.md tells it in words; tolerances stand in course.hpp.
#include <algorithm>

#include "figure/course.hpp"
#include "figure/figure.hpp"
#include "figure/raceway_kinds.hpp"
#include "figure/shown.hpp"

namespace raceward::figure::compute {

namespace {

using namespace installation;

constexpr std::string_view length_word = "a length such as 36in";
constexpr std::string_view radius_word = "a radius to the centre line such as 4 1/2in";
constexpr std::string_view angle_word = "an angle such as 30deg";

/// What is known of a course: at least so long, and what is missing for the whole.
struct Course {
  Length known;
  MissingId missing = 0;
  MissingId contradiction = 0;  ///< what of it cannot be true together
};

class Measuring {
 public:
  Measuring(Evaluation& e, Subject s) : e_(e), s_(s), raceway_(e.model.raceways[s.index]) {}

  Course course() {
    if (raceway_.points.count != 0) {
      polyline();
    } else {
      for (Index i = raceway_.pieces.first; i < raceway_.pieces.end(); ++i) piece(e_.model.pieces[i]);
    }
    return out_;
  }
  [[nodiscard]] const std::string& terms() const { return terms_; }

 private:
  void lack(std::string_view name, std::string_view expects, Offset source) {
    const Value lack = e_.lacks(s_, name, expects, installer_tape, {}, source);
    out_.missing = e_.missing.both(out_.missing, lack.missing);
  }

  void contradict(std::string_view name, std::string_view expects, Offset source, std::string why) {
    const Value lack = e_.lacks(s_, name, expects, installer_tape, std::move(why), source);
    out_.missing = e_.missing.both(out_.missing, lack.missing);
    out_.contradiction = e_.missing.both(out_.contradiction, lack.missing);
  }

  void add(Length length, std::string_view what) {
    out_.known += length;
    if (!e_.noting() || length == Length{}) return;
    terms_ += fmt::format(FMT_COMPILE("{}{} ({})"), terms_.empty() ? "" : " + ", shown_far(e_, length), what);
  }

  void piece(const Piece& p) {
    switch (p.kind) {
      case PieceKind::straight:
        if (!p.length.known()) return lack("length", length_word, p.source);
        return add(*p.length, "straight");
      case PieceKind::coupling:
      case PieceKind::expansion:
        if (p.length.known()) add(*p.length, name_of(p.kind));
        return;
      case PieceKind::bend:
      case PieceKind::offset:
      case PieceKind::saddle:
        return bent(p);
      case PieceKind::unstated:
        return;
    }
  }

  /// A piece with bends in it: its stated length, which may hold straight parts as well but no less than its
  /// arcs; or the computed one.
  void bent(const Piece& p) {
    const std::optional<Length> by_shape = length_by_shape(p);
    const bool computable = by_shape.has_value();
    const Length computed = by_shape.value_or(Length{});
    if (computed < Length{}) {
      return contradict("rise", length_word, p.source,
                        fmt::format(FMT_COMPILE("two bends of {} at a radius of {} rise by more than {}"),
                                    shown(*p.angle), shown(e_, *p.radius), shown(e_, *p.rise)));
    }
    if (p.length.known()) {
      if (computable && computed > *p.length + tolerance_of(*p.length)) {
        return contradict("length", length_word, p.source,
                          fmt::format(FMT_COMPILE("{} is stated, and the {} alone takes {}"),
                                      shown_far(e_, *p.length), name_of(p.kind), shown_far(e_, computed)));
      }
      return add(*p.length, name_of(p.kind));
    }
    if (computable) return add(computed, name_of(p.kind));
    if (p.kind == PieceKind::saddle) return lack("length", length_word, p.source);
    if (!p.angle.known()) lack("angle", angle_word, p.source);
    if (!p.radius.known()) lack("radius", radius_word, p.source);
    if (p.kind == PieceKind::offset && !p.rise.known()) lack("rise", length_word, p.source);
  }

  void polyline() {
    const auto& points = e_.model.points;
    const Range range = raceway_.points;
    Length chords;
    for (Index i = range.first + 1; i < range.end(); ++i) chords += distance(points[i - 1], points[i]);
    // A corner without a radius counts in full: the raceway is in no case longer.
    Length saved, tangent_before;
    Index corner_before = range.first;
    each_corner(e_.model, raceway_, [&](Index at, Angle turn) {
      Length cut;
      if (points[at].radius.known()) {
        if (turn == half_turn)
          return contradict("at", "three lengths", points[at].source, "the course turns back on itself");
        cut = tangent(turn, *points[at].radius);
        saved += cut * 2 - arc(turn, *points[at].radius);
      }
      Length leg;
      for (Index i = corner_before + 1; i <= at; ++i) leg += distance(points[i - 1], points[i]);
      fits(at, leg, tangent_before + cut);
      tangent_before = cut;
      corner_before = at;
    });
    Length leg;
    for (Index i = corner_before + 1; i < range.end(); ++i) leg += distance(points[i - 1], points[i]);
    if (corner_before != range.first) fits(corner_before, leg, tangent_before);
    add(chords - saved, saved > Length{} ? "polyline, its corners rounded" : "polyline");
  }

  void fits(Index corner, Length leg, Length tangents) {
    if (tangents <= leg + curve_step) return;
    contradict(
        "radius", radius_word, e_.model.points[corner].source,
        fmt::format(
            FMT_COMPILE("the bend does not fit: {} of straight raceway would be needed where there are {}"),
            shown_far(e_, tangents), shown_far(e_, leg)));
  }

  Evaluation& e_;
  Subject s_;
  const Raceway& raceway_;
  Course out_;
  std::string terms_;
};

/// Courses that contradict themselves or the stated length; empty until one does.
struct Contradictions {
  std::vector<MissingId> of_raceway;

  void add(Evaluation& e, Index raceway, MissingId missing) {
    of_raceway.resize(e.model.raceways.size());
    of_raceway[raceway] = e.missing.both(of_raceway[raceway], missing);
  }
};

/// Rigid, and its course has pieces, none of which turns.
bool is_straight(const Model& model, const Raceway& r) {
  const auto first = model.pieces.begin() + r.pieces.first;
  return r.pieces.count != 0 && r.type != RacewayType::unstated && !is_flexible(r.type) &&
         std::all_of(first, first + r.pieces.count, [](const Piece& piece) {
           return piece.kind == PieceKind::straight || piece.kind == PieceKind::coupling ||
                  piece.kind == PieceKind::expansion;
         });
}

/// What the places of its ends contradict: the points of its course, or its length, which is never less than
/// the way straight from one to the other, and no more where nothing turns.
MissingId apart_from_places(Evaluation& e, Subject s, const Value& length) {
  const Raceway& r = e.model.raceways[s.index];
  MissingId missing = 0;
  std::optional<Point> at[2];
  Length reach;
  for (const int end : {0, 1}) {
    const Place& place = e.model.places[r.ends[end].place];
    reach += reach_of(place);
    at[end] = stands_at(place);
    if (!at[end] || r.points.count == 0) continue;
    const Point& point = e.model.points[end == 0 ? r.points.first : r.points.end() - 1];
    const Length apart = distance(point, *at[end]);
    if (apart <= reach_of(place)) continue;
    const Value lack = e.lacks(s, "at", "three lengths", installer_tape,
                               fmt::format(FMT_COMPILE("its course {} {} from where {} is said to be"),
                                           end == 0 ? "begins" : "ends", shown_far(e, apart), place.id),
                               point.source);
    missing = e.missing.both(missing, lack.missing);
  }
  if (!length || !at[0] || !at[1]) return missing;
  const Length apart = distance(*at[0], *at[1]), own = Length::steps(length.count);
  const bool too_long = is_straight(e.model, r) && own > apart + tolerance_of(own) + reach;
  if (own + tolerance_of(own) + reach >= apart && !too_long) return missing;
  const Value lack =
      e.lacks(s, "length", "a length that agrees with the places of its ends", installer_tape,
              fmt::format(FMT_COMPILE("{} and {} are said to be {} apart, and it is {} long{}"),
                          e.model.places[r.ends[0].place].id, e.model.places[r.ends[1].place].id,
                          shown_far(e, apart), shown_far(e, own), too_long ? " without a bend" : ""));
  return e.missing.both(missing, lack.missing);
}

Value by_course(Evaluation& e, Subject s) {
  const Raceway& r = e.model.raceways[s.index];
  const bool has_course = r.pieces.count != 0 || r.points.count > 1;
  if (!has_course) {
    if (!r.length.known()) return e.lacks(s, "length", length_word, installer_tape);
    if (e.noting()) e.note(FMT_COMPILE("length of raceway {}: {} as stated"), r.id, shown_far(e, *r.length));
    return Evaluation::value((*r.length).count());
  }
  Measuring measuring(e, s);
  const Course course = measuring.course();
  if (course.contradiction != 0) e.once<Contradictions>().add(e, s.index, course.contradiction);
  if (r.length.known()) {
    const Length tolerance = tolerance_of(*r.length);
    const bool too_long = course.known > *r.length + tolerance;
    const bool too_short = course.missing == 0 && course.known < *r.length - tolerance;
    if (too_long || too_short) {
      const Value lack =
          e.lacks(s, "length", "a length that agrees with the course", installer_tape,
                  fmt::format(FMT_COMPILE("{} is stated, and the pieces of its course come to {}{}"),
                              shown_far(e, *r.length), course.missing == 0 ? "" : "at least ",
                              shown_far(e, course.known)));
      e.once<Contradictions>().add(e, s.index, e.missing.both(course.contradiction, lack.missing));
      return lack;
    }
    if (course.missing != 0) {
      if (e.noting())
        e.note(FMT_COMPILE("length of raceway {}: {} as stated"), r.id, shown_far(e, *r.length));
      return Evaluation::value((*r.length).count());
    }
  }
  if (course.missing != 0) return Evaluation::lacks(course.missing);
  if (e.noting())
    e.note(FMT_COMPILE("length of raceway {}: {} = {}"), r.id, measuring.terms(), shown_far(e, course.known));
  return Evaluation::value(course.known.count());
}

}  // namespace

Value raceway_length(Evaluation& e, Subject s) {
  const Value length = by_course(e, s);
  const MissingId wrong = apart_from_places(e, s, length);
  if (wrong == 0) return length;
  e.once<Contradictions>().add(e, s.index, wrong);
  return Evaluation::lacks(e.missing.both(length.missing, wrong));
}

}  // namespace raceward::figure::compute

namespace raceward::figure {

MissingId course_contradiction(Evaluation& e, installation::Index raceway) {
  // The length finds them, and its arithmetic is not that of whoever asks here.
  const Subject subject{SubjectKind::raceway, raceway};
  e.get_aside(Id::raceway_length, subject);
  const auto& found = e.once<compute::Contradictions>().of_raceway;
  return found.empty() ? 0 : found[raceway];
}

}  // namespace raceward::figure
