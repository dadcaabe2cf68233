// Circuits that are taps as a whole: none of their runs begins in the panel of their overcurrent device.
//
// Method: a feeder of that sort which ends in one panel is as taps may be where it carries no less than what
// the main of that panel lets it, and no less than a part of the rating ahead of it by how long it is. All
// else somebody must attest.
#include <algorithm>
#include <utility>

#include "figure/attested.hpp"
#include "figure/circuit_use.hpp"
#include "figure/circuit_way.hpp"
#include "figure/current_carrying.hpp"
#include "figure/devices_by_box.hpp"
#include "figure/facts.hpp"
#include "figure/machines.hpp"
#include "figure/tap.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

/// What the law asks of taps of feeders, by how far they go.
struct FeederTaps {
  const Parameter *shorter = nullptr, *longest = nullptr, *part_short = nullptr, *part = nullptr,
                  *within = nullptr;
  explicit FeederTaps(const Law& law)
      : shorter(law.parameter("feeder-tap-length-short", Dimension::length)),
        longest(law.parameter("feeder-tap-length", Dimension::length)),
        part_short(law.divisor("feeder-tap-divisor-short", Dimension::none)),
        part(law.divisor("feeder-tap-divisor", Dimension::none)),
        within(law.parameter("practice-length-in-enclosures", Dimension::length)) {}
  [[nodiscard]] bool complete() const {
    return shorter != nullptr && longest != nullptr && part_short != nullptr && part != nullptr &&
           within != nullptr;
  }
};

/// The one panel that a tap ends at.
struct TapEnd {
  Index panel = none;
  bool several = false;
};

TapEnd end_of_feeder_tap(const Evaluation& e, Index circuit) {
  TapEnd out;
  const Circuit& of = e.model.circuits[circuit];
  for (Index r = of.runs.first; r < of.runs.end(); ++r) {
    const Run& run = e.model.runs[r];
    for (Index s = run.stops.first; s < run.stops.end(); ++s) {
      const Index place = e.model.stops[s].place;
      if (place == none || e.model.places[place].fed_by != circuit) continue;
      out.several = out.several || (out.panel != none && out.panel != place);
      out.panel = place;
    }
  }
  return out;
}

bool visits(const Evaluation& e, Index circuit, Index place) {
  const Circuit& of = e.model.circuits[circuit];
  for (Index r = of.runs.first; r < of.runs.end(); ++r) {
    const Run& run = e.model.runs[r];
    for (Index s = run.stops.first; s < run.stops.end(); ++s)
      if (e.model.stops[s].place == place) return true;
  }
  return false;
}

/// The way of a tap without anything on it: from where it is spliced to a feeder that comes from its
/// overcurrent device, unbroken to the panel.
struct TapWay {
  bool plain = true;
  std::int64_t length = 0;  // of its raceways
  MissingId missing = 0;
};

/// Whether a stop's conductors end there. What is not said goes to the way.
bool ends_there(Evaluation& e, Index circuit, Index stop, TapWay& way) {
  const StopTreatment how = e.model.stops[stop].ungrounded;
  if (how == StopTreatment::unstated)
    way.missing = e.missing.both(way.missing, lacks_end_of(e, circuit, stop).missing);
  return how == StopTreatment::spliced || how == StopTreatment::terminated || how == StopTreatment::unstated;
}

/// Whether another circuit of the same device, that comes from its panel, is spliced there.
bool feeder_spliced(Evaluation& e, Index circuit, Index place, TapWay& way) {
  const Index device = e.model.circuits[circuit].overcurrent_device, panel = panel_of(e, circuit);
  TapWay unsaid;
  Index before = none;  // runs of a circuit follow one another: it is looked through once
  bool comes = false;
  for (const Visit& visit : e.in.routes.visits_at(place)) {
    const Index other = e.model.runs[visit.run].circuit;
    if (other == circuit || visit.stop == none || e.model.circuits[other].overcurrent_device != device ||
        e.model.circuits[other].kind != CircuitKind::feeder)
      continue;
    if (std::exchange(before, other) != other) comes = visits(e, other, panel);
    if (!comes) continue;
    if (e.model.stops[visit.stop].ungrounded != StopTreatment::unstated) {
      if (ends_there(e, other, visit.stop, way)) return true;
      continue;
    }
    ends_there(e, other, visit.stop, unsaid);
  }
  way.missing = e.missing.both(way.missing, unsaid.missing);
  return unsaid.missing != 0;
}

