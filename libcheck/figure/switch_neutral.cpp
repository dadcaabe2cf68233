// Grounded conductors where switches control lighting.
//
// Method: the rooms where the switch and the luminaires of its circuit are tell whether one is asked for. It
// is there where one of its circuit comes to the box, or where raceways with room for it lead from the box to
// a place that has one. What only an eye can tell is asked for where it decides.
#include <algorithm>
#include <unordered_map>
#include <unordered_set>

#include "figure/circuit_use.hpp"
#include "figure/conductor.hpp"
#include "figure/current_carrying.hpp"
#include "figure/facts.hpp"
#include "figure/fill_law.hpp"
#include "figure/first_by_id.hpp"
#include "figure/outlets.hpp"
#include "figure/sorted.hpp"
#include "figure/supply.hpp"
#include "figure/surroundings.hpp"
#include "figure/told.hpp"
#include "figure/visits_on.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

constexpr std::string_view rooms = "switch-neutral-rooms";

bool controls(DeviceKind kind) { return kind == DeviceKind::switch_ || kind == DeviceKind::dimmer; }

/// Of each circuit its luminaires' places, and whether it is switched in several; found once.
struct OnLights {
  struct At {
    Index circuit, place;
  };
  bool ready = false;
  std::vector<At> lights;  // by circuit
  std::vector<std::uint32_t> others;
  std::vector<Index> switched_at;  // a place of its switches, or none
  std::vector<char> elsewhere;     // they are in others as well
  Index unplaced = none;           // a luminaire that does not say its circuit
  std::vector<Index> unplaced_switches;

  void read(const Model& model) {
    ready = true;
    switched_at.resize(model.circuits.size(), none);
    elsewhere.resize(model.circuits.size());
    others.resize(model.circuits.size());
    for (Index d = 0; d < model.devices.size(); ++d) {
      const Device& device = model.devices[d];
      if (device.kind == DeviceKind::luminaire && device.circuits.count == 0)
        hold_first(model.devices, unplaced, d);
      if (controls(device.kind) && device.circuits.count == 0) unplaced_switches.push_back(d);
      for (Index i = device.circuits.first; i < device.circuits.end(); ++i) {
        const Index circuit = model.device_circuits[i];
        if (device.kind == DeviceKind::luminaire) lights.push_back({circuit, device.box});
        if (device.kind == DeviceKind::receptacle) ++others[circuit];
        if (!controls(device.kind)) continue;
        if (switched_at[circuit] == none) switched_at[circuit] = device.box;
        elsewhere[circuit] = elsewhere[circuit] != 0 || switched_at[circuit] != device.box ? 1 : 0;
      }
    }
    std::ranges::sort(lights, {},
                      [&](const At& at) { return std::pair(at.circuit, model.places[at.place].id); });
  }
};

OnLights& on_lights(Evaluation& e) {
  auto& made = e.once<OnLights>();
  if (!made.ready) made.read(e.model);
  return made;
}

Value lacks_attest(Evaluation& e, Subject s, std::string why) {
  return e.lacks(s, "attest", "<attest fact=\"neutral-not-needed-at-switch\"> where that is so", installer,
                 std::move(why), e.model.devices[s.index].source);
}

/// Whether the law speaks of the room that a place is in.
Value speaks_of(Evaluation& e, Index place) {
  const Table* const t = e.law.table(rooms);
  if (t == nullptr) return e.lacks_law(rooms);
  const Index index = e.model.places[place].area;
  if (index == none) return outlets::lacks_area(e, place);
  const installation::Area& area = e.model.areas[index];
  const Subject s{SubjectKind::area, index};
  if (area.use == AreaUse::unstated)
    return e.lacks(s, "use", "a word such as office", installer, {}, area.source);
  const std::uint32_t row = t->find({name_of(area.use)});
  if (row == Table::none) return answer(false);
  e.used(t->cite(row));
  const std::string_view asked = t->text(row, t->column("asked"));
  if (asked == "yes") return answer(true, t->cite(row));
  if (asked == "no") return answer(false);
  return e.lacks(s, "use", "a word that tells more", installer, std::string(t->text(row, t->column("words"))),
                 area.source);
}

