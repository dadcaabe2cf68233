// Overcurrent devices: their ratings, what opens together, what they leave of a panel.
#include <algorithm>
#include <optional>
#include <span>

#include "figure/circuit_use.hpp"
#include "figure/facts.hpp"
#include "figure/first_by_id.hpp"
#include "figure/logic.hpp"
#include "figure/run_contents.hpp"
#include "figure/supply.hpp"
#include "figure/unwritten.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

/// Standard ratings of a law.
struct Standard {
  struct Of {
    std::int64_t rating;
    bool fuses_only;
    CitationId cite;
  };
  std::vector<Of> ratings;  // rising

  void read(const Law& law) {
    const Table* const t = law.table("standard-rating");
    if (t == nullptr) return;
    const std::uint32_t amperes = t->column("amperes", Dimension::current), kind = t->column("of");
    for (std::uint32_t row = 0; row < t->row_count(); ++row) {
      if (t->count(row, amperes) == Table::blank) continue;
      ratings.push_back({t->count(row, amperes), t->text(row, kind) == "fuse", t->cite(row)});
    }
    std::ranges::sort(ratings, {}, &Of::rating);
  }
};

/// Poles and spaces of the overcurrent devices of each panel, and of those with one handle tie.
struct Panels {
  struct Of {
    std::int64_t halves = 0;  ///< of spaces
    std::int64_t poles = 0;
    std::vector<Index> unknown;      ///< devices of which neither spaces nor poles are stated
    std::vector<Index> no_poles;     ///< those of which no poles are stated
    std::vector<Index> unsaid_ties;  ///< single poles that do not say what they are tied to
    Index taken_whole = none;        ///< one that says of no space whether it is a half, the first by id
    bool any_half = false;

    [[nodiscard]] bool more_than(std::int64_t spaces) const {
      return halves > 2 * spaces;
    }  // not law: halves
  };
  struct Tied {
    Index panel;
    std::string_view tie;
    Index device;
  };
  bool ready = false;
  std::vector<Of> of_place;
  std::vector<Tied> tied;  // sorted

  void read(const Model& model) {
    ready = true;
    of_place.resize(model.places.size());
    for (Index d = 0; d < model.overcurrent_devices.size(); ++d) {
      const OvercurrentDevice& device = model.overcurrent_devices[d];
      Of& of = of_place[device.panel];
      const bool half = device.spaces == 0 && device.half_space == YesNo::yes;
      of.halves += device.spaces != 0 ? 2 * device.spaces : half ? device.poles : 2 * device.poles;
      of.poles += device.poles;
      if (device.spaces == 0 && device.poles == 0) of.unknown.push_back(d);
      if (device.poles == 0) of.no_poles.push_back(d);
      const bool doubled = device.spaces != 0 && device.spaces < device.poles;
      of.any_half = of.any_half || device.half_space == YesNo::yes || doubled;
      const bool unsaid = device.spaces == 0 && device.half_space == YesNo::unstated;
      if (unsaid) hold_first(model.overcurrent_devices, of.taken_whole, d);
      const bool single = device.poles < 2;  // not law: or not said
      if (single && !device.untied && device.handle_tie.empty()) of.unsaid_ties.push_back(d);
      if (!device.handle_tie.empty()) tied.push_back({device.panel, device.handle_tie, d});
    }
    std::ranges::sort(tied, before);
  }
  static bool before(const Tied& a, const Tied& b) {
    return a.panel != b.panel ? a.panel < b.panel : a.tie != b.tie ? a.tie < b.tie : a.device < b.device;
  }
};

const Panels& panels(Evaluation& e) {
  auto& made = e.once<Panels>();
  if (!made.ready) made.read(e.model);
  return made;
}

/// Circuits by overcurrent device, the first by id; found once.
struct FirstAt {
  bool ready = false;
  std::vector<Index> circuit;
};

Index first_at(Evaluation& e, Index device) {
  auto& first = e.once<FirstAt>();
  if (!first.ready) {
    first.ready = true;
    first.circuit.assign(e.model.overcurrent_devices.size(), none);
    for (Index c = 0; c < e.model.circuits.size(); ++c) {
      const Index begins = e.model.circuits[c].overcurrent_device;
      if (begins == none) continue;
      hold_first(e.model.circuits, first.circuit[begins], c);
    }
  }
  return first.circuit[device];
}

Value lacks_poles(Evaluation& e, Index device) {
  return e.lacks({SubjectKind::overcurrent_device, device}, "poles", "how many, 1 or 2", marking, {},
                 e.model.overcurrent_devices[device].source);
}

Value lacks_poles(Evaluation& e, std::span<const Index> devices) {
  std::vector<MissingId> each;
  for (const Index device : devices) each.push_back(lacks_poles(e, device).missing);
  return Evaluation::lacks(e.missing.all(each));
}

