// Where bonding jumpers lie: in the raceways that they bridge, along them, or elsewhere.
//
// Method: one that names a raceway, or joins two places that raceways join, lies in them or outside. What
// lies inside takes room there with its insulation, which a jumper does not say: then it is asked for as a
// conductor. No jumper is shorter than what it goes along, or than its places are apart.
#include "figure/jumper_routing.hpp"

#include <algorithm>

#include "figure/course.hpp"
#include "figure/facts.hpp"
#include "figure/grounding_electrode.hpp"
#include "figure/jumper_way.hpp"
#include "figure/shown.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

constexpr std::string_view a_routing = "inside, along or apart: where it lies, seen from the raceway";
constexpr std::string_view a_length = "a length such as 2ft";

Value lacks_routing(Evaluation& e, Index j, std::string why) {
  const BondingJumper& jumper = e.model.bonding_jumpers[j];
  return e.lacks({SubjectKind::bonding_jumper, j}, "routing", a_routing, installer, std::move(why),
                 jumper.source);
}

/// The raceway that it names leads elsewhere.
Value strayed(Evaluation& e, Index j) {
  const BondingJumper& jumper = e.model.bonding_jumpers[j];
  return e.lacks(
      {SubjectKind::bonding_jumper, j}, "raceway",
      "a raceway that it goes along, or of metal that it ends on", designer,
      fmt::format(FMT_COMPILE("raceway {} does not lead from {} towards {}, and is not said to be of metal"),
                  e.model.raceways[jumper.raceway].id, e.model.places[jumper.from].id,
                  e.model.places[jumper.to].id),
      jumper.source);
}

/// No raceway joins its places, and it names none.
bool bonds_nothing(const BondingJumper& jumper, const JumperWay& way) {
  return way.joining == Joining::nothing && jumper.raceway == none;
}
Value unjoined(Evaluation& e, Index j) {
  const BondingJumper& jumper = e.model.bonding_jumpers[j];
  return e.lacks({SubjectKind::bonding_jumper, j}, "raceway", "the raceway that it bridges or ends on",
                 designer,
                 fmt::format(FMT_COMPILE("no raceway leads from {} to {}, and what it bonds is not said"),
                             e.model.places[jumper.from].id, e.model.places[jumper.to].id),
                 jumper.source);
}

/// What tells whether it takes room in a raceway that it may go through.
MissingId inside_of(Evaluation& e, Index j, Index raceway, bool surely) {
  const BondingJumper& jumper = e.model.bonding_jumpers[j];
  if (jumper.routing == JumperRouting::unstated)
    return lacks_routing(e, j, "in a raceway it takes room").missing;
  if (jumper.routing != JumperRouting::inside) return 0;
  return e
      .lacks({SubjectKind::bonding_jumper, j}, "routing",
             "along or apart; in the raceway it is written as a conductor, whose area is known", designer,
             fmt::format(FMT_COMPILE("it is said to lie in {}raceway {}{}, and takes room there"),
                         surely ? "" : "raceways of which ", e.model.raceways[raceway].id,
                         surely ? " or its enclosures" : " may be one"),
             jumper.source)
      .missing;
}

/// The raceways that it goes along or through are longer: what is wrong; 0 where they are not, or nothing
/// says so.
MissingId shorter_than_raceways(Evaluation& e, Subject s, Length own) {
  const BondingJumper& jumper = e.model.bonding_jumpers[s.index];
  const JumperWay way = way_of_jumper(e, s.index);
  std::span<const Index> raceways = way.raceways;
  if (way.joining == Joining::several_ways && jumper.raceway != none && !way.strays)
    raceways = {&jumper.raceway, 1};
  const bool in_series = way.joining != Joining::side_by_side;
  Length least;
  for (std::size_t i = 0; i < raceways.size(); ++i) {
    const Value length = e.get_aside(Id::raceway_length, {SubjectKind::raceway, raceways[i]});
    if (!length && in_series) continue;
    if (!length) return 0;
    const Length one = Length::steps(length.count);
    least = in_series ? least + one : i == 0 ? one : std::min(least, one);
  }
  if (own + tolerance_of(least) >= least) return 0;
  const std::string which = raceways.size() == 1
                                ? fmt::format(FMT_COMPILE("raceway {}"), e.model.raceways[raceways[0]].id)
                                : std::string(in_series ? "the raceways together" : "each of the raceways");
  return e
      .lacks(s, "length", "a length that agrees with the raceway that it goes along", installer_tape,
             fmt::format(FMT_COMPILE("{} is stated, and {} that it goes along {} {} long"), shown_far(e, own),
                         which, raceways.size() == 1 || !in_series ? "is" : "are", shown_far(e, least)),
             jumper.source)
      .missing;
}

