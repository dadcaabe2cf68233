#include "figure/devices_by_box.hpp"

#include <algorithm>
#include <functional>
#include <string_view>
#include <utility>

#include "figure/box_covers.hpp"
#include "figure/run_contents.hpp"
#include "figure/sorted.hpp"
#include "figure/visits_on.hpp"
#include "figure/words_of_law.hpp"
#include "installation/lists.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

struct ByBox {
  bool ready = false;
  Lists devices;
};

/// Devices by place and circuit, and then by id.
struct ByCircuit {
  bool ready = false;
  std::vector<std::pair<Index, Index>> of;
  std::vector<Index> devices;  // beside them

  void read(const Model& model) {
    ready = true;
    struct On {
      std::pair<Index, Index> of;
      Index device;
    };
    std::vector<On> all;
    for (Index d = 0; d < model.devices.size(); ++d) {
      const Device& device = model.devices[d];
      if (device.circuits.count == 0) all.push_back({{device.box, none}, d});
      for (Index i = device.circuits.first; i < device.circuits.end(); ++i)
        all.push_back({{device.box, model.device_circuits[i]}, d});
    }
    std::ranges::sort(all, {}, [&](const On& one) {
      return std::pair(one.of, std::string_view(model.devices[one.device].id));
    });
    for (const On& one : all) {
      if (!of.empty() && of.back() == one.of && devices.back() == one.device) continue;
      of.push_back(one.of);
      devices.push_back(one.device);
    }
  }
};

/// Boxes whose opening holds devices by their yokes, however they protect.
bool holds_yokes(BoxKind kind) {
  return kind != BoxKind::unstated && kind != BoxKind::other && kind != BoxKind::pull &&
         kind != BoxKind::floor_box;
}

/// Goes through what stops in a device's box of its circuits, until `use` says so.
template <class Use>
bool any_stop(Evaluation& e, const Device& d, const Use& use) {
  for (Index i = d.circuits.first; i < d.circuits.end(); ++i) {
    for (const Index v : visits_on(e, d.box, e.model.device_circuits[i])) {
      const Visit& visit = e.in.routes.visits[v];
      if (visit.stop != none && use(visit)) return true;
    }
  }
  return false;
}

}  // namespace

std::span<const Index> devices_in(Evaluation& e, Index place) {
  auto& by = e.once<ByBox>();
  if (!by.ready) {
    by.ready = true;
    by.devices = lists_of(e.model.places.size(), [&](auto put) {
      for (Index i = 0; i < e.model.devices.size(); ++i)
        if (e.model.devices[i].box != none) put(e.model.devices[i].box, i);
    });
    by.devices.sort([&](Index d) { return e.model.devices[d].id; });
  }
  return by.devices.at(place);
}

std::span<const Index> devices_on(Evaluation& e, Index place, Index circuit) {
  auto& by = e.once<ByCircuit>();
  if (!by.ready) by.read(e.model);
  const auto here = equal_in(by.of, std::pair(place, circuit), std::identity{});
  return {by.devices.data() + (here.data() - by.of.data()), here.size()};
}

MissingId yoke_denied(Evaluation& e, Index device) {
  const Device& d = e.model.devices[device];
  const Subject at{SubjectKind::device, device};
  if (!d.no_yoke) return 0;
  if (d.gangs != 0)
    return e
        .lacks(at, "gangs", "how many gangs its width takes", installer,
               "it is said to have no yoke, and to take gangs", d.source)
        .missing;
  // What protects people from a box of an outlet is made as a receptacle without openings.
  const bool blank = d.kind == DeviceKind::protective && d.protection == Protection::class_a &&
                     d.box != none && holds_yokes(e.model.places[d.box].box_kind);
  const bool held = d.kind == DeviceKind::receptacle || d.kind == DeviceKind::switch_ ||
                    d.kind == DeviceKind::dimmer || blank;
  if (!held) return 0;
  return e
      .lacks(at, "yokes", "how many yokes or straps hold it", installer,
             fmt::format(FMT_COMPILE("a {} is held by a yoke or strap, and is said to have none"),
                         name_of(d.kind)),
             d.source)
      .missing;
}

