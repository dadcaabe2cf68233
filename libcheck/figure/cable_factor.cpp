// How full conduit and trunking are where the code goes by factors, and not by areas.
//
// Method: each cable has a factor by its size, insulation and construction; they add up. A conduit has one by
// its size, its length and the bends to draw in through; trunking by its size. Short straight conduit has
// factors of its own, for cables and conduit. docs/figures/cable-factors.md tells it in words.
#include <algorithm>
#include <optional>
#include <tuple>

#include "figure/conductor.hpp"
#include "figure/figure.hpp"
#include "figure/raceway_kinds.hpp"
#include "figure/type_rows.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

constexpr std::int64_t one = number(1).count();

/// Which factors hold for a raceway.
enum class Of : std::uint8_t { trunking, short_straight, other };
struct Manner {
  Of of{};
  MissingId missing = 0;
};

/// A conduit that goes on at a place where nobody can draw in is longer than it is written, and bends more.
MissingId goes_on(Evaluation& e, Subject s) {
  MissingId missing = 0;
  for (const RacewayEnd& end : e.model.raceways[s.index].ends) {
    const Place& place = e.model.places[end.place];
    const bool ends_here = e.in.graph.at(end.place).size() < 2;
    if (ends_here || place.kind == PlaceKind::panel || place.kind == PlaceKind::equipment) continue;
    if (place.kind != PlaceKind::joint && place.accessible == YesNo::yes) continue;
    const Subject at{subject_kind(place.kind), end.place};
    const bool open = place.kind != PlaceKind::joint && place.accessible == YesNo::unstated;
    const Value lack =
        open ? e.lacks(at, "accessible", "yes or no", installer, {}, place.source)
             : e.lacks(s, "raceway", "one raceway from one draw-in point to the next", designer,
                       fmt::format(FMT_COMPILE("it goes on at {}, where nothing can be drawn in"), place.id));
    missing = e.missing.both(missing, lack.missing);
  }
  return missing;
}

Manner manner_of(Evaluation& e, Subject s) {
  const RacewayType type = e.model.raceways[s.index].type;
  if (type == RacewayType::unstated) return {{}, lacks_type(e, s).missing};
  if (is_trough(type)) return {Of::trunking, 0};
  if (const MissingId open = goes_on(e, s); open != 0) return {{}, open};
  const Parameter* const longest = e.law.parameter("short-straight-conduit", Dimension::length);
  if (longest == nullptr) return {{}, e.lacks_law("short-straight-conduit").missing};
  const Value length = e.get(Id::raceway_length, s), bends = e.get(Id::raceway_bends, s);
  // Either of them may settle it.
  if (length && length.count > longest->value.count) return {Of::other, 0};
  if (bends && bends.count != 0) return {Of::other, 0};
  if (!length || !bends) return {{}, e.missing.both(length.missing, bends.missing)};
  e.used(longest->cite);
  return {Of::short_straight, 0};
}

/// The factors of one table, by insulation, construction and size; "any" stands for those without a row.
struct Factors {
  const Table* table = nullptr;
  std::uint32_t column = Table::none;

  Factors(const Law& law, std::string_view name) : table(law.table(name)) {
    if (table != nullptr) column = table->column("factor", Dimension::none);
  }
  [[nodiscard]] std::uint32_t row(std::string_view insulation, std::string_view construction,
                                  std::string_view size) const {
    for (const std::string_view first : {insulation, std::string_view("any")}) {
      for (const std::string_view second : {construction, std::string_view("any")}) {
        const std::uint32_t row = table->find({first, second, size});
        if (row != Table::none && table->count(row, column) != Table::blank) return row;
      }
    }
    return Table::none;
  }
};

/// The row of a kind of conductor; with several marks the one of the larger factor.
std::uint32_t row_of(const Factors& factors, const ConductorKind& kind, Construction construction) {
  std::uint32_t best = Table::none;
  const auto marks = terms_of(Insulation{});
  for (std::size_t i = 0; i < marks.size(); ++i) {
    if ((kind.insulations >> i & 1) == 0) continue;
    const std::uint32_t row = factors.row(marks[i].spelling, name_of(construction), name_of(kind.size));
    if (row == Table::none) continue;
    if (best == Table::none ||
        factors.table->count(row, factors.column) > factors.table->count(best, factors.column))
      best = row;
  }
  return best;
}

