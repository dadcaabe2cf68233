#include "figure/grounding_break.hpp"

#include <algorithm>

#include "figure/shown.hpp"
#include "figure/unwritten.hpp"

namespace raceward::figure::grounding {

using namespace installation;

namespace {

bool begins_at(const Place& place) { return place.kind == PlaceKind::panel && place.fed_by == none; }

bool reached(Evaluation& e, Index place) {
  const Network& net = network(e);
  Reach& r = reach(e);
  return r.possible(net, net.node(place, Part::metal)) || r.possible(net, net.node(place, Part::wires));
}

/// A run with equipment grounding conductors that fault current reaches, among those at the place.
Index live_run_at(Evaluation& e, Index place) {
  const Network& net = network(e);
  Index found = none;
  for (const Visit& visit : e.in.routes.visits_at(place)) {
    const Run& run = e.model.runs[visit.run];
    if (net.held[visit.run].plain == Carries::no) continue;
    if (!reach(e).possible(net, net.stop_node(run.stops.first))) continue;
    const auto id = [&](Index r) { return e.model.circuits[e.model.runs[r].circuit].id; };
    if (found == none || id(visit.run) < id(found)) found = visit.run;
  }
  return found;
}

bool holds_conductor(Evaluation& e, Index raceway) {
  const Network& net = network(e);
  const auto runs = e.in.routes.runs_in(raceway);
  return std::any_of(runs.begin(), runs.end(), [&](Index run) { return net.held[run].plain != Carries::no; });
}

/// Why the path may not go on into this flexible raceway after so much flexible length.
std::string too_much_flexible(Evaluation& e, Index raceway, std::int64_t before) {
  const Network& net = network(e);
  // They stand in the order of raceways.
  const Flexible& f = *std::lower_bound(net.flexible.begin(), net.flexible.end(), raceway,
                                        [](const Flexible& at, Index r) { return at.raceway < r; });
  const std::string_view id = e.model.raceways[raceway].id;
  if (before + f.length > f.allows) {
    return fmt::format(FMT_COMPILE("with raceway {} the flexible raceways of the path are {} long together, "
                                   "and at most {} is allowed"),
                       id, shown_far(e, Length::steps(before + f.length)),
                       shown_far(e, Length::steps(f.allows)));
  }
  return fmt::format(FMT_COMPILE("flexible raceway {} of trade size {} and another flexible one before it "
                                 "may not lie in one path: the "
                                 "smaller "
                                 "one lowers what the larger one may carry"),
                     id, name_of(f.size));
}

}  // namespace

void Breaks::walk(const Evaluation& e, std::vector<Index>& level, bool circuits_only) {
  std::vector<Index> next;
  while (!level.empty()) {
    for (const Index at : level) {
      for (const Adjacent& way : e.in.graph.at(at)) {
        if (rank_[way.place] != none || (circuits_only && e.in.routes.runs_in(way.raceway).empty())) continue;
        rank_[way.place] = rank_[at] + 1;
        next.push_back(way.place);
      }
    }
    level.swap(next);
    next.clear();
  }
}

void Breaks::walk_from_panels(Evaluation& e) {
  const auto places = static_cast<Index>(e.model.places.size());
  rank_.assign(places, none);
  head_.assign(places, none);
  std::vector<Index> level;
  for (Index p = 0; p < places; ++p) {
    if (!begins_at(e.model.places[p]) && network(e).is_source(e.model, p) == Carries::no) continue;
    rank_[p] = 0;
    level.push_back(p);
  }
  walk(e, level, true);
  by_circuits_ = places + 1;  // more than any way has raceways
  std::vector<Index> ranks = rank_;
  for (Index p = 0; p < places; ++p) {
    if (rank_[p] == none) continue;
    level.push_back(p);
    rank_[p] = by_circuits_;
  }
  walk(e, level, false);
  for (Index p = 0; p < places; ++p) {
    if (ranks[p] != none) rank_[p] = ranks[p];
  }
}

/// The raceway by which the way from the panel comes in, and the place before it.
Adjacent Breaks::before(const Evaluation& e, Index place) const {
  Adjacent found;
  if (rank_[place] == none || rank_[place] == 0) return found;
  const bool circuits_only = rank_[place] < by_circuits_;
  const auto earlier = [&](const Adjacent& way) {
    if (rank_[way.place] == none) return false;
    if (circuits_only && e.in.routes.runs_in(way.raceway).empty()) return false;
    const Index rank = circuits_only ? rank_[way.place] : std::max(rank_[way.place], by_circuits_);
    return rank + 1 == rank_[place];
  };
  for (const Adjacent& way : e.in.graph.at(place)) {
    if (!earlier(way)) continue;
    if (found.raceway == none || e.model.raceways[way.raceway].id < e.model.raceways[found.raceway].id) {
      found = way;
    }
  }
  return found;
}

Break Breaks::here(Evaluation& e, Index place) const {
  const Network& net = network(e);
  const Place& p = e.model.places[place];
  const std::string name = short_place(e.model, place);
  const Subject at = place_subject(e.model, place);
  if (begins_at(p)) {
    return {at, fmt::format(FMT_COMPILE("{} is said to be grounded by nothing"), name), no_citation};
  }
  // The conductor is here and carries, and the place is not connected to it.
  if (reach(e).possible(net, net.node(place, Part::wires))) {
    return {at,
            fmt::format(
                FMT_COMPILE("the equipment grounding conductor joined in {} is not connected to its metal"),
                name),
            no_citation};
  }
  if (const Index run = live_run_at(e, place); run != none) {
    return {at,
            fmt::format(
                FMT_COMPILE("the equipment grounding conductor of circuit {} passes {} unbroken and is not "
                            "connected to it"),
                e.model.circuits[e.model.runs[run].circuit].id, name),
            no_citation};
  }
  const Adjacent way = before(e, place);
  if (way.raceway == none) {
    return {at,
            fmt::format(FMT_COMPILE("no raceway joins {} to a panel with a connection to the source"), name),
            no_citation,
            e.lacks(at, "raceway", "the raceways and panels by which it is supplied", designer,
                    "no raceway is written that joins it to a panel with a connection to the source")
                .missing};
  }
  const Raceway& raceway = e.model.raceways[way.raceway];
  const Subject there{SubjectKind::raceway, way.raceway};
  Account account;
  const Link link = link_of(e, net.bridged, way.raceway, &account);
  const std::string before_it = short_place(e.model, way.place);
  if (link.carries != Carries::no) {
    const int end = raceway.ends[0].place == way.place ? 0 : 1;
    const Node from = net.node(way.place, link.metal[end] ? Part::metal : Part::wires);
    if (link.flexible && reach(e).possible(net, from)) {
      return {there, too_much_flexible(e, way.raceway, reach(e).shortest(net, from)), account.cite,
              unwritten_in(e, way.raceway)};
    }
    return {place_subject(e.model, way.place),
            fmt::format(FMT_COMPILE("the path reaches conductors in {} and does not go on into raceway {}"),
                        before_it, raceway.id),
            account.cite};
  }
  const bool wire = holds_conductor(e, way.raceway);
  if (!wire) {
    return {there, account.broken + "; it holds no wire-type equipment grounding conductor", account.cite,
            unwritten_in(e, way.raceway)};
  }
  return {
      place_subject(e.model, way.place),
      fmt::format(
          FMT_COMPILE("{}; and the equipment grounding conductor in it is not connected to the path at or "
                      "before {}"),
          account.broken, before_it),
      account.cite};
}

const Break& Breaks::first(Evaluation& e, Index place) {
  if (head_.empty()) walk_from_panels(e);
  std::vector<Index> back{place};
  while (head_[back.back()] == none) {
    const Index at = back.back();
    const Network& net = network(e);
    const bool here_already = reach(e).possible(net, net.node(at, Part::wires)) || live_run_at(e, at) != none;
    const Adjacent way = here_already ? Adjacent{} : before(e, at);
    if (way.place != none && !reached(e, way.place)) {
      back.push_back(way.place);
      continue;
    }
    head_[at] = static_cast<Index>(breaks_.size());
    breaks_.push_back(here(e, at));
  }
  const Index found = head_[back.back()];
  for (const Index at : back) head_[at] = found;
  return breaks_[found];
}

}  // namespace raceward::figure::grounding
