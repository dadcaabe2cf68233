// Receptacle outlets that the law wants in an area.
//
// Method: by occupancy and use of the area one of them, or one for each vehicle bay. An outlet is a place
// with one receptacle or several, of ordinary voltage and rating, not too high. Too few are a fault only
// where the document says that all of them are in it.
#include <algorithm>
#include <tuple>

#include "figure/facts.hpp"
#include "figure/outlets.hpp"
#include "figure/surroundings.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

/// Receptacles by the area that their box is in, and within it by box; found once.
struct ByArea {
  struct At {
    Index area, box, device;
  };
  bool ready = false;
  std::vector<At> all;
  Index unplaced = none;              ///< a box with a receptacle that does not say its area
  std::vector<std::uint32_t> of_use;  ///< areas by use

  void read(const Model& model) {
    ready = true;
    for (Index d = 0; d < model.devices.size(); ++d) {
      if (model.devices[d].kind != DeviceKind::receptacle) continue;
      const Index box = model.devices[d].box, area = model.places[box].area;
      if (area == none) unplaced = box;
      if (area != none) all.push_back({area, box, d});
    }
    std::ranges::sort(all, {}, [](const At& at) { return std::tuple(at.area, at.box, at.device); });
    for (const installation::Area& area : model.areas) {
      const auto use = static_cast<std::size_t>(area.use);
      if (use >= of_use.size()) of_use.resize(use + 1);
      ++of_use[use];
    }
  }
};

const ByArea& by_area(Evaluation& e) {
  auto& made = e.once<ByArea>();
  if (!made.ready) made.read(e.model);
  return made;
}

/// Whether the receptacle counts: yes, no, or what would tell.
Value counts(Evaluation& e, Index index) {
  const Parameter* const volts = e.law.parameter("required-receptacle-voltage", Dimension::voltage);
  const Parameter* const amperes = e.law.parameter("required-receptacle-rating", Dimension::current);
  const Parameter* const height = e.law.parameter("required-receptacle-height", Dimension::length);
  if (volts == nullptr || amperes == nullptr || height == nullptr)
    return e.lacks_law("required-receptacle-voltage");
  const Device& device = e.model.devices[index];
  const auto beyond = [](const auto& fact, const Parameter& most) {
    return fact.known() && (*fact).count() > most.value.count;
  };
  if (beyond(device.voltage, *volts) || beyond(device.rating, *amperes) || beyond(device.height, *height)) {
    if (e.noting())
      e.note(FMT_COMPILE("{} does not count: above {}, {} or {}"), device.id, volts->text, amperes->text,
             height->text);
    return answer(false);
  }
  const Subject s{SubjectKind::device, index};
  MissingId missing = 0;
  const auto ask = [&](bool known, std::string_view attribute, std::string_view expects,
                       std::string_view who) {
    if (!known)
      missing = e.missing.both(missing, e.lacks(s, attribute, expects, who, {}, device.source).missing);
  };
  ask(device.voltage.known(), "voltage", "a voltage such as 125V", marking);
  ask(device.rating.known(), "rating", "a current such as 20A", marking);
  ask(device.height.known(), "height", "a length such as 48in", installer);
  return missing != 0 ? Evaluation::lacks(missing) : answer(true, height->cite);
}

}  // namespace

Value outlets_complete(Evaluation& e, Subject s) {
  return stated(e, s, e.model.areas[s.index].outlets_complete, "outlets-complete", designer);
}

Value receptacles_needed(Evaluation& e, Subject s) {
  const installation::Area& area = e.model.areas[s.index];
  if (e.law.table("required-receptacles") == nullptr) return e.lacks_law("required-receptacles");
  if (e.model.occupancy == Occupancy::unstated) return outlets::lacks_occupancy(e);
  if (area.use == AreaUse::unstated) return e.lacks(s, "use", "a word such as garage", installer);
  const outlets::Row row = outlets::find(e, "required-receptacles", s.index, "use", name_of(area.use));
  if (!row.known()) return Evaluation::value(0);
  const std::string_view per = row.text("per");
  if (per == "unfinished" && area.finished == YesNo::unstated)
    return e.lacks(s, "finished", "yes or no", installer);
  if (per == "unfinished" && area.finished == YesNo::yes) return Evaluation::value(0);
  if (per == "building" && by_area(e).of_use[static_cast<std::size_t>(area.use)] > 1 &&  // not law: one
      attested(e, "receptacle-elsewhere-in-building", area.id)) {
    if (e.noting()) e.note(FMT_COMPILE("attested: another area of the same building has one"));
    return Evaluation::value(0);
  }
  if (per != "bay") return Evaluation::value(number(1).count(), row.cite());  // not law: one of each
  if (area.vehicle_bays == 0) return e.lacks(s, "vehicle-bays", "how many, such as 2", installer);
  if (e.noting()) e.note(FMT_COMPILE("vehicle bays: {}"), area.vehicle_bays);
  return Evaluation::value(number(area.vehicle_bays).count(), row.cite());
}

Value receptacles_there(Evaluation& e, Subject s) {
  const Value needed = e.get_aside(Id::receptacles_needed, s);
  if (!needed) return needed;
  const ByArea& by = by_area(e);
  const auto [first, last] = std::ranges::equal_range(by.all, s.index, {}, &ByArea::At::area);
  std::int64_t sure = 0;
  MissingId missing = 0;
  for (auto at = first; at != last;) {
    const Index box = at->box;
    MissingId of_box = 0;
    bool any = false;
    for (; at != last && at->box == box; ++at) {
      const Value one = counts(e, at->device);
      any = any || is_yes(one);
      of_box = e.missing.both(of_box, one.missing);
    }
    if (any) ++sure;
    if (!any) missing = e.missing.both(missing, of_box);
  }
  if (number(sure).count() < needed.count) {
    if (by.unplaced != none) missing = e.missing.both(missing, outlets::lacks_area(e, by.unplaced).missing);
    const installation::Area& area = e.model.areas[s.index];
    const outlets::Row row = outlets::find(e, "required-receptacles", s.index, "use", name_of(area.use));
    if (row.text("per") == "building" && by.of_use[static_cast<std::size_t>(area.use)] > 1) {  // not law: one
      const Value lack =
          e.lacks(s, "attest", "<attest fact=\"receptacle-elsewhere-in-building\"> where that is so",
                  installer, "one in the building is enough, and other areas may belong to it", area.source);
      missing = e.missing.both(missing, lack.missing);
    }
    if (missing != 0) return Evaluation::lacks(missing);
  }
  if (e.noting()) e.note(FMT_COMPILE("outlets with receptacles that count: {}"), sure);
  return Evaluation::value(number(sure).count());
}

}  // namespace raceward::figure::compute
