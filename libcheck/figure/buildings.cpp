// Buildings apart from the one that feeds them: what switches them off, and whether an electrode is asked
// for.
//
// Method: a panel says which building it is in, seen from what feeds it. Its overcurrent devices count as its
// disconnecting means where the law lets so many handles be one. What it supplies is counted to the last
// panel behind it. Where less is asked because there are few, somebody must have said that these are all.
#include <algorithm>

#include "figure/facts.hpp"
#include "figure/panel_circuits.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

constexpr std::string_view a_building = "same, other or dwelling";
constexpr std::string_view a_current = "a current such as 60A";

Value apart(Evaluation& e, Subject s) {
  const Place& panel = e.model.places[s.index];
  if (panel.building == Building::unstated) {
    // A service is not fed by another building.
    if (panel.grounded_by == GroundedBy::service) {
      if (panel.fed_by == none) return answer(false);
      return e.lacks(s, "grounded-by", "service, feeder, wire or raceway", designer,
                     "it is said to be bonded as service equipment, and a circuit of this document feeds it");
    }
    return e.lacks(s, "building", a_building, installer);
  }
  e.note(FMT_COMPILE("stated: building is {}"), name_of(panel.building));
  return answer(panel.building != Building::same);
}

/// Whether its overcurrent devices together may be what switches it off.
Value few_handles(Evaluation& e, Subject s) {
  const Parameter* const most = e.law.parameter("building-disconnects", Dimension::none);
  if (most == nullptr) return e.lacks_law("building-disconnects");
  const std::uint32_t count = circuits_of(e, s).handles;
  const bool more = e.model.places[s.index].devices_complete == YesNo::no;
  e.used(most->cite);
  e.note(FMT_COMPILE("handles of overcurrent devices in it: {}{}; up to {} may together switch it off ({})"),
         count, more ? " and more" : "", most->text, e.cited(most->cite));
  if (number(count + (more ? 1 : 0)).count() > most->value.count) {
    // Devices tied for a multiwire circuit are one handle, as many of them as there are phases.
    // Devices tied for a multiwire circuit are one handle, as many of them as there are phases.
    const PanelCircuits& of = circuits_of(e, s);
    const auto open = static_cast<std::uint32_t>(of.unsaid_ties.size() + of.lone_ties.size());
    const std::uint32_t apart = count - std::min(count, open);
    const std::uint32_t least = std::max(apart, (count + most_phases - 1) / most_phases) + (more ? 1 : 0);
    const bool may = open != 0 && e.model.places[s.index].disconnect == Disconnect::none;
    if (!may || number(least).count() > most->value.count) return answer(false, most->cite);
    std::vector<MissingId> each;
    const auto ask = [&](const std::vector<Index>& devices) {
      for (const Index d : devices) {
        each.push_back(e.lacks({SubjectKind::overcurrent_device, d}, "handle-tie",
                               "a word that those which open with it have too, or none", installer,
                               "those of a multiwire circuit that are tied are one handle",
                               e.model.overcurrent_devices[d].source)
                           .missing);
      }
    };
    ask(of.unsaid_ties);
    ask(of.lone_ties);
    if (!of.lone_ties.empty()) ask(of.may_tie);
    return Evaluation::lacks(e.missing.all(each));
  }
  Value all = all_devices_written(e, s);
  if (const PanelCircuits& of = circuits_of(e, s);
      of.tied != none && number(of.handles_most + (more ? 1 : 0)).count() > most->value.count) {
    const OvercurrentDevice& tied = e.model.overcurrent_devices[of.tied];
    const Subject at{SubjectKind::overcurrent_device, of.tied};
    constexpr const char* why = "tied handles are one for single poles of a multiwire circuit only";
    const Value lack =
        tied.poles == 0 ? e.lacks(at, "poles", "how many, 1 or 2", marking, why, tied.source)
        : of.tied_circuit == none
            ? e.lacks(at, "circuit", "the multiwire circuit that begins at it and those tied to it", designer,
                      why, tied.source)
            : e.lacks({SubjectKind::circuit, of.tied_circuit}, "multiwire", "yes or no", designer, why,
                      e.model.circuits[of.tied_circuit].source);
    return Evaluation::lacks(e.missing.both(all.missing, lack.missing));
  }
  return all ? answer(true, most->cite) : all;
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
  if (is_yes(few) || stated_as == Disconnect::none) return few;
  // Either settles it.
  return Evaluation::lacks(e.missing.both(lacks_disconnect(e, s).missing, few.missing));
}

