// Boxes, conduit bodies and panels as they are left: covered, closed, within reach.
#include "figure/devices_by_box.hpp"
#include "figure/facts.hpp"

namespace raceward::figure::compute {

using namespace installation;

Value cover_asked(Evaluation& e, Subject s) {
  return e.model.places[s.index].kind == PlaceKind::panel ? answer(true) : e.get(Id::boxes_written, s);
}

Value cover_on(Evaluation& e, Subject s) {
  const Place& place = e.model.places[s.index];
  // A cover that is written down is there, unless the enclosure is said to be open.
  bool written = false, blank = false;
  for (Index c = place.covers.first; c < place.covers.end(); ++c) {
    const Cover::Kind kind = e.model.covers[c].kind;
    written |= kind > Cover::Kind::extension_ring;
    blank |= kind == Cover::Kind::blank_cover;
  }
  if (place.cover == YesNo::no && written) {
    return e.lacks(s, "covered", "yes or no", installer, "it is said to have no cover, and one is written");
  }
  if (blank && place.cover != YesNo::no) {
    for (const Index i : devices_in(e, s.index)) {
      const Device& d = e.model.devices[i];
      if (d.kind != DeviceKind::receptacle && d.kind != DeviceKind::switch_) continue;
      return e.lacks(s, "covered", "a cover with an opening for the device", installer,
                     fmt::format(FMT_COMPILE("a blank cover is written, and {} {} is in the box"),
                                 name_of(d.kind), d.id));
    }
  }
  if (place.cover == YesNo::unstated && written) {
    if (e.noting()) e.note(FMT_COMPILE("a cover is written for it"));
    return answer(true);
  }
  return stated(e, s, place.cover, "covered", installer);
}

Value openings_asked(Evaluation& e, Subject s) {
  const PlaceKind kind = e.model.places[s.index].kind;
  return answer(kind == PlaceKind::box || kind == PlaceKind::panel);
}

Value openings_closed(Evaluation& e, Subject s) {
  return stated(e, s, e.model.places[s.index].unused_openings_closed, "unused-openings-closed", installer);
}

Value within_reach(Evaluation& e, Subject s) {
  return stated(e, s, e.model.places[s.index].accessible, "accessible", installer);
}

}  // namespace raceward::figure::compute
