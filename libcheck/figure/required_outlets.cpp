// Receptacle and lighting outlets that the law wants in an area.
//
// Method: by occupancy and use of the area one of them, or one for each vehicle bay. An outlet is a place
// with one receptacle or several, of ordinary voltage and rating, not too high; or a luminaire. Too few are a
// fault only where the document says that all of them are in it.
#include "figure/required_outlets.hpp"

#include <algorithm>
#include <tuple>

#include "figure/facts.hpp"
#include "figure/first_by_id.hpp"
#include "figure/outlets.hpp"
#include "figure/sorted.hpp"
#include "figure/surroundings.hpp"

namespace raceward::figure::outlets {

using namespace installation;

namespace {

/// Outlets by the area that their box is in, and within it by box; found once.
struct ByArea {
  bool ready = false;
  std::vector<InArea> receptacles, luminaires;
  Index unplaced = none, unplaced_luminaire = none;  ///< boxes with such a device that do not say their area
  std::vector<std::uint32_t> of_use;                 ///< areas by use
  std::vector<Index> unkind;                         ///< equipment that does not say what it is
  std::vector<std::uint8_t> equipped;                ///< areas with equipment or a panel
  Index unplaced_equipment = none;                   ///< equipment or a panel that does not say its area

  /// `lamp`: the kind of equipment that is a luminaire.
  void read(const Model& model, std::string_view lamp) {
    ready = true;
    for (Index d = 0; d < model.devices.size(); ++d) {
      const DeviceKind kind = model.devices[d].kind;
      if (kind != DeviceKind::receptacle && kind != DeviceKind::luminaire) continue;
      const bool light = kind == DeviceKind::luminaire;
      const Index box = model.devices[d].box, area = model.places[box].area;
      if (area == none) hold_first(model.places, light ? unplaced_luminaire : unplaced, box);
      if (area != none) (light ? luminaires : receptacles).push_back({area, box, d});
    }
    for (Index p = 0; p < model.places.size(); ++p) {
      const Place& place = model.places[p];
      if (place.kind == PlaceKind::equipment && place.equipment_kind.empty()) unkind.push_back(p);
      if (place.kind != PlaceKind::equipment || place.equipment_kind.empty() || place.equipment_kind != lamp)
        continue;
      if (place.area == none) hold_first(model.places, unplaced_luminaire, p);
      if (place.area != none) luminaires.push_back({place.area, p, none});
    }
    const auto by = [](const InArea& at) { return std::tuple(at.area, at.box, at.device); };
    std::ranges::sort(receptacles, {}, by);
    std::ranges::sort(luminaires, {}, by);
    of_use.resize(1 + static_cast<std::size_t>(AreaUse::unstated));
    for (const installation::Area& area : model.areas) {
      const auto use = static_cast<std::size_t>(area.use);
      if (use >= of_use.size()) of_use.resize(use + 1);
      ++of_use[use];
    }
    equipped.resize(model.areas.size());
    for (Index p = 0; p < model.places.size(); ++p) {
      const Place& place = model.places[p];
      if (place.kind != PlaceKind::equipment && place.kind != PlaceKind::panel) continue;
      if (place.area != none)
        equipped[place.area] = 1;
      else
        hold_first(model.places, unplaced_equipment, p);
    }
  }
};

const ByArea& by_area(Evaluation& e) {
  auto& made = e.once<ByArea>();
  if (!made.ready) {
    const Parameter* const lamp = e.law.parameter("lighting-equipment");
    made.read(e.model, lamp == nullptr ? std::string_view() : lamp->text);
  }
  return made;
}

std::span<const InArea> of_area(const std::vector<InArea>& all, Index area) {
  return equal_in(all, area, &InArea::area);
}

}  // namespace

std::span<const InArea> receptacles_in(Evaluation& e, Index area) {
  return of_area(by_area(e).receptacles, area);
}

Told<InArea> told_receptacles_in(Evaluation& e, Index area) {
  return told_by(e, receptacles_in(e, area), [&e](const InArea& at) {
    return std::pair(id_key(e.model.places[at.box].id), id_key(e.model.devices[at.device].id));
  });
}

Index receptacle_in_no_area(Evaluation& e) { return by_area(e).unplaced; }

Value receptacle_counts(Evaluation& e, Index index) {
  const Parameter* const volts = e.law.parameter("required-receptacle-voltage", Dimension::voltage);
  const Parameter* const amperes = e.law.parameter("required-receptacle-rating", Dimension::current);
  const Parameter* const height = e.law.parameter("required-receptacle-height", Dimension::length);
  if (volts == nullptr || amperes == nullptr || height == nullptr)
    return e.lacks_law("required-receptacle-voltage");
  const Device& device = e.model.devices[index];
  const auto beyond = [](const auto& fact, const Parameter& most) {
    return fact.known() && (*fact).count() > most.value.count;
  };
  const MissingId wrong = height_contradicted(e, index, height->value.count);
  const bool too_high = wrong == 0 && beyond(device.height, *height);
  if (beyond(device.voltage, *volts) || beyond(device.rating, *amperes) || too_high) {
    if (e.noting())
      e.note(FMT_COMPILE("{} does not count: above {}, {} or {}"), device.id, volts->text, amperes->text,
             height->text);
    return answer(false);
  }
  const Subject s{SubjectKind::device, index};
  MissingId missing = wrong;
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

}  // namespace raceward::figure::outlets

namespace raceward::figure::compute {

using namespace installation;
using namespace outlets;

namespace {

/// The law's row for an area, by its use.
struct Wanted {
  Row row;
  Value lack{};
  [[nodiscard]] std::string_view per() const { return row.known() ? row.text("per") : std::string_view(); }
};

Wanted wanted(Evaluation& e, Subject s, std::string_view table) {
  const installation::Area& area = e.model.areas[s.index];
  if (e.law.table(table) == nullptr) return {{}, e.lacks_law(table)};
  if (e.model.occupancy == Occupancy::unstated) return {{}, lacks_occupancy(e)};
  if (area.use == AreaUse::unstated) return {{}, e.lacks(s, "use", "a word such as garage", installer)};
  return {find(e, table, s.index, "use", name_of(area.use)), {}};
}

/// One for the building is enough, and other areas of the same use may belong to it.
bool others_may_have_it(Evaluation& e, Subject s, const Wanted& want) {
  const auto use = static_cast<std::size_t>(e.model.areas[s.index].use);
  return want.per() == "building" && by_area(e).of_use[use] > 1;  // not law: one
}

/// Where none has, areas of which no use is said may be of it.
MissingId lacks_other_uses(Evaluation& e, Subject s, const Wanted& want) {
  constexpr auto unsaid = static_cast<std::size_t>(AreaUse::unstated);
  if (want.per() != "building" || by_area(e).of_use[unsaid] == 0 || others_may_have_it(e, s, want)) return 0;
  std::vector<MissingId> each;
  for (Index a = 0; a < e.model.areas.size(); ++a) {
    if (e.model.areas[a].use != AreaUse::unstated) continue;
    each.push_back(e.lacks({SubjectKind::area, a}, "use", "a word such as garage", installer,
                           "one in the building is enough, and it may be of the same",
                           e.model.areas[a].source)
                       .missing);
  }
  return e.missing.all(each);
}

}  // namespace

Value outlets_complete(Evaluation& e, Subject s) {
  return stated(e, s, e.model.areas[s.index].outlets_complete, "outlets-complete", designer);
}

Value receptacles_needed(Evaluation& e, Subject s) {
  const installation::Area& area = e.model.areas[s.index];
  const Wanted want = wanted(e, s, "required-receptacles");
  if (want.lack.missing != 0) return want.lack;
  const Row& row = want.row;
  if (!row.known()) return Evaluation::value(0);
  const std::string_view per = want.per();
  if (per == "unfinished" && area.finished == YesNo::unstated)
    return e.lacks(s, "finished", "yes or no", installer);
  if (per == "unfinished" && area.finished == YesNo::yes) return Evaluation::value(0);
  if (others_may_have_it(e, s, want) && attested(e, Attested::receptacle_elsewhere, area.id)) {
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
  const auto all = told_receptacles_in(e, s.index);
  std::int64_t sure = 0;
  MissingId missing = 0;
  for (auto at = all.begin(); at != all.end();) {
    const Index box = at->box;
    MissingId of_box = 0;
    bool any = false;
    for (; at != all.end() && at->box == box; ++at) {
      const Value one = receptacle_counts(e, at->device);
      any = any || is_yes(one);
      of_box = e.missing.both(of_box, one.missing);
    }
    if (any) ++sure;
    if (!any) missing = e.missing.both(missing, of_box);
  }
  if (number(sure).count() < needed.count) {
    if (const Index box = receptacle_in_no_area(e); box != none)
      missing = e.missing.both(missing, lacks_area(e, box).missing);
    const Wanted want = wanted(e, s, "required-receptacles");
    missing = e.missing.both(missing, lacks_other_uses(e, s, want));
    if (others_may_have_it(e, s, want)) {
      const Value lack = e.lacks(
          s, "attest", "<attest fact=\"receptacle-elsewhere-in-building\"> where that is so", installer,
          "one in the building is enough, and other areas may belong to it", e.model.areas[s.index].source);
      missing = e.missing.both(missing, lack.missing);
    }
    if (missing != 0) return Evaluation::lacks(missing);
  }
  if (e.noting()) e.note(FMT_COMPILE("outlets with receptacles that count: {}"), sure);
  return Evaluation::value(number(sure).count());
}

Value lighting_needed(Evaluation& e, Subject s) {
  const Wanted want = wanted(e, s, "required-lighting");
  if (want.lack.missing != 0) return want.lack;
  if (!want.row.known()) return Evaluation::value(0);
  const std::string_view id = e.model.areas[s.index].id;
  if (want.per() == "unclear" && of_area(by_area(e).luminaires, s.index).empty()) {
    return e.lacks(
        s, "use", "a word that tells more", designer,
        "of the rooms of a dwelling those to live in must be lit, and others where they hold equipment "
        "or are for storage in a basement or an attic",
        e.model.areas[s.index].source);
  }
  if (want.per() == "equipment" && by_area(e).equipped[s.index] == 0) {
    if (const Index anywhere = by_area(e).unplaced_equipment; anywhere != none)
      return outlets::lacks_area(e, anywhere);
    if (e.noting()) e.note(FMT_COMPILE("no equipment of the document is in it"));
    return Evaluation::value(0);
  }
  if (want.per() == "room" && attested(e, Attested::light_by_receptacle, id)) {
    if (e.noting()) e.note(FMT_COMPILE("attested: a receptacle that a wall switch switches lights it"));
    return Evaluation::value(0);
  }
  if (others_may_have_it(e, s, want) && attested(e, Attested::light_elsewhere, id)) {
    if (e.noting()) e.note(FMT_COMPILE("attested: another area of the same building has one"));
    return Evaluation::value(0);
  }
  return Evaluation::value(number(1).count(), want.row.cite());  // not law: one of each
}

Value lighting_there(Evaluation& e, Subject s) {
  const Value needed = e.get_aside(Id::lighting_needed, s);
  if (!needed) return needed;
  const auto all = of_area(by_area(e).luminaires, s.index);
  if (needed.count != 0 && all.empty()) {
    const Wanted want = wanted(e, s, "required-lighting");
    MissingId missing = 0;
    const auto ask = [&](std::string_view expects, std::string why) {
      const Value lack =
          e.lacks(s, "attest", expects, installer, std::move(why), e.model.areas[s.index].source);
      missing = e.missing.both(missing, lack.missing);
    };
    if (const Index box = by_area(e).unplaced_luminaire; box != none) missing = lacks_area(e, box).missing;
    if (want.per() == "room" && !receptacles_in(e, s.index).empty())
      ask("<attest fact=\"light-by-switched-receptacle\"> where that is so",
          "in place of a luminaire a receptacle may do that a wall switch switches");
    missing = e.missing.both(missing, lacks_other_uses(e, s, want));
    for (const Index p : by_area(e).unkind) {
      const Index area = e.model.places[p].area;
      if (area != none && area != s.index) continue;
      const Value lack = e.lacks({SubjectKind::equipment, p}, "kind", "what it is, such as luminaire",
                                 installer, "a luminaire there would light it", e.model.places[p].source);
      missing = e.missing.both(missing, lack.missing);
    }
    if (others_may_have_it(e, s, want))
      ask("<attest fact=\"light-elsewhere-in-building\"> where that is so",
          "one in the building is enough, and other areas may belong to it");
    if (missing != 0) return Evaluation::lacks(missing);
  }
  if (e.noting()) e.note(FMT_COMPILE("luminaires: {}"), all.size());
  return Evaluation::value(number(static_cast<std::int64_t>(all.size())).count());
}

}  // namespace raceward::figure::compute
