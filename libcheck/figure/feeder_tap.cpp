// Circuits that are taps as a whole: none of their runs begins in the panel of their overcurrent device.
//
// Method: a feeder of that sort which ends in one panel is as taps may be where it carries no less than what
// the main of that panel lets it, and no less than a part of the rating ahead of it by how long it is. All
// else somebody must attest.
#include <algorithm>

#include "figure/attested.hpp"
#include "figure/circuit_use.hpp"
#include "figure/circuit_way.hpp"
#include "figure/current_carrying.hpp"
#include "figure/facts.hpp"
#include "figure/machines.hpp"
#include "figure/tap.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

/// What the law asks of taps of feeders, by how far they go.
struct FeederTaps {
  const Parameter *shorter = nullptr, *longest = nullptr, *part_short = nullptr, *part = nullptr;
  explicit FeederTaps(const Law& law)
      : shorter(law.parameter("feeder-tap-length-short", Dimension::length)),
        longest(law.parameter("feeder-tap-length", Dimension::length)),
        part_short(law.divisor("feeder-tap-divisor-short", Dimension::none)),
        part(law.divisor("feeder-tap-divisor", Dimension::none)) {}
  [[nodiscard]] bool complete() const {
    return shorter != nullptr && longest != nullptr && part_short != nullptr && part != nullptr;
  }
};

/// The one panel that a tap ends at, and how far it is there by raceway.
struct TapEnd {
  Index panel = none;
  bool several = false;
  std::int64_t length = 0;
  MissingId missing = 0;  // of the length
};

TapEnd end_of_feeder_tap(Evaluation& e, Index circuit) {
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
    std::int64_t length = 0;
    const Range& hops = e.in.routes.run_hops[r];
    if (hops.count == 0) out.missing = e.missing.both(out.missing, unknown_way(e, circuit));
    for (Index h = hops.first; h < hops.end(); ++h) {
      const Value one = e.get_aside(Id::raceway_length, {SubjectKind::raceway, e.in.routes.hops[h].raceway});
      length += one.count;
      out.missing = e.missing.both(out.missing, one.missing);
    }
    out.length = std::max(out.length, length);
  }
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
  const auto fits = [&](const Parameter& length, const Parameter& divisor) {
    if (unmarked || end.missing != 0 || end.length > length.value.count || !least ||
        least.count < main.count ||
        wide_int{least.count} * divisor.value.count < wide_int{rating.count} * number(1).count())
      return false;
    e.used(length.cite);
    e.used(divisor.cite);
    if (e.noting())
      e.note(
          FMT_COMPILE("a tap {} long, of at most {}, carries {}: no less than {} / {} and the {} of panel {} "
                      "({})"),
          e.text_of({end.length, Unit::foot}), e.text_of({length.value.count, Unit::foot}),
          amperes_shown(least.count), amperes_shown(rating.count), divisor.text, amperes_shown(main.count),
          panel.id, e.cited(divisor.cite));
    return true;
  };
  if (fits(*law.shorter, *law.part_short) || fits(*law.longest, *law.part))
    return Evaluation::value(number(1).count(), law.part->cite);  // not law: yes
  const Value attest = lacks_tap_attest(
      e, circuit,
      end.missing != 0 || !least
          ? std::string(none_begins)
          : fmt::format(
                FMT_COMPILE("it may be a tap; it is {} long and carries {}, behind an overcurrent device "
                            "of {}"),
                e.text_of({end.length, Unit::foot}), amperes_shown(least.count),
                amperes_shown(rating.count)));
  MissingId missing = e.missing.both(attest.missing, e.missing.both(end.missing, least.missing));
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
  for (Index r = of.runs.first; r < of.runs.end(); ++r) {
    const Run& run = e.model.runs[r];
    for (Index s = run.stops.first; s < run.stops.end(); ++s)
      if (panel == none || e.model.stops[s].place == panel) return Evaluation::value(0);
  }
  if (!attested(e, Attested::taps_as_allowed, of.id)) return feeder_tap(e, circuit);
  e.note(FMT_COMPILE("it is a tap, and attested to be as taps may be"));
  return Evaluation::value(number(1).count());  // not law: yes
}

}  // namespace raceward::figure
