// Panels: the space to work at them, their handles, their directory, their grounded conductors.
#include <algorithm>

#include "figure/facts.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

constexpr std::string_view a_depth = "a length such as 36in";

/// Highest voltage to ground of the circuits that begin at each panel. One pass for all panels.
struct PanelVoltages {
  struct Of {
    std::int64_t highest = 0;
    MissingId missing = 0;
    bool any = false;
  };
  std::vector<Of> of_place;

  const Of& at(Evaluation& e, Subject panel) {
    if (of_place.empty()) fill(e);
    return of_place[panel.index];
  }

 private:
  void fill(Evaluation& e) {
    of_place.resize(e.model.places.size());
    for (Index c = 0; c < e.model.circuits.size(); ++c) {
      const Circuit& circuit = e.model.circuits[c];
      if (circuit.overcurrent_device == none) continue;
      Of& of = of_place[e.model.overcurrent_devices[circuit.overcurrent_device].panel];
      of.any = true;
      if (circuit.to_ground.known()) {
        of.highest = std::max(of.highest, (*circuit.to_ground).count());
        continue;
      }
      const Value asked = e.lacks({SubjectKind::circuit, c}, "voltage-to-ground", "a voltage such as 120V",
                                  designer, {}, circuit.source);
      of.missing = e.missing.both(of.missing, asked.missing);
    }
  }
};

Value voltage_at(Evaluation& e, Subject panel) {
  const PanelVoltages::Of& of = e.once<PanelVoltages>().at(e, panel);
  if (of.missing != 0) return Evaluation::lacks(of.missing);
  if (of.any) return Evaluation::value(of.highest);
  return e.lacks(panel, "circuit", "a circuit that it protects", designer,
                 "its voltage to ground is not known without one");
}

}  // namespace

Value panel_directory(Evaluation& e, Subject s) {
  return stated(e, s, e.model.places[s.index].directory, "directory", installer);
}

Value working_depth(Evaluation& e, Subject s) {
  return given(e, s, e.model.places[s.index].working_depth, Unit::inch, "working-depth", a_depth,
               installer_tape);
}

Value working_depth_needed(Evaluation& e, Subject s) {
  const Parameter* low = e.law.parameter("working-space-low-voltage", Dimension::voltage);
  if (low == nullptr) return e.lacks_law("working-space-low-voltage");
  const Value voltage = voltage_at(e, s);
  if (voltage && voltage.count <= low->value.count) return set_by_law(e, "working-depth", Dimension::length);
  // What suffices at any voltage and whatever stands opposite needs no question.
  const Place& panel = e.model.places[s.index];
  const Parameter* most = e.law.parameter("working-depth-most", Dimension::length);
  if (most == nullptr) return e.lacks_law("working-depth-most");
  if (panel.working_depth.known() && (*panel.working_depth).count() >= most->value.count)
    return set_by_law(e, "working-depth-most", Dimension::length);
  if (!voltage) return voltage;
  return e.lacks(s, "working-depth", "a judgement on site", installer,
                 "above " + text_of(low->value) + " to ground the depth depends on what stands opposite");
}

Value working_width(Evaluation& e, Subject s) {
  return given(e, s, e.model.places[s.index].working_width, Unit::inch, "working-width", a_depth,
               installer_tape);
}

Value working_width_needed(Evaluation& e, Subject s) {
  Value needed = set_by_law(e, "working-width", Dimension::length);
  const Place& panel = e.model.places[s.index];
  if (!needed) return needed;
  if (panel.width.known()) {
    if ((*panel.width).count() <= needed.count) return needed;
    if (e.noting())
      e.note(FMT_COMPILE("the panel itself is {} wide"), text_of(show(*panel.width, Unit::inch)));
    needed.count = (*panel.width).count();
    return needed;
  }
  // Too little for a panel of any width needs no question.
  if (panel.working_width.known() && (*panel.working_width).count() < needed.count) return needed;
  return e.lacks(s, "width", "a length such as 14in", installer_tape,
                 "the space is at least as wide as the panel");
}

Value working_height(Evaluation& e, Subject s) {
  return given(e, s, e.model.places[s.index].working_height, Unit::inch, "working-height", a_depth,
               installer_tape);
}

Value working_height_needed(Evaluation& e, Subject) {
  return set_by_law(e, "working-height", Dimension::length);
}

Value highest_handle(Evaluation& e, Subject s) {
  const Place& panel = e.model.places[s.index];
  if (panel.highest_handle.known() && panel.mounting_height.known() && panel.height.known() &&
      *panel.highest_handle > *panel.mounting_height + *panel.height) {
    return e.lacks(s, "highest-handle", "a length such as 66in", installer_tape,
                   "its highest handle is said to be above the panel itself");
  }
  return given(e, s, panel.highest_handle, Unit::inch, "highest-handle", "a length such as 66in",
               installer_tape);
}

Value highest_handle_limit(Evaluation& e, Subject) {
  return set_by_law(e, "highest-handle", Dimension::length);
}

Value panel_is_fed(Evaluation& e, Subject s) {
  const Place& panel = e.model.places[s.index];
  if (panel.grounded_by == GroundedBy::unstated)
    return e.lacks(s, "grounded-by", "service, feeder, wire or raceway", designer);
  if (panel.grounded_by == GroundedBy::service && panel.fed_by != none) {
    return e.lacks(s, "grounded-by", "service, feeder, wire or raceway", designer,
                   "it is said to be bonded as service equipment, and a circuit of this document feeds it");
  }
  const bool service = panel.grounded_by == GroundedBy::service;
  if (e.noting())
    e.note(FMT_COMPILE("{}"), service ? "it is bonded as service equipment or at a separately derived source"
                                      : "it is fed from another panel");
  return answer(!service);
}

Value neutral_separate(Evaluation& e, Subject s) {
  const YesNo bonded = e.model.places[s.index].neutral_bonded;
  const Value stated_so = stated(e, s, bonded, "neutral-bonded", installer);
  return stated_so ? answer(bonded == YesNo::no) : stated_so;
}

}  // namespace raceward::figure::compute
