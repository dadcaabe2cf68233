// Whether metal raceways are bonded around knockouts with rings left, where the voltage asks for it.
#include <algorithm>

#include "figure/facts.hpp"
#include "figure/grounding_raceway.hpp"
#include "figure/raceway_kinds.hpp"
#include "figure/type_rows.hpp"
#include "figure/unwritten.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

struct Jumped {
  bool ready = false;
  grounding::Bridged ends;
};

/// A bonding jumper goes from the enclosure around the opening to the raceway.
bool jumper_around(Evaluation& e, Index raceway, int end) {
  auto& made = e.once<Jumped>();
  if (!made.ready) made = {true, grounding::bridged_ends(e.model)};
  return !made.ends.empty() && ((made.ends[raceway] >> end) & 1) != 0;
}

/// Circuits above the law's voltage to ground, or of an unknown one, whose way nobody wrote: found once.
struct Anywhere {
  bool ready = false;
  MissingId missing = 0;
};

MissingId may_lie_anywhere(Evaluation& e) {
  auto& found = e.once<Anywhere>();
  if (std::exchange(found.ready, true)) return found.missing;
  const Parameter* const above = e.law.parameter("ringed-knockout-voltage", Dimension::voltage);
  std::vector<MissingId> each;
  for (const Index index : wayless(e)) {
    const Circuit& circuit = e.model.circuits[index];
    const bool low = circuit.to_ground.known()
                         ? above != nullptr && (*circuit.to_ground).count() <= above->value.count
                         : circuit.kind == CircuitKind::other;
    if (!low) each.push_back(lacks_run(e, index, "it may lie in any raceway"));
  }
  return found.missing = e.missing.all(each);
}

}  // namespace

Value raceway_voltage(Evaluation& e, Subject s) {
  const Index ambiguity = e.in.routes.block_ambiguity[e.in.graph.block[s.index]];
  std::int64_t highest = 0;
  MissingId missing = 0;
  if (ambiguity != none) {
    const Index stop = e.in.routes.ambiguities[ambiguity].stop;
    missing = e.lacks({SubjectKind::circuit, e.model.runs[e.in.routes.ambiguities[ambiguity].run].circuit},
                      "via", "the raceways that the run takes", designer,
                      "its conductors may lie in this raceway or not", e.model.stops[stop].source)
                  .missing;
  }
  for (const Index run : e.in.routes.runs_in(s.index)) {
    const Index index = e.model.runs[run].circuit;
    const Circuit& circuit = e.model.circuits[index];
    if (circuit.to_ground.known()) {
      highest = std::max(highest, (*circuit.to_ground).count());
    } else if (circuit.kind != CircuitKind::other) {
      const Value lack = e.lacks({SubjectKind::circuit, index}, "voltage-to-ground", "a voltage such as 120V",
                                 designer, {}, circuit.source);
      missing = e.missing.both(missing, lack.missing);
    }
  }
  const Parameter* const above = e.law.parameter("ringed-knockout-voltage", Dimension::voltage);
  missing = e.missing.both(missing, may_lie_anywhere(e));
  if (missing != 0 && (above == nullptr || highest <= above->value.count)) return Evaluation::lacks(missing);
  if (e.noting()) e.note(FMT_COMPILE("highest voltage to ground in it: {}"), text_of({highest, Unit::volt}));
  return Evaluation::value(highest);
}

Value ringed_knockout_voltage(Evaluation& e, Subject) {
  return set_by_law(e, "ringed-knockout-voltage", Dimension::voltage);
}

Value raceway_is_metal(Evaluation& e, Subject s) {
  const RacewayType type = e.model.raceways[s.index].type;
  if (type == RacewayType::unstated) return lacks_type(e, s);
  return answer(is_metal(type));
}

Value knockouts_bonded(Evaluation& e, Subject s) {
  const Raceway& r = e.model.raceways[s.index];
  MissingId missing = 0;
  for (const int which : {0, 1}) {
    const RacewayEnd& end = r.ends[which];
    const Place& place = e.model.places[end.place];
    if (place.kind == PlaceKind::joint || place.kind == PlaceKind::conduit_body) continue;  // no knockouts
    if (place.material == EnclosureMaterial::nonmetallic || end.bonded == YesNo::yes) continue;
    if (end.knockout == Knockout::plain || end.knockout == Knockout::hub) continue;
    const bool rings = end.knockout == Knockout::concentric || end.knockout == Knockout::eccentric;
    if (rings && place.ringed_listed == YesNo::yes) continue;
    if (jumper_around(e, s.index, which)) {
      if (end.bonded == YesNo::unstated) continue;
      const Value lack = e.lacks(
          s, "bonded", "yes or no", installer,
          fmt::format(FMT_COMPILE("it is said not to be bonded at {}, and a bonding jumper goes around "
                                  "its opening there"),
                      place.id),
          end.source);
      missing = e.missing.both(missing, lack.missing);
      continue;
    }
    MissingId here = 0;
    const auto lack = [&](std::string_view name, std::string_view expects) {
      here = e.missing.both(here, e.lacks(s, name, expects, installer, {}, end.source).missing);
    };
    if (end.source == 0) {
      lack("end", "how it enters its place: the opening, and what bonds it");
    } else {
      if (end.knockout == Knockout::unstated)
        lack("knockout", "plain, concentric, eccentric, oversized or hub");
      if (end.bonded == YesNo::unstated) lack("bonded", "yes or no");
      if (rings && place.kind == PlaceKind::box && place.ringed_listed == YesNo::unstated) {
        const Value listed =
            e.lacks({SubjectKind::box, end.place}, "listed-bonding", "yes or no", marking, {}, place.source);
        here = e.missing.both(here, listed.missing);
      }
    }
    if (here == 0) {
      if (e.noting())
        e.note(FMT_COMPILE("at {}: a {} knockout, not bonded around and not listed for bonding"), place.id,
               name_of(end.knockout));
      return Evaluation::value(0);
    }
    missing = e.missing.both(missing, here);
  }
  return missing != 0 ? Evaluation::lacks(missing) : answer(true);
}

}  // namespace raceward::figure::compute
