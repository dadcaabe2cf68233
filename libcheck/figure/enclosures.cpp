// Boxes, conduit bodies and panels as they are left: covered, closed, within reach.
#include "figure/facts.hpp"

namespace raceward::figure::compute {

using namespace installation;

Value cover_asked(Evaluation& e, Subject s) {
  const PlaceKind kind = e.model.places[s.index].kind;
  return answer(kind == PlaceKind::box || kind == PlaceKind::conduit_body || kind == PlaceKind::panel);
}

Value cover_on(Evaluation& e, Subject s) {
  const Place& place = e.model.places[s.index];
  // A cover that is written down is there, unless the enclosure is said to be open.
  const auto covers = [&](const Cover& c) { return c.kind > Cover::Kind::extension_ring; };
  bool written = false;
  for (Index c = place.covers.first; c < place.covers.end(); ++c) written |= covers(e.model.covers[c]);
  if (place.cover == YesNo::no && written) {
    return e.lacks(s, "covered", "yes or no", installer, "it is said to have no cover, and one is written");
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
