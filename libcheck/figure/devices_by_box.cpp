#include "figure/devices_by_box.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

struct ByBox {
  bool ready = false;
  std::vector<Index> first, order;
};

}  // namespace

std::span<const Index> devices_in(Evaluation& e, Index place) {
  auto& by_box = e.once<ByBox>();
  if (!by_box.ready) {
    by_box.ready = true;
    by_box.first.assign(e.model.places.size() + 1, 0);
    for (const Device& d : e.model.devices) {
      if (d.box != none) ++by_box.first[d.box + 1];
    }
    for (std::size_t i = 1; i < by_box.first.size(); ++i) by_box.first[i] += by_box.first[i - 1];
    by_box.order.resize(by_box.first.back());
    auto next = by_box.first;
    for (Index i = 0; i < e.model.devices.size(); ++i) {
      if (e.model.devices[i].box != none) by_box.order[next[e.model.devices[i].box]++] = i;
    }
  }
  return {by_box.order.data() + by_box.first[place], by_box.first[place + 1] - by_box.first[place]};
}

}  // namespace raceward::figure
