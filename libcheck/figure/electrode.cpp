// Grounding electrodes of panels, and the size of the conductors to them.
//
// Method: the law's size for the largest ungrounded conductor that supplies the panel, those in parallel
// taken together; of conductors to some kinds of electrodes it never asks more than a size of their own. What
// is needed is known from both sides, so that an unknown supply or electrode is asked for only where it
// decides.
#include <algorithm>

#include "figure/facts.hpp"
#include "figure/grounding_size_law.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

constexpr std::string_view a_size = "a size such as 6 AWG";
constexpr std::string_view a_metal = "copper, aluminum or copper-clad-aluminum";
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

/// The largest conductor to an electrode at each panel. One pass for all panels.
struct Drawn {
  bool ready = false;
  std::vector<Index> at;  // by place: a conductor, or none

  void read(const Model& model) {
    ready = true;
    at.assign(model.places.size(), none);
    for (const Run& run : model.runs) {
      for (Index i = run.conductors.first; i < run.conductors.end(); ++i) {
        const Index c = model.run_conductors[i];
        if (model.conductors[c].role != Role::electrode) continue;
        for (Index stop = run.stops.first; stop < run.stops.end(); ++stop) {
          const Index place = model.stops[stop].place;
          if (place == none || model.places[place].kind != PlaceKind::panel) continue;
          const auto size = [&](Index of) { return model.conductor_kinds[model.conductors[of].kind].size; };
          const auto id = [&](Index of) {
            return std::pair{model.circuits[model.conductors[of].circuit].id, model.conductors[of].id};
          };
          const bool larger = at[place] != none && (size(c) > size(at[place]) ||
                                                    (size(c) == size(at[place]) && id(c) < id(at[place])));
          if (at[place] == none || larger) at[place] = c;
        }
      }
    }
  }
};

Index drawn_at(Evaluation& e, Subject panel) {
  auto& drawn = e.once<Drawn>();
  if (!drawn.ready) drawn.read(e.model);
  return drawn.at[panel.index];
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
  const Index c = drawn_at(e, s);
  Own own{panel.electrode_size, panel.electrode_material, s, 0};
  std::string_view size = "electrode-size", material = "electrode-material";
  Offset source = panel.source;
  if (c != none) {
    const ConductorKind& kind = e.model.conductor_kinds[e.model.conductors[c].kind];
    own = {kind.size, kind.material, {SubjectKind::conductor, c}, 0};
    size = "size";
    material = "material";
    source = e.model.conductors[c].source;
  }
  if (!by_gauge(own.size)) own.missing = e.lacks(own.subject, size, a_size, marking, {}, source).missing;
  if (own.material == ConductorMaterial::unstated) {
    own.missing =
        e.missing.both(own.missing, e.lacks(own.subject, material, a_metal, marking, {}, source).missing);
  }
  return own;
}

/// The largest ungrounded conductor that supplies a panel.
struct Supply {
  std::int64_t area = 0;  // circular mils, of all in parallel together
  Metal metal{};
  MissingId missing = 0;
};

Supply supply_by(Evaluation& e, Index circuit) {
  Supply out;
  const Circuit& c = e.model.circuits[circuit];
  const auto add = [&](const Value& lack) { out.missing = e.missing.both(out.missing, lack.missing); };
  std::uint32_t count = 0;
  ConductorSize largest{};
  for (Index i = c.conductors.first; i < c.conductors.end(); ++i) {
    const Conductor& conductor = e.model.conductors[i];
    const ConductorKind& kind = e.model.conductor_kinds[conductor.kind];
    if (conductor.role != Role::ungrounded || kind.cable) continue;
    count += conductor.count;
    const Subject at{SubjectKind::conductor, i};
    if (!by_gauge(kind.size)) add(e.lacks(at, "size", a_size, marking, {}, conductor.source));
    if (kind.material == ConductorMaterial::unstated) {
      add(e.lacks(at, "material", a_metal, marking, {}, conductor.source));
    }
    if (kind.size <= largest) continue;
    largest = kind.size;
    out.metal = metal_of(kind.material);
  }
  const Subject subject{SubjectKind::circuit, circuit};
  if (count == 0) add(e.lacks(subject, "conductor", "its ungrounded conductors", designer, {}, c.source));
  if (count > 3 && c.parallel == 0) {  // not law: phases
    add(e.lacks(subject, "parallel", "how many conductors of each phase are in parallel", designer,
                fmt::format(FMT_COMPILE("it has {} ungrounded conductors"), count), c.source));
  }
  out.area = size_law(e).area(largest) * std::max<std::int64_t>(1, c.parallel);
  if (out.missing == 0) {
    e.note(FMT_COMPILE("supplied by circuit {}: {}{}"), c.id, name_of(largest),
           c.parallel > 1 ? fmt::format(FMT_COMPILE(", {} of them in parallel"), c.parallel) : std::string());
  }
  return out;
}

Supply supply_of(Evaluation& e, Subject s) {
  const Place& panel = e.model.places[s.index];
  if (panel.fed_by != none) return supply_by(e, panel.fed_by);
  Supply out;
  if (!by_gauge(panel.supply_size)) {
    out.missing =
        e.lacks(s, "supply-size", "the size of the conductors that feed it, such as 2 AWG", installer)
            .missing;
  }
  if (panel.supply_material == ConductorMaterial::unstated) {
    out.missing = e.missing.both(out.missing, e.lacks(s, "supply-material", a_metal, installer).missing);
  }
  if (out.missing != 0) return out;
  out.area = size_law(e).area(panel.supply_size);
  out.metal = metal_of(panel.supply_material);
  e.note(FMT_COMPILE("stated: it is supplied by {} {}"), name_of(panel.supply_size),
         name_of(panel.supply_material));
  return out;
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
  if (supply.missing != 0 || supply.area == 0) {
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
    const std::string why = panel.electrode == Electrode::none
                                ? "it is said to have none, and a conductor to an electrode ends at it"
                                : std::string();
    return {least, largest_gauge, e.lacks(s, "electrode", an_electrode, installer, why).missing, no_citation};
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
  const int by = std::max(0, static_cast<int>(needed) - static_cast<int>(own.size));
  e.used(cite);
  Value value = Evaluation::value(number(by).count(), cite);
  value.place = own.subject;
  return value;
}

}  // namespace

Value panel_electrode(Evaluation& e, Subject s) {
  const Electrode kind = e.model.places[s.index].electrode;
  if (drawn_at(e, s) != none) {
    if (kind == Electrode::none) {
      return e.lacks(s, "electrode", an_electrode, installer,
                     "it is said to have none, and a conductor to an electrode ends at it");
    }
    e.note(FMT_COMPILE("a conductor to a grounding electrode ends at it"));
    return answer(true);
  }
  if (kind == Electrode::unstated) return e.lacks(s, "electrode", an_electrode, installer);
  e.note(FMT_COMPILE("stated: electrode is {}"), name_of(kind));
  return answer(kind != Electrode::none);
}

Value electrode_conductor_asked(Evaluation& e, Subject s) {
  const Place& panel = e.model.places[s.index];
  if (panel.electrode == Electrode::unstated) {
    return answer(drawn_at(e, s) != none || panel.electrode_size != ConductorSize::unstated ||
                  panel.electrode_material != ConductorMaterial::unstated);
  }
  return answer(drawn_at(e, s) != none || panel.electrode != Electrode::none);
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
