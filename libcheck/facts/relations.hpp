// What has to do with what, and whether the document has all of it: the areas that a circuit passes, the
// devices in an area.
#pragma once

#include <string>

#include "figure/figure.hpp"

namespace raceward::facts {

/// Whether a condition about the one may ask for the other. docs/rulesets.md lists it.
bool related(SubjectKind of, SubjectKind to);
/// "area, raceway, circuit": all that a condition about it may ask for.
std::string related_to(SubjectKind of);

/// Each answers why the list may lack some, or 0 where the document has all of it.
MissingId devices_open(figure::Evaluation& e, installation::Index panel);
/// Of the receptacles in an area.
MissingId outlets_open(figure::Evaluation& e, installation::Index area);
/// Of the receptacles on a circuit, which may be in any area that it stops in.
MissingId outlets_open_on(figure::Evaluation& e, installation::Index circuit);
/// Of all receptacles, and of all overcurrent devices; names so many areas or panels as a person would read.
MissingId all_outlets_open(figure::Evaluation& e);
MissingId all_devices_open(figure::Evaluation& e);
/// Of the circuits that an overcurrent device protects.
MissingId protected_open(figure::Evaluation& e, installation::Index device);
/// Of the raceways that a circuit passes, and of the circuits and conductors in a raceway.
MissingId ways_open(figure::Evaluation& e, Subject circuit_or_raceway);
/// Of the devices on a circuit.
MissingId loads_open(figure::Evaluation& e, installation::Index circuit);

}  // namespace raceward::facts
