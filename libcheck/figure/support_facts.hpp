// Where a raceway is supported, and whether the conditions of an exception hold for it.
#pragma once

#include <vector>

#include "figure/figure.hpp"
#include "figure/support_law.hpp"

namespace raceward::figure {

/// Distances along the raceway, in steps of length.
struct Supports {
  MissingId missing = 0;  ///< nothing is recorded, or it contradicts itself; then the rest is empty
  std::int64_t first = 0, last = 0;             ///< of those that fasten
  std::uint32_t fastened = 0;                   ///< resting in the framing is no fastening
  bool framing = false;                         ///< some rest in the framing
  std::vector<std::int64_t> at;                 ///< all, in order
  installation::Index of = installation::none;  ///< the raceway
};
/// The supports of a raceway in order from its `from` end. Good until it is asked of another raceway.
const Supports& supports_of(Evaluation& e, Subject raceway);

/// How far each end is from its nearest fastening. REQUIRES: s.fastened > 0.
struct EndDistances {
  MissingId missing = 0;  ///< the length of the raceway, or a support beyond it
  std::int64_t length = 0, from = 0, to = 0;
  [[nodiscard]] std::int64_t worst() const { return from > to ? from : to; }
};
EndDistances end_distances(Evaluation& e, Subject raceway, const Supports& s);

/// Whether an exception may be claimed.
struct Claim {
  installation::YesNo holds{};  ///< unstated: `missing` names what would tell
  MissingId missing = 0;

  void also(Evaluation& e, const Claim& other);
};
/// Conditions of the whole raceway: all of a row's but `unbroken` and `luminaire_whip`.
Claim claim_of_raceway(Evaluation& e, Subject raceway, Conditions asked);
/// No coupling within this distance of an end (0 from, 1 to).
Claim claim_unbroken(Evaluation& e, Subject raceway, int end, std::int64_t distance);

/// "4.5 ft"
std::string in_feet(std::int64_t length);

}  // namespace raceward::figure