/// Whether nothing in a box takes anything from the tap. What is not said goes to the way.
bool feeds_nothing(Evaluation& e, Index circuit, Index place, TapWay& way) {
  for (const Index d : devices_on(e, place, none))
    way.missing = e.missing.both(way.missing, lacks_circuit_of(e, d).missing);
  return devices_on(e, place, circuit).empty();
}

TapWay way_of_feeder_tap(Evaluation& e, Index circuit, Index panel) {
  TapWay out;
  const Circuit& of = e.model.circuits[circuit];
  Index begins = none;
  for (Index r = of.runs.first; r < of.runs.end() && out.plain; ++r) {
    const Run& run = e.model.runs[r];
    if (!way_known(e, r)) {
      out.missing = e.missing.both(out.missing, unknown_way(e, circuit));
      out.plain = out.plain && out.missing != 0;
      continue;
    }
    const Index last = run.stops.end() - 1;
    const bool forth = e.model.stops[last].place == panel;
    const Index at_panel = forth ? last : run.stops.first, at_begin = forth ? run.stops.first : last;
    const Index from = e.model.stops[at_begin].place;
    out.plain = e.model.stops[at_panel].place == panel && from != panel &&
                (begins == none || begins == from) && ends_there(e, circuit, at_begin, out) &&
                e.model.places[from].kind != PlaceKind::panel && feeder_spliced(e, circuit, from, out);
    begins = from;
    for (Index s = run.stops.first; s < run.stops.end() && out.plain; ++s) {
      if (s != at_panel) out.plain = feeds_nothing(e, circuit, e.model.stops[s].place, out);
      if (s == at_panel || s == at_begin || !ends_there(e, circuit, s, out)) continue;
      out.plain = e.model.stops[s].ungrounded == StopTreatment::unstated;
    }
    std::int64_t length = 0;
    const Range& hops = e.in.routes.run_hops[r];
    for (Index h = hops.first; h < hops.end(); ++h) {
      const Value one = e.get_aside(Id::raceway_length, {SubjectKind::raceway, e.in.routes.hops[h].raceway});
      length += one.count;
      out.missing = e.missing.both(out.missing, one.missing);
    }
    out.length = std::max(out.length, length);
  }
  out.plain = out.plain && begins != none;
  return out;
}

