#include "figure/devices_by_box.hpp"

#include "installation/lists.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

struct ByBox {
  bool ready = false;
  Lists devices;
};

}  // namespace

std::span<const Index> devices_in(Evaluation& e, Index place) {
  auto& by = e.once<ByBox>();
  if (!by.ready) {
    by.ready = true;
    by.devices = lists_of(e.model.places.size(), [&](auto put) {
      for (Index i = 0; i < e.model.devices.size(); ++i)
        if (e.model.devices[i].box != none) put(e.model.devices[i].box, i);
    });
  }
  return by.devices.at(place);
}

}  // namespace raceward::figure
