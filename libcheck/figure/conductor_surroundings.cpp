// Surroundings of raceways, and what they leave of the ampacity of conductors in them.
//
// Method: the hottest of the areas where a raceway runs and ends counts. Wet or dry is where it runs; where
// an end lies in a wetter area, and that makes a difference, it is asked for. In the sun, close above a roof,
// it is hotter than the air, by the height that the law goes by; so where it runs there, and where it ends
// there and does not run indoors.
#include "figure/conductor_surroundings.hpp"

#include <algorithm>
#include <array>
#include <span>

#include "figure/conductor.hpp"
#include "figure/shown.hpp"
#include "figure/surroundings.hpp"
#include "figure/type_rows.hpp"

namespace raceward::figure {

using namespace installation;
using InArea = installation::Area;

namespace {

struct UnadjustedRows : TypeRows {
  void read(const Law& law) { read_all(law, "unadjusted-conductors"); }
};

constexpr std::int64_t one = number(1).count();
constexpr std::int64_t steps_of_a_fahrenheit_degree = 10'000;  // not law: steps of temperature

/// What the sun adds above roofs, by height.
struct RoofHeat {
  struct Row {
    std::int64_t height = 0;
    bool below = false;     ///< lower ones only; else up to it
    std::int64_t heat = 0;  ///< steps of temperature
    CitationId cite = no_citation;
  };
  std::vector<Row> rows;       // by rising height
  std::uint64_t excepted = 0;  // marks of insulation
  CitationId exception = no_citation;

