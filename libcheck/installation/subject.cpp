// Names of the kinds of subjects.
#include "raceward/subject.hpp"

namespace raceward {

std::string_view name_of(SubjectKind kind) {
  switch (kind) {
    case SubjectKind::installation:
      return "installation";
    case SubjectKind::area:
      return "area";
    case SubjectKind::panel:
      return "panel";
    case SubjectKind::overcurrent_device:
      return "overcurrent device";
    case SubjectKind::box:
      return "box";
    case SubjectKind::conduit_body:
      return "conduit body";
    case SubjectKind::equipment:
      return "equipment";
    case SubjectKind::joint:
      return "joint";
    case SubjectKind::raceway:
      return "raceway";
    case SubjectKind::pull_section:
      return "pull section";
    case SubjectKind::circuit:
      return "circuit";
    case SubjectKind::conductor:
      return "conductor";
    case SubjectKind::device:
      return "device";
    case SubjectKind::bonding_jumper:
      return "bonding jumper";
    case SubjectKind::attestation:
      return "attestation";
    case SubjectKind::place:
      return "place";
  }
  return "subject";
}

}  // namespace raceward
