#include "figure/grounding_network.hpp"

#include <algorithm>

#include "figure/conductor.hpp"
#include "figure/devices_by_box.hpp"

namespace raceward::figure::grounding {

using namespace installation;

namespace {

// What stops say of the conductors joined at a place: bits.
constexpr std::uint8_t says_yes = 1, says_no = 2, says_nothing = 4;  // not law: bits

std::uint8_t said_by(const Stop& stop) {
  return stop.bonded == YesNo::yes ? says_yes : stop.bonded == YesNo::no ? says_no : says_nothing;
}

bool grounds(const Conductor& c) { return c.role == Role::equipment_grounding || c.role == Role::bonding; }

Held held_by(const Model& model, const Run& run) {
  Held out;
  for (Index i = run.conductors.first; i < run.conductors.end(); ++i) {
    const Conductor& c = model.conductors[model.run_conductors[i]];
    if (model.conductor_kinds[c.kind].cable) continue;  // its conductors are listed beside it
    Carries& one = c.isolated == YesNo::yes ? out.isolated : out.plain;
    if (grounds(c)) {
      one = Carries::yes;
    } else if (c.role == Role::unstated && one == Carries::no) {
      one = Carries::unknown;
    }
  }
  return out;
}

/// All flexible raceways of a path up to and with this one, by the strictest of what the law says.
std::int64_t allowed_with(const EgcRaceway& row, const Parameter* whole) {
  std::int64_t most = row.path == Table::blank ? INT64_MAX : row.path;
  if (whole != nullptr) most = std::min(most, whole->value.count);
  return most;
}

}  // namespace

Carries Network::is_source(const Model& model, Index at) const {
  const Place& place = model.places[at];
  if (place.kind != PlaceKind::panel) return Carries::no;
  switch (place.grounded_by) {
    case GroundedBy::feeder:
      if (feeders[at].wiring != none) return Carries::unknown;  // which may be the feeder
      [[fallthrough]];
    case GroundedBy::service:
      return feeders[at].circuit == none ? Carries::yes : Carries::unknown;  // a contradiction
    case GroundedBy::unstated:
      return Carries::unknown;
    case GroundedBy::wire:
    case GroundedBy::raceway:
      return place.fed_by == none ? Carries::unknown : Carries::no;
    default:
      return Carries::no;
  }
}

bool joins_nothing(const Model& model, Index place) {
  const Place& at = model.places[place];
  return at.grounded_by == GroundedBy::none && at.material != EnclosureMaterial::nonmetallic;
}

bool may_be_isolated(const Model& model, Index conductor) {
  const Conductor& c = model.conductors[conductor];
  const ConductorKind& kind = model.conductor_kinds[c.kind];
  const bool grounds = c.role == Role::equipment_grounding || c.role == Role::bonding;
  return grounds && c.isolated == YesNo::unstated && !kind.cable && !is_bare(kind);
}

bool may_be_isolated(const Model& model, const Run& run) {
  const auto first = model.run_conductors.begin() + run.conductors.first;
  return std::any_of(first, first + run.conductors.count, [&](Index c) { return may_be_isolated(model, c); });
}

MissingId lacks_isolated(Evaluation& e, const Run& run, std::string_view why) {
  MissingId missing = 0;
  for (Index i = run.conductors.first; i < run.conductors.end(); ++i) {
    const Index c = e.model.run_conductors[i];
    if (!may_be_isolated(e.model, c)) continue;
    const Value lack = e.lacks({SubjectKind::conductor, c}, "isolated", "yes or no", installer,
                               std::string(why), e.model.conductors[c].source);
    missing = e.missing.both(missing, lack.missing);
  }
  return missing;
}

bool lacks_bar(const Model& model, const Stop& stop) {
  const Place& place = model.places[stop.place];
  return place.kind == PlaceKind::panel && place.material != EnclosureMaterial::nonmetallic &&
         stop.bonded == YesNo::unstated;
}

void Network::add(EdgeKind kind, Index about, Node a, Node b, bool certain) {
  edges.push_back({a, b, about, none, kind, certain});
}

void Network::add_sources(Evaluation& e) {
  for (Index p = 0; p < e.model.places.size(); ++p) {
    const Carries is = is_source(e.model, p);
    if (is == Carries::no) continue;
    add(EdgeKind::source, p, source_, node(p, Part::metal), is == Carries::yes);
    add(EdgeKind::source, p, source_, node(p, Part::wires), is == Carries::yes);
  }
}

void Network::add_raceways(Evaluation& e) {
  const EgcLaw& law = egc_law(e);
  const Parameter* const whole = e.law.parameter("flexible-path-length", Dimension::length);
  for (Index r = 0; r < e.model.raceways.size(); ++r) {
    const Link link = link_of(e, bridged, r, nullptr);
    if (link.carries == Carries::no) continue;
    const Raceway& raceway = e.model.raceways[r];
    Node ends[2];
    for (const int end : {0, 1}) {
      ends[end] = node(raceway.ends[end].place, link.metal[end] ? Part::metal : Part::wires);
    }
    bool certain = link.carries == Carries::yes;
    Index in_path = none;
    if (link.flexible) {
      const Value length = e.get_aside(Id::raceway_length, {SubjectKind::raceway, r});
      in_path = static_cast<Index>(flexible.size());
      flexible.push_back({r, length ? length.count : 0,
                          allowed_with(law.raceway(raceway.type, raceway.trade_size), whole),
                          raceway.trade_size, law.beside(raceway.type, raceway.trade_size)});
      certain = certain && length && whole != nullptr;
    }
    add(EdgeKind::raceway, r, ends[0], ends[1], certain);
    edges.back().flexible = in_path;
  }
}

namespace {

/// A loop in a nonmetallic box may be bared under the grounding screw of a device, where nobody says it is
/// not.
bool loops_to_device(Evaluation& e, const Stop& stop) {
  if (treatment(stop) != StopTreatment::looped || stop.bonded != YesNo::unstated ||
      e.model.places[stop.place].material != EnclosureMaterial::nonmetallic)
    return false;
  return std::ranges::any_of(devices_in(e, stop.place), [&](Index device) {
    return e.model.devices[device].grounded_by == GroundedBy::wire;
  });
}

}  // namespace

void Network::add_run(Evaluation& e, const Run& run, Part part, Carries holds) {
  const Node from = part == Part::isolated ? isolated_from_ : stops_from_;
  for (Index s = run.stops.first; s < run.stops.end(); ++s) {
    const Stop& stop = e.model.stops[s];
    if (s != run.stops.first) {
      add(EdgeKind::run, s, from + s - 1, from + s, faulty_.empty() || faulty_[s] == 0);
    }
    const StopTreatment how = treatment(stop);
    const Place& place = e.model.places[stop.place];
    const bool panel = place.kind == PlaceKind::panel;
    if (passes(how) && (panel || !(may_pass_under_a_screw(place, stop) || loops_to_device(e, stop))))
      continue;
    const bool metal = place.material != EnclosureMaterial::nonmetallic;
    // Not at the bar that the panel is bonded to: isolated ones have one of their own.
    const bool own_bar = panel && metal && stop.bonded == YesNo::no;
    if (own_bar && part != Part::isolated) {
      if (may_be_isolated(e.model, run))
        add(EdgeKind::join, s, from + s, node(stop.place, Part::isolated), false);
      continue;
    }
    const bool joined = joins(how) || (passes(how) && stop.bonded == YesNo::yes);
    const bool sure = holds == Carries::yes && joined && !lacks_bar(e.model, stop);
    add(EdgeKind::join, s, from + s, node(stop.place, panel && !own_bar ? Part::wires : part), sure);
    if (part == Part::isolated) {
      if (lacks_bar(e.model, stop)) add(EdgeKind::join, s, from + s, node(stop.place, part), false);
      if (!panel) isolated_stops_.push_back(s);
      continue;
    }
    wired_[stop.place] = std::max(wired_[stop.place], sure ? Wired::yes : Wired::perhaps);
    bonded_[stop.place] |= said_by(stop);
  }
}

void Network::add_runs(Evaluation& e) {
  for (const RouteFault& fault : e.in.routes.faults) {
    if (fault.kind == RouteFault::Kind::too_long) continue;  // our limit, not the document's fault
    if (faulty_.empty()) faulty_.resize(e.model.stops.size());
    faulty_[fault.stop] = 1;
  }
  runs_from_edge_ = static_cast<std::uint32_t>(edges.size());
  held.reserve(e.model.runs.size());
  for (const Run& run : e.model.runs) {
    const Held& one = held.emplace_back(held_by(e.model, run));
    if (one.plain != Carries::no) add_run(e, run, Part::wires, one.plain);
    if (one.isolated != Carries::no) add_run(e, run, Part::isolated, one.isolated);
  }
}

/// Where only isolated conductors are joined, nothing but isolated terminals is on them; or else they are not
/// isolated, whatever is said of them.
void Network::add_claims(const Model& model) {
  for (const Index s : isolated_stops_) {
    const Index place = model.stops[s].place;
    if (wired_[place] == Wired::yes || wired_[place] == Wired::perhaps) continue;
    add(EdgeKind::claim, s, isolated_from_ + s, node(place, Part::wires), false);
    wired_[place] = Wired::isolated;
    bonded_[place] |= said_by(model.stops[s]);
  }
}

void Network::add_bonds(Evaluation& e) {
  for (Index p = 0; p < e.model.places.size(); ++p) {
    const Place& place = e.model.places[p];
    if (wired_[p] == Wired::no || place.material == EnclosureMaterial::nonmetallic) continue;
    const std::uint8_t said = bonded_[p];
    bool certain = (said & says_yes) != 0;
    switch (place.grounded_by) {
      case GroundedBy::none:
        if (!certain) continue;
        certain = false;  // a contradiction
        break;
      case GroundedBy::wire:
        certain = said != says_no;
        break;
      case GroundedBy::raceway:
        certain = certain || place.kind == PlaceKind::panel;  // the bar that the conductors end on is its own
        if (!certain) continue;
        break;
      case GroundedBy::service:
      case GroundedBy::feeder:
        certain = certain || place.kind == PlaceKind::panel;
        break;
      default:
        if (said == says_no) continue;
        break;
    }
    add(EdgeKind::bond, p, node(p, Part::wires), node(p, Part::metal), certain);
  }
}

void Network::add_jumpers(Evaluation& e) {
  const auto end = [&](Index place) {
    const bool metal = e.model.places[place].material != EnclosureMaterial::nonmetallic;
    return node(place, metal ? Part::metal : Part::wires);
  };
  for (Index j = 0; j < e.model.bonding_jumpers.size(); ++j) {
    const BondingJumper& jumper = e.model.bonding_jumpers[j];
    if (jumper.from == none || jumper.to == none) continue;
    const bool doubted = joins_nothing(e.model, jumper.from) || joins_nothing(e.model, jumper.to);
    add(EdgeKind::jumper, j, end(jumper.from), end(jumper.to), !doubted);
  }
}

void Network::index() {
  first_.assign(node_count() + 1, 0);
  for (const Edge& edge : edges) {
    ++first_[edge.a];
    ++first_[edge.b];
  }
  std::uint32_t sum = 0;
  for (std::uint32_t& first : first_) sum += std::exchange(first, sum);
  edges_at_.resize(sum);
  std::vector<std::uint32_t> next(first_.begin(), first_.end() - 1);
  for (std::uint32_t i = 0; i < edges.size(); ++i) {
    edges_at_[next[edges[i].a]++] = i;
    edges_at_[next[edges[i].b]++] = i;
  }
}

void Network::build(Evaluation& e) {
  ready = true;
  const auto places = static_cast<Node>(e.model.places.size());
  const auto stops = static_cast<Node>(e.model.stops.size());
  stops_from_ = node(places, Part::metal);
  const bool any_isolated = std::any_of(e.model.conductors.begin(), e.model.conductors.end(),
                                        [](const Conductor& c) { return c.isolated == YesNo::yes; });
  isolated_from_ = stops_from_ + (any_isolated ? stops : 0);
  source_ = isolated_from_ + stops;
  edges.reserve(e.model.raceways.size() + 2 * e.model.stops.size() + e.model.places.size());
  wired_.resize(places);
  bonded_.resize(places);
  bridged = bridged_ends(e.model);
  feeders = panel_feeders(e.model);
  add_sources(e);
  add_raceways(e);
  add_runs(e);
  add_claims(e.model);
  doubt_bonded_ends(e);
  add_bonds(e);
  add_jumpers(e);
  index();
}

bool Network::nothing_at(Node node) const {
  return std::ranges::all_of(at(node), [&](std::uint32_t i) { return edges[i].kind == EdgeKind::claim; });
}

bool Network::bonded_to_nothing(const Model& model, Index raceway, int end) const {
  const Index at = model.raceways[raceway].ends[end].place;
  const Place& place = model.places[at];
  const bool has_bar = place.kind == PlaceKind::panel || wired_[at] >= Wired::isolated;
  if (place.material != EnclosureMaterial::nonmetallic || has_bar) return false;
  return bridged.empty() || ((bridged[raceway] >> end) & 1) == 0;
}

void Network::doubt_bonded_ends(const Evaluation& e) {
  for (const BondingJumper& jumper : e.model.bonding_jumpers) {
    for (const Index place : {jumper.from, jumper.to}) {
      if (place != none && e.model.places[place].material == EnclosureMaterial::nonmetallic)
        wired_[place] = Wired::yes;
    }
  }
  for (Edge& edge : edges) {
    if (edge.kind != EdgeKind::raceway) continue;
    for (const int end : {0, 1}) edge.certain = edge.certain && !bonded_to_nothing(e.model, edge.about, end);
  }
}

const Network& network(Evaluation& e) {
  auto& made = e.once<Network>();
  if (!made.ready) made.build(e);
  return made;
}

}  // namespace raceward::figure::grounding
