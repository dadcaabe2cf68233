// Buildings apart from the one that feeds them: what switches them off, and whether an electrode is asked
// for.
//
// Method: a panel says which building it is in, seen from what feeds it. Its overcurrent devices count as its
// disconnecting means where the law lets so many handles be one.
#include <algorithm>

#include "figure/facts.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

constexpr std::string_view a_building = "same, other or dwelling";
constexpr std::string_view a_current = "a current such as 60A";

/// The overcurrent devices of each panel. Two passes for all panels.
struct Handles {
  struct Of {
    std::uint32_t count = 0, two_wire = 0, unclear = 0;
    std::int64_t rating = 0;  // of all together
    Index unrated = none;     // a device without a rating
    Index poleless = none;    // a device that does not say its poles
  };
  bool ready = false;
  std::vector<Of> of_place;

  void read(const Model& model) {
    ready = true;
    of_place.resize(model.places.size());
    // A circuit of two wires has one ungrounded conductor, or two and no grounded one.
    std::vector<std::uint8_t> grounded(model.overcurrent_devices.size()), known(grounded.size());
    for (const Circuit& circuit : model.circuits) {
      if (circuit.overcurrent_device == none) continue;
      known[circuit.overcurrent_device] = 1;
      for (Index c = circuit.conductors.first; c < circuit.conductors.end(); ++c)
        if (model.conductors[c].role == Role::grounded) grounded[circuit.overcurrent_device] = 1;
    }
    for (Index d = 0; d < model.overcurrent_devices.size(); ++d) {
      const OvercurrentDevice& device = model.overcurrent_devices[d];
      Of& of = of_place[device.panel];
      ++of.count;
      if (device.poles == 1 || (device.poles == 2 && known[d] != 0 && grounded[d] == 0)) {
        ++of.two_wire;
      } else if (device.poles == 0 || (device.poles == 2 && known[d] == 0)) {
        ++of.unclear;
        if (device.poles == 0) of.poleless = d;
      }
      if (device.rating.known()) {
        of.rating += (*device.rating).count();
      } else {
        of.unrated = d;
      }
    }
  }
};

const Handles::Of& handles_of(Evaluation& e, Subject panel) {
  auto& handles = e.once<Handles>();
  if (!handles.ready) handles.read(e.model);
  return handles.of_place[panel.index];
}

Value apart(Evaluation& e, Subject s) {
  const Place& panel = e.model.places[s.index];
  if (panel.building == Building::unstated) {
    // A service is not fed by another building.
    if (panel.grounded_by == GroundedBy::service) return answer(false);
    return e.lacks(s, "building", a_building, installer);
  }
  e.note(FMT_COMPILE("stated: building is {}"), name_of(panel.building));
  return answer(panel.building != Building::same);
}

/// Whether its overcurrent devices together may be what switches it off.
Value few_handles(Evaluation& e, Subject s) {
  const Parameter* const most = e.law.parameter("building-disconnects", Dimension::none);
  if (most == nullptr) return e.lacks_law("building-disconnects");
  const std::uint32_t count = handles_of(e, s).count;
  e.used(most->cite);
  e.note(FMT_COMPILE("overcurrent devices in it: {}; up to {} may together switch it off ({})"), count,
         most->text, e.cited(most->cite));
  return answer(count != 0 && number(count).count() <= most->value.count, most->cite);
}

Value lacks_disconnect(Evaluation& e, Subject s) {
  return e.lacks(s, "disconnect", "main, ahead or none", installer);
}

/// Ratings that the law asks for, by what the panel supplies.
struct Least {
  bool ready = false;
  Value one, two, dwelling, other;

  void read(Evaluation& e) {
    ready = true;
    const Table* const t = e.law.table("building-disconnect-rating");
    const auto row = [&](std::string_view key) {
      const std::uint32_t at = t == nullptr ? Table::none : t->find({key});
      if (at == Table::none) return e.lacks_law("building-disconnect-rating");
      return Evaluation::value(t->count(at, t->column("least", Dimension::current)), t->cite(at));
    };
    one = row("one-circuit");
    two = row("two-circuits");
    dwelling = row("dwelling");
    other = row("other");
  }
};

}  // namespace

Value building_disconnect_asked(Evaluation& e, Subject s) { return apart(e, s); }

