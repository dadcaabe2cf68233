// Grounding electrodes of panels, and the size of the conductors to them.
//
// Method: the law's size for the largest ungrounded conductor that supplies the panel, those in parallel
// taken together; of conductors to some kinds of electrodes it never asks more than a size of their own. What
// is needed is known from both sides, so that an unknown supply or electrode is asked for only where it
// decides. A conductor that is drawn counts where it leads from the panel to an electrode of its own.
#include <algorithm>

#include "figure/electrode_supply.hpp"
#include "figure/facts.hpp"
#include "figure/grounding_electrode.hpp"
#include "figure/size_short.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

constexpr std::string_view an_electrode = "rod, concrete-encased, ring, other or none";
constexpr auto largest_gauge = static_cast<ConductorSize>(static_cast<int>(ConductorSize::mm1) - 1);

/// Two metals, as the law tells them apart.
constexpr std::size_t at(Metal metal) { return static_cast<std::size_t>(metal); }

/// What is needed for supply conductors up to an area, by metal of each; and the most for a kind of
/// electrode.
struct ElectrodeRow {
  std::int64_t up_to[2]{};  // circular mils
  ConductorSize conductor[2]{};
  CitationId cite = no_citation;
};

struct ElectrodeLaw {
  bool ready = false;
  std::vector<ElectrodeRow> rows;  // by rising area
  std::vector<ElectrodeRow> most;  // by kind of electrode; a metal without a size has no limit

  void read(const Evaluation& e) {
    ready = true;
    const auto sizes = [](const Table& t, std::uint32_t row) {
      return std::pair{term_spelt<ConductorSize>(t.text(row, t.column("copper"))),
                       term_spelt<ConductorSize>(t.text(row, t.column("aluminum")))};
    };
    if (const Table* t = e.law.table("electrode-conductor")) {
      const std::uint32_t copper = t->column("copper-supply", Dimension::none),
                          aluminum = t->column("aluminum-supply", Dimension::none);
      for (std::uint32_t row = 0; row < t->row_count(); ++row) {
        const auto [of_copper, of_aluminum] = sizes(*t, row);
        if (of_copper == ConductorSize::unstated || of_aluminum == ConductorSize::unstated) continue;
        rows.push_back(
            {{t->count(row, copper), t->count(row, aluminum)}, {of_copper, of_aluminum}, t->cite(row)});
        for (std::int64_t& area : rows.back().up_to)
          if (area == Table::blank) area = std::numeric_limits<std::int64_t>::max();
      }
    }
    std::ranges::sort(rows, {}, [](const ElectrodeRow& row) { return row.up_to[0]; });
    most.resize(terms_with_unstated<Electrode>());
    if (const Table* t = e.law.table("electrode-most")) {
      for (std::uint32_t row = 0; row < t->row_count(); ++row) {
        const auto kind = static_cast<std::size_t>(term_spelt<Electrode>(t->key(row, 0)));
        const auto [of_copper, of_aluminum] = sizes(*t, row);
        if (kind != 0) most[kind] = {{}, {of_copper, of_aluminum}, t->cite(row)};
      }
    }
  }
};

const ElectrodeLaw& electrode_law(Evaluation& e) {
  auto& law = e.once<ElectrodeLaw>();
  if (!law.ready) law.read(e);
  return law;
}

/// Conductors to electrodes that are drawn at each panel. One pass for all runs.
struct Drawn {
  struct At {
    Index conductor = none;  // the largest that leads to an electrode of its own
    bool elsewhere = false;  // one ends at it that is not known to lead to such
  };
  bool ready = false;
  std::vector<At> at;  // by place

  void read(Evaluation& e) {
    ready = true;
    at.resize(e.model.places.size());
    panel_of_.assign(at.size(), none);
    shared_.resize(at.size());
    for (const Run& run : e.model.runs) connect(e, run);
    for (const auto& [panel, conductor, electrode] : led_) {
      At& here = at[panel];
      if (shared_[electrode] != 0) {
        here.elsewhere = true;
      } else if (here.conductor == none || before(e.model, conductor, here.conductor)) {
        here.conductor = conductor;
      }
    }
  }

