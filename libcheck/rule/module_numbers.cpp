// Numbers that cross the border to modules are those of the public enumerations: whoever puts a kind or a
// unit in the middle of one changes what modules that are already built mean. What is new goes to the end,
// and to module.h.
#include "raceward/module.h"
#include "raceward/rule.hpp"

namespace raceward {

#define RACEWARD_SAME(ours, theirs) static_assert(static_cast<int>(ours) == RACEWARD_##theirs)
RACEWARD_SAME(SubjectKind::installation, INSTALLATION);
RACEWARD_SAME(SubjectKind::area, AREA);
RACEWARD_SAME(SubjectKind::panel, PANEL);
RACEWARD_SAME(SubjectKind::overcurrent_device, OVERCURRENT_DEVICE);
RACEWARD_SAME(SubjectKind::box, BOX);
RACEWARD_SAME(SubjectKind::conduit_body, CONDUIT_BODY);
RACEWARD_SAME(SubjectKind::equipment, EQUIPMENT);
RACEWARD_SAME(SubjectKind::joint, JOINT);
RACEWARD_SAME(SubjectKind::raceway, RACEWAY);
RACEWARD_SAME(SubjectKind::pull_section, PULL_SECTION);
RACEWARD_SAME(SubjectKind::circuit, CIRCUIT);
RACEWARD_SAME(SubjectKind::conductor, CONDUCTOR);
RACEWARD_SAME(SubjectKind::device, DEVICE);
RACEWARD_SAME(SubjectKind::bonding_jumper, BONDING_JUMPER);
RACEWARD_SAME(SubjectKind::attestation, ATTESTATION);
RACEWARD_SAME(SubjectKind::place, PLACE);
RACEWARD_SAME(Unit::one, ONE);
RACEWARD_SAME(Unit::percent, PERCENT);
RACEWARD_SAME(Unit::inch, INCH);
RACEWARD_SAME(Unit::foot, FOOT);
RACEWARD_SAME(Unit::millimetre, MILLIMETRE);
RACEWARD_SAME(Unit::centimetre, CENTIMETRE);
RACEWARD_SAME(Unit::metre, METRE);
RACEWARD_SAME(Unit::square_inch, SQUARE_INCH);
RACEWARD_SAME(Unit::square_millimetre, SQUARE_MILLIMETRE);
RACEWARD_SAME(Unit::square_centimetre, SQUARE_CENTIMETRE);
RACEWARD_SAME(Unit::cubic_inch, CUBIC_INCH);
RACEWARD_SAME(Unit::cubic_millimetre, CUBIC_MILLIMETRE);
RACEWARD_SAME(Unit::cubic_centimetre, CUBIC_CENTIMETRE);
RACEWARD_SAME(Unit::millilitre, MILLILITRE);
RACEWARD_SAME(Unit::degree, DEGREE);
RACEWARD_SAME(Unit::ampere, AMPERE);
RACEWARD_SAME(Unit::milliampere, MILLIAMPERE);
RACEWARD_SAME(Unit::volt, VOLT);
RACEWARD_SAME(Unit::kilovolt, KILOVOLT);
RACEWARD_SAME(Unit::celsius, CELSIUS);
RACEWARD_SAME(Unit::fahrenheit, FAHRENHEIT);
RACEWARD_SAME(Unit::watt, WATT);
RACEWARD_SAME(Unit::kilowatt, KILOWATT);
RACEWARD_SAME(Unit::volt_ampere, VOLT_AMPERE);
RACEWARD_SAME(Unit::kilovolt_ampere, KILOVOLT_AMPERE);
RACEWARD_SAME(Unit::ohm, OHM);
RACEWARD_SAME(Unit::milliohm, MILLIOHM);
RACEWARD_SAME(Outcome::complies, COMPLIES);
RACEWARD_SAME(Outcome::violates, VIOLATES);
RACEWARD_SAME(Outcome::undetermined, UNDETERMINED);
RACEWARD_SAME(Outcome::not_applicable, NOT_APPLICABLE);
#undef RACEWARD_SAME

static_assert(subject_kind_count == RACEWARD_PLACE + 1, "module.h lists every kind");
static_assert(no_citation == RACEWARD_NO_CITATION);

}  // namespace raceward
