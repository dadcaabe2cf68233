// What a document may say word by word and yet not mean: things that do not fit together.
#include <fmt/format.h>

#include <algorithm>
#include <tuple>

#include "document/links.hpp"
#include "quantity/fault.hpp"

namespace raceward::document {

using namespace installation;
using installation::Place;

namespace {

bool ends_at(const Raceway& raceway, Index place) {
  return raceway.ends[0].place == place || raceway.ends[1].place == place;
}

void check_raceways(const Model& model, Faults& faults) {
  for (const Raceway& raceway : model.raceways) {
    const Index from = raceway.ends[0].place;
    if (from == none || from != raceway.ends[1].place) continue;
    faults.add(locate_attribute(model, raceway.source, "to"),
               fmt::format("raceway {} joins {} to itself; it must join two places", raceway.id,
                           model.places[from].id));
  }
}

void check_spacings(const Model& model, Faults& faults) {
  for (std::size_t place = 0; place < model.places.size(); ++place) {
    const Range range = model.places[place].spacings;
    for (Index i = range.first; i < range.end(); ++i) {
      const EntrySpacing& spacing = model.spacings[i];
      if (spacing.first == none || spacing.second == none) continue;
      const auto wrong = [&](std::string message) {
        faults.add(locate_attribute(model, spacing.source, "between"), std::move(message));
      };
      if (spacing.first == spacing.second) {
        wrong("a spacing lies between two raceways; these are one");
        continue;
      }
      for (const Index each : {spacing.first, spacing.second})
        if (!ends_at(model.raceways[each], static_cast<Index>(place)))
          wrong(fmt::format("raceway {} does not end at box {}", model.raceways[each].id,
                            model.places[place].id));
    }
  }
}

void check_jumpers(const Model& model, Faults& faults) {
  for (const BondingJumper& jumper : model.bonding_jumpers) {
    if (jumper.from == none) continue;
    if (jumper.from == jumper.to)
      faults.add(
          locate_attribute(model, jumper.source, "to"),
          fmt::format("bonding jumper {} joins {} to itself", jumper.id, model.places[jumper.from].id));
    if (jumper.raceway == none) continue;
    const Raceway& raceway = model.raceways[jumper.raceway];
    if (raceway.ends[0].place == none || raceway.ends[1].place == none) continue;
    if (!ends_at(raceway, jumper.from) && (jumper.to == none || !ends_at(raceway, jumper.to)))
      faults.add(locate_attribute(model, jumper.source, "raceway"),
                 fmt::format("raceway {} ends at no place of bonding jumper {}", raceway.id, jumper.id));
  }
}

// Each finding is waived once: else one waiver would go on where the other has expired.
void check_waivers(const Model& model, Faults& faults) {
  std::vector<const Waiver*> sorted;
  for (const Waiver& waiver : model.waivers) {
    if (!waiver.on.empty() && !waiver.until.empty() && waiver.until < waiver.on)
      faults.add(locate_attribute(model, waiver.source, "until"),
                 fmt::format("until {} comes before on {}; write the last day on which the waiver holds",
                             waiver.until, waiver.on));
    if (!waiver.rule.empty() && !waiver.of.empty()) sorted.push_back(&waiver);
  }
  const auto finding = [](const Waiver* w) { return std::tie(w->of, w->rule); };
  std::stable_sort(sorted.begin(), sorted.end(),
                   [&](const Waiver* a, const Waiver* b) { return finding(a) < finding(b); });
  for (std::size_t i = 1; i < sorted.size(); ++i) {
    const Waiver &first = *sorted[i - 1], &second = *sorted[i];
    if (finding(&first) == finding(&second))
      faults.add(second.source, fmt::format("line {} waives {} of {} already; leave one of the two",
                                            locate(model, first.source).line, second.rule, second.of));
  }
}

// Follows what each feeds from; `next` gives none where that is outside the document. Reports one of each
// ring.
template <class Next, class Report>
void find_rings(std::size_t count, const Next& next, const Report& report) {
  std::vector<Index> seen_from(count, none);
  for (std::size_t start = 0; start < count; ++start) {
    auto at = static_cast<Index>(start);
    while (at != none && seen_from[at] == none) {
      seen_from[at] = static_cast<Index>(start);
      at = next(at);
    }
    if (at != none && seen_from[at] == start) report(at);
  }
}

void check_panels(const Model& model, Faults& faults) {
  // Of places with fed-by: whether the circuit stops there.
  std::vector<std::uint8_t> reached;
  for (const Place& place : model.places)
    if (place.fed_by != none) reached.resize(model.places.size());
  if (reached.empty()) return;
  for (const Run& run : model.runs)
    for (Index i = run.stops.first; i < run.stops.end(); ++i)
      if (const Index at = model.stops[i].place; at != none && model.places[at].fed_by == run.circuit)
        reached[at] = 1;
  for (std::size_t i = 0; i < model.places.size(); ++i) {
    const Place& panel = model.places[i];
    if (panel.fed_by != none && reached[i] == 0)
      faults.add(
          locate_attribute(model, panel.source, "fed-by"),
          fmt::format("circuit {} has no stop at panel {}", model.circuits[panel.fed_by].id, panel.id));
  }
  const auto feeder = [&](Index place) {
    const Index circuit = model.places[place].fed_by;
    if (circuit == none || model.circuits[circuit].overcurrent_device == none) return none;
    return model.overcurrent_devices[model.circuits[circuit].overcurrent_device].panel;
  };
  find_rings(model.places.size(), feeder, [&](Index place) {
    faults.add(locate_attribute(model, model.places[place].source, "fed-by"),
               fmt::format("panel {} is fed by itself, through circuit {}", model.places[place].id,
                           model.circuits[model.places[place].fed_by].id));
  });
}

void check_plugs(const Model& model, Faults& faults) {
  std::vector<Index> plugged;  // equipment
  for (Index p = 0; p < model.places.size(); ++p)
    if (const Place& at = model.places[p];
        at.kind == PlaceKind::equipment && model.machines[at.machine].plugged_into != none)
      plugged.push_back(p);
  if (plugged.empty()) return;
  std::vector<Index> fed(model.places.size(), none);  // by place: a circuit that comes there
  for (const Run& run : model.runs) {
    if (model.circuits[run.circuit].kind == CircuitKind::other) continue;
    for (Index s = run.stops.first; s < run.stops.end(); ++s)
      if (const Index at = model.stops[s].place; at != none) fed[at] = run.circuit;
  }
  std::vector<std::uint32_t> taken(model.devices.size());
  for (const Index p : plugged) {
    const Place& place = model.places[p];
    const Index receptacle = model.machines[place.machine].plugged_into;
    const Device& device = model.devices[receptacle];
    const auto wrong = [&](std::string message) {
      faults.add(locate_attribute(model, place.source, "plugged-into"), std::move(message));
    };
    if (device.kind != DeviceKind::receptacle && device.kind != DeviceKind::unstated)
      wrong(
          fmt::format("{} is a {}; equipment is plugged into a receptacle", device.id, name_of(device.kind)));
    if (fed[p] != none)
      wrong(
          fmt::format("circuit {} comes to {}, which is wired then and not plugged in; leave one of the two",
                      model.circuits[fed[p]].id, place.id));
    if (++taken[receptacle] == device.receptacles + 1U && device.receptacles != 0)
      wrong(fmt::format(
          "{} holds {}, and more is plugged in; write what takes most", device.id,
          device.receptacles == 1 ? "one receptacle" : fmt::format("{} receptacles", device.receptacles)));
  }
}

}  // namespace

void check_links(const Model& model, Faults& faults) {
  check_raceways(model, faults);
  check_spacings(model, faults);
  check_jumpers(model, faults);
  check_waivers(model, faults);
}

void check_feeds(const Model& model, Faults& faults) {
  check_panels(model, faults);
  check_plugs(model, faults);
  find_rings(
      model.devices.size(), [&](Index device) { return model.devices[device].line_from; },
      [&](Index device) {
        faults.add(locate_attribute(model, model.devices[device].source, "fed-from-load-of"),
                   fmt::format("device {} is fed from its own load terminals", model.devices[device].id));
      });
}

void report_routes(const Model& model, const Routes& routes, Faults& faults) {
  for (const RouteFault& fault : routes.faults) {
    if (faults.full()) {
      faults.count();
      continue;
    }
    const Stop& stop = model.stops[fault.stop];
    const std::string_view here = model.places[stop.place].id;
    // Runs hold their stops in order. A first stop has none before it; its fault is to have a via.
    const auto behind = std::upper_bound(model.runs.begin(), model.runs.end(), fault.stop,
                                         [](Index stop, const Run& run) { return stop < run.stops.first; });
    const bool first = behind[-1].stops.first == fault.stop;
    const std::string_view before =
        first ? std::string_view{} : model.places[model.stops[fault.stop - 1].place].id;
    const auto add = [&](std::string_view attribute, std::string message) {
      faults.add(locate_attribute(model, stop.source, attribute), std::move(message));
    };
    switch (fault.kind) {
      case RouteFault::Kind::not_joined:
        add("place", here == before ? fmt::format("the run stops twice in a row at {}", here)
                                    : fmt::format("no raceways lead from {} to {}", before, here));
        break;
      case RouteFault::Kind::via_does_not_lead:
        if (first)
          add("via", fmt::format("{} is the run's first stop; nothing leads to it", here));
        else
          add("via", fmt::format("raceway {} does not lead on from {} to {} here",
                                 model.raceways[fault.via].id, before, here));
        break;
      case RouteFault::Kind::too_long:
        add("place",
            fmt::format("the way from {} to {} is too long to follow with all others of this document; write "
                        "stops between them",
                        before, here));
        break;
    }
  }
}

}  // namespace raceward::document
