// How the runs of a circuit hang together.
//
// Method: runs that may bring current are one where both are cut or looped at a place. Whatever hangs
// together with a panel is fed. What is not has conductors that come from nowhere: a stop of another run is
// not written, or says that it passes.
#include "figure/run_joins.hpp"

#include <algorithm>
#include <span>
#include <unordered_set>
#include <utility>
#include <vector>

#include "figure/current_carrying.hpp"
#include "figure/devices_by_box.hpp"
#include "figure/visits_on.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

enum Group : std::uint8_t { load = 1, grounded = 2, grounding = 4 };  // not law: bits

std::uint8_t groups_of(const Model& model, const Run& run) {
  std::uint8_t out = 0;
  for (Index i = run.conductors.first; i < run.conductors.end(); ++i) {
    const Conductor& c = model.conductors[model.run_conductors[i]];
    const Role role = c.role;
    if (model.conductor_kinds[c.kind].cable || role == Role::unstated) return load | grounded | grounding;
    if (takes_load(role)) out |= load;
    if (role == Role::grounded) out |= grounded;
    if (role == Role::equipment_grounding) out |= grounding;
  }
  return out;
}

/// Runs that nothing brings conductors to; found once a check.
class Unfed {
 public:
  bool ready = false;
  std::vector<std::uint8_t> run;

  void read(const Model& model) {
    ready = true;
    run.assign(model.runs.size(), 0);
    head_.resize(model.runs.size());
    for (const Circuit& circuit : model.circuits) {
      if (circuit.kind == CircuitKind::other || circuit.runs.count < 2) continue;  // not law: one alone
      if (!comes_from_panel(model, circuit)) continue;
      read(model, circuit, load);
      read(model, circuit, grounded);
    }
  }

 private:
  static bool comes_from_panel(const Model& model, const Circuit& circuit) {
    for (Index r = circuit.runs.first; r < circuit.runs.end(); ++r) {
      const Range& stops = model.runs[r].stops;
      for (Index s = stops.first; s < stops.end(); ++s)
        if (at_panel(model, model.stops[s])) return true;
    }
    return false;
  }
  static bool at_panel(const Model& model, const Stop& stop) {
    return stop.place != none && model.places[stop.place].kind == PlaceKind::panel;
  }
  Index find(Index r) {
    while (head_[r] != r) r = head_[r] = head_[head_[r]];
    return r;
  }
  void read(const Model& model, const Circuit& circuit, Group group) {
    at_.clear();
    fed_.clear();
    for (Index r = circuit.runs.first; r < circuit.runs.end(); ++r) {
      head_[r] = r;
      if ((groups_of(model, model.runs[r]) & group) == 0) continue;
      const Range& stops = model.runs[r].stops;
      for (Index s = stops.first; s < stops.end(); ++s) {
        const Stop& stop = model.stops[s];
        if (at_panel(model, stop)) fed_.push_back(r);
        if (stop.place != none && stop.ungrounded != StopTreatment::through) at_.emplace_back(stop.place, r);
      }
    }
    // Grounded conductors may be joined with those of another circuit.
    if (group == grounded && fed_.empty()) return;
    std::ranges::sort(at_);
    for (std::size_t i = 1; i < at_.size(); ++i)
      if (at_[i].first == at_[i - 1].first) head_[find(at_[i].second)] = find(at_[i - 1].second);
    for (const Index r : fed_) head_[find(r)] = find(fed_.front());
    for (Index r = circuit.runs.first; r < circuit.runs.end(); ++r) {
      if ((groups_of(model, model.runs[r]) & group) == 0) continue;
      if (fed_.empty() || find(r) != find(fed_.front())) run[r] = 1;
    }
  }

  std::vector<Index> head_, fed_;
  std::vector<std::pair<Index, Index>> at_;  // place, run
};

/// Conductors of a circuit at a place, by whether their run stops there.
struct Here {
  Index circuit = none;
  std::uint8_t stopped = 0, passing = 0;
  Index run = none;  // one that passes
};

std::vector<Here> circuits_at(const Evaluation& e, Index place) {
  std::vector<Here> out;
  for (const Visit& visit : e.in.routes.visits_at(place)) {
    const Run& run = e.model.runs[visit.run];
    const std::uint8_t groups = groups_of(e.model, run);
    const bool stops = visit.stop != none;
    out.push_back({run.circuit, stops ? groups : std::uint8_t{0}, stops ? std::uint8_t{0} : groups,
                   stops ? none : visit.run});
  }
  std::ranges::sort(out, {}, [](const Here& h) { return std::pair(h.circuit, h.run); });
  std::size_t kept = 0;
  for (const Here& one : out) {
    if (kept == 0 || out[kept - 1].circuit != one.circuit) {
      out[kept++] = one;
      continue;
    }
    Here& last = out[kept - 1];
    last.stopped |= one.stopped;
    last.passing |= one.passing;
    last.run = std::min(last.run, one.run);
  }
  out.resize(kept);
  return out;
}

bool comes_to_panel(const Model& model, const Run& run) {
  const auto first = model.stops.begin() + run.stops.first;
  return std::any_of(first, first + run.stops.count, [&](const Stop& s) {
    return s.place != none && model.places[s.place].kind == PlaceKind::panel;
  });
}

