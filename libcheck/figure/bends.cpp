// How far a raceway turns, alone and from one pull point to the next.
//
// Method: each bend counts its angle, an offset two, a saddle three or four; corners of a polyline count the
// change of direction. Between two pull points the bends of all raceways add up. docs/figures/bends.md tells
// it in words.
#include <algorithm>

#include "figure/course.hpp"
#include "figure/facts.hpp"
#include "figure/figure.hpp"
#include "figure/first_by_id.hpp"
#include "figure/longest_way.hpp"
#include "figure/raceway_kinds.hpp"
#include "figure/shown.hpp"
#include "installation/lists.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

/// How many bends a saddle is made of.
constexpr std::int64_t three_bends = 3;  // not law: geometry
constexpr std::int64_t four_bends = 4;   // not law: geometry

constexpr std::string_view angle_word = "an angle such as 90deg";

/// Bends of a raceway: what is known of them, and what is missing.
struct Bends {
  std::int64_t count = 0;
  Angle known;
  MissingId count_missing = 0;
  MissingId missing = 0;
};

class Counting {
 public:
  Counting(Evaluation& e, Index raceway)
      : e_(e), s_{SubjectKind::raceway, raceway}, raceway_(e.model.raceways[raceway]) {}

  Bends count() {
    if (raceway_.points.count > 1) {
      each_corner(e_.model, raceway_, [&](Index, Angle turn) { add(1, turn, "corner"); });
    } else if (raceway_.pieces.count != 0) {
      for (Index i = raceway_.pieces.first; i < raceway_.pieces.end(); ++i) piece(e_.model.pieces[i]);
    } else {
      const Value course = e_.lacks(
          s_, "bend", "its course: straight, bend, offset and saddle in order, or points", installer);
      out_.missing = out_.count_missing = course.missing;
      return out_;
    }
    out_.missing = e_.missing.both(out_.missing, course_contradiction(e_, s_.index));
    return out_;
  }
  [[nodiscard]] const std::string& terms() const { return terms_; }

 private:
  MissingId lack(std::string_view name, std::string_view expects, const Piece& p) {
    const MissingId missing = e_.lacks(s_, name, expects, installer, {}, p.source).missing;
    out_.missing = e_.missing.both(out_.missing, missing);
    return missing;
  }

  void add(std::int64_t times, Angle each, std::string_view what) {
    out_.count += times;
    out_.known += each * times;
    if (!e_.noting()) return;
    if (!terms_.empty()) terms_ += " + ";
    terms_ += times == 1 ? fmt::format(FMT_COMPILE("{} ({})"), shown(each), what)
                         : fmt::format(FMT_COMPILE("{} x {} ({})"), times, shown(each), what);
  }

  void equal(std::int64_t times, const Piece& p) {
    if (!p.angle.known()) lack("angle", angle_word, p);
    if (p.angle.known()) {
      add(times, *p.angle, name_of(p.kind));
    } else {
      out_.count += times;
    }
  }

  void piece(const Piece& p) {
    if (p.kind == PieceKind::bend) return equal(1, p);
    if (p.kind == PieceKind::offset) return equal(2, p);
    if (p.kind != PieceKind::saddle) return;
    if (p.bends == four_bends && p.angle_outer.known()) {
      const Value lack = e_.lacks(s_, "bends", "3 or 4", installer,
                                  "outer bends of their own angle belong to a saddle of three", p.source);
      out_.missing = e_.missing.both(out_.missing, lack.missing);
      out_.count_missing = lack.missing;
      // The milder of the two readings is certain.
      if (!p.angle.known() || *p.angle * (four_bends - 1) < *p.angle_outer * 2) return equal(four_bends, p);
    } else if (p.bends == four_bends) {
      return equal(four_bends, p);
    }
    if (p.bends == 0) out_.count_missing = lack("bends", "3 or 4", p);
    // Whether three bends or four: the middle one and what is known of the outer ones count at least.
    equal(1, p);
    if (p.angle_outer.known()) {
      add(2, *p.angle_outer, "outer bends of saddle");
    } else {
      out_.count += 2;
      if (p.bends == three_bends) lack("outer-angle", angle_word, p);
    }
  }

  Evaluation& e_;
  Subject s_;
  const Raceway& raceway_;
  Bends out_;
  std::string terms_;
};

/// Whether conductors must be drawn through a place, since nobody can pull there.
bool passes(const Evaluation& e, Index place) {
  return e.in.graph.at(place).size() > 1 && !is_pull_point(e.model.places[place]);
}