/// What one conductor adds; its count is left to the caller.
Value factor_of(Evaluation& e, const Factors& factors, Index conductor) {
  const Conductor& c = e.model.conductors[conductor];
  const ConductorKind& kind = e.model.conductor_kinds[c.kind];
  const Subject at{SubjectKind::conductor, conductor};
  const auto lack = [&](std::string_view name, std::string_view expects, std::string why = {}) {
    return e.lacks(at, name, expects, marking, std::move(why), c.source);
  };
  if (kind.cable)
    return lack("cable", "single-core cables", "the ruleset in force has factors of single-core cables only");
  if (kind.size == ConductorSize::unstated) return lack("size", "a size such as 2.5 mm2");
  if (kind.insulations == 0) return lack("insulation", "a mark such as PVC-70C");
  std::uint32_t row = row_of(factors, kind, kind.construction);
  if (kind.construction == Construction::unstated) {
    const std::uint32_t solid = row_of(factors, kind, Construction::solid),
                        stranded = row_of(factors, kind, Construction::stranded);
    const auto count = [&](std::uint32_t r) { return factors.table->count(r, factors.column); };
    if (solid != Table::none && stranded != Table::none && count(solid) != count(stranded))
      return lack("construction", "solid or stranded");
    row = solid != Table::none ? solid : stranded;
  }
  if (row == Table::none)
    return lack(
        "size", "a cable that the ruleset has a factor for",
        fmt::format(FMT_COMPILE("the ruleset in force has no factor for {}{}{}"), words_of_kind(e, kind),
                    kind.construction == Construction::unstated ? "" : ", ", name_of(kind.construction)));
  return Evaluation::value(factors.table->count(row, factors.column), factors.table->cite(row));
}

std::string plain(std::int64_t count) { return decimal_of({count, Unit::one}); }

/// "75 x 50", the longer side first, as the law's table spells it.
std::string size_of_trunking(const Raceway& r) {
  const Length longer = std::max(*r.width, *r.height), other = std::min(*r.width, *r.height);
  return fmt::format(FMT_COMPILE("{} x {}"), decimal_of(show(longer, Unit::millimetre)),
                     decimal_of(show(other, Unit::millimetre)));
}

/// Rows of conduits with bends or longer than short, the lengths rising.
struct ConduitRows {
  struct Row {
    std::int64_t bends = 0, length = 0, factor = 0;
    TradeSize size{};
    CitationId cite = no_citation;
  };
  std::vector<Row> rows;

  void read(const Law& law);
};

void ConduitRows::read(const Law& law) {
  const Table* const t = law.table("conduit-factor");
  if (t == nullptr) return;
  const std::uint32_t column = t->column("factor", Dimension::none);
  for (std::uint32_t row = 0; row < t->row_count(); ++row) {
    const auto bends = parse_number(t->key(row, 0));
    const auto length = parse_length(t->key(row, 1));
    if (!bends || !length || t->count(row, column) == Table::blank) continue;
    rows.push_back({(*bends).count(), (*length).count(), t->count(row, column),
                    term_spelt<TradeSize>(t->key(row, 2)), t->cite(row)});
  }
  std::stable_sort(rows.begin(), rows.end(),
                   [](const auto& a, const auto& b) { return a.length < b.length; });
}

Value no_factor(Evaluation& e, Subject s, const std::string& of) {
  return e.lacks(s, "conduit-factor", "a factor for it", ruleset_author,
                 fmt::format(FMT_COMPILE("the ruleset in force has no factor for {}"), of));
}

Value of_trunking(Evaluation& e, Subject s) {
  const Raceway& r = e.model.raceways[s.index];
  MissingId missing = 0;
  if (!r.width.known()) missing = e.lacks(s, "width", "a length such as 75mm", installer_tape).missing;
  if (!r.height.known())
    missing = e.missing.both(missing, e.lacks(s, "height", "a length such as 50mm", installer_tape).missing);
  if (missing != 0) return Evaluation::lacks(missing);
  const std::string size = size_of_trunking(r);
  const Table* const t = e.law.table("trunking-factor");
  if (t == nullptr) return e.lacks_law("trunking-factor");
  const std::uint32_t row = t->find({size});
  const std::int64_t factor = t->count(row, t->column("factor", Dimension::none));
  if (row == Table::none || factor == Table::blank)
    return no_factor(e, s, fmt::format(FMT_COMPILE("trunking of {} mm"), size));
  e.used(t->cite(row));
  e.note(FMT_COMPILE("trunking of {} mm: factor {} ({})"), size, plain(factor), e.cited(t->cite(row)));
  return Evaluation::value(factor, t->cite(row));
}

}  // namespace

Value draw_in_bends(Evaluation& e, Subject s) {
  const Parameter* const each = e.law.divisor("draw-in-bend", Dimension::angle);
  if (each == nullptr) return e.lacks_law("draw-in-bend");
  const Value sum = e.get(Id::raceway_bends, s);
  if (!sum) return sum;
  const std::int64_t bends =
      detail::saturate((wide_int{sum.count} + each->value.count - 1) / each->value.count);
  e.used(each->cite);
  e.note(FMT_COMPILE("{} of bends, {} a bend: {}"), text_of({sum.count, Unit::degree}), text_of(each->value),
         bends);
  return Evaluation::value(number(bends).count());
}

