// Panels: the space to work at them, their handles, their directory, their grounded conductors.
#include <algorithm>
#include <array>
#include <limits>

#include "figure/facts.hpp"
#include "figure/logic.hpp"
#include "figure/outlets.hpp"
#include "figure/surroundings.hpp"
#include "figure/words_of_law.hpp"

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

/// Depths of the law, by rising voltage to ground and by what stands opposite.
class WorkingDepths {
 public:
  struct Of {
    std::int64_t up_to = 0;
    std::array<std::int64_t, 4> by_opposite{};  ///< by Opposite; the first is unused
    CitationId cite = no_citation;
  };
  [[nodiscard]] const std::vector<Of>& rows() const { return rows_; }
  void read(const Law& law) {
    const Table* const table = law.table("working-depth");
    if (table == nullptr) return;
    const std::uint32_t up_to = table->column("up-to", Dimension::voltage);
    for (std::uint32_t row = 0; row < table->row_count(); ++row) {
      Of of{table->count(row, up_to), {}, table->cite(row)};
      for (const Opposite opposite : {Opposite::none, Opposite::grounded, Opposite::live}) {
        of.by_opposite[static_cast<std::size_t>(opposite)] =
            table->count(row, table->column(name_of(opposite), Dimension::length));
      }
      const bool whole = of.up_to != Table::blank && std::ranges::count(of.by_opposite, Table::blank) == 0;
      if (whole) rows_.push_back(of);
    }
    std::ranges::sort(rows_, {}, &Of::up_to);
  }

 private:
  std::vector<Of> rows_;
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
  return given(e, s, e.model.places[s.index].working_depth, in_feet(e), "working-depth", a_depth,
               installer_tape);
}

Value working_depth_needed(Evaluation& e, Subject s) {
  const Place& panel = e.model.places[s.index];
  const std::vector<WorkingDepths::Of>& rows = e.of_law<WorkingDepths>().rows();
  if (rows.empty()) return e.lacks_law("working-depth");
  const Value voltage = voltage_at(e, s);
  const auto first = std::ranges::find_if(
      rows, [&](const WorkingDepths::Of& row) { return !voltage || voltage.count <= row.up_to; });
  if (first == rows.end()) {
    return e.lacks(Subject{}, "working-depth", "a row for this voltage", ruleset_author,
                   "the ruleset in force gives no depth for " + text_of({voltage.count, Unit::volt}));
  }
  // Without the voltage any row may hold; without what stands opposite, any of its cells.
  Value least = Evaluation::value(std::numeric_limits<std::int64_t>::max()), most = Evaluation::value(0);
  for (auto row = first; row != (voltage ? first + 1 : rows.end()); ++row) {
    for (const Opposite opposite : {Opposite::none, Opposite::grounded, Opposite::live}) {
      if (panel.opposite != Opposite::unstated && panel.opposite != opposite) continue;
      const Value cell = Evaluation::value(row->by_opposite[static_cast<std::size_t>(opposite)], row->cite);
      if (cell.count < least.count) least = cell;
      if (cell.count > most.count) most = cell;
    }
  }
  // What suffices in any case, and what is too little in any case, needs no question.
  const Maybe<Length>& has = panel.working_depth;
  const bool short_of_all = has.known() && (*has).count() < least.count;
  if (least.count == most.count || short_of_all || (has.known() && (*has).count() >= most.count)) {
    const Value needed = short_of_all ? least : most;
    e.used(needed.cite);
    return needed;
  }
  if (!voltage) return voltage;
  return e.lacks(s, "opposite", "none, grounded or live", installer,
                 "at " + text_of({voltage.count, Unit::volt}) + " to ground the depth depends on it");
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
      e.note(FMT_COMPILE("the panel itself is {} wide"), e.text_of(show(*panel.width, Unit::inch)));
    needed.count = (*panel.width).count();
    return needed;
  }
  // Too little for a panel of any width needs no question.
  if (panel.working_width.known() && (*panel.working_width).count() < needed.count) return needed;
  return e.lacks(s, "width", "a length such as 14in", installer_tape,
                 "the space is at least as wide as the panel");
}

