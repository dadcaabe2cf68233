// Whether a raceway connects what it joins to the fault current path.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "figure/figure.hpp"
#include "figure/grounding_law.hpp"

namespace raceward::figure::grounding {

enum class Carries : std::uint8_t { no, unknown, yes };

/// Collects, where somebody wants to know, why something carries no current or what would tell.
struct Account {
  MissingId missing = 0;
  std::string broken;             ///< "raceway R4 is PVC-40"; the first reason only
  CitationId cite = no_citation;  ///< of that reason, or of the row that allows it
};

/// A raceway as a part of the path.
struct Link {
  Carries carries = Carries::yes;
  bool flexible = false;
  /// Per end: fastened to the metal of its place; false: bonded to the conductors in a nonmetallic one.
  bool metal[2] = {true, true};
};

/// Ends of raceways that a bonding jumper of the document bridges: bit 0 from, bit 1 to. Empty where there
/// are none.
using Bridged = std::vector<std::uint8_t>;
Bridged bridged_ends(const installation::Model& model);

/// The raceway with its fittings and couplings. The length of flexible raceways is a matter of the whole
/// path. `account` may be null.
Link link_of(Evaluation& e, const Bridged& bridged, installation::Index raceway, Account* account);

// Parts of it by themselves, whatever the type may carry: whether the metal goes on there.
/// From the raceway to the metal enclosure at an end.
Carries fastened(Evaluation& e, installation::Index raceway, int end, Account& account);
/// From the raceway to what an end is said to be bonded to. REQUIRES: it is.
Carries bonded(Evaluation& e, installation::Index raceway, int end, Account& account);
/// The same at a joint, around its fitting. REQUIRES: it is.
Carries bonded_around(Evaluation& e, installation::Index raceway, int end, Account& account);
/// From the raceway to the fitting of the joint at an end.
Carries at_joint(Evaluation& e, installation::Index raceway, int end, Account& account);
/// Through the couplings and expansion fittings within its course.
Carries course_of(Evaluation& e, installation::Index raceway, Account& account);

/// Index of a place as a subject of its kind.
inline Subject place_subject(const installation::Model& model, installation::Index place) {
  return {installation::subject_kind(model.places[place].kind), place};
}
/// "box B4"
std::string short_place(const installation::Model& model, installation::Index place);

}  // namespace raceward::figure::grounding