/// Whether a feeder that is a tap of another is as the law lets taps be that end in one overcurrent device:
/// 1; 0 where that device lets them carry too much, however they go; missing where somebody must attest it.
Value feeder_tap(Evaluation& e, Index circuit) {
  constexpr std::string_view none_begins =
      "none of its runs begins in the panel of its overcurrent device, and it may be a tap";
  const FeederTaps law(e.law);
  const TapEnd end = end_of_feeder_tap(e, circuit);
  if (e.model.circuits[circuit].kind != CircuitKind::feeder || !law.complete() || end.panel == none ||
      end.several)
    return lacks_tap_attest(e, circuit, std::string(none_begins));
  const Place& panel = e.model.places[end.panel];
  const Subject s{SubjectKind::circuit, circuit};
  const Value rating = device_rating_of(e, circuit);
  const Value main = given(e, {SubjectKind::panel, end.panel}, panel.main, Unit::ampere, "main",
                           "the rating of the overcurrent device that all of its current passes", marking);
  if (!rating || !main) {
    const Value attest = lacks_tap_attest(e, circuit, std::string(none_begins));
    return Evaluation::lacks(e.missing.both(attest.missing, e.missing.both(rating.missing, main.missing)));
  }
  const auto lesser = [&](Id a, Id b) {
    const Value one = e.get_aside(a, s), other = e.get_aside(b, s);
    if (!one || !other) return Evaluation::lacks(e.missing.both(one.missing, other.missing));
    return one.count <= other.count ? one : other;
  };
  const Value most = lesser(Id::ampacity_at_best_terminals, Id::ampacity_as_laid_at_most),
              least = lesser(Id::ampacity_at_terminals, Id::ampacity_as_laid_at_least);
  // Its terminals are those of the device at its end, which by themselves may be of the lower temperature.
  const Parameter* const up_to = e.law.parameter("terminal-current", Dimension::current);
  const bool unmarked =
      !e.model.circuits[circuit].terminals.known() && (up_to == nullptr || main.count <= up_to->value.count);
  const bool by_bars = !panel.rating.known() || (*panel.rating).count() >= main.count;
  if (most && most.count < main.count && by_bars) {
    if (e.noting())
      e.note(FMT_COMPILE("as a tap it would have to carry what panel {} lets it, {}, and carries {}"),
             panel.id, amperes_shown(main.count), amperes_shown(most.count));
    return Evaluation::value(0);
  }
  const TapWay way = way_of_feeder_tap(e, circuit, end.panel);
  const auto fits = [&](const Parameter& length, const Parameter& divisor) {
    if (unmarked || !way.plain || way.missing != 0 ||
        way.length > length.value.count - law.within->value.count || !least || least.count < main.count ||
        wide_int{least.count} * divisor.value.count < wide_int{rating.count} * number(1).count())
      return false;
    e.used(length.cite);
    e.used(divisor.cite);
    e.used(law.within->cite);
    if (e.noting())
      e.note(FMT_COMPILE("a tap of {} in raceways and at most {} at its ends, together at most {}, carries "
                         "{}: no less than {} / {} and the {} of panel {} ({})"),
             e.text_of({way.length, Unit::foot}), e.text_of({law.within->value.count, Unit::foot}),
             e.text_of({length.value.count, Unit::foot}), amperes_shown(least.count),
             amperes_shown(rating.count), divisor.text, amperes_shown(main.count), panel.id,
             e.cited(divisor.cite));
    return true;
  };
  if (fits(*law.shorter, *law.part_short) || fits(*law.longest, *law.part))
    return Evaluation::value(number(1).count(), law.part->cite);  // not law: yes
  const Value attest = lacks_tap_attest(
      e, circuit,
      way.missing != 0 || !least || !way.plain
          ? std::string(none_begins)
          : fmt::format(FMT_COMPILE("it may be a tap; its raceways are {} long, its ends are more, and it "
                                    "carries {}, behind an overcurrent device of {}"),
                        e.text_of({way.length, Unit::foot}), amperes_shown(least.count),
                        amperes_shown(rating.count)));
  const MissingId of_way = way.plain ? way.missing : 0;
  MissingId missing = e.missing.both(attest.missing, e.missing.both(of_way, least.missing));
  if (unmarked) {
    missing = e.missing.both(
        missing, e.lacks(s, "terminal-temperature",
                         "the temperature that its terminals are marked for, such as 75C", marking)
                     .missing);
  }
  return Evaluation::lacks(missing);
}

}  // namespace

Value lacks_tap_attest(Evaluation& e, Index circuit, std::string why) {
  return e.lacks({SubjectKind::circuit, circuit}, "attest",
                 "<attest fact=\"taps-as-allowed\"> where that is so", installer, std::move(why),
                 e.model.circuits[circuit].source);
}

Value tap_as_a_whole(Evaluation& e, Index circuit) {
  const Circuit& of = e.model.circuits[circuit];
  if (of.runs.count == 0) return Evaluation::value(0);
  const Index panel = panel_of(e, circuit);
  if (panel == none || visits(e, circuit, panel)) return Evaluation::value(0);
  if (!attested(e, Attested::taps_as_allowed, of.id)) return feeder_tap(e, circuit);
  e.note(FMT_COMPILE("it is a tap, and attested to be as taps may be"));
  return Evaluation::value(number(1).count());  // not law: yes
}

}  // namespace raceward::figure
