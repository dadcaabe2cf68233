// How tight the bends of a raceway are.
//
// Method: each bend's centre-line radius against the least one for the trade size, which depends on how the
// bend was made; factory elbows are not asked for one. Where the making is not stated, a radius that is
// enough however it was made needs no more.
#include <algorithm>

#include "figure/course.hpp"
#include "figure/figure.hpp"
#include "figure/raceway_kinds.hpp"
#include "figure/shown.hpp"
#include "figure/type_rows.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

/// Least radii for each trade size, looked up once.
struct LeastRadii {
  struct Row {
    std::int64_t one_shot = Table::blank, other = Table::blank;
    CitationId cite = no_citation;
  };
  enum class Columns : char { none, by_bender, other };
  std::vector<Row> rows;         // by TradeSize
  std::vector<Columns> columns;  // by RacewayType

  void read(const Law& law);
};

void LeastRadii::read(const Law& law) {
  columns.resize(terms_with_unstated<RacewayType>());
  const Table* types = law.table("bend-radius-type");
  const std::uint32_t column = types == nullptr ? Table::none : types->column("columns");
  for (std::uint32_t row = 0; types != nullptr && row < types->row_count(); ++row) {
    const auto which = types->text(row, column);
    columns[static_cast<std::size_t>(term_spelt<RacewayType>(types->key(row, 0)))] =
        which == "by bender" ? Columns::by_bender
        : which == "other"   ? Columns::other
                             : Columns::none;
  }
  const auto sizes = terms_of(TradeSize{});
  rows.resize(sizes.size() + 1);
  const Table* table = law.table("bend-radius");
  for (std::size_t i = 0; table != nullptr && i < sizes.size(); ++i) {
    const std::uint32_t row = table->find({sizes[i].spelling});
    if (row == Table::none) continue;
    rows[i + 1] = {table->count(row, table->column("one-shot", Dimension::length)),
                   table->count(row, table->column("other", Dimension::length)), table->cite(row)};
  }
}

LeastRadii::Row least_radii(Evaluation& e, RacewayType type, TradeSize size) {
  const auto& all = e.of_law<LeastRadii>();
  const LeastRadii::Columns columns = all.columns[static_cast<std::size_t>(type)];
  if (columns == LeastRadii::Columns::none) return {};
  LeastRadii::Row row = all.rows[static_cast<std::size_t>(size)];
  if (columns == LeastRadii::Columns::other) row.one_shot = row.other;
  return row;
}

/// Raceways that are laid in a curve by hand; no bender forms them.
bool curved_by_hand(RacewayType type) {
  switch (type) {
    case RacewayType::fmc:
    case RacewayType::lfmc:
    case RacewayType::lfnc_a:
    case RacewayType::lfnc_b:
    case RacewayType::lfnc_c:
    case RacewayType::fmt:
      return true;
    default:
      return false;
  }
}

/// The bend that decides: one that is surely too tight before one of which something is missing before the
/// tightest of the good ones.
struct Tightest {
  bool any = false;
  Length radius, needed;
  CitationId cite = no_citation;
  MissingId missing = 0;

  [[nodiscard]] Length margin() const { return radius - needed; }
};

class Judging {
 public:
  /// `tells`: whether each bend is noted where somebody asks for the working.
  Judging(Evaluation& e, Subject s, bool tells)
      : e_(e), s_(s), raceway_(e.model.raceways[s.index]), tells_(tells && e.noting()) {}

  /// The facts that are missing where the course is not stated at all.
  MissingId course_missing() {
    if (is_trough(raceway_.type) || raceway_.points.count > 1 || raceway_.pieces.count != 0) return 0;
    return e_
        .lacks(s_, "bend", "its course: straight, bend, offset and saddle in order, or points", installer)
        .missing;
  }

  MissingId contradiction() { return is_trough(raceway_.type) ? 0 : course_contradiction(e_, s_.index); }

  std::int64_t made_on_site(bool flexible) {
    std::int64_t count = 0;
    each_made_on_site(flexible, [&](auto&&...) { ++count; });
    return count;
  }
  std::int64_t made_on_site() { return made_on_site(curved_by_hand(raceway_.type)); }
  /// A flexible type would have bends made on site, whatever is said of elbows.
  bool type_decides() { return raceway_.type == RacewayType::unstated && made_on_site(true) > 0; }

  Tightest tightest() {
    missing_ = e_.missing.both(course_missing(), contradiction());
    each_made_on_site(curved_by_hand(raceway_.type),
                      [&](std::string_view what, std::int64_t nth, Maybe<Angle> angle, Maybe<Length> radius,
                          Bender bender, Offset source) { bend(what, nth, angle, radius, bender, source); });
    const bool too_tight = best_.any && best_.margin() < Length{};
    if (too_tight || missing_ == 0) return best_;
    best_.missing = missing_;
    return best_;
  }

 private:
  /// Calls use(what, number, angle, radius, bender, source) for each bend that is no factory elbow.
  template <class Use>
  void each_made_on_site(bool flexible, Use use) {
    if (is_trough(raceway_.type)) return;
    const auto made = [&](Bender bender) { return flexible ? Bender::other : bender; };
    if (raceway_.points.count > 1) {
      std::int64_t nth = 0;
      each_corner(e_.model, raceway_, [&](Index at, Angle turn) {
        const Point& p = e_.model.points[at];
        ++nth;
        if (made(p.bender) != Bender::factory)
          use("corner", nth, Maybe<Angle>(turn), p.radius, made(p.bender), p.source);
      });
      return;
    }
    std::int64_t bends = 0, offsets = 0, saddles = 0;
    for (Index i = raceway_.pieces.first; i < raceway_.pieces.end(); ++i) {
      const Piece& p = e_.model.pieces[i];
      const bool curved =
          p.kind == PieceKind::bend || p.kind == PieceKind::offset || p.kind == PieceKind::saddle;
      if (!curved) continue;
      const std::int64_t nth = p.kind == PieceKind::bend     ? ++bends
                               : p.kind == PieceKind::offset ? ++offsets
                                                             : ++saddles;
      if (made(p.bender) != Bender::factory)
        use(name_of(p.kind), nth, p.angle, p.radius, made(p.bender), p.source);
    }
  }

