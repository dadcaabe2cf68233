// Where a raceway or a place lies: its area, as far as the document tells.
#pragma once

#include "figure/attested.hpp"
#include "figure/figure.hpp"

namespace raceward::figure {

/// The area of a raceway, or nullptr.
inline const installation::Area* area_of(const Evaluation& e, const installation::Raceway& r) {
  return r.area == installation::none ? nullptr : &e.model.areas[r.area];
}

/// Earth is over it, or is said to be.
inline bool is_buried(const Evaluation& e, const installation::Raceway& r) {
  const installation::Area* const area = area_of(e, r);
  return r.in_earth == installation::YesNo::yes || r.burial_depth.known() ||
         r.beneath != installation::Beneath::unstated ||
         (area != nullptr && area->use == installation::AreaUse::underground);
}

/// Whether earth is over it where nothing says so, and nothing against it: no support, no movement, no dry or
/// damp area. 0 where that is no question. `said`: only where it is said that nothing fastens it, or it ends
/// at a box in earth; whether supports are recorded is asked for otherwise.
MissingId earth_open(Evaluation& e, installation::Index raceway, bool said);

/// A raceway that is said to lie below the ground and to run through a dry area says two things; 0 where it
/// does not.
MissingId dry_burial(Evaluation& e, installation::Index raceway);

/// What to ask for where it is not known whether something is dry, damp or wet: the area that it is in, or
/// what that area is like.
inline MissingId lacks_location(Evaluation& e, Subject subject, installation::Index area) {
  if (area == installation::none) {
    return e.lacks(subject, "area", "the id of the area where it is", installer).missing;
  }
  return e
      .lacks({SubjectKind::area, area}, "location", "dry, damp or wet", installer, {},
             e.model.areas[area].source)
      .missing;
}

/// Either of the two: what its lying in earth is open or contradicted for.
inline MissingId wrong_in_earth(Evaluation& e, installation::Index raceway) {
  return e.missing.both(dry_burial(e, raceway), earth_open(e, raceway, true));
}

}  // namespace raceward::figure
