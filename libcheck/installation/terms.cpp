// Spellings of the closed lists, from the lists in terms.hpp.
#include "installation/terms.hpp"

namespace raceward::installation {

#define RACEWARD_ROW(identifier, spelling, meaning) Term{spelling, meaning},
#define RACEWARD_SPELLINGS(Name, LIST)                                              \
  namespace {                                                                       \
  constexpr Term Name##_terms[] = {LIST(RACEWARD_ROW)};                             \
  }                                                                                 \
  std::span<const Term> terms_of(Name) { return Name##_terms; }                     \
  std::string_view name_of(Name value) {                                            \
    const auto at = static_cast<std::size_t>(value);                                \
    return at == 0 || at > std::size(Name##_terms) ? std::string_view{"not stated"} \
                                                   : Name##_terms[at - 1].spelling; \
  }

RACEWARD_SPELLINGS(RacewayType, RACEWARD_RACEWAY_TYPES)
RACEWARD_SPELLINGS(TradeSize, RACEWARD_TRADE_SIZES)
RACEWARD_SPELLINGS(ConductorSize, RACEWARD_CONDUCTOR_SIZES)
RACEWARD_SPELLINGS(Insulation, RACEWARD_INSULATIONS)
RACEWARD_SPELLINGS(ConductorMaterial, RACEWARD_CONDUCTOR_MATERIALS)
RACEWARD_SPELLINGS(Construction, RACEWARD_CONSTRUCTIONS)
RACEWARD_SPELLINGS(Role, RACEWARD_ROLES)
RACEWARD_SPELLINGS(PlaceKind, RACEWARD_PLACE_KINDS)
RACEWARD_SPELLINGS(BoxKind, RACEWARD_BOX_KINDS)
RACEWARD_SPELLINGS(BoxSize, RACEWARD_BOX_SIZES)
RACEWARD_SPELLINGS(EnclosureMaterial, RACEWARD_ENCLOSURE_MATERIALS)
RACEWARD_SPELLINGS(RacewayMetal, RACEWARD_RACEWAY_METALS)
RACEWARD_SPELLINGS(Building, RACEWARD_BUILDINGS)
RACEWARD_SPELLINGS(Disconnect, RACEWARD_DISCONNECTS)
RACEWARD_SPELLINGS(System, RACEWARD_SYSTEMS)
RACEWARD_SPELLINGS(Electrode, RACEWARD_ELECTRODES)
RACEWARD_SPELLINGS(YesNo, RACEWARD_YES_NO)
RACEWARD_SPELLINGS(Mounting, RACEWARD_MOUNTINGS)
RACEWARD_SPELLINGS(BodyForm, RACEWARD_BODY_FORMS)
RACEWARD_SPELLINGS(PieceKind, RACEWARD_PIECE_KINDS)
RACEWARD_SPELLINGS(Bender, RACEWARD_BENDERS)
RACEWARD_SPELLINGS(Fitting, RACEWARD_FITTINGS)
RACEWARD_SPELLINGS(Knockout, RACEWARD_KNOCKOUTS)
RACEWARD_SPELLINGS(SupportKind, RACEWARD_SUPPORT_KINDS)
RACEWARD_SPELLINGS(DeviceKind, RACEWARD_DEVICE_KINDS)
RACEWARD_SPELLINGS(StopTreatment, RACEWARD_STOP_TREATMENTS)
RACEWARD_SPELLINGS(Location, RACEWARD_LOCATIONS)
RACEWARD_SPELLINGS(Exposure, RACEWARD_EXPOSURES)
RACEWARD_SPELLINGS(Beneath, RACEWARD_BENEATHS)
RACEWARD_SPELLINGS(Finish, RACEWARD_FINISHES)
RACEWARD_SPELLINGS(Opposite, RACEWARD_OPPOSITES)
RACEWARD_SPELLINGS(AreaUse, RACEWARD_AREA_USES)
RACEWARD_SPELLINGS(Occupancy, RACEWARD_OCCUPANCIES)
RACEWARD_SPELLINGS(CircuitKind, RACEWARD_CIRCUIT_KINDS)
RACEWARD_SPELLINGS(CircuitService, RACEWARD_CIRCUIT_SERVICES)
RACEWARD_SPELLINGS(Protection, RACEWARD_PROTECTIONS)
RACEWARD_SPELLINGS(TripCurve, RACEWARD_TRIP_CURVES)
RACEWARD_SPELLINGS(GroundedBy, RACEWARD_GROUNDED_BY)
RACEWARD_SPELLINGS(Horsepower, RACEWARD_HORSEPOWERS)
RACEWARD_SPELLINGS(Overload, RACEWARD_OVERLOADS)
RACEWARD_SPELLINGS(JumperRouting, RACEWARD_JUMPER_ROUTINGS)
RACEWARD_SPELLINGS(Windings, RACEWARD_WINDINGS)

}  // namespace raceward::installation