/// Sums over raceways that meet in places that one passes, along the way with the largest sum where they
/// branch; nothing where they close a ring. Every entry into a place that none passes is an end of its own.
template <class Passes, class Of>
std::optional<Angle> along(const Evaluation& e, std::span<const Index> raceways, Passes passed, Of of) {
  std::vector<Index> inner;
  for (const Index raceway : raceways) {
    for (const RacewayEnd& end : e.model.raceways[raceway].ends) {
      if (passed(end.place)) inner.push_back(end.place);
    }
  }
  std::sort(inner.begin(), inner.end());
  inner.erase(std::unique(inner.begin(), inner.end()), inner.end());
  auto nodes = static_cast<std::uint32_t>(inner.size());
  const auto node = [&](Index place) {
    if (!passed(place)) return nodes++;
    return static_cast<std::uint32_t>(std::lower_bound(inner.begin(), inner.end(), place) - inner.begin());
  };
  std::vector<Link> links;
  for (const Index raceway : raceways) {
    const auto& ends = e.model.raceways[raceway].ends;
    const std::uint32_t a = node(ends[0].place), b = node(ends[1].place);
    links.push_back({a, b, of(raceway).count()});
  }
  const auto longest = longest_way(links, nodes);
  return longest ? std::optional<Angle>(Angle::steps(*longest)) : std::nullopt;
}

std::span<const Index> raceways_of(const Evaluation& e, const PullSection& section) {
  return {e.in.sections.raceways.data() + section.raceways.first, section.raceways.count};
}

/// Sums over a pull section, along the way with the most where raceways branch.
template <class Of>
std::optional<Angle> along(const Evaluation& e, const PullSection& section, Of of) {
  const auto raceways = raceways_of(e, section);
  if (section.branches_at != none)
    return along(
        e, raceways, [&](Index place) { return passes(e, place); }, of);
  Angle sum;
  for (const Index raceway : raceways) sum += of(raceway);
  return sum;
}

/// What a tape measure leaves open of the direction in which a raceway goes on.
constexpr Angle straight_on = degrees(1);  // not law: tolerance of measuring

/// The last point of a polyline at one of its ends, and the one before it that lies elsewhere; or no
/// polyline.
struct Tail {
  const Point* end = nullptr;
  const Point* before = nullptr;
};
Tail tail_of(const Model& model, Index raceway, Index place) {
  const Raceway& r = model.raceways[raceway];
  if (r.points.count == 0) return {};
  const bool from = r.ends[0].place == place;
  Tail out;
  out.end = &model.points[from ? r.points.first : r.points.end() - 1];
  for (Index n = 1; n < r.points.count && out.before == nullptr; ++n) {
    const Point& p = model.points[from ? r.points.first + n : r.points.end() - 1 - n];
    if (!same_place(p, *out.end)) out.before = &p;
  }
  return out;
}

/// Courses given by points that do not go straight on through the joint where they meet: a coupling does not
/// bend.
MissingId turns_at_joints(Evaluation& e, const PullSection& section) {
  MissingId missing = 0;
  for (Index i = section.raceways.first; i < section.raceways.end(); ++i) {
    const Index raceway = e.in.sections.raceways[i];
    for (const RacewayEnd& end : e.model.raceways[raceway].ends) {
      const Place& joint = e.model.places[end.place];
      const auto around = e.in.graph.at(end.place);
      if (joint.kind != PlaceKind::joint || around.size() != 2) continue;
      const Index other = around[around[0].raceway == raceway ? 1 : 0].raceway;
      if (!(e.model.raceways[raceway].id < e.model.raceways[other].id)) continue;  // once a joint
      const Tail a = tail_of(e.model, raceway, end.place), b = tail_of(e.model, other, end.place);
      if (a.before == nullptr || b.before == nullptr) continue;
      std::string why;
      if (const Length apart = distance(*a.end, *b.end); apart > tape_tolerance) {
        why = fmt::format(FMT_COMPILE("its end at joint {} and that of raceway {} lie {} apart"), joint.id,
                          e.model.raceways[other].id, shown_far(e, apart));
      } else {
        Point after = *b.before;
        after.x = after.x - b.end->x + a.end->x;
        after.y = after.y - b.end->y + a.end->y;
        after.z = after.z - b.end->z + a.end->z;
        const Angle turn = turn_at(*a.before, *a.end, after);
        if (turn <= straight_on) continue;
        why = fmt::format(FMT_COMPILE("raceway {} goes on from joint {} at an angle of {}, and a joint does "
                                      "not bend"),
                          e.model.raceways[other].id, joint.id, shown(turn));
      }
      const Value lack =
          e.lacks({SubjectKind::raceway, raceway}, "point", "points that go straight on through the joint",
                  installer_tape, std::move(why));
      missing = e.missing.both(missing, lack.missing);
    }
  }
  return missing;
}

