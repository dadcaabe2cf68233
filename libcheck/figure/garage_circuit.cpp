// The branch circuit of a garage of a dwelling.
//
// Method: the receptacle outlets that each vehicle bay has are on branch circuits of their own: of the rating
// that the law names, with no other outlets but receptacles of garages and outdoors. Too few are a fault only
// where the document says that all of them are in it.
#include <algorithm>

#include "figure/circuit_use.hpp"
#include "figure/facts.hpp"
#include "figure/first_by_id.hpp"
#include "figure/machines.hpp"
#include "figure/outlets.hpp"
#include "figure/required_outlets.hpp"
#include "figure/sorted.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

/// Receptacles and luminaires by circuit; found once.
struct Outlets {
  struct At {
    Index circuit, device;
  };
  bool ready = false;
  std::vector<At> all;

  void read(const Model& model) {
    ready = true;
    for (Index d = 0; d < model.devices.size(); ++d) {
      const Device& device = model.devices[d];
      if (device.kind != DeviceKind::receptacle && device.kind != DeviceKind::luminaire) continue;
      for (Index i = device.circuits.first; i < device.circuits.end(); ++i)
        all.push_back({model.device_circuits[i], d});
    }
    std::ranges::stable_sort(all, {}, &At::circuit);
  }
};

/// What of a circuit does not hang on the garage, found once for each.
struct Garages {
  std::vector<Value> only_these;
  std::vector<Index> other;  ///< an outlet that may not be on it
  std::vector<std::uint8_t> known;
};

/// Whether a receptacle outlet may be on the circuit of a garage.
Value may_be_there(Evaluation& e, Index d) {
  const Device& device = e.model.devices[d];
  if (device.kind != DeviceKind::receptacle) return answer(false);
  const Index area = e.model.places[device.box].area;
  if (area == none) return outlets::lacks_area(e, device.box);
  const AreaUse use = e.model.areas[area].use;
  if (use == AreaUse::unstated)
    return e.lacks({SubjectKind::area, area}, "use", "a word such as garage", installer, {},
                   e.model.areas[area].source);
  return answer(use == AreaUse::garage || use == AreaUse::outdoors);
}

Value only_these(Evaluation& e, Index c, Index& other) {
  auto& outlets = e.once<Outlets>();
  if (!outlets.ready) outlets.read(e.model);
  auto& made = e.once<Garages>();
  made.only_these.resize(e.model.circuits.size());
  made.other.resize(e.model.circuits.size(), none);
  made.known.resize(e.model.circuits.size());
  if (made.known[c] == 0) {
    made.known[c] = 1;
    Value all = answer(true);
    const auto of = equal_in(outlets.all, c, &Outlets::At::circuit);
    for (const auto& [circuit, d] : of) {
      const Value one = may_be_there(e, d);
      all = both(e, all, one);
      if (is_no(one)) hold_first(e.model.devices, made.other[c], d);
    }
    if (const Index open = circuit_use(e).own(c).unplaced; open != none)
      all = both(e, all, lacks_circuit_of(e, open));
    made.only_these[c] = all;
  }
  other = made.other[c];
  return made.only_these[c];
}

/// Equipment on the circuit of a garage: of one bay, its own.
Value equipment_may(Evaluation& e, Subject s, Index c) {
  const auto places = equipment_on(e, c);
  if (places.empty()) return answer(true);
  const Parameter* const rule = e.law.parameter("garage-circuit-one-bay");
  if (rule != nullptr) e.used(rule->cite);
  const std::uint32_t bays = e.model.areas[s.index].vehicle_bays;
  if (rule == nullptr || rule->text != "equipment" || bays != 1) return answer(false);  // not law: one
  MissingId missing = 0;
  for (const Index place : places) {
    const Index area = e.model.places[place].area;
    if (area != none && area != s.index) return answer(false);
    if (area == none) missing = e.missing.both(missing, outlets::lacks_area(e, place).missing);
  }
  return missing == 0 ? answer(true, rule->cite) : Evaluation::lacks(missing);
}

Value of_its_own(Evaluation& e, Subject s, Index c) {
  const Parameter* const amperes = e.law.parameter("garage-circuit-rating", Dimension::current);
  if (amperes == nullptr) return e.lacks_law("garage-circuit-rating");
  e.used(amperes->cite);
  const Value rating = device_rating_of(e, c);
  const Value fits = rating ? answer(rating.count == amperes->value.count, amperes->cite) : rating;
  Index other = none;
  const Value alone = only_these(e, c, other), equipment = equipment_may(e, s, c);
  if (e.noting() && is_no(alone))
    e.note(FMT_COMPILE("{} is on circuit {} as well"), e.model.devices[other].id, e.model.circuits[c].id);
  if (e.noting() && is_no(equipment)) {
    Index first = none;
    for (const Index place : equipment_on(e, c)) hold_first(e.model.places, first, place);
    e.note(FMT_COMPILE("{} is on circuit {} as well"), e.model.places[first].id, e.model.circuits[c].id);
  }
  return both(e, fits, both(e, alone, equipment));
}

}  // namespace

Value garage_outlets_needed(Evaluation& e, Subject s) {
  const Value needed = e.get(Id::receptacles_needed, s);
  if (!needed || needed.count == 0) return needed;
  const outlets::Row row =
      outlets::find(e, "required-receptacles", s.index, "use", name_of(e.model.areas[s.index].use));
  return row.text("per") == "bay" ? needed : Evaluation::value(0);
}

Value garage_outlets_there(Evaluation& e, Subject s) {
  const Value needed = e.get_aside(Id::garage_outlets_needed, s);
  if (!needed || needed.count == 0) return needed;
  std::int64_t sure = 0;
  MissingId missing = 0;
  const auto receptacles = outlets::told_receptacles_in(e, s.index);
  for (auto at = receptacles.begin(); at != receptacles.end();) {
    const Index box = at->box;
    Value any = answer(false);
    for (; at != receptacles.end() && at->box == box; ++at) {
      const Device& device = e.model.devices[at->device];
      Value proper = device.circuits.count == 0 ? lacks_circuit_of(e, at->device) : answer(false);
      for (Index i = device.circuits.first; i < device.circuits.end(); ++i)
        proper = either(e, proper, of_its_own(e, s, e.model.device_circuits[i]));
      any = either(e, any, both(e, outlets::receptacle_counts(e, at->device), proper));
    }
    if (is_yes(any)) ++sure;
    missing = e.missing.both(missing, any.missing);
  }
  const std::int64_t count = number(sure).count();
  if (count < needed.count) {
    if (const Index box = outlets::receptacle_in_no_area(e); box != none)
      missing = e.missing.both(missing, outlets::lacks_area(e, box).missing);
    if (missing != 0) return Evaluation::lacks(missing);
  }
  if (e.noting()) e.note(FMT_COMPILE("outlets on circuits of their own: {}"), sure);
  return Evaluation::value(count);
}

}  // namespace raceward::figure::compute