bool share_conductor(const Model& model, const Run& a, const Run& b) {
  const auto of = [&](const Run& r) {
    return std::span(model.run_conductors).subspan(r.conductors.first, r.conductors.count);
  };
  return std::ranges::any_of(of(a), [&](Index c) {
    const Role role = model.conductors[c].role;
    return (takes_load(role) || role == Role::grounded) && std::ranges::find(of(b), c) != of(b).end();
  });
}

/// Whether a run that begins or ends spliced at a place finds its conductors there only in runs that pass.
bool spliced_with_what_passes(Evaluation& e, const Visit& visit) {
  const Model& model = e.model;
  const Run& run = model.runs[visit.run];
  const Stop& stop = model.stops[visit.stop];
  if (stop.ungrounded != StopTreatment::spliced || model.circuits[run.circuit].runs.count < 2 ||  // not law
      comes_to_panel(model, run))
    return false;
  bool passes = false;
  for (const Index v : visits_on(e, stop.place, run.circuit)) {
    const Visit& other = e.in.routes.visits[v];
    const Run& r = model.runs[other.run];
    if (other.run == visit.run) continue;
    const bool here = other.stop != none;
    if (here && model.stops[other.stop].ungrounded != StopTreatment::through) {
      if ((groups_of(model, r) & groups_of(model, run) & (load | grounded)) != 0) return false;
    } else if (share_conductor(model, r, run)) {
      // Said to pass a box with a device: that one may be what they are spliced to.
      passes = passes || !here || devices_in(e, stop.place).empty();
    }
  }
  return passes;
}

}  // namespace

MissingId lacks_stop(Evaluation& e, Index run, Index place) {
  const Run& r = e.model.runs[run];
  return e
      .lacks(
          {SubjectKind::circuit, r.circuit}, "stop",
          "a stop of each of its runs there, with how its conductors are treated", designer,
          fmt::format(FMT_COMPILE("a run of it passes {} without a stop, and its device or other conductors "
                                  "of it end there"),
                      e.model.places[place].id),
          e.model.circuits[r.circuit].source)
      .missing;
}

namespace {

/// What a device is on passes its place unbroken in all runs of the circuit: one of the two is not so.
MissingId passes_device(Evaluation& e, Index place, Index device, Index circuit) {
  MissingId missing = 0;
  for (const Index v : visits_on(e, place, circuit)) {
    const Visit& visit = e.in.routes.visits[v];
    if ((groups_of(e.model, e.model.runs[visit.run]) & load) == 0) continue;
    if (visit.stop == none || !visit.arrives || !visit.leaves) return 0;  // asked by others
    const Stop& stop = e.model.stops[visit.stop];
    if (stop.ungrounded != StopTreatment::through) return 0;
    const Value lack =
        e.lacks({SubjectKind::circuit, circuit}, "conductors", "terminated, spliced or looped", installer,
                fmt::format(FMT_COMPILE("{} is on it, and its conductors are said to pass {} unbroken"),
                            e.model.devices[device].id, e.model.places[place].id),
                stop.source);
    missing = e.missing.both(missing, lack.missing);
  }
  return missing;
}

}  // namespace

MissingId unstopped_at(Evaluation& e, Index place) {
  const auto devices = devices_in(e, place);
  if (devices.empty()) return 0;
  const std::vector<Here> here = circuits_at(e, place);
  MissingId through = 0;
  std::unordered_set<Index> told;  // circuits: the first of its devices tells
  for (const Index d : devices) {
    const Range& of = e.model.devices[d].circuits;
    for (Index i = of.first; i < of.end(); ++i) {
      const Index circuit = e.model.device_circuits[i];
      if (told.insert(circuit).second) through = e.missing.both(through, passes_device(e, place, d, circuit));
    }
  }
  if (through != 0) return through;
  if (std::ranges::none_of(here, [](const Here& h) { return h.passing != 0; })) return 0;
  MissingId missing = 0;
  for (const Index d : devices) {
    const Range& of = e.model.devices[d].circuits;
    for (Index i = of.first; i < of.end(); ++i) {
      const Index circuit = e.model.device_circuits[i];
      const auto found = std::ranges::lower_bound(here, circuit, {}, &Here::circuit);
      if (found == here.end() || found->circuit != circuit) continue;
      // What none of the runs stops for is asked of the device.
      if (found->stopped == 0 || (found->passing & ~found->stopped) == 0) continue;
      missing = e.missing.both(missing, lacks_stop(e, found->run, place));
    }
  }
  return missing;
}

MissingId fed_by_nothing(Evaluation& e, const Visit& visit) {
  if (visit.stop == none || (visit.arrives && visit.leaves)) return 0;
  Unfed& unfed = e.once<Unfed>();
  if (!unfed.ready) unfed.read(e.model);
  if (unfed.run[visit.run] == 0 && !spliced_with_what_passes(e, visit)) return 0;
  const Run& run = e.model.runs[visit.run];
  const Stop& stop = e.model.stops[visit.stop];
  return e
      .lacks({SubjectKind::circuit, run.circuit}, "run",
             "the run that brings its conductors, with a stop there that does not pass", designer,
             fmt::format(FMT_COMPILE("a run of it begins or ends in {}, and none that comes from a panel is "
                                     "spliced, looped or ends where it does"),
                         e.model.places[stop.place].id),
             e.model.circuits[run.circuit].source)
      .missing;
}

}  // namespace raceward::figure