 private:
  struct Led {
    Index panel, conductor, electrode;
  };
  std::vector<Led> led_;
  std::vector<Index> panel_of_;       // by electrode: a panel whose conductor ends at it
  std::vector<std::uint8_t> shared_;  // by electrode: conductors of several panels end at it

  /// Whether conductors are connected at a stop: at the ends of their run, and where that is said.
  static bool connected(const Model& model, const Run& run, Index stop) {
    const StopTreatment treatment = model.stops[stop].ungrounded;
    if (treatment == StopTreatment::through) return false;
    const bool end = stop == run.stops.first || stop + 1 == run.stops.end();
    return end || treatment != StopTreatment::unstated;
  }

  static bool names_electrode(Evaluation& e, Index place) {
    return place != none && e.model.places[place].equipment_kind == name_of(Role::electrode) &&
           grounding::is_electrode(e, place);
  }

  /// The larger first, and the first by id of two as large.
  static bool before(const Model& model, Index a, Index b) {
    const auto size = [&](Index of) { return model.conductor_kinds[model.conductors[of].kind].size; };
    const auto id = [&](Index of) {
      return std::pair{model.circuits[model.conductors[of].circuit].id, model.conductors[of].id};
    };
    return size(a) != size(b) ? size(a) > size(b) : id(a) < id(b);
  }

  void connect(Evaluation& e, const Run& run) {
    Index conductor = none;
    for (Index i = run.conductors.first; i < run.conductors.end(); ++i) {
      const Index c = e.model.run_conductors[i];
      if (e.model.conductors[c].role != Role::electrode) continue;
      if (conductor == none || before(e.model, c, conductor)) conductor = c;
    }
    if (conductor == none || run.stops.count == 0) return;
    Index electrode = none;
    for (const Index end : {run.stops.first, run.stops.end() - 1}) {
      const Index place = e.model.stops[end].place;
      if (connected(e.model, run, end) && names_electrode(e, place)) electrode = place;
    }
    for (Index stop = run.stops.first; stop < run.stops.end(); ++stop) {
      const Index place = e.model.stops[stop].place;
      if (place == none || place == electrode) continue;
      const PlaceKind kind = e.model.places[place].kind;
      if (kind != PlaceKind::panel && kind != PlaceKind::equipment) continue;
      if (!connected(e.model, run, stop)) continue;
      if (electrode == none) {
        at[place].elsewhere = true;
        continue;
      }
      if (panel_of_[electrode] != none && panel_of_[electrode] != place) shared_[electrode] = 1;
      panel_of_[electrode] = place;
      led_.push_back({place, conductor, electrode});
    }
  }
};

const Drawn::At& drawn_at(Evaluation& e, Subject panel) {
  auto& drawn = e.once<Drawn>();
  if (!drawn.ready) drawn.read(e);
  return drawn.at[panel.index];
}

constexpr std::string_view leads_elsewhere =
    "a conductor to an electrode ends at it, and is not drawn to an electrode that it alone has";

Value lacks_electrode(Evaluation& e, Subject s) {
  return e.lacks(s, "electrode", an_electrode, installer,
                 drawn_at(e, s).elsewhere ? std::string(leads_elsewhere) : std::string());
}

/// Of a panel that is said to have no electrode: what says otherwise.
Value denied(Evaluation& e, Subject s) {
  const Place& panel = e.model.places[s.index];
  if (drawn_at(e, s).conductor != none) {
    return e.lacks(s, "electrode", an_electrode, installer,
                   "it is said to have none, and a conductor to an electrode ends at it");
  }
  if (panel.electrode_size != ConductorSize::unstated ||
      panel.electrode_material != ConductorMaterial::unstated) {
    return e.lacks(s, "electrode", an_electrode, installer,
                   "it is said to have none, and what the conductor to it is");
  }
  return answer(false);
}