Value emergency_disconnect_asked(Evaluation& e, Subject s) {
  const Value is_apart = apart(e, s);
  if (!is_apart || is_apart.count == 0) return is_apart;
  return answer(e.model.places[s.index].building == Building::dwelling);
}

Value emergency_disconnect(Evaluation& e, Subject s) {
  return stated(e, s, e.model.places[s.index].emergency_disconnect, "emergency-disconnect", installer);
}

Value emergency_disconnect_marked(Evaluation& e, Subject s) {
  return stated(e, s, e.model.places[s.index].emergency_disconnect_marked, "emergency-disconnect-marked",
                installer);
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
  const PanelCircuits& of = circuits_of(e, s);
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
  const PanelCircuits& of = circuits_of(e, s);
  if (panel.building == Building::unstated) {
    const Value has = e.get_aside(Id::building_disconnect_rating, s);
    if (!has || !least.dwelling || has.count < least.dwelling.count) {
      return e.lacks(s, "building", a_building, installer);
    }
    e.note(FMT_COMPILE("enough for a building of any kind"));
    return least.dwelling;
  }
  // As many circuits as are known, and as if there were many.
  const Value& many = panel.building == Building::dwelling ? least.dwelling : least.other;
  const bool one = of.circuits <= 1, two = of.circuits == 2 && of.wider == 0;
  const Value& known = one ? least.one : two ? least.two : many;
  const MissingId missing = one ? of.more : two ? e.missing.both(of.more, of.wires) : 0;
  Value needed = known;
  if (missing != 0 && known && many) {
    const Value has = e.get_aside(Id::building_disconnect_rating, s);
    if (!has) return Evaluation::lacks(has.missing);
    if (has.count >= known.count && has.count < many.count) return Evaluation::lacks(missing);
    if (has.count >= many.count) needed = many;
  }
  if (!needed) return needed;
  e.used(needed.cite);
  if (e.noting()) {
    e.note(FMT_COMPILE("circuits that it supplies: {}{}; at least {} ({})"), of.circuits,
           missing != 0 ? ", or more" : "", text_of({needed.count, Unit::ampere}), e.cited(needed.cite));
  }
  return needed;
}

namespace {

/// Whether the circuit brings a path for fault current: a wire, or the raceway where that is one.
Value brings_ground(Evaluation& e, Subject panel, Subject circuit) {
  const Value wires = e.get(Id::grounding_conductors, circuit);
  if (!wires || wires.count != 0) return wires;
  const Value breaks = e.get(Id::ground_path_breaks, panel);
  return breaks ? answer(breaks.count == 0) : breaks;
}

/// Whether a single branch circuit supplies its building, and brings an equipment grounding conductor.
Value one_branch_circuit(Evaluation& e, Subject s) {
  const Place& panel = e.model.places[s.index];
  if (panel.fed_by == none || panel.building == Building::same) return answer(false);
  const Circuit& circuit = e.model.circuits[panel.fed_by];
  const Subject at{SubjectKind::circuit, panel.fed_by};
  const PanelCircuits& of = circuits_of(e, s);
  if (circuit.kind == CircuitKind::feeder || circuit.kind == CircuitKind::other) return answer(false);
  Value branch = answer(true);
  if (circuit.kind == CircuitKind::unstated) {
    branch = e.lacks(at, "kind", "branch or feeder", designer, {}, circuit.source);
  } else if (of.circuits > 1) {
    branch = e.lacks(at, "kind", "branch or feeder", designer,
                     fmt::format(FMT_COMPILE("it is said to be a branch circuit, and overcurrent devices of "
                                             "{} circuits are behind it"),
                                 of.circuits),
                     circuit.source);
  } else if (of.more != 0) {
    branch = Evaluation::lacks(of.more);
  }
  const Value alone = stated(e, s, panel.only_circuit, "only-circuit", installer);
  return both(e, both(e, branch, alone), brings_ground(e, s, at));
}

}  // namespace

Value building_electrode_asked(Evaluation& e, Subject s) {
  const Value spared = one_branch_circuit(e, s);
  if (is_yes(spared)) {
    e.note(FMT_COMPILE("one branch circuit with an equipment grounding conductor feeds its building"));
    return answer(false);
  }
  return both(e, apart(e, s), is_no(spared) ? answer(true) : spared);
}

}  // namespace raceward::figure::compute