/// What was found of circuits, and of places by circuit, and holds for all their switches.
struct Found {
  std::unordered_map<Index, Value> lit;
  std::unordered_map<std::uint64_t, Value> reached;

  static std::uint64_t key(Index circuit, Index place) { return std::uint64_t{circuit} << 32 | place; }
};

/// Whether a luminaire of the circuit is in such a room.
Value lights_such_a_room(Evaluation& e, Index circuit) {
  auto& lit = e.once<Found>().lit;
  if (const auto known = lit.find(circuit); known != lit.end() && !e.noting()) return known->second;
  Value any = answer(false);
  for (const OnLights::At& at : equal_in(on_lights(e).lights, circuit, &OnLights::At::circuit)) {
    if (is_yes(any)) break;
    any = either(e, any, speaks_of(e, at.place));
  }
  return lit[circuit] = any;
}

/// Whether the circuit has a grounded conductor, and the switch lights on it.
Value lights_on(Evaluation& e, Subject s, Index c) {
  const Circuit& circuit = e.model.circuits[c];
  if (const MissingId wrong = outlets_of_feeder(e, c); wrong != 0) return Evaluation::lacks(wrong);
  if (circuit.kind == CircuitKind::other || circuit.kind == CircuitKind::feeder) return answer(false);
  const OnLights& on = on_lights(e);
  const auto lights = equal_in(on.lights, c, &OnLights::At::circuit);
  if (lights.empty()) {
    if (on.unplaced != none)
      return e.lacks({SubjectKind::device, on.unplaced}, "circuit", "ids of the circuits on its terminals",
                     designer, {}, e.model.devices[on.unplaced].source);
    const bool feeds_others = on.others[c] != 0 || !ends(e).of(c).empty();
    if (feeds_others) return answer(false);
    return e.lacks({SubjectKind::circuit, c}, "device", "the luminaires on it", designer,
                   "what the switch controls is not in the document", circuit.source);
  }
  const auto first = e.model.conductors.begin() + circuit.conductors.first;
  const bool grounded = std::any_of(first, first + circuit.conductors.count,
                                    [](const Conductor& one) { return one.role == Role::grounded; });
  if (!grounded) {
    if (const MissingId roles = roles_missing(e, circuit); roles != 0) return Evaluation::lacks(roles);
    // Between two ungrounded conductors lights need none.
    if (ungrounded_at_source(e, c) / std::max<std::uint32_t>(1, circuit.parallel) > 1)
      return answer(false);  // not law: several
  }
  const Value own = speaks_of(e, e.model.devices[s.index].box), lit = lights_such_a_room(e, c);
  if (is_no(lit) || is_yes(own)) return lit;
  if (is_no(own) && is_yes(lit))
    return lacks_attest(e, s, "it is in no room that asks for one, and its circuit lights one that does");
  return Evaluation::lacks(e.missing.both(own.missing, lit.missing));
}

bool brings(const Model& model, Index run, bool grounded) {
  const Range& conductors = model.runs[run].conductors;
  for (Index i = conductors.first; i < conductors.end(); ++i) {
    const Role role = model.conductors[model.run_conductors[i]].role;
    if (grounded ? role == Role::grounded : role == Role::ungrounded || role == Role::switched) return true;
  }
  return false;
}

/// Looks from a box for a grounded conductor of a circuit.
class Looking {
 public:
  Looking(Evaluation& e, Index circuit) : e_(e), circuit_(circuit) {}

  [[nodiscard]] bool has(Index place) const {
    return std::ranges::any_of(visits_on(e_, place, circuit_),
                               [&](Index v) { return brings(e_.model, e_.in.routes.visits[v].run, true); });
  }

  /// Raceways with room lead from the box to a place that has one. What is reached so reaches the same.
  Value within_reach(Index box) {
    if (e_.noting()) return search(box);
    auto& reached = e_.once<Found>().reached;
    if (const auto known = reached.find(Found::key(circuit_, box)); known != reached.end())
      return known->second;
    const Value out = search(box);
    for (const Index place : places_) reached.emplace(Found::key(circuit_, place), out);
    return out;
  }

