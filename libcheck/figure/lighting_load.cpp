// Lighting of premises other than dwellings, by their floor area.
//
// Method: so many volt-amperes for each square foot, by what the floor is; of some premises so many more at
// least for receptacles. Whether the law's numbers hold the part that continuous loads add, a factor of the
// law tells.
#include "figure/lighting_load.hpp"

namespace raceward::figure {

using namespace installation;

AreaLoad load_by_area(Evaluation& e, Subject s) {
  const Place& panel = e.model.places[s.index];
  AreaLoad out;
  const Table* const t = e.law.table("lighting-load");
  out.factor = e.law.parameter("lighting-area-factor", Dimension::none);
  if (t == nullptr || out.factor == nullptr || t->row_count() == 0) return out;
  const auto lack = [&](std::string_view attribute, std::string_view what) {
    out.missing = e.missing.both(out.missing, e.lacks(s, attribute, what, designer).missing);
  };
  const std::string_view use = name_of(panel.floor_use);
  const std::uint32_t row = panel.floor_use == FloorUse::unstated ? Table::none : t->find({use});
  if (panel.floor_square_feet == 0)
    lack("floor-square-feet", "a whole number, where no calculated-load is given");
  if (panel.floor_use == FloorUse::unstated) lack("floor-use", "a word such as store or office");
  if (out.missing != 0 || row == Table::none) return out;
  const std::uint32_t lighting = t->column("lighting", Dimension::power),
                      receptacles = t->column("receptacles", Dimension::power);
  const auto of_floor = [&](std::uint32_t column) {
    const std::int64_t each = t->count(row, column);
    return each == Table::blank ? 0 : detail::saturate(wide_int{each} * panel.floor_square_feet);
  };
  out.known = true;
  out.lighting = of_floor(lighting);
  out.receptacles = of_floor(receptacles);
  out.cite = t->cite(row);
  e.used(out.cite);
  if (e.noting()) {
    e.note(FMT_COMPILE("lighting by floor area, {}: {} square feet x {} = {} ({})"), use,
           panel.floor_square_feet, text_of({t->count(row, lighting), Unit::volt_ampere}),
           text_of({out.lighting, Unit::volt_ampere}), e.cited(out.cite));
  }
  if (e.noting() && out.receptacles != 0) {
    e.note(FMT_COMPILE("receptacles by floor area, at least: {} square feet x {} = {}"),
           panel.floor_square_feet, text_of({t->count(row, receptacles), Unit::volt_ampere}),
           text_of({out.receptacles, Unit::volt_ampere}));
  }
  return out;
}

}  // namespace raceward::figure