struct Counted {
  std::int64_t ungrounded = 0, grounded = 0;
  MissingId missing = 0;  ///< roles that are not stated
};

Counted count_conductors(Evaluation& e, const Circuit& circuit) {
  Counted out;
  for (Index c = circuit.conductors.first; c < circuit.conductors.end(); ++c) {
    const Conductor& conductor = e.model.conductors[c];
    if (conductor.role == Role::ungrounded) out.ungrounded += conductor.count;
    if (conductor.role == Role::grounded) out.grounded += conductor.count;
  }
  out.missing = roles_missing(e, circuit);
  return out;
}

}  // namespace

Value overcurrent_standard(Evaluation& e, Subject s) {
  const auto& standard = e.of_law<Standard>();
  if (standard.ratings.empty()) return e.lacks_law("standard-rating");
  const OvercurrentDevice& device = e.model.overcurrent_devices[s.index];
  if (!device.rating.known()) return e.lacks(s, "rating", "a current such as 20A", marking);
  const std::int64_t rating = (*device.rating).count();
  const auto at = std::ranges::lower_bound(standard.ratings, rating, {}, &Standard::Of::rating);
  const bool found = at != standard.ratings.end() && at->rating == rating && (!at->fuses_only || device.fuse);
  const CitationId cite = at == standard.ratings.end() ? standard.ratings.back().cite : at->cite;
  e.used(cite);
  if (e.noting())
    e.note(FMT_COMPILE("{} is {} standard rating of a {}"), text_of(show(*device.rating, Unit::ampere)),
           found ? "a" : "no", device.fuse ? "fuse" : "circuit breaker");
  return answer(found, cite);
}

Value overcurrent_rating(Evaluation& e, Subject s) {
  return given(e, s, e.model.overcurrent_devices[s.index].rating, Unit::ampere, "rating",
               "a current such as 20A", marking);
}

Value multiwire(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  if (circuit.kind == CircuitKind::other) return answer(false);
  if (circuit.multiwire == YesNo::yes) return answer(true);
  const Counted counted = count_conductors(e, circuit);
  if (circuit.multiwire == YesNo::no) {
    const bool between_legs =
        circuit.voltage.known() && circuit.to_ground.known() && *circuit.voltage > *circuit.to_ground;
    const bool legs =
        counted.grounded > 0 && counted.ungrounded > std::max<std::uint32_t>(1, circuit.parallel);
    if (circuit.kind != CircuitKind::branch || !between_legs || !legs) return answer(false);
    return e.lacks(
        s, "multiwire", "yes", designer,
        "it is said to be none, and has ungrounded conductors with a voltage between them beside a "
        "grounded one");
  }
  if (counted.missing == 0 && (counted.ungrounded < 2 || counted.grounded == 0)) return answer(false);
  return e.lacks(s, "multiwire", "yes or no", designer,
                 "it has several ungrounded conductors beside a grounded one, or may have");
}

Value ungrounded_conductors(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  const Counted counted = count_conductors(e, circuit);
  if (counted.missing != 0) return Evaluation::lacks(counted.missing);
  if (counted.ungrounded == 0) return e.lacks(s, "conductor", "its ungrounded conductors", designer);
  if (circuit.multiwire == YesNo::yes && counted.ungrounded == 1) {
    return e.lacks(s, "conductor", "its ungrounded conductors", designer,
                   "it is said to be multiwire, and has one ungrounded conductor");
  }
  if (e.noting()) e.note(FMT_COMPILE("ungrounded conductors: {}"), counted.ungrounded);
  return Evaluation::value(number(counted.ungrounded).count());
}

namespace {

Value lacks_tie(Evaluation& e, Index device, std::string why) {
  return e.lacks({SubjectKind::overcurrent_device, device}, "handle-tie",
                 "a word that those which open with it have too, or none", installer, std::move(why),
                 e.model.overcurrent_devices[device].source);
}

/// By panel: the ties of its overcurrent devices that no circuit begins at and that do not say what they are
/// tied to. They are the same for all its circuits, and found once.
struct IdleTies {
  std::vector<std::optional<MissingId>> of_place;
};

MissingId idle_ties(Evaluation& e, Index panel) {
  auto& all = e.once<IdleTies>().of_place;
  if (all.empty()) all.resize(e.model.places.size());
  if (all[panel]) return *all[panel];
  std::vector<MissingId> each;
  for (const Index d : panels(e).of_place[panel].unsaid_ties)
    if (first_at(e, d) == none)
      each.push_back(lacks_tie(e, d, "it may be tied to one whose circuit needs more poles").missing);
  all[panel] = e.missing.all(each);
  return *all[panel];
}

/// What may be tied to a device that needs a pole more: itself where it does not say, and those without a
/// circuit.
MissingId may_be_tied(Evaluation& e, Index device) {
  const OvercurrentDevice& own = e.model.overcurrent_devices[device];
  const bool said = own.untied || !own.handle_tie.empty();
  const MissingId others = own.untied ? 0 : idle_ties(e, own.panel);
  if (!said) return e.missing.both(lacks_tie(e, device, {}).missing, others);
  if (own.untied || others != 0) return others;
  return lacks_tie(e, device, "no other device of the panel has the same word").missing;
}

Value tied_poles(Evaluation& e, Subject s, bool& alone);

}  // namespace

