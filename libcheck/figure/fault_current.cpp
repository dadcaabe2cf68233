// Fault current at the place of a circuit where it is least, against what opens its overcurrent device.
//
// Method: the voltage to ground, less what an arc keeps for itself, over the impedance of the way there and
// the grounding path back, from the source of the document on. The place with the largest impedance counts.
#include <algorithm>

#include "figure/circuit_use.hpp"
#include "figure/circuit_way.hpp"
#include "figure/facts.hpp"
#include "figure/fault_path.hpp"
#include "figure/first_by_id.hpp"
#include "figure/grounding_reach.hpp"
#include "figure/shown.hpp"
#include "figure/told.hpp"

namespace raceward::figure::compute {

using namespace installation;
using grounding::Node;
using grounding::Part;

namespace {

constexpr wide_int billion = 1'000'000'000;  // not law: microvolts over nanohms, in microamperes

/// The way of the current from the source to where a circuit begins.
struct Ahead {
  std::int64_t ohms = 0;
  MissingId missing = 0;
};

/// Impedance of the loop at the worst place of a circuit.
struct Loop {
  std::int64_t most = 0, least = 0;
  Subject place;
  MissingId open = 0;   ///< without these it has no upper bound
  MissingId loose = 0;  ///< without these the bounds lie apart
  bool any = false;     ///< some place has a path back
  Index broken = none;  ///< a place that has none, the first by id
};

struct Loops {
  std::vector<Loop> own;
  std::vector<std::uint8_t> ready;
  AlongFeeders<Ahead> ahead;
};

Node node_of(const Evaluation& e, const grounding::Network& net, Index place) {
  const bool metal = e.model.places[place].material != EnclosureMaterial::nonmetallic;
  return net.node(place, metal ? Part::metal : Part::wires);
}

/// Of the ways to the panel where the circuit begins.
const Ahead& ahead_of(Evaluation& e, Index circuit) {
  return e.once<Loops>().ahead.of(e, circuit, [&](Index here, const Ahead* before, MissingId circle) {
    Ahead out;
    out.missing = circle;
    const Index feeder = feeder_of(e, here);
    if (before == nullptr || feeder == none) return out;
    const Way way = way_of(e, feeder, std::nullopt);
    out.ohms = before->ohms;
    out.missing = e.missing.both(out.missing, before->missing);
    out.missing = e.missing.both(out.missing, e.missing.both(way.missing, way.unmeasured));
    for (const WayPlace& place : way.places) {
      if (place.place == panel_of(e, here)) out.ohms += place.impedance.out_most;
    }
    return out;
  });
}

class Finding {
 public:
  Finding(Evaluation& e, Index circuit) : e_(e), circuit_(circuit) {}

  Loop find(bool tell) {
    const Way way = way_of(e_, circuit_, std::nullopt);
    const Ahead& ahead = ahead_of(e_, circuit_);
    const WayPlace* worst = nullptr;
    for (std::size_t i = 1; i < way.places.size(); ++i) {
      if (take(way.places[i], ahead.ohms, worst)) worst = &way.places[i];
    }
    if (worst != nullptr) loop_.place = outlet_at(e_, circuit_, worst->place);
    open(way.missing);
    open(way.unmeasured);
    open(ahead.missing);
    if (tell && worst != nullptr && loop_.open == 0) {
      note_way(e_, way, *worst);
      if (ahead.ohms != 0) e_.note(FMT_COMPILE("feeders ahead: {} there"), shown_ohms(ahead.ohms));
      grounding::paths_back(e_).note(e_, node_of(e_, grounding::network(e_), worst->place));
      e_.note(FMT_COMPILE("circuit {}: loop of {}"), e_.model.circuits[circuit_].id, shown_ohms(loop_.most));
    }
    return loop_;
  }

 private:
  void open(MissingId missing) { loop_.open = e_.missing.both(loop_.open, missing); }

  /// Whether the loop at the place is the largest so far.
  bool take(const WayPlace& place, std::int64_t ahead, const WayPlace* worst) {
    const grounding::Network& net = grounding::network(e_);
    const Place& at = e_.model.places[place.place];
    const Node node = node_of(e_, net, place.place);
    const bool nothing = at.material == EnclosureMaterial::nonmetallic && net.nothing_at(node);
    if (at.kind == PlaceKind::joint || nothing) return false;
    loop_.any = true;
    grounding::Reach& reach = grounding::reach(e_);
    if (!reach.certain(node)) {
      if (reach.possible(net, node)) {
        open(reach.missing(e_, net, node));
      } else {
        hold_first(e_.model.places, loop_.broken, place.place);
      }
      return false;
    }
    grounding::PathsBack& paths = grounding::paths_back(e_);
    const grounding::PathBack back = paths.from(node);
    const std::int64_t there = place.impedance.out_most + ahead;
    loop_.least = std::max(loop_.least, there + back.least);
    if (back.most == INT64_MAX) {
      open(paths.missing(e_, node));
      return false;
    }
    if (back.most != back.least) loop_.loose = e_.missing.both(loop_.loose, paths.missing(e_, node));
    const std::int64_t most = there + back.most;
    const bool by_name =
        worst != nullptr && most == loop_.most && id_before(at.id, e_.model.places[worst->place].id);
    if (worst != nullptr && most <= loop_.most && !by_name) return false;
    loop_.most = most;
    return true;
  }

