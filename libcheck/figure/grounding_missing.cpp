// What would tell whether an edge of the path carries fault current.
#include <algorithm>
#include <unordered_map>

#include "figure/grounding_network.hpp"

namespace raceward::figure::grounding {

using namespace installation;

namespace {

MissingId of_source(Evaluation& e, const PanelFeeder& feeder, Index place) {
  const Place& p = e.model.places[place];
  const Subject panel = place_subject(e.model, place);
  if (p.grounded_by == GroundedBy::unstated) {
    return e.lacks(panel, "grounded-by", "service, feeder, wire, raceway or none", installer).missing;
  }
  const bool outside = p.grounded_by == GroundedBy::service || p.grounded_by == GroundedBy::feeder;
  if (outside && feeder.several) {
    return e
        .lacks(panel, "fed-by", "the id of the circuit that feeds it", designer,
               fmt::format(FMT_COMPILE("it is said to be grounded by its {} outside the document, and more "
                                       "than one circuit of the document ends in it"),
                           name_of(p.grounded_by)))
        .missing;
  }
  if (outside && feeder.circuit == none) {
    return e
        .lacks(panel, "fed-by", "the id of the circuit that feeds it, of which these are the conductors",
               designer,
               fmt::format(FMT_COMPILE("it is said to be grounded by its feeder outside the document, and "
                                       "wiring {} of the document leads to it from another panel"),
                           e.model.circuits[feeder.wiring].id))
        .missing;
  }
  if (outside) {
    return e
        .lacks(panel, "grounded-by", "wire or raceway, where a circuit of the document feeds it", installer,
               fmt::format(FMT_COMPILE("it is said to be grounded by its {} outside the document, and "
                                       "circuit {} of the document {}"),
                           name_of(p.grounded_by), e.model.circuits[feeder.circuit].id,
                           p.fed_by != none ? "is said to feed it" : "ends in it"))
        .missing;
  }
  return e
      .lacks(
          panel, "fed-by", "the id of the circuit that feeds it", designer,
          fmt::format(
              FMT_COMPILE(
                  "it is said to be grounded by {} within the document, and no circuit is said to feed it"),
              name_of(p.grounded_by)))
      .missing;
}

MissingId of_raceway(Evaluation& e, const Bridged& bridged, Index raceway) {
  Account account;
  const Link link = link_of(e, bridged, raceway, &account);
  MissingId missing = account.missing;
  if (link.flexible) {
    missing =
        e.missing.both(missing, e.get_aside(Id::raceway_length, {SubjectKind::raceway, raceway}).missing);
    if (e.law.parameter("flexible-path-length", Dimension::length) == nullptr) {
      missing = e.missing.both(missing, e.lacks_law("flexible-path-length").missing);
    }
  }
  return missing;
}

MissingId of_bonded_end(Evaluation& e, Index raceway, int which) {
  const RacewayEnd& end = e.model.raceways[raceway].ends[which];
  return e
      .lacks({SubjectKind::raceway, raceway}, "bonded", "yes or no", installer,
             fmt::format(
                 FMT_COMPILE(
                     "{} is nonmetallic and no equipment grounding conductor is joined in it, so that there "
                     "is nothing to bond to"),
                 short_place(e.model, end.place)),
             end.source)
      .missing;
}

const Run& run_of(const Model& model, Index stop) {
  // Runs stand in the order of their stops.
  const auto after = std::upper_bound(model.runs.begin(), model.runs.end(), stop,
                                      [](Index s, const Run& run) { return s < run.stops.first; });
  return *(after - 1);
}

MissingId of_step(Evaluation& e, Index stop) {
  const Stop& to = e.model.stops[stop];
  const Subject circuit{SubjectKind::circuit, run_of(e.model, stop).circuit};
  const std::string places =
      fmt::format(FMT_COMPILE("{} to {}"), short_place(e.model, e.model.stops[stop - 1].place),
                  short_place(e.model, to.place));
  if (to.via.count != 0) {
    return e
        .lacks(circuit, "via", "ids of the raceways from the stop before, in order", designer,
               fmt::format(FMT_COMPILE("these raceways do not lead from {}"), places), to.source)
        .missing;
  }
  return e
      .lacks(circuit, "place", "a place that raceways join to the stop before", designer,
             fmt::format(FMT_COMPILE("no raceways lead from {}"), places), to.source)
      .missing;
}

MissingId of_join(Evaluation& e, Index stop) {
  const Run& run = run_of(e.model, stop);
  MissingId missing = 0;
  if (treatment(e.model.stops[stop]) == StopTreatment::unstated) {
    missing = e.lacks({SubjectKind::circuit, run.circuit}, "conductors",
                      "terminated, spliced, through or looped", installer, {}, e.model.stops[stop].source)
                  .missing;
  }
  if (passes(treatment(e.model.stops[stop])) && e.model.stops[stop].bonded == YesNo::unstated) {
    const Value under =
        e.lacks({SubjectKind::circuit, run.circuit}, "bonded",
                "yes where its equipment grounding conductor is held under a screw of the box, or of a "
                "device in it, that it passes unbroken, else no",
                installer, {}, e.model.stops[stop].source);
    missing = e.missing.both(missing, under.missing);
  }
  if (lacks_bar(e.model, e.model.stops[stop])) {
    const Value bar = e.lacks({SubjectKind::circuit, run.circuit}, "bonded",
                              "yes where the equipment grounding conductors end at the bar that the panel is "
                              "bonded to, else no",
                              installer, {}, e.model.stops[stop].source);
    missing = e.missing.both(missing, bar.missing);
  }
  const Place& at = e.model.places[e.model.stops[stop].place];
  const bool apart = at.kind == PlaceKind::panel && at.material != EnclosureMaterial::nonmetallic &&
                     e.model.stops[stop].bonded == YesNo::no;
  if (apart) {
    missing = e.missing.both(
        missing,
        lacks_isolated(e, run, "it ends at a bar that its panel is not bonded to, as isolated ones may"));
  }
  // One without a role may be what no other of its set is: isolated ones serve none but their own.
  const auto set_of = [](const Conductor& c) { return static_cast<std::size_t>(c.isolated == YesNo::yes); };
  bool grounded[2] = {};
  for (Index i = run.conductors.first; i < run.conductors.end(); ++i) {
    const Conductor& conductor = e.model.conductors[e.model.run_conductors[i]];
    if (conductor.role == Role::equipment_grounding || conductor.role == Role::bonding)
      grounded[set_of(conductor)] = true;
  }
  for (Index i = run.conductors.first; i < run.conductors.end(); ++i) {
    const Index c = e.model.run_conductors[i];
    const Conductor& conductor = e.model.conductors[c];
    if (conductor.role != Role::unstated || e.model.conductor_kinds[conductor.kind].cable) continue;
    if (grounded[set_of(conductor)]) continue;
    const Value lack =
        e.lacks({SubjectKind::conductor, c}, "role", "what the conductor is for, such as equipment-grounding",
                designer, {}, conductor.source);
    missing = e.missing.both(missing, lack.missing);
  }
  return missing;
}

MissingId of_claim(Evaluation& e, Index stop) {
  const Run& run = run_of(e.model, stop);
  MissingId missing = of_join(e, stop);
  for (Index i = run.conductors.first; i < run.conductors.end(); ++i) {
    const Index c = e.model.run_conductors[i];
    const Conductor& conductor = e.model.conductors[c];
    if (conductor.isolated != YesNo::yes || e.model.conductor_kinds[conductor.kind].cable) continue;
    const Value lack =
        e.lacks({SubjectKind::conductor, c}, "isolated", "yes or no", designer,
                fmt::format(FMT_COMPILE("it is said to be isolated, so that it serves isolated grounding "
                                        "terminals only, and no other is joined in {}"),
                            short_place(e.model, e.model.stops[stop].place)),
                conductor.source);
    missing = e.missing.both(missing, lack.missing);
  }
  return missing;
}

constexpr std::string_view what_grounds = "wire, raceway or none: what connects it to the grounding path";

MissingId of_jumper(Evaluation& e, Index index) {
  const BondingJumper& jumper = e.model.bonding_jumpers[index];
  MissingId missing = 0;
  for (const Index place : {jumper.from, jumper.to}) {
    if (!joins_nothing(e.model, place)) continue;
    const Value lack = e.lacks(
        place_subject(e.model, place), "grounded-by", what_grounds, installer,
        fmt::format(FMT_COMPILE("it is said to be connected to nothing, and bonding jumper {} ends at it"),
                    jumper.id));
    missing = e.missing.both(missing, lack.missing);
  }
  return missing;
}

MissingId of_bond(Evaluation& e, Index place) {
  const Subject at = place_subject(e.model, place);
  switch (e.model.places[place].grounded_by) {
    case GroundedBy::none:
      return e
          .lacks(at, "grounded-by", what_grounds, installer,
                 "it is said to be connected to nothing, and a stop says that its equipment grounding "
                 "conductors are connected to it")
          .missing;
    case GroundedBy::wire:
      return e
          .lacks(at, "grounded-by", what_grounds, installer,
                 "it is said to be grounded by wire, and every stop says that the equipment grounding "
                 "conductors are not connected to it")
          .missing;
    case GroundedBy::unstated:
      return e.lacks(at, "grounded-by", what_grounds, installer).missing;
    default:
      return e
          .lacks(at, "grounded-by", what_grounds, installer,
                 "what is written is not for a place of this kind")
          .missing;
  }
}

/// Of places, found once for all raceways that end there.
struct JoinsMissing {
  std::unordered_map<Index, MissingId> found;
};

}  // namespace

MissingId Network::joins_missing(Evaluation& e, Index place) const {
  auto& found = e.once<JoinsMissing>().found;
  if (const auto known = found.find(place); known != found.end()) return known->second;
  const std::span<const std::uint32_t> here = at(node(place, Part::wires));
  MissingId joins = 0;
  for (auto join = std::ranges::lower_bound(here, runs_from_edge_);
       join != here.end() && edges[*join].kind == EdgeKind::join; ++join)
    joins = e.missing.both(joins, missing(e, edges[*join]));
  return found[place] = joins;
}

MissingId Network::missing(Evaluation& e, const Edge& edge) const {
  if (edge.certain) return 0;
  switch (edge.kind) {
    case EdgeKind::source:
      return of_source(e, feeders[edge.about], edge.about);
    case EdgeKind::raceway: {
      MissingId missing = of_raceway(e, bridged, edge.about);
      for (const int end : {0, 1}) {
        const RacewayEnd& at = e.model.raceways[edge.about].ends[end];
        if (at.bonded != YesNo::yes || !bonded_to_nothing(e.model, edge.about, end)) continue;
        const Index place = at.place;
        const MissingId joins = joins_missing(e, place);
        missing = e.missing.both(missing, joins != 0 ? joins : of_bonded_end(e, edge.about, end));
      }
      return missing;
    }
    case EdgeKind::run:
      return of_step(e, edge.about);
    case EdgeKind::join:
      return of_join(e, edge.about);
    case EdgeKind::claim:
      return of_claim(e, edge.about);
    case EdgeKind::bond:
      return of_bond(e, edge.about);
    case EdgeKind::jumper:
      return of_jumper(e, edge.about);
  }
  return 0;
}

}  // namespace raceward::figure::grounding