Value poles_together(Evaluation& e, Subject s) {
  bool alone = true;
  const Value poles = tied_poles(e, s, alone);
  if (!poles || !alone) return poles;
  // Whether others open with it is asked where that decides.
  const Value needed = e.get_aside(Id::poles_needed, s);
  const bool open_kind = !e.get_aside(Id::multiwire, s);  // that is asked first
  if (open_kind || !needed || poles.count >= needed.count) return poles;
  const MissingId open = may_be_tied(e, e.model.circuits[s.index].overcurrent_device);
  return open != 0 ? Evaluation::lacks(open) : poles;
}

namespace {

/// Poles of the circuit's device and of those that are said to be tied to it; `alone` where none is.
Value tied_poles(Evaluation& e, Subject s, bool& alone) {
  const Circuit& circuit = e.model.circuits[s.index];
  if (circuit.overcurrent_device == none)
    return e.lacks(s, "protected-by", "the id of an overcurrent device", designer);
  const OvercurrentDevice& own = e.model.overcurrent_devices[circuit.overcurrent_device];
  std::int64_t poles = own.poles;
  if (poles == 0) return lacks_poles(e, circuit.overcurrent_device);
  if (!own.handle_tie.empty()) {
    // A pole that another circuit begins at is not one of this circuit.
    const std::int64_t hot = ungrounded_at_source(e, s.index) / std::max<std::uint32_t>(1, circuit.parallel);
    std::int64_t others = 0;
    Index other = none;
    std::vector<Index> unsaid;
    poles = 0;
    std::size_t devices = 0;
    const auto& tied = panels(e).tied;
    for (auto at = std::lower_bound(tied.begin(), tied.end(), Panels::Tied{own.panel, own.handle_tie, 0},
                                    Panels::before);
         at != tied.end() && at->panel == own.panel && at->tie == own.handle_tie; ++at) {
      if (e.model.overcurrent_devices[at->device].poles == 0) unsaid.push_back(at->device);
      poles += e.model.overcurrent_devices[at->device].poles;
      alone = ++devices == 1;  // not law: itself
      const Index from = at->device == circuit.overcurrent_device ? none : first_at(e, at->device);
      if (from == none) continue;
      hold_first(e.model.circuits, other, from);
      others += e.model.overcurrent_devices[at->device].poles;
    }
    if (!unsaid.empty()) return lacks_poles(e, unsaid);
    if (other != none && poles >= hot && poles - others < hot) {
      return e.lacks(
          {SubjectKind::circuit, other}, "protected-by", "the id of an overcurrent device", designer,
          fmt::format(FMT_COMPILE("it is said to begin at a device that is tied to that of circuit "
                                  "{}, which needs that pole for a conductor of its own"),
                      circuit.id),
          e.model.circuits[other].source);
    }
  }
  if (e.noting())
    e.note(FMT_COMPILE("poles that open together with overcurrent device {}: {}"), own.id, poles);
  return Evaluation::value(number(poles).count());
}

}  // namespace

