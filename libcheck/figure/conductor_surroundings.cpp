// Surroundings of raceways, and what they leave of the ampacity of conductors in them.
//
// Method: the hottest of the areas where a raceway runs and ends counts. Wet or dry is where it runs; where
// an end lies in a wetter area, and that makes a difference, it is asked for.
#include "figure/conductor_surroundings.hpp"

#include <algorithm>
#include <array>

#include "figure/conductor.hpp"
#include "figure/current_carrying.hpp"
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
  if (own == 0 && !rating.all) return lacks_insulation(e, conductor);
  return Evaluation::value(own, rating.cite);
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
    hottest = any ? std::max(hottest, (*area.ambient).count()) : (*area.ambient).count();
    any = true;
  }
  if (missing != 0) return Evaluation::lacks(missing);
  if (e.noting()) {
    e.note(FMT_COMPILE("raceway {}: the warmest area where it runs or ends has {}"),
           e.model.raceways[s.index].id, text_of({hottest, Unit::celsius}));
  }
  return Evaluation::value(hottest);
}

Value conductor_adjustment(Evaluation& e, Subject s) {
  const Value count = e.get(Id::current_carrying_conductors, s);
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

Value unsuited_conductors(Evaluation& e, Subject s) {
  const Value laid = e.get_aside(Id::conductors_in_raceway, s);
  if (!laid) return laid;
  MissingId missing = 0;
  std::int64_t count = 0;
  Value worst = Evaluation::value(0);
  for (const Index run : e.in.routes.runs_in(s.index)) {
    missing = e.missing.both(missing, carrying_of_run(e, run).missing);
    for (const RunKind& each : kinds_of_run(e, run)) {
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
        e.note(FMT_COMPILE("raceway {} runs through a {} area, and {} is not made for it ({})"),
               e.model.raceways[s.index].id, name_of(whereabouts(e, s.index).own), words_of_kind(e, kind),
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
