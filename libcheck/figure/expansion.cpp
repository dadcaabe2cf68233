// How much a raceway's length changes between the coldest and the warmest day; how long a flexible one may
// be.
//
// Method: the longest straight stretch between bends and ends, without an expansion fitting in it, times the
// difference of temperature, times the law's coefficient for the type. The product is rounded up to a whole
// step. docs/figures/raceway-place.md tells it in words.
#include <algorithm>

#include "figure/course.hpp"
#include "figure/facts.hpp"
#include "figure/shown.hpp"
#include "figure/surroundings.hpp"
#include "figure/type_rows.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

struct ExpansionRows : TypeRows {
  void read(const Law& law) { read_all(law, "thermal-expansion"); }
};
struct FlexibleRows : TypeRows {
  void read(const Law& law) { read_all(law, "flexible-length"); }
};

constexpr std::int64_t steps_of_a_fahrenheit_degree = 10'000;  // not law: steps of temperature
constexpr wide_int one = number(1).count();

/// The longest straight stretch of a raceway without an expansion fitting.
struct Stretch {
  Length length;
  MissingId missing = 0;
  bool by_pieces = true;  ///< false: only the whole length is known, bends included
};

Stretch by_pieces(Evaluation& e, Subject s, const Raceway& r) {
  Stretch out;
  Length at;
  bool relieved = false;
  const auto close = [&] {
    if (!relieved) out.length = std::max(out.length, at);
    at = {};
    relieved = false;
  };
  for (Index i = r.pieces.first; i < r.pieces.end(); ++i) {
    const Piece& p = e.model.pieces[i];
    if (p.kind == PieceKind::bend || p.kind == PieceKind::offset || p.kind == PieceKind::saddle) {
      close();
      continue;
    }
    if (p.kind == PieceKind::expansion) relieved = true;
    if (p.length.known()) {
      at += *p.length;
    } else if (p.kind == PieceKind::straight) {
      const Value lack = e.lacks(s, "length", "a length such as 10ft", installer_tape, {}, p.source);
      out.missing = e.missing.both(out.missing, lack.missing);
    }
  }
  close();
  return out;
}

Stretch by_points(Evaluation& e, const Raceway& r) {
  std::vector<Index> corners;
  each_corner(e.model, r, [&](Index at, Angle) { corners.push_back(at); });
  Stretch out;
  out.by_pieces = false;  // a course by points tells of no expansion fitting
  Length at;
  std::size_t next = 0;
  for (Index i = r.points.first + 1; i < r.points.end(); ++i) {
    at += distance(e.model.points[i - 1], e.model.points[i]);
    out.length = std::max(out.length, at);
    if (next < corners.size() && corners[next] == i) {
      at = {};
      ++next;
    }
  }
  return out;
}

Stretch longest_stretch(Evaluation& e, Subject s) {
  const Raceway& r = e.model.raceways[s.index];
  if (r.points.count != 0) return by_points(e, r);
  if (r.pieces.count != 0) return by_pieces(e, s, r);
  Stretch out;
  out.by_pieces = false;
  const Value length = e.get(Id::raceway_length, s);
  out.missing = length.missing;
  out.length = Length::steps(length.count);
  return out;
}

/// Product of a length, a coefficient and a difference of temperature, raised to a whole step.
std::int64_t change_of(Length length, std::int64_t coefficient, std::int64_t degrees) {
  constexpr wide_int divisor = one * steps_of_a_fahrenheit_degree;
  // A length below 10^15 steps is a kilometre; the product stays within 128 bits.
  const wide_int product = wide_int{length.count()} * coefficient * degrees;
  return detail::saturate((product + divisor - 1) / divisor);
}

std::string shown_degrees(std::int64_t steps) {
  return fmt::format(
      FMT_COMPILE("{} F"),
      text_of(show(ratio(Number::steps(steps), Number::steps(steps_of_a_fahrenheit_degree)), Unit::one)));
}

}  // namespace

Value expansion_asked(Evaluation& e, Subject s) {
  const Raceway& r = e.model.raceways[s.index];
  if (r.type == RacewayType::unstated) return lacks_type(e, s);
  const bool of_type = e.of_law<ExpansionRows>().of(r.type) != Table::none;
  const MissingId wrong = of_type ? e.missing.both(dry_burial(e, s.index), earth_open(e, s.index, false)) : 0;
  return wrong != 0 ? Evaluation::lacks(wrong) : answer(of_type && !is_buried(e, r));
}

Value length_change_limit(Evaluation& e, Subject s) {
  const Raceway& r = e.model.raceways[s.index];
  if (r.type == RacewayType::unstated) return lacks_type(e, s);
  const ExpansionRows& rows = e.of_law<ExpansionRows>();
  const std::uint32_t row = rows.of(r.type);
  if (row == Table::none) return lacks_row(e, s, "thermal-expansion", "change of length", r.type);
  const std::int64_t limit = rows.table->count(row, rows.table->column("change", Dimension::length));
  if (limit == Table::blank) return e.lacks_law("thermal-expansion");
  e.used(rows.table->cite(row));
  return Evaluation::value(limit, rows.table->cite(row));
}

