// How full a raceway is, and how full it may be.
//
// Method: the areas of all conductors against the area inside the raceway. The law's limit depends on how
// many conductors there are; a short piece between two enclosures has its own. Conductors all of one size may
// be counted with a rounding. Shares are rounded up to a whole step, so that comparing them with a limit is
// exact. docs/figures/raceway-fill.md tells it in words.
#include <algorithm>
#include <tuple>

#include "figure/conductor.hpp"
#include "figure/facts.hpp"
#include "figure/figure.hpp"
#include "figure/fill_law.hpp"
#include "figure/jumper_routing.hpp"
#include "figure/raceway_kinds.hpp"
#include "figure/root.hpp"
#include "figure/shown.hpp"

namespace raceward::figure::compute {

namespace {

using namespace installation;
using raceward::Area;

constexpr std::int64_t one = number(1).count();

/// What lies in a raceway, of all its runs together.
RunFill laid_in(Evaluation& e, Index raceway) {
  RunFill sum;
  for (const Index run : e.in.routes.runs_in(raceway)) {
    const RunFill& fill = fill_of_run(e, run);
    sum.cables = sum.cables || fill.cables;
    if (fill.count == 0) {
      sum.missing = e.missing.both(sum.missing, fill.missing);
      continue;
    }
    // Those whose area is not known may be as the others are.
    const bool any = sum.each != Area{}, known = fill.each != Area{};
    sum.alike = sum.alike && fill.alike && (!any || !known || fill.each == sum.each);
    sum.count += fill.count;
    sum.area += fill.area;
    sum.spare += fill.spare;
    if (known) sum.each = fill.each;
    sum.missing = e.missing.both(sum.missing, fill.missing);
    if (known) sum.cite = fill.cite;
  }
  return sum;
}

/// A run of which no conductor is written, or a cable that several runs bring: how many lie here is open.
MissingId uncounted(Evaluation& e, Index raceway) {
  MissingId missing = 0;
  std::vector<std::pair<Index, Index>> laid_cables;  // with their run
  std::vector<Laid> laid;
  for (const Index run : e.in.routes.runs_in(raceway)) {
    const RunFill& fill = fill_of_run(e, run);
    if (fill.count == 0) missing = e.missing.both(missing, fill.missing);
    if (!fill.cables) continue;
    laid_by_run(e.model, run, laid);
    for (const Laid& each : laid) {
      if (e.model.conductor_kinds[e.model.conductors[each.conductor].kind].cable)
        laid_cables.emplace_back(each.conductor, run);
    }
  }
  std::sort(laid_cables.begin(), laid_cables.end());
  for (std::size_t i = 1; i < laid_cables.size(); ++i) {
    const auto& [cable, run] = laid_cables[i];
    if (laid_cables[i - 1].first != cable || laid_cables[i - 1].second == run) continue;
    const Value lack =
        e.lacks({SubjectKind::conductor, cable}, "run", "one run for all conductors of the cable", designer,
                "several runs bring parts of the one cable here", e.model.conductors[cable].source);
    missing = e.missing.both(missing, lack.missing);
  }
  return missing;
}

/// Conductors of a step that could go either way may lie here or not.
Value ambiguous(Evaluation& e, Index ambiguity) {
  const Index stop = e.in.routes.ambiguities[ambiguity].stop;
  const Run& run = e.model.runs[e.in.routes.ambiguities[ambiguity].run];
  const auto place = [&](Index s) { return e.model.places[e.model.stops[s].place].id; };
  return e.lacks(
      {SubjectKind::circuit, run.circuit}, "via", "the raceways that the run takes", designer,
      fmt::format(
          FMT_COMPILE(
              "more than one way leads from {} to {}, so its conductors may lie in this raceway or not"),
          place(stop > run.stops.first ? stop - 1 : stop), place(stop)),
      e.model.stops[stop].source);
}

/// Each kind of conductor whose area is known with its count, its area and its row of the law: for the
/// working. By area, then by words, so that the order of elements does not matter.
void note_kinds(Evaluation& e, Index raceway, Area sum) {
  struct Term {
    Area area;
    std::string words;
    CitationId cite;
    std::int64_t count;
  };
  std::vector<Term> all;
  std::vector<Laid> laid;
  for (const Index run : e.in.routes.runs_in(raceway)) {
    laid_by_run(e.model, run, laid);
    for (const Laid& each : laid) {
      const Index kind = e.model.conductors[each.conductor].kind;
      const KindArea& area = area_of_kind(e, kind);
      if (area.known())
        all.push_back({area.area, words_of_kind(e, e.model.conductor_kinds[kind]), area.cite, each.count});
    }
  }
  std::ranges::sort(all, [](const Term& x, const Term& y) {
    return std::tie(x.area, x.words, x.cite) < std::tie(y.area, y.words, y.cite);
  });
  std::string terms;
  for (auto at = all.begin(); at != all.end();) {
    const auto same = [&](const Term& x) { return x.area == at->area && x.words == at->words; };
    const auto end = std::find_if_not(at, all.end(), same);
    std::int64_t count = 0;
    for (auto each = at; each != end; ++each) count += each->count;
    e.used(at->cite);
    if (!terms.empty()) terms += " + ";
    terms += fmt::format(FMT_COMPILE("{} x {} ({})"), count, shown(e, at->area), at->words);
    at = end;
  }
  e.note(FMT_COMPILE("conductor area: {} = {}"), terms, shown(e, sum));
}

/// Parts of `whole` that `part` is, raised to a whole step.
Number share(wide_int part, Area whole) {
  const wide_int steps = (part + whole.count() - 1) / whole.count();
  return Number::steps(detail::saturate(steps));
}

/// Conductors all of one size in conduit or tubing.
bool may_round(const Evaluation& e, Subject s, const RunFill& laid) {
  return laid.count != 0 && laid.alike && is_tubular(e.model.raceways[s.index].type);
}

/// A last conductor that fits by this share of its area may be counted as a whole one.
Number rounded_share(const RunFill& laid, const Parameter& rounding, Area inside) {
  const wide_int spared = wide_int{one - rounding.value.count} * laid.each.count();
  return share(wide_int{laid.area.count()} * one - spared, inside);
}

/// The same if those are of the smallest construction that do not say of which they are.
RunFill if_smallest(RunFill laid) {
  if (laid.spare == Area{}) return laid;
  laid.area -= laid.spare;
  if (laid.alike) laid.each = Area::steps(laid.area.count() / laid.count);
  return laid;
}

/// Of what construction conductors are, where that decides; 0 where it does not.
MissingId construction_decides(Evaluation& e, Subject s, const RunFill& laid, std::int64_t counted,
                               Area inside, const Parameter* rounding) {
  if (laid.spare == Area{}) return 0;
  const Value by_length = e.get_aside(Id::raceway_fill_limit, s);
  const Value limit = by_length ? by_length : e.get_aside(Id::raceway_fill_limit_shortest, s);
  if (!limit || counted <= limit.count) return 0;
  const RunFill least = if_smallest(laid);
  const Number share_of = rounding != nullptr ? rounded_share(least, *rounding, inside)
                                              : share(wide_int{least.area.count()} * one, inside);
  if (share_of.count() > limit.count) return 0;
  MissingId open = 0;
  std::vector<Laid> all;
  for (const Index run : e.in.routes.runs_in(s.index)) {
    laid_by_run(e.model, run, all);
    for (const Laid& each : all) {
      const Conductor& c = e.model.conductors[each.conductor];
      if (area_of_kind(e, c.kind).spare == Area{}) continue;
      const Value lack = e.lacks({SubjectKind::conductor, each.conductor}, "construction",
                                 "solid, stranded or compact", marking, {}, c.source);
      open = e.missing.both(open, lack.missing);
    }
  }
  return open;
}

bool is_enclosure(PlaceKind kind) {
  return kind == PlaceKind::box || kind == PlaceKind::panel || kind == PlaceKind::equipment;
}

/// Where three conductors alike lie in a raceway, its diameter in diameters of one of them; else none.
struct Jam {
  bool three_alike = false;
  Area each;
};
Jam three_alike(Evaluation& e, Index raceway, std::int64_t count) {
  const RunFill laid = laid_in(e, raceway);
  return {count == 3 && laid.alike && laid.missing == 0, laid.each};  // not law: a matter of three circles
}

/// Width times height inside a wireway.
Value inside_of_trough(Evaluation& e, Subject s, const Raceway& r) {
  MissingId missing = 0;
  const auto ask = [&](std::string_view name, bool known) {
    if (!known)
      missing = e.missing.both(missing, e.lacks(s, name, "a length such as 4in", installer_tape).missing);
  };
  ask("width", r.width.known());
  ask("height", r.height.known());
  if (missing != 0) return Evaluation::lacks(missing);
  const Area inside = *r.width * *r.height;
  if (e.noting())
    e.note(FMT_COMPILE("area inside: {} x {} = {}"), shown(e, *r.width), shown(e, *r.height),
           shown(e, inside));
  return Evaluation::value(inside.count());
}

Value limit_value(const FillLimit& limit) { return Evaluation::value(limit.share.count(), limit.cite); }

}  // namespace

Value conductors_in_raceway(Evaluation& e, Subject s) {
  const Index ambiguity = e.in.routes.block_ambiguity[e.in.graph.block[s.index]];
  if (ambiguity != none) return ambiguous(e, ambiguity);
  const RunFill laid = laid_in(e, s.index);
  if (laid.cables || laid.missing != 0) {
    if (const MissingId open = uncounted(e, s.index); open != 0) return Evaluation::lacks(open);
  }
  if (e.noting())
    e.note(FMT_COMPILE("conductors in raceway {}: {}"), e.model.raceways[s.index].id, laid.count);
  return Evaluation::value(number(laid.count).count());
}

Value conductor_area(Evaluation& e, Subject s) {
  const Value count = e.get(Id::conductors_in_raceway, s);
  if (!count) return count;
  const RunFill laid = laid_in(e, s.index);
  const MissingId missing = e.missing.both(laid.missing, jumpers_inside(e, s.index));
  if (missing != 0) return Evaluation::lacks(missing);
  if (e.noting() && laid.count != 0) note_kinds(e, s.index, laid.area);
  return Evaluation::value(laid.area.count(), laid.cite);
}

Value raceway_area(Evaluation& e, Subject s) {
  const Raceway& r = e.model.raceways[s.index];
  if (is_trough(r.type) && fill_limits(e).of_type(r.type).known) return inside_of_trough(e, s, r);
  if (is_trough(r.type) && r.trade_size == TradeSize::unstated) {
    return e.lacks(s, "raceway-fill-limit", "a share or a number of conductors", ruleset_author,
                   fmt::format(FMT_COMPILE("the ruleset in force sets no fill for {}"), name_of(r.type)));
  }
  if (r.type == RacewayType::unstated || r.trade_size == TradeSize::unstated) {
    MissingId missing = 0;
    if (r.type == RacewayType::unstated)
      missing = e.lacks(s, "type", "a raceway type such as EMT", installer).missing;
    if (r.trade_size == TradeSize::unstated) {
      const Value size = e.lacks(s, "trade-size", "a trade size such as 3/4", installer);
      missing = e.missing.both(missing, size.missing);
    }
    return Evaluation::lacks(missing);
  }
  const InsideArea& inside = inside_area(e, r.type, r.trade_size);
  if (!inside.known) {
    return e.lacks(s, "raceway-area", "its internal diameter", ruleset_author,
                   fmt::format(FMT_COMPILE("the ruleset in force has no area for {} {}"), name_of(r.type),
                               name_of(r.trade_size)));
  }
  e.used(inside.cite);
  if (e.noting()) {
    const std::string from =
        inside.diameter > Length{}
            ? fmt::format(FMT_COMPILE("circle of {} inside"), e.text_of(show(inside.diameter, Unit::inch)))
            : std::string("as printed");
    e.note(FMT_COMPILE("area of {} {}: {} = {} ({})"), name_of(r.type), name_of(r.trade_size), from,
           shown(e, inside.area), e.cited(inside.cite));
  }
  return Evaluation::value(inside.area.count(), inside.cite);
}

Value raceway_fill(Evaluation& e, Subject s) {
  const Value area = e.get(Id::conductor_area, s);
  const Value inside = e.get(Id::raceway_area, s);
  if (!area || !inside) return Evaluation::lacks(e.missing.both(area.missing, inside.missing));
  const Number fill = share(wide_int{area.count} * one, Area::steps(inside.count));
  if (e.noting()) {
    e.note(FMT_COMPILE("fill: {} / {} = {}"), shown(e, Area::steps(area.count)),
           shown(e, Area::steps(inside.count)), shown_percent(fill));
  }
  return Evaluation::value(fill.count(), inside.cite);
}

Value raceway_fill_counted(Evaluation& e, Subject s) {
  const Value fill = e.get(Id::raceway_fill, s);
  if (!fill) return fill;
  const RunFill laid = laid_in(e, s.index);
  const Value inside = e.get(Id::raceway_area, s);
  if (!may_round(e, s, laid)) {
    const MissingId open = construction_decides(e, s, laid, fill.count, Area::steps(inside.count), nullptr);
    return open == 0 ? fill : Evaluation::lacks(open);
  }
  const Parameter* rounding = e.law.parameter("equal-conductor-rounding", Dimension::none);
  if (rounding == nullptr) return e.lacks_law("equal-conductor-rounding");
  const Number counted = rounded_share(laid, *rounding, Area::steps(inside.count));
  if (const MissingId open =
          construction_decides(e, s, laid, counted.count(), Area::steps(inside.count), rounding);
      open != 0)
    return Evaluation::lacks(open);
  e.used(rounding->cite);
  if (e.noting() && rounding->value.count != one) {
    e.note(FMT_COMPILE("all {} of one size, of which the last may count as {} of itself ({}): {}"),
           laid.count, rounding->text, e.cited(rounding->cite), shown_percent(counted));
  }
  return Evaluation::value(counted.count(), fill.cite);
}

Value raceway_fill_at_least(Evaluation& e, Subject s) {
  const Value count = e.get(Id::conductors_in_raceway, s);
  const Value inside = e.get(Id::raceway_area, s);
  if (!count || !inside) return Evaluation::lacks(e.missing.both(count.missing, inside.missing));
  const RunFill laid = if_smallest(laid_in(e, s.index));
  const MissingId jumpers = jumpers_inside(e, s.index);
  // One more could be the third, which the law gives more room than two.
  const FillLimits& limits = fill_limits(e);
  const std::int64_t known = std::max<std::int64_t>(1, laid.count);
  if (jumpers != 0 && limits.of(known).share < limits.of(known + 1).share) return Evaluation::lacks(jumpers);
  if (e.noting() && laid.area.count() != 0) note_kinds(e, s.index, laid.area);
  Number least = share(wide_int{laid.area.count()} * one, Area::steps(inside.count));
  if (e.noting())
    e.note(FMT_COMPILE("known of the fill: {} / {} = {}"), shown(e, laid.area),
           shown(e, Area::steps(inside.count)), shown_percent(least));
  if (may_round(e, s, laid)) {
    const Parameter* const rounding = e.law.parameter("equal-conductor-rounding", Dimension::none);
    if (rounding == nullptr) return e.lacks_law("equal-conductor-rounding");
    least = rounded_share(laid, *rounding, Area::steps(inside.count));
    e.used(rounding->cite);
    if (e.noting() && rounding->value.count != one)
      e.note(FMT_COMPILE("if all {} are of the size of those that are known, the last may count "
                         "as {} of itself ({}): {}"),
             laid.count, rounding->text, e.cited(rounding->cite), shown_percent(least));
  }
  return Evaluation::value(least.count(), inside.cite);
}

Value raceway_fill_limit_any_length(Evaluation& e, Subject s) {
  const Value count = e.get(Id::conductors_in_raceway, s);
  if (!count) return count;
  // For an empty raceway: what a first conductor may take.
  const std::int64_t conductors = std::max<std::int64_t>(1, count.count / one);
  const Raceway& r = e.model.raceways[s.index];
  if (const std::string_view counts = inside_area(e, r.type, r.trade_size).counts; !counts.empty()) {
    return e.lacks(
        s, "raceway-fill-limit", "a number of conductors", ruleset_author,
        fmt::format(
            FMT_COMPILE("{} {} is not limited by a share but by the counts of {}, which the ruleset in "
                        "force does not give"),
            name_of(r.type), name_of(r.trade_size), counts));
  }
  const FillLimit own = fill_limits(e).of_type(r.type);
  const FillLimit limit = own.known ? own : fill_limits(e).of(conductors);
  if (!limit.known) return e.lacks_law("raceway-fill-limit");
  e.used(limit.cite);
  if (e.noting()) {
    e.note(FMT_COMPILE("limit: {} for {} {} ({})"), shown_percent(limit.share), conductors,
           conductors == 1 ? "conductor" : "conductors", e.cited(limit.cite));
  }
  return limit_value(limit);
}

Value raceway_fill_limit_shortest(Evaluation& e, Subject s) {
  const Value ordinary = e.get(Id::raceway_fill_limit_any_length, s);
  if (!ordinary) return ordinary;
  const Raceway& r = e.model.raceways[s.index];
  const bool between_enclosures = is_enclosure(e.model.places[r.ends[0].place].kind) &&
                                  is_enclosure(e.model.places[r.ends[1].place].kind);
  const FillLimit& nipple = fill_limits(e).nipple;
  const bool can_be_nipple = between_enclosures && is_tubular(r.type) && nipple.known;
  if (!can_be_nipple || nipple.share.count() <= ordinary.count) return ordinary;
  e.used(nipple.cite);
  if (e.noting()) {
    e.note(FMT_COMPILE("a short piece between two enclosures may be filled to {} ({})"),
           shown_percent(nipple.share), e.cited(nipple.cite));
  }
  return limit_value(nipple);
}

Value raceway_fill_limit(Evaluation& e, Subject s) {
  const Value ordinary = e.get(Id::raceway_fill_limit_any_length, s);
  if (!ordinary) return ordinary;
  const Value shortest = e.get(Id::raceway_fill_limit_shortest, s);
  if (shortest.count == ordinary.count) return ordinary;
  const Parameter* longest = e.law.parameter("nipple-length", Dimension::length);
  if (longest == nullptr) return e.lacks_law("nipple-length");
  const Value length = e.get(Id::raceway_length, s);
  if (!length) return length;
  e.used(longest->cite);
  const bool is_short = length.count <= longest->value.count;
  if (e.noting()) {
    e.note(FMT_COMPILE("length {}: {} than {} ({})"), shown(e, Length::steps(length.count)),
           is_short ? "not more" : "more", text_of(longest->value), e.cited(longest->cite));
  }
  return is_short ? shortest : ordinary;
}

Value equal_conductors_allowed(Evaluation& e, Subject s) {
  const Value limit = e.get(Id::raceway_fill_limit, s);
  const Value inside = e.get(Id::raceway_area, s);
  const Value area = e.get(Id::conductor_area, s);
  if (!limit || !inside || !area) {
    return Evaluation::lacks(e.missing.both(limit.missing, e.missing.both(inside.missing, area.missing)));
  }
  const RunFill laid = laid_in(e, s.index);
  if (laid.each <= Area{} || !laid.alike) return Evaluation::value(0);
  const Parameter* rounding = e.law.parameter("equal-conductor-rounding", Dimension::none);
  if (rounding == nullptr) return e.lacks_law("equal-conductor-rounding");
  const bool rounds = is_tubular(e.model.raceways[s.index].type);
  const wide_int spared = wide_int{rounds ? one - rounding->value.count : 0} * laid.each.count();
  const wide_int allowed =
      (wide_int{limit.count} * inside.count + spared) / (wide_int{laid.each.count()} * one);
  if (rounds) e.used(rounding->cite);
  if (e.noting()) {
    e.note(FMT_COMPILE("{} x {} / {}, a part of {} or more counted as a whole one: {} conductors allowed"),
           shown_percent(Number::steps(limit.count)), shown(e, Area::steps(inside.count)),
           shown(e, laid.each), rounding->text, detail::saturate(allowed));
  }
  return Evaluation::value(number(detail::saturate(allowed)).count(), limit.cite);
}

Value jam_asked(Evaluation& e, Subject s) {
  const Value count = e.get(Id::conductors_in_raceway, s);
  if (!count) return count;
  if (is_trough(e.model.raceways[s.index].type)) return Evaluation::value(0);
  if (count.count != number(3).count()) return Evaluation::value(0);  // not law: a matter of three circles
  const Value area = e.get(Id::conductor_area, s);
  if (!area) return area;
  return Evaluation::value(three_alike(e, s.index, count.count / one).three_alike ? one : 0);
}

Value jam_ratio(Evaluation& e, Subject s) {
  const Value count = e.get(Id::conductors_in_raceway, s);
  const Value inside = e.get(Id::raceway_area, s);
  if (!count || !inside) return Evaluation::lacks(e.missing.both(count.missing, inside.missing));
  const Jam jam = three_alike(e, s.index, count.count / one);
  if (!jam.three_alike || jam.each <= Area{}) return Evaluation::value(0);
  // Both are circles, so that the ratio of their diameters is the root of that of their areas.
  constexpr std::int64_t shown_step = 1'000;  // not law: 0.000001
  const std::int64_t exact = root(wide_int{inside.count} * one / jam.each.count() * one);
  const std::int64_t ratio = (exact + shown_step / 2) / shown_step * shown_step;
  if (e.noting())
    e.note(FMT_COMPILE("three conductors alike: square root of {} / {} = {} diameters of one across"),
           shown(e, Area::steps(inside.count)), shown(e, jam.each), text_of({ratio, Unit::one}));
  return Evaluation::value(ratio);
}

Value jam_ratio_least(Evaluation& e, Subject) { return set_by_law(e, "jam-ratio-least", Dimension::none); }
Value jam_ratio_most(Evaluation& e, Subject) { return set_by_law(e, "jam-ratio-most", Dimension::none); }

}  // namespace raceward::figure::compute
