// A conductor against the size that the law asks for.
#pragma once

#include <algorithm>

#include "figure/figure.hpp"

namespace raceward::figure {

/// How many sizes it is too small, 0 where it suffices; headlines name both sizes.
inline Value size_short(Evaluation& e, installation::ConductorSize is, installation::ConductorSize asked,
                        CitationId cite, Subject place = {}) {
  const int by = std::max(0, static_cast<int>(asked) - static_cast<int>(is));
  Value value = Evaluation::value(number(by).count(), cite);
  value.place = place;
  if (by != 0 && e.noting())
    e.detail(value, fmt::format(FMT_COMPILE("{}, and {} is required"), name_of(is), name_of(asked)));
  return value;
}

}  // namespace raceward::figure