/// The conductor to the electrode: as drawn, or as the panel says.
struct Own {
  ConductorSize size{};
  ConductorMaterial material{};
  Subject subject;
  MissingId missing = 0;
};

Own own_of(Evaluation& e, Subject s) {
  const Place& panel = e.model.places[s.index];
  const Drawn::At& drawn = drawn_at(e, s);
  Own own{panel.electrode_size, panel.electrode_material, s, 0};
  const auto add = [&](const Value& lack) { own.missing = e.missing.both(own.missing, lack.missing); };
  if (drawn.conductor == none) {
    if (!by_gauge(own.size)) add(e.lacks(s, "electrode-size", a_size, marking));
    if (own.material == ConductorMaterial::unstated) {
      add(e.lacks(s, "electrode-material", a_metal, marking));
    }
    return own;
  }
  const Conductor& conductor = e.model.conductors[drawn.conductor];
  const ConductorKind& kind = e.model.conductor_kinds[conductor.kind];
  own = {kind.size, kind.material, {SubjectKind::conductor, drawn.conductor}, 0};
  if (!by_gauge(own.size)) add(e.lacks(own.subject, "size", a_size, marking, {}, conductor.source));
  if (own.material == ConductorMaterial::unstated) {
    add(e.lacks(own.subject, "material", a_metal, marking, {}, conductor.source));
  }
  const auto differs = [&](std::string_view attribute, std::string_view is, std::string_view expects) {
    add(e.lacks(s, attribute, expects, marking,
                fmt::format(FMT_COMPILE("the conductor that is drawn is of {}"), is)));
  };
  if (panel.electrode_size != ConductorSize::unstated && by_gauge(own.size) &&
      panel.electrode_size != own.size) {
    differs("electrode-size", name_of(own.size), a_size);
  }
  if (panel.electrode_material != ConductorMaterial::unstated &&
      own.material != ConductorMaterial::unstated && panel.electrode_material != own.material) {
    differs("electrode-material", name_of(own.material), a_metal);
  }
  return own;
}

/// A size that is known from both sides.
struct Bounds {
  ConductorSize least{}, most{};
  MissingId missing = 0;  // what would tell
  CitationId cite = no_citation;
};

Bounds by_supply(Evaluation& e, Subject s, std::size_t metal) {
  const ElectrodeLaw& law = electrode_law(e);
  const Supply supply = supply_of(e, s);
  if (supply.area == 0) {
    const MissingId missing =
        supply.missing != 0 ? supply.missing : e.lacks_law("conductor-circular-mils").missing;
    return {law.rows.front().conductor[metal], law.rows.back().conductor[metal], missing,
            law.rows.front().cite};
  }
  const auto row = std::ranges::find_if(
      law.rows, [&](const ElectrodeRow& each) { return supply.area <= each.up_to[at(supply.metal)]; });
  if (row == law.rows.end()) {
    return {law.rows.back().conductor[metal], largest_gauge, e.lacks_law("electrode-conductor").missing,
            law.rows.back().cite};
  }
  if (supply.missing != 0) {
    return {row->conductor[metal], law.rows.back().conductor[metal], supply.missing, row->cite};
  }
  e.note(FMT_COMPILE("for that the law asks {} ({})"), name_of(row->conductor[metal]), e.cited(row->cite));
  return {row->conductor[metal], row->conductor[metal], 0, row->cite};
}

