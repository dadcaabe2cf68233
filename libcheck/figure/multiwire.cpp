// Multiwire circuits: whether their grounded conductor hangs on a device, and whether they are grouped in the
// panel.
//
// Method: in each box the ends of the grounded conductor are counted: two for a run that goes on, one for one
// that begins or ends. Where two or more of them are on terminals, the device joins them.
#include "figure/ends_by_box.hpp"
#include "figure/facts.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

bool holds_grounded(const Model& model, const Run& run) {
  for (Index i = run.conductors.first; i < run.conductors.end(); ++i)
    if (model.conductors[model.run_conductors[i]].role == Role::grounded) return true;
  return false;
}

/// A box of the circuit, with what is known of the grounded conductor in it.
struct AtBox {
  Index place = none;
  std::uint32_t terminated = 0;  // ends on terminals
  std::uint32_t unclear = 0;     // ends of which nothing is said
  std::uint32_t spliced = 0;     // ends in splices
  Index stop = none;             // the first of all of them
  std::vector<Index> unsaid{};   // those of which nothing is said
  Index refused = none;          // one that says they are not joined with a tail
  bool pigtailed = false;

  void add(const AtBox& other) {
    terminated += other.terminated;
    unclear += other.unclear;
    spliced += other.spliced;
    unsaid.insert(unsaid.end(), other.unsaid.begin(), other.unsaid.end());
    if (refused == none) refused = other.refused;
    pigtailed = pigtailed || other.pigtailed;
  }
};

std::vector<AtBox> boxes_of(const Model& model, const Circuit& circuit) {
  const auto read = [&](const Run&, Index s, std::uint32_t ends) -> std::optional<AtBox> {
    const Stop& stop = model.stops[s];
    const bool refused = stop.grounded_pigtailed == YesNo::no;
    AtBox box{stop.place, 0, 0, 0, s, {}, refused ? s : none, stop.grounded_pigtailed == YesNo::yes};
    if (stop.ungrounded == StopTreatment::terminated) box.terminated = ends;
    if (stop.ungrounded == StopTreatment::unstated) {
      box.unclear = ends;
      box.unsaid.push_back(s);
    }
    if (stop.ungrounded == StopTreatment::spliced) box.spliced = ends;
    return box;
  };
  return ends_by_box<AtBox>(
      model, circuit, [&](const Run& run) { return holds_grounded(model, run); }, read);
}

Index panel_of(const Model& model, const Circuit& circuit) {
  const Index device = circuit.overcurrent_device;
  return device == none ? none : model.overcurrent_devices[device].panel;
}

}  // namespace

Value neutral_by_device(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  MissingId missing = roles_missing(e, circuit);
  for (const AtBox& box : boxes_of(e.model, circuit)) {
    const bool refused = box.refused != none;
    const bool joined = box.pigtailed || box.terminated + box.unclear < 2;
    if (refused && (box.pigtailed || (joined && box.spliced + box.terminated + box.unclear >= 2))) {
      const std::string_view why = box.pigtailed ? "it is said to be yes and no in one box"
                                                 : "conductors are said to be spliced there, and to go on";
      const Value lack = e.lacks(s, "grounded-pigtailed", "yes or no", installer, std::string(why),
                                 e.model.stops[box.refused].source);
      missing = e.missing.both(missing, lack.missing);
      continue;
    }
    if (joined) continue;
    if (box.terminated >= 2 && refused) {
      e.note(FMT_COMPILE("in {} grounded conductors go on from the terminals of a device"),
             e.model.places[box.place].id);
      Value value = answer(true);
      value.place = {SubjectKind::box, box.place};
      return value;
    }
    if (box.terminated >= 2) {
      const Value lack =
          e.lacks(s, "grounded-pigtailed", "yes or no", installer,
                  "conductors end on terminals there and go on", e.model.stops[box.stop].source);
      missing = e.missing.both(missing, lack.missing);
      continue;
    }
    for (const Index stop : box.unsaid) {
      const Value lack =
          e.lacks(s, "conductors", "what becomes of them: terminated, spliced, through or looped", installer,
                  {}, e.model.stops[stop].source);
      missing = e.missing.both(missing, lack.missing);
    }
  }
  if (missing != 0) return Evaluation::lacks(missing);
  return answer(false);
}

Value grouping_asked(Evaluation& e, Subject s) {
  const Value is = e.get(Id::multiwire, s);
  if (is_no(is)) return is;
  const Circuit& circuit = e.model.circuits[s.index];
  const Index panel = panel_of(e.model, circuit);
  if (panel == none) return e.lacks(s, "protected-by", "the id of an overcurrent device", designer);
  bool shared = false, any = false;
  for (Index r = circuit.runs.first; r < circuit.runs.end(); ++r) {
    const Range& hops = e.in.routes.run_hops[r];
    for (Index h = hops.first; h < hops.end(); ++h) {
      const Hop& hop = e.in.routes.hops[h];
      if (hop.from != panel && hop.to != panel) continue;
      any = true;
      for (const Index other : e.in.routes.runs_in(hop.raceway)) {
        const Circuit& beside = e.model.circuits[e.model.runs[other].circuit];
        if (e.model.runs[other].circuit != s.index && beside.kind != CircuitKind::other) shared = true;
      }
    }
  }
  if (any && !shared) {
    e.note(FMT_COMPILE("it leaves the panel by a raceway that no other circuit takes: that shows the group"));
    return answer(false);
  }
  if (any) e.note(FMT_COMPILE("it shares the raceway by which it leaves the panel"));
  return is;
}

Value multiwire_grouped(Evaluation& e, Subject s) {
  return stated(e, s, e.model.circuits[s.index].grouped, "grouped", installer);
}

}  // namespace raceward::figure::compute