Value length_change(Evaluation& e, Subject s) {
  const Value limit = e.get(Id::length_change_limit, s);
  if (!limit) return limit;
  const Raceway& r = e.model.raceways[s.index];
  const ExpansionRows& rows = e.of_law<ExpansionRows>();
  const std::uint32_t row = rows.of(r.type);
  const std::int64_t coefficient =
      rows.table->count(row, rows.table->column("per-fahrenheit", Dimension::none));
  if (coefficient == Table::blank) return e.lacks_law("thermal-expansion");
  const Stretch stretch = longest_stretch(e, s);
  if (stretch.missing != 0) return Evaluation::lacks(stretch.missing);
  if (stretch.length == Length{}) {
    if (e.noting()) e.note(FMT_COMPILE("every straight stretch has an expansion fitting"));
    return Evaluation::value(0);
  }
  const installation::Area* const area = area_of(e, r);
  if (area == nullptr) return e.lacks(s, "area", "the id of the area where it is", installer);
  const Subject where{SubjectKind::area, r.area};
  MissingId missing = 0;
  const auto ask = [&](std::string_view name, std::string_view expects, std::string why = {}) {
    const Value lack = e.lacks(where, name, expects, installer, std::move(why), area->source);
    missing = e.missing.both(missing, lack.missing);
  };
  if (!area->ambient.known()) ask("ambient", "a temperature such as 104F");
  if (!area->ambient_low.known()) ask("ambient-low", "a temperature such as 14F");
  if (missing != 0) return Evaluation::lacks(missing);
  if (*area->ambient_low > *area->ambient) {
    ask("ambient-low", "a temperature such as 14F", "the lowest temperature is said to be above the highest");
    return Evaluation::lacks(missing);
  }
  std::int64_t degrees = (*area->ambient - *area->ambient_low).count();
  std::int64_t change = change_of(stretch.length, coefficient, degrees);
  const bool may_have_sun =
      area->use == AreaUse::outdoors || area->use == AreaUse::roof || area->use == AreaUse::unstated;
  if (area->sunlit == YesNo::yes ||
      (area->sunlit == YesNo::unstated && may_have_sun && change < limit.count)) {
    const Parameter* sun = e.law.parameter("sun-rise-fahrenheit", Dimension::none);
    if (sun == nullptr) return e.lacks_law("sun-rise-fahrenheit");
    const std::int64_t warmer =
        degrees + detail::saturate(wide_int{sun->value.count} * steps_of_a_fahrenheit_degree / one);
    const std::int64_t in_sun = change_of(stretch.length, coefficient, warmer);
    if (area->sunlit == YesNo::yes) {
      e.used(sun->cite);
      degrees = warmer;
      change = in_sun;
    } else if (in_sun >= limit.count) {
      ask("sunlit", "yes or no", "the sun heats the raceway above the temperature of the air");
      return Evaluation::lacks(missing);
    }
  }
  if (e.noting())
    e.note(
        FMT_COMPILE("longest straight stretch {} x {} a degree x {} between coldest and warmest = {} ({})"),
        shown(e, stretch.length), text_of({coefficient, Unit::one}), shown_degrees(degrees),
        shown(e, Length::steps(change)), e.cited(rows.table->cite(row)));
  if (!stretch.by_pieces && change >= limit.count) {
    return e.lacks(
        s, "straight", "its course in pieces: straight lengths, bends, expansion fittings", installer,
        "not known is how long its straight stretches are, and whether they have expansion fittings");
  }
  return Evaluation::value(change, rows.table->cite(row));
}

Value flexible_length_asked(Evaluation& e, Subject s) {
  const RacewayType type = e.model.raceways[s.index].type;
  if (type == RacewayType::unstated) return lacks_type(e, s);
  return answer(e.of_law<FlexibleRows>().of(type) != Table::none);
}

Value flexible_length_limit(Evaluation& e, Subject s) {
  const Raceway& r = e.model.raceways[s.index];
  if (r.type == RacewayType::unstated) return lacks_type(e, s);
  const FlexibleRows& rows = e.of_law<FlexibleRows>();
  const std::uint32_t row = rows.of(r.type);
  if (row == Table::none) return lacks_row(e, s, "flexible-length", "length", r.type);
  const CitationId cite = rows.table->cite(row);
  const std::int64_t limit = rows.table->count(row, rows.table->column("length", Dimension::length));
  e.used(cite);
  const Value length = e.get(Id::raceway_length, s);
  const bool longer_if_approved = rows.table->text(row, rows.table->column("longer")) == "approved";
  if (!length || length.count <= limit || !longer_if_approved || r.flexibility_needed == YesNo::no)
    return Evaluation::value(limit, cite);
  if (r.flexibility_needed == YesNo::unstated)
    return e.lacks(s, "flexibility-needed", "yes where what it serves must stay movable, else no", installer);
  if (attested(e, Attested::length_approved, r.id)) {
    if (e.noting()) e.note(FMT_COMPILE("attested: so long a piece is approved"));
    return Evaluation::value(length.count, cite);
  }
  return e.lacks(s, "attest", "<attest fact=\"length-approved\"> where the inspector has approved its length",
                 "the authority that inspects", "so long a piece needs approval");
}

}  // namespace raceward::figure::compute