/// Conduit bodies that nobody can open: conductors go around their corners as in a bend.
enum class Corner : std::uint8_t { none, open, sure };

constexpr Angle corner = degrees(90);  // not law: what a conduit body with its opening at the side turns by

/// Where raceways branch in one, it is not said which ways lead around a corner: then all may.
Corner corner_at(const Evaluation& e, Index index) {
  const Place& place = e.model.places[index];
  if (place.kind != PlaceKind::conduit_body || place.form == BodyForm::c) return Corner::none;
  const BodyForm form = place.form;
  const bool turns = form == BodyForm::lb || form == BodyForm::ll || form == BodyForm::lr ||
                     form == BodyForm::lu || form == BodyForm::short_elbow;
  return turns && e.in.graph.at(index).size() == 2 ? Corner::sure : Corner::open;  // not law: ends
}

/// What a raceway has of the corners at its ends: half of each, and what it meets there the other half.
template <class Passes>
Angle corners_of(const Evaluation& e, Index raceway, Corner least, Passes passed) {
  Angle sum;
  for (const RacewayEnd& end : e.model.raceways[raceway].ends) {
    if (passed(end.place) && corner_at(e, end.place) >= least) sum += Angle::steps(corner.count() / 2);
  }
  return sum;
}

/// The corners within a section.
Angle corners_within(const Evaluation& e, Index raceway, Corner least) {
  return corners_of(e, raceway, least, [&](Index place) { return passes(e, place); });
}

/// Of a section, the first by its id of the conduit bodies that conductors may go around or not.
Index open_corner(const Evaluation& e, const PullSection& section) {
  Index first = none;
  for (const Index raceway : raceways_of(e, section)) {
    for (const RacewayEnd& end : e.model.raceways[raceway].ends) {
      if (passes(e, end.place) && corner_at(e, end.place) == Corner::open)
        hold_first(e.model.places, first, end.place);
    }
  }
  return first;
}

/// Missing where that body decides: `most` with all corners.
MissingId lacks_corner(Evaluation& e, Subject s, Index body, const std::optional<Angle>& most) {
  const Value limit = e.get(Id::bend_total_limit, s);
  if (limit && most && most->count() <= limit.count) return 0;
  const bool unstated = e.model.places[body].form == BodyForm::unstated;
  return e
      .lacks({SubjectKind::conduit_body, body}, "form",
             unstated ? "its form, such as LB" : "nothing: see on site which way conductors turn in it",
             marking, "nobody can open it, so that conductors are drawn around its corner as around a bend")
      .missing;
}

/// The largest of the bends that may have to be pulled through at once, where nobody says whether the places
/// between sections can be opened: all bends of the sections that such places join, and every corner of a
/// conduit body.
class Beyond {
 public:
  /// Whether that is within the limit, so that it does not matter which of the places can be opened.
  bool within(Evaluation& e, Index section) {
    if (head_.empty()) join(e);
    std::int8_t& known = within_[head(section)];
    if (known == unasked) known = ask(e, members_.at(head(section))) ? yes : no;
    return known == yes;
  }

 private:
  enum : std::int8_t { unasked, yes, no };

  Index head(Index section) {
    while (head_[section] != section) section = head_[section] = head_[head_[section]];
    return section;
  }

  static bool unsaid(const Evaluation& e, Index place) {
    const Place& p = e.model.places[place];
    return p.accessible == YesNo::unstated && p.kind != PlaceKind::joint && e.in.graph.at(place).size() > 1;
  }

  void join(const Evaluation& e) {
    const auto count = static_cast<Index>(e.in.sections.sections.size());
    for (Index i = 0; i < count; ++i) head_.push_back(i);
    within_.assign(count, unasked);
    for (Index place = 0; place < e.model.places.size(); ++place) {
      if (!unsaid(e, place)) continue;
      const auto around = e.in.graph.at(place);
      const Index first = e.in.sections.section_of[around[0].raceway];
      for (const Adjacent& way : around) head_[head(e.in.sections.section_of[way.raceway])] = head(first);
    }
    members_ = lists_of(count, [&](auto put) {
      for (Index i = 0; i < count; ++i) put(head(i), i);
    });
  }