Value working_height(Evaluation& e, Subject s) {
  return given(e, s, e.model.places[s.index].working_height, in_feet(e), "working-height", a_depth,
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
  return given(e, s, panel.highest_handle, in_feet(e), "highest-handle", "a length such as 66in",
               installer_tape);
}

Value highest_handle_limit(Evaluation& e, Subject) {
  return set_by_law(e, "highest-handle", Dimension::length);
}

Value panel_place_allowed(Evaluation& e, Subject s) {
  const Index area = e.model.places[s.index].area;
  if (area == none) return outlets::lacks_area(e, s.index);
  const installation::Area& a = e.model.areas[area];
  const Subject of_area{SubjectKind::area, area};
  if (a.use == AreaUse::unstated)
    return e.lacks(of_area, "use", "a word such as garage", designer, {}, a.source);
  const Table* const places = e.law.table("panel-places");
  if (places == nullptr) return e.lacks_law("panel-places");
  // Where every kind of premises has the same answer, theirs need not be known.
  std::uint32_t row = places->find({"all", name_of(a.use)});
  const bool by_occupancy =
      row != Table::none && places->text(row, places->column("allowed")) == "by-occupancy";
  if (by_occupancy || outlets::differs_by_occupancy(places, name_of(a.use))) {
    if (e.model.occupancy == Occupancy::unstated) return outlets::lacks_occupancy(e);
    const std::uint32_t own = places->find({name_of(e.model.occupancy), name_of(a.use)});
    if (own != Table::none || by_occupancy) row = own;
  }
  if (row == Table::none) return e.lacks_law("panel-places");
  e.used(places->cite(row));
  if (e.noting()) e.note(FMT_COMPILE("area {} is of use {}"), a.id, name_of(a.use));
  const std::string_view says = places->text(row, places->column("allowed"));
  if (says == "yes" || says == "no") return answer(says == "yes", places->cite(row));
  return e.lacks({SubjectKind::installation, 0}, "occupancy", "a word that tells more", designer,
                 std::string(places->text(row, places->column("words"))), e.model.source);
}

namespace {

/// Missing where a panel is said to be bonded at the supply, and its grounded conductors not to be.
Value lacks_bond(Evaluation& e, Subject s) {
  const Place& panel = e.model.places[s.index];
  if (panel.grounded_by == GroundedBy::unstated && panel.fed_by == none && panel.neutral_bonded == YesNo::no)
    return e.lacks(s, "grounded-by", "service, feeder, wire or raceway", designer);
  if (panel.grounded_by != GroundedBy::service || panel.neutral_bonded != YesNo::no ||
      attested(e, Attested::no_grounded_conductor, panel.id))
    return Evaluation::value(0);
  return e.lacks(
      s, "neutral-bonded", "yes or no", installer,
      "it is said to be bonded as service equipment, and its grounded conductors not to be connected "
      "to it; where its supply has none, <attest fact=\"no-grounded-conductor\"> says so");
}

}  // namespace

Value panel_is_fed(Evaluation& e, Subject s) {
  const Place& panel = e.model.places[s.index];
  if (panel.grounded_by == GroundedBy::unstated)
    return e.lacks(s, "grounded-by", "service, feeder, wire or raceway", designer);
  if (panel.grounded_by == GroundedBy::service && panel.fed_by != none) {
    return e.lacks(s, "grounded-by", "service, feeder, wire or raceway", designer,
                   "it is said to be bonded as service equipment, and a circuit of this document feeds it");
  }
  if (const Value lack = lacks_bond(e, s); !lack) return lack;
  const bool service = panel.grounded_by == GroundedBy::service;
  if (e.noting())
    e.note(FMT_COMPILE("{}"), service ? "it is bonded as service equipment or at a separately derived source"
                                      : "it is fed from another panel");
  return answer(!service);
}

Value neutral_separate(Evaluation& e, Subject s) {
  if (const Value lack = lacks_bond(e, s); !lack) return lack;
  const YesNo bonded = e.model.places[s.index].neutral_bonded;
  const Value stated_so = stated(e, s, bonded, "neutral-bonded", installer);
  return stated_so ? answer(bonded == YesNo::no) : stated_so;
}

}  // namespace raceward::figure::compute