  void lack(std::string_view name, std::string_view expects, Offset source = 0, std::string why = {}) {
    missing_ =
        e_.missing.both(missing_, e_.lacks(s_, name, expects, installer, std::move(why), source).missing);
  }

  void bend(std::string_view what, std::int64_t nth, Maybe<Angle> angle, Maybe<Length> radius, Bender bender,
            Offset source) {
    if (raceway_.trade_size == TradeSize::unstated) return lack("trade-size", "a trade size such as 3/4");
    if (!radius.known()) return lack("radius", "a radius to the centre line such as 4 1/2in", source);
    if (raceway_.type == RacewayType::unstated) return lack("type", "a raceway type such as EMT");
    const LeastRadii::Row row = least_radii(e_, raceway_.type, raceway_.trade_size);
    if (row.one_shot == Table::blank || row.other == Table::blank) {
      missing_ = e_.missing.both(missing_,
                                 e_.lacks(s_, "bend-radius", "a least radius", ruleset_author,
                                          fmt::format(FMT_COMPILE("the ruleset in force has none for {} {}"),
                                                      name_of(raceway_.type), name_of(raceway_.trade_size)))
                                     .missing);
      return;
    }
    const Length smaller = Length::steps(std::min(row.one_shot, row.other));
    const Length larger = Length::steps(std::max(row.one_shot, row.other));
    Length needed = larger;
    if (bender == Bender::one_shot) needed = Length::steps(row.one_shot);
    if (bender == Bender::other) needed = Length::steps(row.other);
    if (bender == Bender::unstated && *radius < larger) {
      const std::string has = e_.text_of(show(*radius, Unit::inch));
      const std::string few = e_.text_of(show(smaller, Unit::inch)),
                        all = e_.text_of(show(larger, Unit::inch));
      return lack(
          "bender", "one-shot, other or factory", source,
          *radius < smaller
              ? fmt::format(FMT_COMPILE("a radius of {} is too tight for a bend made on site (from {})"), has,
                            few)
              : fmt::format(
                    FMT_COMPILE("a radius of {} is enough for some ways of bending (from {}) and not for "
                                "others (from {})"),
                    has, few, all));
    }
    if (tells_) {
      e_.note(FMT_COMPILE("{} {} of raceway {}{}: radius {}, at least {} for trade size {}{} ({}){}"), what,
              nth, raceway_.id,
              angle.known() ? fmt::format(FMT_COMPILE(", {}"), shown(*angle)) : std::string{},
              e_.text_of(show(*radius, Unit::inch)), e_.text_of(show(needed, Unit::inch)),
              name_of(raceway_.trade_size), words_of(bender), e_.cited(row.cite),
              *radius < needed ? ": too tight" : "");
    }
    if (best_.any && best_.margin() <= *radius - needed) return;
    best_.any = true;
    best_.radius = *radius;
    best_.needed = needed;
    best_.cite = row.cite;
  }

  static std::string_view words_of(Bender bender) {
    if (bender == Bender::unstated) return {};
    return bender == Bender::one_shot ? ", one-shot or full-shoe bender" : ", other bends";
  }

  Evaluation& e_;
  Subject s_;
  const Raceway& raceway_;
  bool tells_;
  Tightest best_;
  MissingId missing_ = 0;
};

/// Of the raceway that was judged last: its figures are mostly asked for one after the other.
struct Last {
  Index raceway = none;
  Tightest found;
};

Tightest tightest_of(Evaluation& e, Subject s, bool tells) {
  Last& last = e.once<Last>();
  if (last.raceway != s.index || (tells && e.noting())) {
    last.found = Judging(e, s, tells).tightest();
    last.raceway = s.index;
  }
  return last.found;
}

Value told(Evaluation& e, const Tightest& t, Length value) {
  if (t.missing != 0) return Evaluation::lacks(t.missing);
  e.used(t.cite);
  return Evaluation::value(value.count(), t.cite);
}

}  // namespace

namespace compute {

Value field_bends(Evaluation& e, Subject s) {
  Judging judging(e, s, false);
  if (const MissingId missing = judging.course_missing(); missing != 0) return Evaluation::lacks(missing);
  const std::int64_t made = judging.made_on_site();
  if (made == 0) {
    if (const MissingId missing = judging.contradiction(); missing != 0) return Evaluation::lacks(missing);
    if (judging.type_decides()) return lacks_type(e, s);
  }
  return Evaluation::value(number(made).count());
}

Value tightest_bend_margin(Evaluation& e, Subject s) {
  const Tightest t = tightest_of(e, s, true);
  return told(e, t, t.margin());
}

// The working was told by the margin.
Value tightest_bend_radius(Evaluation& e, Subject s) {
  if (const Value margin = e.get(Id::tightest_bend_margin, s); !margin) return margin;
  const Tightest t = tightest_of(e, s, false);
  return told(e, t, t.radius);
}

Value tightest_bend_radius_needed(Evaluation& e, Subject s) {
  if (const Value margin = e.get(Id::tightest_bend_margin, s); !margin) return margin;
  const Tightest t = tightest_of(e, s, false);
  return told(e, t, t.needed);
}

}  // namespace compute

}  // namespace raceward::figure
