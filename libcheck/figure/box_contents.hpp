// What takes room in a box, counted once for several figures.
#pragma once

#include "figure/figure.hpp"

namespace raceward::figure {

/// What is asked of a device that may be held by a yoke or by none.
inline constexpr std::string_view yokes_or_none =
    "how many yokes or straps hold it in the box; 0 where none does";

struct BoxContents {
  Volume needed;
  std::int64_t entries =
      0;  ///< conductors, fittings, clamps and devices that take an allowance; 0: the box holds nothing
  MissingId missing = 0;
  MissingId open =
      0;  ///< how conductors are treated, though it may not matter: then the entries are the least
  MissingId unsaid = 0;  ///< what is not said and does not matter: too small whatever it is, by the least
  CitationId cite = no_citation;
};

/// Counts the allowances of a box. Conductors larger than the allowance table knows are left to the pull-box
/// figures. Notes its arithmetic where somebody asks and it tells.
BoxContents count_contents(Evaluation& e, Subject box, bool tells = true);

/// The way of a run that may lead through the box or not; 0 where none is open.
MissingId may_pass(Evaluation& e, installation::Index box);

}  // namespace raceward::figure