MissingId size_denied(Evaluation& e, Index device) {
  const Device& d = e.model.devices[device];
  if (d.conductor_size == ConductorSize::unstated || d.box == none) return 0;
  ConductorSize smallest{};
  const bool any = any_stop(e, d, [&](const Visit& visit) {
    if (may_splice(visit, e.model.stops[visit.stop], Untreated::spliced)) return true;
    const RunContents& run = run_contents(e, visit.run);
    if (run.missing != 0) return true;
    if (run.other.count == 0) return false;
    const ConductorSize first = size_count_of(e, run.other.first).size;  // by rising size
    smallest = smallest == ConductorSize::unstated ? first : std::min(smallest, first);
    return false;
  });
  if (any) return 0;
  if (smallest == ConductorSize::unstated || smallest <= d.conductor_size) return 0;
  return e
      .lacks(
          {SubjectKind::device, device}, "conductor-size", "the size of the largest conductor on it",
          installer,
          fmt::format(FMT_COMPILE("{} is said to be the largest on it, and the conductors that its circuits "
                                  "bring are of {} at least"),
                      name_of(d.conductor_size), name_of(smallest)),
          d.source)
      .missing;
}

ConductorSize least_piece(const Evaluation& e) {
  const Table* const t = e.law.table("least-conductor");
  const std::uint32_t row = t == nullptr ? Table::none : t->find({name_of(ConductorMaterial::copper)});
  return row == Table::none ? ConductorSize{} : term_spelt<ConductorSize>(t->text(row, t->column("size")));
}

ConductorSize least_piece_on(Evaluation& e, Index device, Untreated as) {
  const Device& d = e.model.devices[device];
  ConductorSize least = least_piece(e);
  if (least == ConductorSize::unstated) return least;
  any_stop(e, d, [&](const Visit& visit) {
    if (!may_splice(visit, e.model.stops[visit.stop], as))
      least = std::max(least, run_contents(e, visit.run).largest);
    return false;
  });
  return least;
}

bool luminaire_in(Evaluation& e, Index index) {
  const Place& place = e.model.places[index];
  if (place.kind == PlaceKind::equipment) {
    const Parameter* const lamp = e.law.parameter("lighting-equipment");
    return lamp != nullptr && place.equipment_kind == lamp->text;
  }
  if (place.kind != PlaceKind::box) return false;
  const auto devices = devices_in(e, index);
  return std::any_of(devices.begin(), devices.end(),
                     [&](Index d) { return e.model.devices[d].kind == DeviceKind::luminaire; });
}

MissingId gangs_denied(Evaluation& e, Index box) {
  const Place& place = e.model.places[box];
  // Of a box known by its marked volume alone nobody needs to say its gangs.
  if (!takes_yokes(place.box_kind) || place.box_size == BoxSize::unstated) return 0;
  const bool single = place.box_size == BoxSize::single;
  const std::int64_t has = single ? 1 : place.gangs;  // not law: its word
  std::int64_t taken = 0;
  for (const Index i : devices_in(e, box)) {
    const Device& d = e.model.devices[i];
    // Those hang from a box or stand in it, and their gangs tell of no opening.
    if (d.kind == DeviceKind::terminal_block || d.kind == DeviceKind::luminaire) continue;
    taken += std::max(d.gangs, d.yokes);  // each yoke has a gang of its own
  }
  if (taken <= has) return 0;
  return e
      .lacks({SubjectKind::box, box}, single ? "size" : "gangs",
             single ? "the size of a box of several gangs" : "how many gangs it has", installer,
             fmt::format(FMT_COMPILE("its devices take {} gangs, and it has {}"), taken, has), place.source)
      .missing;
}

}  // namespace raceward::figure