  static bool ask(Evaluation& e, std::span<const Index> sections) {
    std::vector<Index> raceways;
    std::int64_t limit = INT64_MAX;
    for (const Index i : sections) {
      const PullSection& section = e.in.sections.sections[i];
      const Value most = e.get_aside(Id::bend_total_limit, {SubjectKind::pull_section, i});
      if (!most || turns_at_joints(e, section) != 0) return false;
      limit = std::min(limit, most.count);
      for (const Index raceway : raceways_of(e, section)) {
        if (!e.get_aside(Id::raceway_bends, {SubjectKind::raceway, raceway})) return false;
        raceways.push_back(raceway);
      }
    }
    const auto passed = [&](Index place) { return passes(e, place) || unsaid(e, place); };
    Angle all;
    const auto sum = along(e, raceways, passed, [&](Index raceway) {
      const Value bends = e.get_aside(Id::raceway_bends, {SubjectKind::raceway, raceway});
      const Angle one = Angle::steps(bends.count) + corners_of(e, raceway, Corner::open, passed);
      all += one;
      return one;
    });
    return sum.value_or(all).count() <= limit;
  }

  std::vector<Index> head_;          // per section
  std::vector<std::int8_t> within_;  // by head
  Lists members_;                    // by head
};

/// Wireways and surface raceways are no pipes that conductors are pulled through from end to end; where the
/// law gives no limit for them, their bends are not added up.
bool is_open_along(const Evaluation& e, const PullSection& section) {
  const Table* const table = e.law.table("bend-limit");
  for (Index i = section.raceways.first; i < section.raceways.end(); ++i) {
    const RacewayType type = e.model.raceways[e.in.sections.raceways[i]].type;
    if (!is_trough(type) || table == nullptr || table->find({name_of(type)}) != Table::none) return false;
  }
  return true;
}

/// All bends of raceways that close a ring, where even so many are allowed.
std::optional<Angle> all_of_ring(Evaluation& e, Subject s) {
  Angle sum;
  for (const Index raceway : raceways_of(e, e.in.sections.sections[s.index])) {
    const Value bends = e.get(Id::raceway_bends, {SubjectKind::raceway, raceway});
    if (bends) sum += Angle::steps(bends.count) + corners_within(e, raceway, Corner::open);
  }
  const Value limit = e.get(Id::bend_total_limit, s);
  return limit && sum.count() <= limit.count ? std::optional(sum) : std::nullopt;
}

}  // namespace