  Evaluation& e_;
  const Index circuit_;
  Loop loop_;
};

const Loop& loop_of(Evaluation& e, Index circuit) {
  auto& all = e.once<Loops>();
  all.own.resize(e.model.circuits.size());
  all.ready.resize(e.model.circuits.size());
  if (all.ready[circuit] == 0) all.own[circuit] = Finding(e, circuit).find(false);
  all.ready[circuit] = 1;
  if (e.noting()) Finding(e, circuit).find(true);
  return all.own[circuit];
}

Value to_ground(Evaluation& e, Subject s) {
  return given(e, s, e.model.circuits[s.index].to_ground, Unit::volt, "voltage-to-ground",
               "a voltage such as 120V", designer);
}

/// The current that a loop of so much lets through.
Value through(Evaluation& e, Subject s, std::int64_t ohms, Subject place) {
  const Value volts = to_ground(e, s);
  const Parameter* const arc = e.law.parameter("fault-arc-voltage", Dimension::voltage);
  if (arc == nullptr) return e.lacks_law("fault-arc-voltage");
  if (!volts) return volts;
  const std::int64_t left = std::max<std::int64_t>(volts.count - arc->value.count, 0);
  Value current = Evaluation::value(
      detail::saturate(wide_int{left} * billion / std::max<std::int64_t>(ohms, 1)), arc->cite);
  current.place = place;
  if (e.noting()) {
    e.used(arc->cite);
    e.note(FMT_COMPILE("({} - {} for an arc) / {}"), text_of({volts.count, Unit::volt}),
           text_of({arc->value.count, Unit::volt}),
           ohms > 0 ? shown_ohms(ohms) : "an impedance of which nothing is known");
  }
  return current;
}

}  // namespace

Value fault_current_asked(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  if (circuit.kind == CircuitKind::other) return answer(false);
  const Parameter* const arc = e.law.parameter("fault-arc-voltage", Dimension::voltage);
  if (arc == nullptr) return e.lacks_law("fault-arc-voltage");
  if (circuit.to_ground.known() && (*circuit.to_ground).count() <= arc->value.count)
    return answer(false, arc->cite);
  const Loop& loop = loop_of(e, s.index);
  if (loop.broken != none) {
    const Value path = e.get_aside(Id::ground_path_breaks, grounding::place_subject(e.model, loop.broken));
    return path ? answer(false) : path;
  }
  if (!loop.any) return loop.open != 0 ? Evaluation::lacks(loop.open) : answer(false);
  return answer(true);
}

Value fault_loop(Evaluation& e, Subject s) {
  const Loop& loop = loop_of(e, s.index);
  if (loop.open != 0) return Evaluation::lacks(loop.open);
  if (loop.broken != none) {
    const Subject at = grounding::place_subject(e.model, loop.broken);
    return e.lacks(at, "grounded-by", "what leads a fault current back to the panel", installer,
                   "no path leads back from it, so that its loop is open",
                   e.model.places[loop.broken].source);
  }
  if (loop.most != loop.least) return Evaluation::lacks(loop.loose);
  Value value = Evaluation::value(loop.most);
  value.place = loop.place;
  return value;
}

Value fault_current_at_least(Evaluation& e, Subject s) {
  const Loop& loop = loop_of(e, s.index);
  if (loop.open != 0) return Evaluation::lacks(loop.open);
  if (loop.broken != none) {
    if (e.noting())
      e.note(FMT_COMPILE("no path leads back from {}"), grounding::short_place(e.model, loop.broken));
    return Evaluation::value(0);
  }
  return through(e, s, loop.most, loop.place);
}

Value fault_current_at_most(Evaluation& e, Subject s) {
  const Loop& loop = loop_of(e, s.index);
  const MissingId open = e.missing.both(loop.open, loop.loose);
  if (loop.least == 0 && open != 0) return Evaluation::lacks(open);  // nothing of it is known
  return through(e, s, loop.least, loop.place);
}

Value fault_current_needed(Evaluation& e, Subject s) {
  const Parameter* const times = e.law.parameter("fault-current-multiple", Dimension::none);
  if (times == nullptr) return e.lacks_law("fault-current-multiple");
  const Value rating = device_rating_of(e, s.index);
  if (!rating) return rating;
  e.used(times->cite);
  const std::int64_t needed = detail::saturate(
      (wide_int{rating.count} * times->value.count + number(1).count() - 1) / number(1).count());
  if (e.noting()) {
    e.note(FMT_COMPILE("{} x {} = {}"), times->text, text_of({rating.count, Unit::ampere}),
           text_of({needed, Unit::ampere}));
  }
  return Evaluation::value(needed, times->cite);
}

}  // namespace raceward::figure::compute