 private:
  Value search(Index box) {
    places_ = {box};
    std::unordered_set<Index> seen{box};
    MissingId missing = unknown_way(e_, circuit_);
    for (std::size_t next = 0; next < places_.size(); ++next) {
      const Index place = places_[next];
      std::vector<Index> hops;
      for (const Index v : visits_on(e_, place, circuit_)) {
        const Visit& visit = e_.in.routes.visits[v];
        if (!brings(e_.model, visit.run, false)) continue;
        for (const Index h : {visit.hop_in, visit.hop_out})
          if (h != none) hops.push_back(h);
      }
      const auto by_raceway = [&](Index h) {
        return id_key(e_.model.raceways[e_.in.routes.hops[h].raceway].id);
      };
      for (const Index h : told_by(e_, hops, by_raceway)) {
        const Hop& hop = e_.in.routes.hops[h];
        const Index to = hop.from == place ? hop.to : hop.from;
        if (seen.contains(to)) continue;
        const Value room = has_room(hop.raceway);
        missing = e_.missing.both(missing, room.missing);
        if (!is_yes(room)) continue;
        if (has(to)) {
          if (e_.noting()) e_.note(FMT_COMPILE("one can be brought from {}"), e_.model.places[to].id);
          return answer(true, room.cite);
        }
        seen.insert(to);
        places_.push_back(to);
      }
    }
    return missing == 0 ? answer(false) : Evaluation::lacks(missing);
  }

  /// A conductor like the one that would be added: the circuit's grounded one elsewhere, or another.
  Index like_it() {
    if (like_ == none) like_ = find_like_it();
    return like_;
  }
  [[nodiscard]] Index find_like_it() const {
    const Range& all = e_.model.circuits[circuit_].conductors;
    Index grounded = none, other = none;
    for (Index c = all.first; c < all.end(); ++c) {
      const Role role = e_.model.conductors[c].role;
      if (role == Role::grounded) hold_first(e_.model.conductors, grounded, c);
      if (role == Role::ungrounded) hold_first(e_.model.conductors, other, c);
    }
    return grounded != none ? grounded : other;
  }

  Value has_room(Index raceway) {
    const Subject s{SubjectKind::raceway, raceway};
    const Value count = e_.get_aside(Id::conductors_in_raceway, s),
                area = e_.get_aside(Id::conductor_area, s), inside = e_.get_aside(Id::raceway_area, s),
                any_length = e_.get_aside(Id::raceway_fill_limit_any_length, s);
    MissingId missing = 0;
    for (const Value& each : {count, area, inside, any_length})
      missing = e_.missing.both(missing, each.missing);
    if (missing != 0) return Evaluation::lacks(missing);
    const Index like = like_it();
    if (like == none) {
      return e_.lacks({SubjectKind::circuit, circuit_}, "conductor", "its conductors", designer, {},
                      e_.model.circuits[circuit_].source);
    }
    const Index of_kind = e_.model.conductors[like].kind;
    const KindArea& added = area_of_kind(e_, of_kind);
    if (!added.known()) {
      return e_.lacks({SubjectKind::conductor, like}, added.lacks, added.expects, installer, added.why,
                      e_.model.conductors[like].source);
    }
    const std::int64_t one = number(1).count();
    const std::int64_t conductors = count.count / one + 1;  // not law: another one
    const FillLimit own = fill_limits(e_).of_type(e_.model.raceways[raceway].type);
    const FillLimit limit = own.known ? own : fill_limits(e_).of(conductors);
    const raceward::Area each = added.area;
    const wide_int whole = (wide_int{area.count} + each.count()) * one;
    const auto fits = [&](std::int64_t share) { return whole <= wide_int{share} * inside.count; };
    const auto yes = [&](std::int64_t share, CitationId cite) {
      e_.used(cite);
      if (e_.noting())
        e_.note(FMT_COMPILE("raceway {}: room for {} conductors, another one of {} among them, at {}"),
                e_.model.raceways[raceway].id, conductors,
                words_of_kind(e_, e_.model.conductor_kinds[of_kind]), text_of({share, Unit::percent}));
      return answer(true, cite);
    };
    if (limit.known && fits(limit.share.count())) return yes(limit.share.count(), limit.cite);
    const Value shortest = e_.get_aside(Id::raceway_fill_limit_shortest, s);
    if (shortest && shortest.count > any_length.count && fits(shortest.count)) {
      const Value now = e_.get_aside(Id::raceway_fill_limit, s);
      if (!now) return now;
      if (now.count == shortest.count) return yes(now.count, now.cite);
    }
    if (e_.noting())
      e_.note(FMT_COMPILE("raceway {} has no room for another one"), e_.model.raceways[raceway].id);
    return answer(false, limit.cite);
  }

