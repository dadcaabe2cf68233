// What goes with the supply of a panel, ahead of any overcurrent device.
//
// Method: the law's size for the largest ungrounded conductor of the supply, those in parallel taken
// together; beyond its last row a share of their area. Never larger than that conductor itself.
#include "figure/supply_side.hpp"

#include <algorithm>

#include "figure/facts.hpp"
#include "figure/size_short.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

/// Two metals, as the law tells them apart.
constexpr std::size_t at(Metal metal) { return static_cast<std::size_t>(metal); }

struct SideRow {
  std::int64_t up_to[2]{};  // circular mils, by metal of the supply
  ConductorSize size[2]{};  // by own metal
  CitationId cite = no_citation;
};

struct SideLaw {
  std::vector<SideRow> rows;  // by rising area
  const Parameter* share = nullptr;

  void read(const Law& law) {
    share = law.parameter("supply-side-share", Dimension::none);
    const Table* const t = law.table("supply-side-size");
    if (t == nullptr) return;
    const std::uint32_t copper = t->column("copper-supply", Dimension::none),
                        aluminum = t->column("aluminum-supply", Dimension::none);
    for (std::uint32_t row = 0; row < t->row_count(); ++row) {
      rows.push_back({{t->count(row, copper), t->count(row, aluminum)},
                      {term_spelt<ConductorSize>(t->text(row, t->column("copper"))),
                       term_spelt<ConductorSize>(t->text(row, t->column("aluminum")))},
                      t->cite(row)});
    }
    std::ranges::sort(rows, {}, [](const SideRow& row) { return row.up_to[0]; });
  }
};

/// The smallest of the gauge that has so much area.
ConductorSize size_of_area(Evaluation& e, std::int64_t area) {
  for (int s = 1; s < static_cast<int>(ConductorSize::mm1); ++s) {
    const auto size = static_cast<ConductorSize>(s);
    if (size_law(e).area(size) >= area) return size;
  }
  return {};
}

}  // namespace

SupplySide supply_side_of(Evaluation& e, Subject panel, Metal metal) {
  return supply_side_for(e, supply_of(e, panel), metal);
}

SupplySide supply_side_for(Evaluation& e, const Supply& supply, Metal metal) {
  const SideLaw& law = e.of_law<SideLaw>();
  if (law.rows.empty()) return {{}, e.lacks_law("supply-side-size").missing, no_citation};
  if (supply.area == 0) {
    const MissingId missing =
        supply.missing != 0 ? supply.missing : e.lacks_law("conductor-circular-mils").missing;
    return {law.rows.front().size[at(metal)], missing, law.rows.front().cite};
  }
  const auto row = std::ranges::find_if(
      law.rows, [&](const SideRow& each) { return supply.area <= each.up_to[at(supply.metal)]; });
  if (row != law.rows.end()) {
    const ConductorSize size = row->size[at(metal)];
    if (supply.missing == 0)
      e.note(FMT_COMPILE("for that the law asks {} ({})"), name_of(size), e.cited(row->cite));
    return {size, supply.missing, row->cite};
  }
  const ConductorSize least = law.rows.back().size[at(metal)];
  if (law.share == nullptr || metal != supply.metal)
    return {least, e.lacks_law("supply-side-share").missing, law.rows.back().cite};
  const auto area = detail::saturate(
      (wide_int{law.share->value.count} * supply.area + number(1).count() - 1) / number(1).count());
  const ConductorSize size = std::max(least, size_of_area(e, area));
  if (size_law(e).area(size) < area)
    return {least, e.lacks_law("conductor-circular-mils").missing, law.rows.back().cite};
  if (supply.missing == 0) {
    e.note(FMT_COMPILE("for that the law asks {} of its area: {} ({})"), law.share->text, name_of(size),
           e.cited(law.share->cite));
  }
  return {size, supply.missing, law.share->cite};
}

namespace compute {

Value service_grounded_asked(Evaluation& e, Subject s) {
  const Place& panel = e.model.places[s.index];
  if (panel.fed_by != none) return answer(false);  // its circuit is judged
  // Only where a service ends is its grounded conductor connected to the enclosure.
  if (panel.neutral_bonded == YesNo::no) return answer(false);
  if (panel.grounded_by == GroundedBy::unstated)
    return e.lacks(s, "grounded-by", "service, feeder, wire or raceway", installer);
  if (panel.grounded_by != GroundedBy::service) return answer(false);
  return stated(e, s, panel.neutral_bonded, "neutral-bonded", installer);
}

Value service_grounded_shortfall(Evaluation& e, Subject s) {
  const Place& panel = e.model.places[s.index];
  if (!by_gauge(panel.supply_grounded)) {
    return e.lacks(s, "supply-grounded-size",
                   "the size of the grounded conductor of its service, such as 2 AWG", installer);
  }
  if (panel.supply_material == ConductorMaterial::unstated)
    return e.lacks(s, "supply-material", a_metal, installer);
  e.note(FMT_COMPILE("stated: its grounded conductor is {}"), name_of(panel.supply_grounded));
  const SupplySide needed = supply_side_of(e, s, metal_of(panel.supply_material));
  ConductorSize least = needed.size;
  if (panel.supply_parallel > 1) {
    // Those in parallel share it, each no smaller than such conductors may be.
    const Parameter* const smallest = e.law.parameter("smallest-parallel-conductor");
    if (smallest == nullptr || !smallest->is_word) return e.lacks_law("smallest-parallel-conductor");
    const std::int64_t area = size_law(e).area(least);
    least = std::max(term_spelt<ConductorSize>(smallest->text),
                     size_of_area(e, (area + panel.supply_parallel - 1) / panel.supply_parallel));
    e.used(smallest->cite);
    e.note(FMT_COMPILE("{} in parallel: each at least {} ({})"), panel.supply_parallel, name_of(least),
           e.cited(smallest->cite));
  }
  if (by_gauge(panel.supply_size)) least = std::min(least, panel.supply_size);
  e.used(needed.cite);
  const Value by = size_short(e, panel.supply_grounded, least, needed.cite);
  // It may be as small as what it goes with.
  const bool open = by.count == 0 || !by_gauge(panel.supply_size);
  return open && needed.missing != 0 ? Evaluation::lacks(needed.missing) : by;
}

}  // namespace compute
}  // namespace raceward::figure
