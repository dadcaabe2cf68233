// Devices by the place that they are in, sorted once for a check; what is said of them that cannot be.
#pragma once

#include <span>
#include <vector>

#include "figure/figure.hpp"

namespace raceward::figure {

/// Indices of the devices in a place, by id.
std::span<const installation::Index> devices_in(Evaluation& e, installation::Index place);

/// Those of them that are on a circuit; with `none`, those that say no circuit.
std::span<const installation::Index> devices_on(Evaluation& e, installation::Index place,
                                                installation::Index circuit);

/// Whether a luminaire is written at a place: in a box, or as equipment of the law's word.
bool luminaire_in(Evaluation& e, installation::Index place);

/// What contradicts a device that is said to have no yoke or strap; 0 where it may have none.
MissingId yoke_denied(Evaluation& e, installation::Index device);

/// What contradicts the size said of the conductors on a device: all that its circuits bring into its box are
/// larger, and none is spliced there to a smaller piece; 0 where it may be so.
MissingId size_denied(Evaluation& e, installation::Index device);

/// How conductors that go on count where nobody says how they are treated.
enum class Untreated : std::uint8_t { passing, spliced };

/// The least that the largest conductor on a device may be: where conductors of its circuits are spliced in
/// its box, pieces that are not written may lead to it. Unstated where the law does not know the smallest.
installation::ConductorSize least_piece_on(Evaluation& e, installation::Index device, Untreated as);

/// The smallest piece of a conductor that the law lets lead to a device; unstated where it does not say.
installation::ConductorSize least_piece(const Evaluation& e);
/// Whether smaller pieces may be spliced to the conductors that stop there.
inline bool may_splice(const installation::Visit& visit, const installation::Stop& stop, Untreated as) {
  const bool goes_on = visit.arrives && visit.leaves;
  return stop.ungrounded == installation::StopTreatment::spliced ||
         (stop.ungrounded == installation::StopTreatment::unstated && (!goes_on || as == Untreated::spliced));
}

/// What contradicts the gangs of a box that is made for so many: its devices take more; 0 where they fit.
MissingId gangs_denied(Evaluation& e, installation::Index box);

}  // namespace raceward::figure
