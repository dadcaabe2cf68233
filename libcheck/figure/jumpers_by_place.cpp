#include "figure/jumpers_by_place.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

struct ByPlace {
  bool ready = false;
  std::vector<Index> first, order;
};

template <class Do>
void each_end(const Model& model, Do one) {
  for (Index i = 0; i < model.bonding_jumpers.size(); ++i) {
    const BondingJumper& jumper = model.bonding_jumpers[i];
    if (jumper.from == none || jumper.to == none) continue;
    one(jumper.from, i);
    one(jumper.to, i);
  }
}

}  // namespace

std::span<const Index> jumpers_into(Evaluation& e, Index place) {
  if (e.model.bonding_jumpers.empty()) return {};
  auto& by = e.once<ByPlace>();
  if (!by.ready) {
    by.ready = true;
    by.first.assign(e.model.places.size() + 1, 0);
    each_end(e.model, [&](Index at, Index) { ++by.first[at + 1]; });
    for (std::size_t i = 1; i < by.first.size(); ++i) by.first[i] += by.first[i - 1];
    by.order.resize(by.first.back());
    auto next = by.first;
    each_end(e.model, [&](Index at, Index jumper) { by.order[next[at]++] = jumper; });
  }
  return {by.order.data() + by.first[place], by.first[place + 1] - by.first[place]};
}

}  // namespace raceward::figure
