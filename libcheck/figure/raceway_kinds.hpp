// Families of raceway types that the methods, not the numbers of a code, tell apart.
#pragma once

#include "installation/terms.hpp"

namespace raceward::figure {

/// Wireways and surface raceways: neither conduit nor tubing.
constexpr bool is_trough(installation::RacewayType type) {
  using installation::RacewayType;
  return type == RacewayType::wireway_metal || type == RacewayType::wireway_nonmetallic ||
         type == RacewayType::surface_metal || type == RacewayType::surface_nonmetallic;
}

/// Conduit and tubing, of which alone there are nipples; false where the type is not stated.
constexpr bool is_tubular(installation::RacewayType type) {
  return type != installation::RacewayType::unstated && !is_trough(type);
}

/// Types that bend by hand and sag between supports; false where the type is not stated.
constexpr bool is_flexible(installation::RacewayType type) {
  using installation::RacewayType;
  switch (type) {
    case RacewayType::ent:
    case RacewayType::fmc:
    case RacewayType::lfmc:
    case RacewayType::lfnc_a:
    case RacewayType::lfnc_b:
    case RacewayType::lfnc_c:
    case RacewayType::hdpe:
    case RacewayType::fmt:
    case RacewayType::pliable_conduit:
      return true;
    default:
      return false;
  }
}

/// Types made of metal; false where the type is not stated.
constexpr bool is_metal(installation::RacewayType type) {
  using installation::RacewayType;
  switch (type) {
    case RacewayType::emt:
    case RacewayType::imc:
    case RacewayType::rmc:
    case RacewayType::fmc:
    case RacewayType::lfmc:
    case RacewayType::fmt:
    case RacewayType::wireway_metal:
    case RacewayType::surface_metal:
    case RacewayType::steel_conduit:
      return true;
    default:
      return false;
  }
}

}  // namespace raceward::figure