  void read(const Law& law) {
    const Table* const t = law.table("rooftop-heat");
    if (t == nullptr) return;
    const std::uint32_t up_to = t->column("up-to"), below = t->column("below"),
                        add = t->column("add-fahrenheit", Dimension::none);
    for (std::uint32_t row = 0; row < t->row_count(); ++row) {
      const auto height = parse_length(t->key(row, up_to));
      if (!height || t->count(row, add) == Table::blank) continue;
      const auto heat = detail::saturate(wide_int{t->count(row, add)} * steps_of_a_fahrenheit_degree / one);
      rows.push_back({(*height).count(), t->text(row, below) == "yes", heat, t->cite(row)});
    }
    std::ranges::stable_sort(rows, {}, &Row::height);
    const Parameter* const except = law.parameter("rooftop-heat-exception");
    if (except == nullptr) return;
    exception = except->cite;
    if (const Insulation mark = term_spelt<Insulation>(except->text); mark != Insulation::unstated)
      excepted = bit_of(mark);
  }
  [[nodiscard]] const Row* at(std::int64_t height) const {
    for (const Row& row : rows)
      if (height < row.height || (height == row.height && !row.below)) return &row;
    return nullptr;
  }
  [[nodiscard]] std::int64_t most() const {
    std::int64_t heat = 0;
    for (const Row& row : rows) heat = std::max(heat, row.heat);
    return heat;
  }
};

/// The areas of a raceway and of its two ends; none where one is not named.
std::array<Index, 3> areas_of(const Evaluation& e, Index raceway) {
  const Raceway& r = e.model.raceways[raceway];
  return {r.area, e.model.places[r.ends[0].place].area, e.model.places[r.ends[1].place].area};
}

Subject named_by(const Evaluation& e, Index raceway, std::size_t which) {
  if (which == 0) return {SubjectKind::raceway, raceway};
  const Index place = e.model.raceways[raceway].ends[which - 1].place;
  return {subject_kind(e.model.places[place].kind), place};
}

MissingId without_area(Evaluation& e, Index raceway, std::size_t which) {
  return e
      .lacks(named_by(e, raceway, which), "area",
             which == 0 ? "the id of the area that it runs through" : "the id of the area where it is",
             installer)
      .missing;
}

/// How far it is known that the sun heats a raceway above a roof in one of its areas.
struct InSun {
  bool maybe = false;
  MissingId missing = 0;  ///< where that is not known
};

InSun in_sun(Evaluation& e, Index raceway, std::size_t which, Index area_index) {
  const Raceway& r = e.model.raceways[raceway];
  const InArea& area = e.model.areas[area_index];
  if (area.sunlit == YesNo::no || is_buried(e, r)) return {};
  const InArea* const own = area_of(e, r);
  const Subject where{SubjectKind::area, area_index};
  InSun out;
  if (which != 0) {
    const bool indoors = own != nullptr && own->use != AreaUse::unstated && own->use != AreaUse::outdoors &&
                         own->use != AreaUse::roof;
    if (area.use != AreaUse::roof || indoors) return {};
  } else if (area.use == AreaUse::unstated && !r.above_roof.known()) {
    // What is outdoors is wet as a rule.
    if (area.location != Location::unstated && area.location != Location::wet) return {};
    out.missing = e.lacks(where, "use", "roof where it is one, else another use", installer,
                          "above a roof the sun heats raceways more than the air", area.source)
                      .missing;
    out.maybe = true;
    return out;
  } else if (area.use != AreaUse::roof && !r.above_roof.known()) {
    return {};
  }
  out.maybe = true;
  if (area.sunlit == YesNo::unstated) {
    out.missing = e.lacks(where, "sunlit", "yes or no", installer,
                          "above a roof the sun heats raceways more than the air", area.source)
                      .missing;
  }
  if (!r.above_roof.known()) {
    out.missing = e.missing.both(
        out.missing, e.lacks({SubjectKind::raceway, raceway}, "above-roof", "a length such as 4in",
                             installer_tape, "the closer to the roof, the hotter it gets in the sun")
                         .missing);
  }
  return out;
}

/// Temperature around a raceway with what the sun adds.
Value ambient_in_sun(Evaluation& e, Index raceway, Open open) {
  const Value air = e.get_aside(Id::raceway_ambient, {SubjectKind::raceway, raceway});
  const auto& law = e.of_law<RoofHeat>();
  if (!air || law.rows.empty()) return air;
  const Maybe<Length>& height = e.model.raceways[raceway].above_roof;
  const RoofHeat::Row* const row = height.known() ? law.at((*height).count()) : nullptr;
  if (height.known() && row == nullptr) return air;
  const std::int64_t heat = row != nullptr ? row->heat : law.most();
  const auto areas = areas_of(e, raceway);
  std::int64_t hottest = air.count;
  MissingId missing = 0;
  for (std::size_t i = 0; i < areas.size(); ++i) {
    if (areas[i] == none) continue;
    const InSun sun = in_sun(e, raceway, i, areas[i]);
    if (!sun.maybe) continue;
    const std::int64_t with = (*e.model.areas[areas[i]].ambient).count() + heat;
    if (with <= air.count) continue;  // elsewhere it is as hot without the sun
    if (sun.missing != 0 && open != Open::worst) {
      if (open == Open::asked) missing = e.missing.both(missing, sun.missing);
      continue;
    }
    hottest = std::max(hottest, with);
  }
  if (missing != 0) return Evaluation::lacks(missing);
  if (hottest == air.count || row == nullptr) return Evaluation::value(hottest, air.cite);
  e.used(row->cite);
  if (e.noting()) {
    e.note(FMT_COMPILE("raceway {}: {} above a roof the sun makes it {} ({})"), e.model.raceways[raceway].id,
           shown(e, *height), celsius_of(hottest), e.cited(row->cite));
  }
  return Evaluation::value(hottest, row->cite);
}

/// A joint has no room of its own: the raceways on both sides say where it is.
bool is_joint(const Evaluation& e, Index raceway, std::size_t which) {
  return which != 0 &&
         e.model.places[e.model.raceways[raceway].ends[which - 1].place].kind == PlaceKind::joint;
}

}  // namespace

Whereabouts whereabouts(Evaluation& e, Index raceway) {
  Whereabouts out;
  const auto areas = areas_of(e, raceway);
  if (is_buried(e, e.model.raceways[raceway])) out.wettest = Location::wet;
  for (std::size_t i = 0; i < areas.size(); ++i) {
    if (areas[i] == none) {
      if (i == 0) out.missing = without_area(e, raceway, i);
      continue;
    }
    const InArea& area = e.model.areas[areas[i]];
    if (area.location == Location::unstated && i == 0) {
      out.missing =
          e.lacks({SubjectKind::area, areas[i]}, "location", "dry, damp or wet", installer, {}, area.source)
              .missing;
    }
    if (i == 0) out.own = area.location;
    out.wettest = std::max(out.wettest, area.location);
  }
  if (out.wettest != Location::wet) out.earth = earth_open(e, raceway, true);
  return out;
}

Value lacks_insulation(Evaluation& e, Index conductor) {
  const Conductor& c = e.model.conductors[conductor];
  const ConductorKind& kind = e.model.conductor_kinds[c.kind];
  const Subject at{SubjectKind::conductor, conductor};
  if (kind.insulations == 0) return e.lacks(at, "insulation", "a mark such as THHN", marking, {}, c.source);
  return e.lacks(at, "insulation", "a mark that the ruleset knows", marking,
                 fmt::format(FMT_COMPILE("the ruleset in force does not say where {} may be used"),
                             words_of_kind(e, kind)),
                 c.source);
}

Value insulation_limit(Evaluation& e, Index raceway, Index conductor) {
  const Conductor& c = e.model.conductors[conductor];
  const InsulationRating rating = insulation_rating(e, c.kind);
  if (!rating.known) return lacks_insulation(e, conductor);
  const bool anywhere = rating.in(Location::dry) == rating.in(Location::wet) &&
                        rating.in(Location::dry) == rating.in(Location::damp);
  if (anywhere) return Evaluation::value(rating.in(Location::wet), rating.cite);
  const Whereabouts where = whereabouts(e, raceway);
  if (where.missing != 0) return Evaluation::lacks(where.missing);
  const std::int64_t own = rating.in(where.own);
  if (own != rating.in(where.wettest)) {
    return e.lacks(
        {SubjectKind::raceway, raceway}, "area", "the wettest area that it runs through", installer,
        is_buried(e, e.model.raceways[raceway])
            ? fmt::format(FMT_COMPILE("it lies below the ground, where it is wet inside, and is said "
                                      "to run through a {} area"),
                          name_of(where.own))
            : fmt::format(FMT_COMPILE("it is said to run through a {} area and ends in a {} one"),
                          name_of(where.own), name_of(where.wettest)));
  }
  if (where.earth != 0 && own != rating.in(Location::wet)) return Evaluation::lacks(where.earth);
  if (own == 0 && !rating.all) return lacks_insulation(e, conductor);
  return Evaluation::value(own, rating.cite);
}

Value ambient_of(Evaluation& e, Index raceway, Index conductor, Open open) {
  const auto& law = e.of_law<RoofHeat>();
  const bool excepted =
      (e.model.conductor_kinds[e.model.conductors[conductor].kind].insulations & law.excepted) != 0;
  const Subject s{SubjectKind::raceway, raceway};
  if (!excepted)
    return open == Open::asked ? e.get(Id::raceway_ambient_in_sun, s) : ambient_in_sun(e, raceway, open);
  const Value air = e.get(Id::raceway_ambient, s);
  if (e.noting() && air && ambient_in_sun(e, raceway, Open::worst).count > air.count) {
    e.used(law.exception);
    e.note(FMT_COMPILE("raceway {}: what the sun adds above a roof does not count for this insulation ({})"),
           e.model.raceways[raceway].id, e.cited(law.exception));
  }
  return air;
}

Value adjustment_in(Evaluation& e, Index raceway, Open open) {
  const Subject s{SubjectKind::raceway, raceway};
  const Value count = carrying_count(e, raceway, open);
  if (!count) return count;
  const AmpacityLaw& law = ampacity_law(e);
  const auto all = law.adjustment(std::max(count.count, number(1).count()));
  const auto whole = law.adjustment(number(1).count());
  if (!all || !whole) return e.lacks_law("conductor-count-adjustment");
  if (all->count >= whole->count) return Evaluation::value(all->count, all->cite);
  const RacewayType type = e.model.raceways[s.index].type;
  if (type == RacewayType::unstated) return lacks_type(e, s);
  const auto& unadjusted = e.of_law<UnadjustedRows>();
  if (const std::uint32_t row = unadjusted.of(type); row != Table::none) {
    const std::int64_t most =
        unadjusted.table->count(row, unadjusted.table->column("conductors", Dimension::none));
    const CitationId cite = unadjusted.table->cite(row);
    if (most != Table::blank && count.count <= most) {
      e.used(cite);
      if (e.noting()) {
        e.note(FMT_COMPILE("raceway {}, a {}: so many conductors take nothing ({})"),
               e.model.raceways[s.index].id, name_of(type), e.cited(cite));
      }
      return Evaluation::value(whole->count, cite);
    }
  }
  const Parameter* const free = e.law.parameter("unadjusted-length", Dimension::length);
  if (free == nullptr) return e.lacks_law("unadjusted-length");
  const Value length = e.get_aside(Id::raceway_length, s);
  if (!length) return length;
  if (length.count <= free->value.count) {
    e.used(free->cite);
    if (e.noting()) {
      e.note(
          FMT_COMPILE("raceway {} is {} long, not more than {} ({}): its number of conductors takes nothing"),
          e.model.raceways[s.index].id, shown(e, Length::steps(length.count)), text_of(free->value),
          e.cited(free->cite));
    }
    return Evaluation::value(whole->count, free->cite);
  }
  e.used(all->cite);
  if (e.noting()) {
    e.note(FMT_COMPILE("raceway {}: {} are left with so many ({})"), e.model.raceways[s.index].id,
           shown_percent(Number::steps(all->count)), e.cited(all->cite));
  }
  return Evaluation::value(all->count, all->cite);
}

namespace compute {

Value raceway_ambient(Evaluation& e, Subject s) {
  const auto areas = areas_of(e, s.index);
  std::int64_t hottest = 0;
  bool any = false;
  MissingId missing = 0;
  for (std::size_t i = 0; i < areas.size(); ++i) {
    if (areas[i] == none) {
      if (!is_joint(e, s.index, i)) missing = e.missing.both(missing, without_area(e, s.index, i));
      continue;
    }
    const InArea& area = e.model.areas[areas[i]];
    if (!area.ambient.known()) {
      const Value lack = e.lacks({SubjectKind::area, areas[i]}, "ambient", "a temperature such as 86F",
                                 installer, {}, area.source);
      missing = e.missing.both(missing, lack.missing);
      continue;
    }
    if (area.ambient_low.known() && *area.ambient < *area.ambient_low) {
      const Value lack =
          e.lacks({SubjectKind::area, areas[i]}, "ambient-low", "a temperature such as 14F", installer,
                  "the lowest temperature is said to be above the highest", area.source);
      missing = e.missing.both(missing, lack.missing);
      continue;
    }
    hottest = any ? std::max(hottest, (*area.ambient).count()) : (*area.ambient).count();
    any = true;
  }
  if (missing != 0) return Evaluation::lacks(missing);
  if (e.noting()) {
    e.note(FMT_COMPILE("raceway {}: the warmest area where it runs or ends has {}"),
           e.model.raceways[s.index].id, celsius_of(hottest));
  }
  return Evaluation::value(hottest);
}

Value raceway_ambient_in_sun(Evaluation& e, Subject s) { return ambient_in_sun(e, s.index, Open::asked); }

Value conductor_adjustment(Evaluation& e, Subject s) {
  const Value exact = adjustment_in(e, s.index, Open::asked);
  if (exact) return exact;
  const Value worst = adjustment_in(e, s.index, Open::worst), best = adjustment_in(e, s.index, Open::best);
  return worst && best && worst.count == best.count ? worst : exact;
}

namespace {

/// "h, n": those of a run that are of a kind.
std::string ids_of_kind(const Evaluation& e, const Run& run, Index kind) {
  const auto of = std::span(e.model.run_conductors).subspan(run.conductors.first, run.conductors.count);
  std::string out;
  for (const Index c : told_by_id(e, e.model.conductors, of)) {
    if (e.model.conductors[c].kind != kind) continue;
    out += out.empty() ? "" : ", ";
    out += e.model.conductors[c].id;
  }
  return out;
}

}  // namespace

Value unsuited_conductors(Evaluation& e, Subject s) {
  const Value laid = e.get_aside(Id::conductors_in_raceway, s);
  if (!laid) return laid;
  MissingId missing = 0;
  std::int64_t count = 0;
  Value worst = Evaluation::value(0);
  for (const Index run : told_runs(e, e.in.routes.runs_in(s.index))) {
    missing = e.missing.both(missing, carrying_of_run(e, run).missing);
    for (const RunKind& each : told_kinds_of_run(e, run)) {
      const ConductorKind& kind = e.model.conductor_kinds[each.kind];
      if (is_bare(kind) && each.grounding) continue;
      const Value limit = insulation_limit(e, s.index, each.conductor);
      missing = e.missing.both(missing, limit.missing);
      if (!limit || limit.count != 0) continue;
      if (count == 0 || by_id(e, each.conductor, worst.place.index)) {
        worst.place = {SubjectKind::conductor, each.conductor};
        worst.cite = limit.cite;
      }
      ++count;
      e.used(limit.cite);
      if (e.noting()) {
        e.note(FMT_COMPILE(
                   "raceway {} runs through a {} area, and {} ({} of circuit {}) is not made for it ({})"),
               e.model.raceways[s.index].id, name_of(whereabouts(e, s.index).own), words_of_kind(e, kind),
               ids_of_kind(e, e.model.runs[run], each.kind), e.model.circuits[e.model.runs[run].circuit].id,
               e.cited(limit.cite));
      }
    }
  }
  worst.count = number(count).count();
  if (count == 0 && missing != 0) return Evaluation::lacks(missing);
  if (count == 0 && laid.count != 0) e.note(FMT_COMPILE("every insulation is made for where it lies"));
  return worst;
}

}  // namespace compute
}  // namespace raceward::figure
