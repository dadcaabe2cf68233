#include "figure/box_allowances.hpp"

namespace raceward::figure {

using namespace installation;

void Allowances::read(const Law& law) {
  volume.fill(Table::blank);
  cite.fill(no_citation);
  const Table* table = law.table("conductor-allowance");
  if (table == nullptr) {
    lacking = "conductor-allowance";
    return;
  }
  const auto column = table->column("volume", Dimension::volume);
  const auto sizes = terms_of(ConductorSize{});
  for (std::size_t i = 0; i < sizes.size(); ++i) {
    const auto row = table->find({sizes[i].spelling});
    if (row == Table::none || column == Table::none) continue;
    volume[i + 1] = table->count(row, column);
    cite[i + 1] = table->cite(row);
  }
  const auto take = [&](std::string_view name) {
    const Parameter* p = law.parameter(name, Dimension::none);
    if (p == nullptr) lacking = name;
    return p;
  };
  loops = take("loop-allowances");
  clamps = take("clamp-allowances");
  fittings = take("support-fitting-allowances");
  devices = take("device-allowances");
  first_count = take("egc-first-count");
  first_allowances = take("egc-first-allowances");
  further = take("egc-further-allowance");
  isolated = take("egc-isolated-set-allowances");
  blocks = take("terminal-block-allowances");
  canopy = take("canopy-wire-count");
}

bool suffices(Evaluation& e, Subject box, Volume needed) {
  const Place& place = e.model.places[box.index];
  if (place.kind != PlaceKind::box) return place.volume.known() && *place.volume >= needed;
  const Value stated = e.get_aside(Id::box_volume_stated, box), whole = e.get_aside(Id::box_volume, box);
  return (stated && stated.count >= needed.count()) || (whole && whole.count >= needed.count());
}

bool falls_short(Evaluation& e, Subject box, Volume needed) {
  const Place& place = e.model.places[box.index];
  if (place.kind != PlaceKind::box) return place.volume.known() && *place.volume < needed;
  const Value whole = e.get_aside(Id::box_volume, box);
  return whole && whole.count < needed.count();
}

bool decides(Evaluation& e, Subject box, Volume least, Volume most) {
  const Place& place = e.model.places[box.index];
  if (place.kind != PlaceKind::box)
    return !place.volume.known() || (*place.volume >= least && *place.volume < most);
  const Value stated = e.get_aside(Id::box_volume_stated, box), whole = e.get_aside(Id::box_volume, box);
  if (!stated || stated.count >= most.count()) return false;
  return (whole ? whole : stated).count >= least.count();
}

}  // namespace raceward::figure