Value poles_needed(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  constexpr std::int64_t phases = most_phases;
  const Counted counted = count_conductors(e, circuit);
  if (counted.missing != 0) return Evaluation::lacks(counted.missing);
  const std::int64_t hot = ungrounded_at_source(e, s.index) / std::max<std::uint32_t>(1, circuit.parallel);
  if (hot < 2) {  // not law: one
    MissingId missing = unwritten_of(e, s.index);
    for (Index r = circuit.runs.first; r < circuit.runs.end(); ++r)
      missing = e.missing.both(missing, cables_missing(e, e.model.runs[r]));
    return missing != 0 ? Evaluation::lacks(missing) : Evaluation::value(number(hot).count());
  }
  bool alone = true;
  const Value poles = tied_poles(e, s, alone);
  if (!poles) return poles;
  const std::int64_t most = std::min(hot, phases), has = poles.count / number(1).count();
  if (circuit.parallel == 0 && has > 1 && hot > phases && hot % has == 0) return poles;  // side by side
  if (has >= most) return Evaluation::value(number(most).count());
  // Conductors of one phase may share a pole; between those of two there is more than to ground.
  if (!circuit.voltage.known() || !circuit.to_ground.known()) {
    return e.lacks(
        s, circuit.voltage.known() ? "voltage-to-ground" : "voltage", "a voltage such as 120V", designer,
        fmt::format(FMT_COMPILE("{} ungrounded conductors begin at fewer poles: whether they are of "
                                "one phase cannot be told without it"),
                    hot));
  }
  const bool differ = *circuit.voltage > *circuit.to_ground;
  if (!differ && counted.grounded != 0) {
    e.note(FMT_COMPILE("its voltage is that to ground: its {} ungrounded conductors are of one phase"), hot);
    return Evaluation::value(number(1).count());
  }
  const Index device = circuit.overcurrent_device;
  const bool fuse = e.model.overcurrent_devices[device].fuse;
  if (!differ || fuse || has > 1) {
    return e.lacks(
        {SubjectKind::overcurrent_device, device}, "poles", "1, 2 or 3", marking,
        fmt::format(FMT_COMPILE("{} ungrounded conductors begin at it, and it has fewer poles"), hot),
        e.model.overcurrent_devices[device].source);
  }
  if (e.noting()) {
    e.note(
        FMT_COMPILE("its voltage of {} is more than that to ground, {}: its {} ungrounded conductors are of "
                    "different phases"),
        text_of(show(*circuit.voltage, Unit::volt)), text_of(show(*circuit.to_ground, Unit::volt)), hot);
  }
  return Evaluation::value(number(2).count());  // not law: at least
}

Value panel_spaces(Evaluation& e, Subject s) {
  const std::uint16_t spaces = e.model.places[s.index].spaces;
  if (spaces == 0) return e.lacks(s, "spaces", "how many, such as 20", marking);
  if (e.noting()) e.note(FMT_COMPILE("spaces of the panel: {}"), spaces);
  return Evaluation::value(number(spaces).count());
}

Value panel_spaces_taken(Evaluation& e, Subject s) {
  const Panels::Of& of = panels(e).of_place[s.index];
  const std::uint16_t spaces = e.model.places[s.index].spaces;
  if (!of.unknown.empty() && (spaces == 0 || !of.more_than(spaces))) return lacks_poles(e, of.unknown);
  // More than there are: some may be of half a space.
  if (of.taken_whole != none && spaces != 0 && of.more_than(spaces)) {
    return e.lacks({SubjectKind::overcurrent_device, of.taken_whole}, "half-space", "yes or no", marking,
                   "a space for each pole of all devices is more than the panel has",
                   e.model.overcurrent_devices[of.taken_whole].source);
  }
  const std::int64_t taken = number(of.halves).count() / 2;  // not law: halves
  if (e.noting()) e.note(FMT_COMPILE("its overcurrent devices take {}"), text_of({taken, Unit::one}));
  return Evaluation::value(taken);
}

Value panel_poles_taken(Evaluation& e, Subject s) {
  const Panels::Of& of = panels(e).of_place[s.index];
  // Where none takes half a space, there are no more poles than spaces.
  if (!of.any_half && e.model.places[s.index].circuits == 0) return Evaluation::value(0);
  if (!of.no_poles.empty()) return lacks_poles(e, of.no_poles);
  if (e.noting()) e.note(FMT_COMPILE("poles of its overcurrent devices: {}"), of.poles);
  return Evaluation::value(number(of.poles).count());
}

Value panel_poles(Evaluation& e, Subject s) {
  const std::uint16_t circuits = e.model.places[s.index].circuits;
  if (circuits == 0) {
    const bool halves = panels(e).of_place[s.index].any_half;
    return e.lacks(s, "circuits", "how many, such as 24", marking,
                   halves ? "it has overcurrent devices of half a space, and is listed for so many poles"
                          : "the number of poles that it is listed for");
  }
  if (e.noting()) e.note(FMT_COMPILE("poles that it is listed for: {}"), circuits);
  return Evaluation::value(number(circuits).count());
}

Value panel_rating(Evaluation& e, Subject s) {
  return given(e, s, e.model.places[s.index].rating, Unit::ampere, "rating", "a current such as 100A",
               marking);
}

Value panel_protection(Evaluation& e, Subject s) {
  const Place& panel = e.model.places[s.index];
  const Value main = given(e, s, panel.main, Unit::ampere, "main", "a current such as 100A", marking);
  if (panel.fed_by == none) return main;
  const Value feeder = device_rating_of(e, panel.fed_by);
  const bool main_suffices = main && panel.rating.known() && main.count <= (*panel.rating).count();
  if (!feeder) return main_suffices ? main : feeder;
  // Behind a larger one a main protects it, where there is one.
  if (!main && panel.rating.known() && feeder.count > (*panel.rating).count()) return main;
  return !main || feeder.count < main.count ? feeder : main;
}

}  // namespace raceward::figure::compute
