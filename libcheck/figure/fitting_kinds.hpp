// Families of fittings that the methods, not the numbers of a code, tell apart.
#pragma once

#include <string>

#include "installation/terms.hpp"

namespace raceward::figure {

/// Couplings: they join raceways, or pieces of one, and fasten nothing to an enclosure.
constexpr bool is_coupling(installation::Fitting fitting) {
  using installation::Fitting;
  switch (fitting) {
    case Fitting::set_screw_coupling:
    case Fitting::compression_coupling:
    case Fitting::threaded_coupling:
    case Fitting::combination_coupling:
    case Fitting::nonmetallic_coupling:
    case Fitting::expansion_coupling:
    case Fitting::expansion_coupling_bonded:
      return true;
    default:
      return false;
  }
}

/// Why a coupling at an enclosure, or a connector between raceways, is asked about.
inline std::string misplaced(installation::Fitting fitting) {
  return std::string("a ") + std::string(installation::name_of(fitting)) +
         (is_coupling(fitting) ? " joins raceways and fastens none to an enclosure"
                               : " fastens a raceway to an enclosure and joins none to another");
}

}  // namespace raceward::figure