Value building_disconnect(Evaluation& e, Subject s) {
  const Disconnect stated_as = e.model.places[s.index].disconnect;
  if (stated_as == Disconnect::main || stated_as == Disconnect::ahead) {
    e.note(FMT_COMPILE("stated: disconnect is {}"), name_of(stated_as));
    return answer(true);
  }
  const Value few = few_handles(e, s);
  if (!few || few.count != 0 || stated_as == Disconnect::none) return few;
  return lacks_disconnect(e, s);
}

Value building_disconnect_rating(Evaluation& e, Subject s) {
  const Place& panel = e.model.places[s.index];
  if (panel.disconnect == Disconnect::main) {
    return given(e, s, panel.main, Unit::ampere, "main", a_current, marking);
  }
  if (panel.disconnect == Disconnect::ahead) {
    return given(e, s, panel.disconnect_rating, Unit::ampere, "disconnect-rating", a_current, marking);
  }
  if (panel.disconnect == Disconnect::unstated && panel.disconnect_rating.known()) {
    return lacks_disconnect(e, s);
  }
  const Value few = few_handles(e, s);
  if (!few) return few;
  const Handles::Of& of = handles_of(e, s);
  if (few.count == 0) {
    return panel.disconnect == Disconnect::none
               ? e.lacks(s, "disconnect", "main, ahead or none", installer,
                         "the rating of what switches it off is asked for, and nothing does")
               : lacks_disconnect(e, s);
  }
  if (of.unrated != none) {
    return e.lacks({SubjectKind::overcurrent_device, of.unrated}, "rating", "a current such as 20A", marking);
  }
  if (e.noting()) e.note(FMT_COMPILE("all of them together: {}"), text_of({of.rating, Unit::ampere}));
  return Evaluation::value(of.rating);
}

Value building_disconnect_rating_least(Evaluation& e, Subject s) {
  auto& least = e.once<Least>();
  if (!least.ready) least.read(e);
  const Place& panel = e.model.places[s.index];
  const Handles::Of& of = handles_of(e, s);
  const bool dwelling = panel.building == Building::dwelling;
  if (of.count == 0) {
    return e.lacks(s, "overcurrent-device", "its overcurrent devices", installer,
                   "what rating is asked for depends on how many circuits it supplies");
  }
  if (panel.building == Building::unstated) {
    const Value has = e.get_aside(Id::building_disconnect_rating, s);
    if (!has || !least.dwelling || has.count < least.dwelling.count) {
      return e.lacks(s, "building", a_building, installer);
    }
    e.note(FMT_COMPILE("enough for a building of any kind"));
    return least.dwelling;
  }
  Value needed = dwelling ? least.dwelling : least.other;
  if (of.count == 1) needed = least.one;
  if (of.count == 2 && of.two_wire + of.unclear == 2) {
    // Where a device may be of more wires, what is enough for those is enough.
    const Value has = of.unclear == 0 ? Value{} : e.get_aside(Id::building_disconnect_rating, s);
    const bool decides = of.unclear != 0 && has && has.count >= least.two.count && has.count < needed.count;
    if (decides && of.poleless != none) {
      return e.lacks({SubjectKind::overcurrent_device, of.poleless}, "poles", "how many, 1 or 2", marking);
    }
    if (decides) {
      return e.lacks(s, "overcurrent-device", "a circuit on each of its overcurrent devices", designer,
                     "whether they are circuits of two wires decides about the rating");
    }
    if (of.unclear == 0 || !has || has.count < least.two.count) needed = least.two;
  }
  if (!needed) return needed;
  e.used(needed.cite);
  if (e.noting()) {
    e.note(FMT_COMPILE("overcurrent devices in it: {}; at least {} ({})"), of.count,
           text_of({needed.count, Unit::ampere}), e.cited(needed.cite));
  }
  return needed;
}

Value building_electrode_asked(Evaluation& e, Subject s) {
  const Place& panel = e.model.places[s.index];
  // A single branch circuit that brings an equipment grounding conductor needs none.
  const bool branch = panel.fed_by != none && e.model.circuits[panel.fed_by].kind == CircuitKind::branch;
  if (branch && panel.building != Building::same) {
    const Value wires = e.get(Id::grounding_conductors, {SubjectKind::circuit, panel.fed_by});
    if (wires && wires.count != 0) {
      e.note(FMT_COMPILE("one branch circuit with an equipment grounding conductor feeds it"));
      return answer(false);
    }
  }
  return apart(e, s);
}

}  // namespace raceward::figure::compute
