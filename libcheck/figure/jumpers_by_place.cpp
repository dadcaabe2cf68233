#include "figure/jumpers_by_place.hpp"

#include "installation/lists.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

struct ByPlace {
  bool ready = false;
  Lists jumpers;
};

}  // namespace

std::span<const Index> jumpers_into(Evaluation& e, Index place) {
  if (e.model.bonding_jumpers.empty()) return {};
  auto& by = e.once<ByPlace>();
  if (!by.ready) {
    by.ready = true;
    by.jumpers = lists_of(e.model.places.size(), [&](auto put) {
      for (Index i = 0; i < e.model.bonding_jumpers.size(); ++i) {
        const BondingJumper& jumper = e.model.bonding_jumpers[i];
        if (jumper.from == none || jumper.to == none) continue;
        put(jumper.from, i);
        put(jumper.to, i);
      }
    });
    by.jumpers.sort([&](Index j) { return e.model.bonding_jumpers[j].id; });
  }
  return by.jumpers.at(place);
}

}  // namespace raceward::figure