namespace compute {

Value bend_count(Evaluation& e, Subject s) {
  const Bends bends = Counting(e, s.index).count();
  if (bends.count_missing != 0) return Evaluation::lacks(bends.count_missing);
  return Evaluation::value(number(bends.count).count());
}

Value raceway_bends(Evaluation& e, Subject s) {
  Counting counting(e, s.index);
  const Bends bends = counting.count();
  if (e.noting() && bends.count != 0) {
    e.note(FMT_COMPILE("bends of raceway {}: {} = {}{}"), e.model.raceways[s.index].id, counting.terms(),
           bends.missing == 0 ? "" : "at least ", shown(bends.known));
  }
  if (bends.missing != 0) return Evaluation::lacks(bends.missing);
  return Evaluation::value(bends.known.count());
}

Value bend_total(Evaluation& e, Subject s) {
  const PullSection& section = e.in.sections.sections[s.index];
  if (is_open_along(e, section)) {
    e.note(FMT_COMPILE("wireways and surface raceways alone, for which the law gives no limit"));
    return Evaluation::value(0);
  }
  MissingId missing = 0;
  std::string terms;
  Angle corners;
  const bool branches = section.branches_at != none;
  const auto bends_of = [&](Index raceway, Corner least) {
    const Value bends = e.get(Id::raceway_bends, {SubjectKind::raceway, raceway});
    return Angle::steps(bends ? bends.count : 0) + corners_within(e, raceway, least);
  };
  auto sum = along(e, section, [&](Index raceway) {
    const Value bends = e.get(Id::raceway_bends, {SubjectKind::raceway, raceway});
    missing = e.missing.both(missing, bends.missing);
    if (e.noting() && bends) {
      terms += fmt::format(FMT_COMPILE("{}{} ({})"),
                           terms.empty() ? ""
                           : branches    ? ", "
                                         : " + ",
                           shown(Angle::steps(bends.count)), e.model.raceways[raceway].id);
    }
    corners += corners_within(e, raceway, Corner::sure);
    return bends_of(raceway, Corner::sure);
  });
  missing = e.missing.both(missing, turns_at_joints(e, section));
  if (const Index body = open_corner(e, section); sum && body != none) {
    const auto most = along(e, section, [&](Index raceway) { return bends_of(raceway, Corner::open); });
    missing = e.missing.both(missing, lacks_corner(e, s, body, most));
  }
  if (section.unsure != none && !e.once<Beyond>().within(e, s.index)) {
    const Value lack = e.lacks(place_at(e, section.unsure), "accessible", "yes or no", installer,
                               "where nobody can pull, the bends beyond it count as well");
    missing = e.missing.both(missing, lack.missing);
  }
  const bool ring = !sum;
  if (ring) sum = all_of_ring(e, s);
  if (!sum) {
    constexpr std::string_view why =
        "raceways close a ring without a pull point, so that no one way has a sum of bends";
    // A joint is none whatever is said of it.
    const bool joint = e.model.places[section.branches_at].kind == PlaceKind::joint;
    const Subject first{SubjectKind::raceway, e.in.sections.raceways[section.raceways.first]};
    const Value lack = joint ? e.lacks(first, "to", "the place where it ends", designer, std::string(why))
                             : e.lacks(place_at(e, section.branches_at), "accessible", "yes or no", installer,
                                       std::string(why));
    missing = e.missing.both(missing, lack.missing);
  }
  if (missing != 0) return Evaluation::lacks(missing);
  if (e.noting()) {
    if (corners != Angle{})
      terms += fmt::format(FMT_COMPILE("{}{} (conduit bodies that nobody can open)"), branches ? ", " : " + ",
                           shown(corners));
    if (branches && !ring) {
      e.note(FMT_COMPILE("bends between pull points: {}; along the way with the most {}"), terms,
             shown(*sum));
    } else {
      e.note(FMT_COMPILE("bends between pull points: {} = {}{}"), terms, shown(*sum),
             ring ? " in all of the ring" : "");
    }
  }
  return Evaluation::value(sum->count());
}

Value bend_total_at_least(Evaluation& e, Subject s) {
  if (const Value total = e.get(Id::bend_total, s)) return total;
  Angle most;
  const auto sum = along(e, e.in.sections.sections[s.index], [&](Index raceway) {
    const Angle known = Counting(e, raceway).count().known;
    most = std::max(most, known);
    return known + corners_within(e, raceway, Corner::sure);
  });
  const Angle least = sum.value_or(most);
  if (e.noting()) e.note(FMT_COMPILE("bends between pull points, as far as known: {}"), shown(least));
  return Evaluation::value(least.count());
}

Value bend_total_limit(Evaluation& e, Subject s) {
  const Table* table = e.law.table("bend-limit");
  if (table == nullptr) return e.lacks_law("bend-limit");
  const std::uint32_t column = table->column("limit", Dimension::angle);
  const Range range = e.in.sections.sections[s.index].raceways;
  Value least;
  RacewayType by = RacewayType::unstated;
  MissingId missing = 0;
  for (Index i = range.first; i < range.end(); ++i) {
    const Index raceway = e.in.sections.raceways[i];
    const RacewayType type = e.model.raceways[raceway].type;
    if (type == by && type != RacewayType::unstated) continue;
    if (type == RacewayType::unstated) {
      const Value lack =
          e.lacks({SubjectKind::raceway, raceway}, "type", "a raceway type such as EMT", installer);
      missing = e.missing.both(missing, lack.missing);
      continue;
    }
    const std::uint32_t row = table->find({name_of(type)});
    const std::int64_t limit = table->count(row, column);
    if (limit == Table::blank) {
      const Value lack =
          e.lacks({SubjectKind::raceway, raceway}, "bend-limit", "a limit in degrees", ruleset_author,
                  fmt::format(FMT_COMPILE("the ruleset in force has no limit for {}"), name_of(type)));
      missing = e.missing.both(missing, lack.missing);
      continue;
    }
    if (by != RacewayType::unstated && limit >= least.count) continue;
    by = type;
    least = Evaluation::value(limit, table->cite(row));
  }
  if (missing != 0) return Evaluation::lacks(missing);
  e.used(least.cite);
  if (e.noting())
    e.note(FMT_COMPILE("limit: {} for {} ({})"), shown(Angle::steps(least.count)), name_of(by),
           e.cited(least.cite));
  return least;
}

}  // namespace compute

}  // namespace raceward::figure