  Evaluation& e_;
  Index circuit_;
  Index like_ = none;
  std::vector<Index> places_;  // reached, the box first
};

/// The box can be reached without breaking a finish, or the light is switched from elsewhere as well: whether
/// an exception holds is for an eye to tell.
Value excepted(Evaluation& e, Subject s, Index circuit) {
  const Device& device = e.model.devices[s.index];
  const Place& box = e.model.places[device.box];
  if (box.mounting == Mounting::unstated)
    return e.lacks({subject_kind(box.kind), device.box}, "mounting", "a word such as flush", installer, {},
                   box.source);
  if (box.mounting != Mounting::flush && box.mounting != Mounting::concealed)
    return lacks_attest(e, s, "none is needed where another cable can be brought without breaking a finish");
  if (on_lights(e).elsewhere[circuit] != 0)
    return lacks_attest(e, s, "of several switches for one light that see all of the room one needs it");
  MissingId missing = 0;
  for (const Index d : on_lights(e).unplaced_switches) {
    if (e.model.devices[d].box == device.box || visits_on(e, e.model.devices[d].box, circuit).empty())
      continue;
    missing = e.missing.both(missing, lacks_circuit_of(e, d).missing);
  }
  if (missing != 0) return Evaluation::lacks(missing);
  return answer(false);
}

}  // namespace

Value neutral_at_switch_asked(Evaluation& e, Subject s) {
  const Device& device = e.model.devices[s.index];
  if (!controls(device.kind)) return answer(false);
  if (attested(e, Attested::neutral_not_needed, device.id)) {
    if (e.noting()) e.note(FMT_COMPILE("attested: none is needed there"));
    return answer(false);
  }
  if (device.circuits.count == 0)
    return e.lacks(s, "circuit", "ids of the circuits on its terminals", designer);
  Value any = answer(false);
  for (Index i = device.circuits.first; i < device.circuits.end(); ++i)
    any = either(e, any, lights_on(e, s, e.model.device_circuits[i]));
  return any;
}

Value neutral_at_switch(Evaluation& e, Subject s) {
  const Device& device = e.model.devices[s.index];
  if (!controls(device.kind)) return answer(false);
  if (device.circuits.count == 0)
    return e.lacks(s, "circuit", "ids of the circuits on its terminals", designer);
  Value all = answer(true);
  for (Index i = device.circuits.first; i < device.circuits.end(); ++i) {
    const Index c = e.model.device_circuits[i];
    if (is_no(lights_on(e, s, c))) continue;
    Looking looking(e, c);
    if (looking.has(device.box)) {
      if (e.noting())
        e.note(FMT_COMPILE("a grounded conductor of circuit {} comes there"), e.model.circuits[c].id);
      continue;
    }
    if (const MissingId roles = roles_missing(e, e.model.circuits[c]); roles != 0) {
      all = both(e, all, Evaluation::lacks(roles));
      continue;
    }
    const Value reach = looking.within_reach(device.box);
    all = both(e, all, is_no(reach) ? excepted(e, s, c) : reach);
  }
  return all;
}

}  // namespace raceward::figure::compute
