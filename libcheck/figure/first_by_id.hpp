// Which of several elements is named, whatever their order in the document.
#pragma once

#include <vector>

#include "figure/told.hpp"

namespace raceward::figure {

/// Holds the element whose id comes first, of all that it is called with.
template <class Element>
void hold_first(const std::vector<Element>& all, installation::Index& held, installation::Index one) {
  if (one == installation::none) return;
  if (held == installation::none || id_before(all[one].id, all[held].id)) held = one;
}

}  // namespace raceward::figure