/// The most that is asked because of the electrode.
Bounds by_electrode(Evaluation& e, Subject s, std::size_t metal) {
  const Place& panel = e.model.places[s.index];
  const ElectrodeLaw& law = electrode_law(e);
  if (panel.electrode == Electrode::unstated || panel.electrode == Electrode::none) {
    ConductorSize least = largest_gauge;
    for (const ElectrodeRow& each : law.most)
      if (each.conductor[metal] != ConductorSize::unstated) least = std::min(least, each.conductor[metal]);
    const Value lack = panel.electrode == Electrode::none ? denied(e, s) : lacks_electrode(e, s);
    return {least, largest_gauge, lack.missing, no_citation};
  }
  const ElectrodeRow& most = law.most[static_cast<std::size_t>(panel.electrode)];
  const ConductorSize size = most.conductor[metal];
  if (size == ConductorSize::unstated) return {largest_gauge, largest_gauge, 0, no_citation};
  if (panel.electrode != Electrode::ring) {
    e.note(FMT_COMPILE("to an electrode of the kind {} no more than {} is asked ({})"),
           name_of(panel.electrode), name_of(size), e.cited(most.cite));
    return {size, size, 0, most.cite};
  }
  // Of a ring no more than its own conductor is asked, and the law sets how small that may be.
  if (by_gauge(panel.ring_size)) {
    const ConductorSize own = std::max(size, panel.ring_size);
    e.note(FMT_COMPILE("no more than the ring itself is asked: {} ({})"), name_of(own), e.cited(most.cite));
    return {own, own, 0, most.cite};
  }
  return {size, largest_gauge,
          e.lacks(s, "ring-size", "the size of the ring's conductor, such as 2 AWG", marking).missing,
          most.cite};
}

Value short_of(Evaluation& e, const Own& own, ConductorSize needed, CitationId cite) {
  e.used(cite);
  return size_short(e, own.size, needed, cite, own.subject);
}

}  // namespace

Value panel_electrode(Evaluation& e, Subject s) {
  const Electrode kind = e.model.places[s.index].electrode;
  if (kind == Electrode::none) return denied(e, s);
  if (kind == Electrode::unstated && drawn_at(e, s).conductor != none) {
    return e.lacks(
        s, "electrode", an_electrode, installer,
        "a conductor leads from it to an electrode, and whether that is at its building is not said");
  }
  if (kind == Electrode::unstated) return lacks_electrode(e, s);
  e.note(FMT_COMPILE("stated: electrode is {}"), name_of(kind));
  return answer(true);
}

Value electrode_conductor_asked(Evaluation& e, Subject s) {
  const Place& panel = e.model.places[s.index];
  if (panel.electrode == Electrode::none) return denied(e, s);
  const bool known = panel.electrode != Electrode::unstated || drawn_at(e, s).conductor != none ||
                     panel.electrode_size != ConductorSize::unstated ||
                     panel.electrode_material != ConductorMaterial::unstated;
  if (!known && drawn_at(e, s).elsewhere) return lacks_electrode(e, s);
  return answer(known);
}

Value electrode_conductor_shortfall(Evaluation& e, Subject s) {
  const ElectrodeLaw& law = electrode_law(e);
  if (law.rows.empty()) return e.lacks_law("electrode-conductor");
  const Own own = own_of(e, s);
  if (own.missing != 0) return Evaluation::lacks(own.missing);
  e.note(FMT_COMPILE("conductor to the electrode: {} {}"), name_of(own.size), name_of(own.material));
  const std::size_t metal = at(metal_of(own.material));
  const Bounds supply = by_supply(e, s, metal), electrode = by_electrode(e, s, metal);
  const ConductorSize least = std::min(supply.least, electrode.least),
                      most = std::min(supply.most, electrode.most);
  const CitationId cite = electrode.most < supply.most ? electrode.cite : supply.cite;
  if (own.size >= most) return short_of(e, own, most, cite);
  if (own.size < least)
    return short_of(e, own, least, electrode.least < supply.least ? electrode.cite : supply.cite);
  return Evaluation::lacks(e.missing.both(supply.missing, electrode.missing));
}

}  // namespace raceward::figure::compute