/// Its places are farther apart.
MissingId shorter_than_apart(Evaluation& e, Subject s, Length own) {
  const BondingJumper& jumper = e.model.bonding_jumpers[s.index];
  if (jumper.from == none || jumper.to == none) return 0;
  const Place &from = e.model.places[jumper.from], &to = e.model.places[jumper.to];
  const auto here = stands_at(from), there = stands_at(to);
  if (!here || !there) return 0;
  const Length apart = distance(*here, *there);
  if (own + tolerance_of(own) + reach_of(from) + reach_of(to) >= apart) return 0;
  return e
      .lacks(s, "length", "a length that agrees with the places of its ends", installer_tape,
             fmt::format(FMT_COMPILE("{} and {} are said to be {} apart, and it is {} long"), from.id, to.id,
                         shown_far(e, apart), shown_far(e, own)),
             jumper.source)
      .missing;
}

}  // namespace

MissingId jumpers_inside(Evaluation& e, Index raceway) {
  MissingId missing = 0;
  for (const Index j : jumpers_at(e, raceway)) {
    const BondingJumper& jumper = e.model.bonding_jumpers[j];
    const bool stray = jumper.raceway == raceway && way_of_jumper(e, j).strays;
    const MissingId open = stray && jumper.routing == JumperRouting::inside ? strayed(e, j).missing
                                                                            : inside_of(e, j, raceway, true);
    missing = e.missing.both(missing, open);
  }
  if (const Index perhaps = jumper_perhaps_in(e, raceway); perhaps != none)
    missing = e.missing.both(missing, inside_of(e, perhaps, raceway, false));
  return missing;
}

namespace compute {

Value jumper_outside_asked(Evaluation& e, Subject s) {
  const BondingJumper& jumper = e.model.bonding_jumpers[s.index];
  for (const Index place : {jumper.from, jumper.to})
    if (place != none && grounding::is_electrode(e, place)) return answer(false);
  const JumperWay way = way_of_jumper(e, s.index);
  if (way.strays) return strayed(e, s.index);
  if (bonds_nothing(jumper, way)) return unjoined(e, s.index);
  if (jumper.routing == JumperRouting::inside) return answer(false);
  if (jumper.routing == JumperRouting::unstated) return lacks_routing(e, s.index, {});
  return answer(true);
}

Value jumper_along(Evaluation& e, Subject s) {
  const BondingJumper& jumper = e.model.bonding_jumpers[s.index];
  const JumperWay way = way_of_jumper(e, s.index);
  if (way.strays) return strayed(e, s.index);
  if (jumper.routing == JumperRouting::inside && bonds_nothing(jumper, way)) return unjoined(e, s.index);
  if (jumper.routing == JumperRouting::unstated) return lacks_routing(e, s.index, {});
  return answer(jumper.routing != JumperRouting::apart);
}

Value jumper_length(Evaluation& e, Subject s) {
  const BondingJumper& jumper = e.model.bonding_jumpers[s.index];
  const Value own = given(e, s, jumper.length, Unit::foot, "length", a_length, installer_tape);
  if (!own) return own;
  // One that is too long stays so, whatever is wrong.
  const Value most = e.get_aside(Id::jumper_length_limit, s);
  if (most && own.count > most.count) return own;
  const Length length = Length::steps(own.count);
  const bool beside = jumper.routing == JumperRouting::along || jumper.routing == JumperRouting::inside;
  const MissingId wrong = e.missing.both(beside ? shorter_than_raceways(e, s, length) : MissingId{0},
                                         shorter_than_apart(e, s, length));
  return wrong == 0 ? own : Evaluation::lacks(wrong);
}

Value jumper_length_limit(Evaluation& e, Subject) {
  return set_by_law(e, "bonding-jumper-length", Dimension::length);
}

}  // namespace compute

}  // namespace raceward::figure