namespace {

/// So many cables of one kind.
struct Term {
  std::int64_t factor = 0;
  std::string words;
  CitationId cite = no_citation;
  std::int64_t count = 0;

  [[nodiscard]] auto key() const { return std::tie(factor, words, cite); }
};

/// Those of one kind together, the smallest factors first.
void note_terms(Evaluation& e, std::vector<Term>& terms) {
  std::ranges::sort(terms, [](const Term& a, const Term& b) { return a.key() < b.key(); });
  for (auto at = terms.begin(); at != terms.end();) {
    std::int64_t count = 0;
    const Term& first = *at;
    for (; at != terms.end() && at->key() == first.key(); ++at) count += at->count;
    e.used(first.cite);
    e.note(FMT_COMPILE("{} x {} ({}; {})"), count, plain(first.factor), first.words, e.cited(first.cite));
  }
}

}  // namespace

Value cable_factors(Evaluation& e, Subject s) {
  const Value count = e.get(Id::conductors_in_raceway, s);
  if (!count || count.count == 0) return count;
  const Manner manner = manner_of(e, s);
  if (manner.missing != 0) return Evaluation::lacks(manner.missing);
  const std::string_view name = manner.of == Of::trunking         ? "trunking-cable-factor"
                                : manner.of == Of::short_straight ? "short-cable-factor"
                                                                  : "cable-factor";
  const Factors factors(e.law, name);
  if (factors.table == nullptr) return e.lacks_law(name);
  MissingId missing = 0;
  std::int64_t sum = 0;
  CitationId cite = no_citation;
  std::vector<Laid> laid;
  std::vector<Term> terms;
  for (const Index run : e.in.routes.runs_in(s.index)) {
    laid_by_run(e.model, run, laid);
    for (const Laid& each : laid) {
      const Value factor = factor_of(e, factors, each.conductor);
      missing = e.missing.both(missing, factor.missing);
      if (!factor) continue;
      sum += factor.count * each.count;
      if (factor.cite < cite) cite = factor.cite;
      if (e.noting()) {
        const ConductorKind& kind = e.model.conductor_kinds[e.model.conductors[each.conductor].kind];
        terms.push_back({factor.count, words_of_kind(e, kind), factor.cite, each.count});
      }
    }
  }
  note_terms(e, terms);
  if (missing != 0) return Evaluation::lacks(missing);
  e.note(FMT_COMPILE("cable factors together: {}"), plain(sum));
  return Evaluation::value(sum, cite);
}

Value conduit_factor(Evaluation& e, Subject s) {
  const Manner manner = manner_of(e, s);
  if (manner.missing != 0) return Evaluation::lacks(manner.missing);
  if (manner.of == Of::trunking) return of_trunking(e, s);
  const Raceway& r = e.model.raceways[s.index];
  if (r.trade_size == TradeSize::unstated) return e.lacks(s, "trade-size", "a size such as 20 mm", installer);
  if (manner.of == Of::short_straight) {
    const Table* const t = e.law.table("short-conduit-factor");
    if (t == nullptr) return e.lacks_law("short-conduit-factor");
    const std::uint32_t row = t->find({name_of(r.trade_size)});
    const std::int64_t factor = t->count(row, t->column("factor", Dimension::none));
    if (row == Table::none || factor == Table::blank)
      return no_factor(e, s, fmt::format(FMT_COMPILE("conduit of size {}"), name_of(r.trade_size)));
    e.used(t->cite(row));
    e.note(FMT_COMPILE("short straight conduit of {}: factor {} ({})"), name_of(r.trade_size), plain(factor),
           e.cited(t->cite(row)));
    return Evaluation::value(factor, t->cite(row));
  }
  const Value length = e.get(Id::raceway_length, s), bends = e.get(Id::draw_in_bends, s);
  if (!length || !bends) return Evaluation::lacks(e.missing.both(length.missing, bends.missing));
  for (const ConduitRows::Row& row : e.of_law<ConduitRows>().rows) {
    if (row.size != r.trade_size || row.bends != bends.count || row.length < length.count) continue;
    e.used(row.cite);
    if (e.noting())
      e.note(FMT_COMPILE("conduit of {}, {} with {} bends, taken as {}: factor {} ({})"),
             name_of(r.trade_size), text_of({length.count, Unit::metre}), bends.count / one,
             text_of({row.length, Unit::metre}), plain(row.factor), e.cited(row.cite));
    return Evaluation::value(row.factor, row.cite);
  }
  return no_factor(e, s,
                   fmt::format(FMT_COMPILE("conduit of {}, {} long, with {} bends"), name_of(r.trade_size),
                               text_of({length.count, Unit::metre}), bends.count / one));
}

}  // namespace raceward::figure::compute
