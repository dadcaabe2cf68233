// Where a raceway is supported, and whether the conditions of an exception hold for it.
#pragma once

#include <vector>

#include "figure/figure.hpp"
#include "figure/support_law.hpp"

namespace raceward::figure {

/// Supports that fasten: how many, and the first and last of them, in steps along the raceway.
struct Fastened {
  std::uint32_t count = 0;
  std::int64_t first = 0, last = 0;

  void add(std::int64_t at);
};

struct Supports {
  MissingId missing = 0;         ///< nothing is recorded, or it contradicts itself; then the rest is empty
  MissingId kinds = 0;           ///< kinds that are not stated
  Fastened surely, perhaps;      ///< resting in the framing is no fastening; without a kind it may be one
  bool framing = false;          ///< some rest in the framing
  std::vector<std::int64_t> at;  ///< all, in order, in steps along the raceway
  installation::Index of = installation::none;  ///< the raceway
};
/// The supports of a raceway in order from its `from` end. Good until it is asked of another raceway.
const Supports& supports_of(Evaluation& e, Subject raceway);

/// What is missing where a support lies beyond the end of a raceway of this length; 0 where none does.
MissingId beyond_end(Evaluation& e, Subject raceway, const Supports& s, std::int64_t length);

/// How far each end is from its nearest fastening. REQUIRES: fastened.count > 0.
struct EndDistances {
  MissingId missing = 0;  ///< the length of the raceway, or a support beyond it
  std::int64_t length = 0, from = 0, to = 0;
  bool
      in_earth[2]{};  ///< another raceway goes on there below the ground: nothing is asked, the distance is 0
  bool goes_on[2]{};  ///< one of its own type goes on from a joint there: no end, the distance is 0
  [[nodiscard]] std::int64_t of(int end) const { return end == 0 ? from : to; }
  [[nodiscard]] int farther() const { return to > from ? 1 : 0; }
  [[nodiscard]] std::int64_t worst() const { return of(farther()); }
};
EndDistances end_distances(Evaluation& e, Subject raceway, const Supports& s, const Fastened& fastened);

/// What goes on from an end of a raceway through a joint there.
struct Onward {
  bool goes_on = false;   ///< a raceway goes on, in earth or not
  bool alike = false;     ///< above ground, and flexible or rigid as this one is
  std::int64_t free = 0;  ///< from the joint to the next support, or what is known to hang free at least
  MissingId free_missing = 0;
  std::int64_t length = 0;  ///< of all that go on alike, whatever supports they have
  MissingId length_missing = 0;
  /// From the joint to the next fastening or enclosure, whatever lies between.
  std::int64_t fastened = 0;
  MissingId fastened_missing = 0;
  /// From the joint to the next support that fastens what goes on as itself; nothing of it is: not strapped.
  bool strapped = false;
  std::int64_t strap = 0;
  MissingId strap_missing = 0;
  /// The same as `fastened`, of a flexible raceway beyond the flexible ones that go on from it: how far from
  /// a fastening that is which holds them, and the raceway there.
  std::int64_t hangs = 0;
  MissingId hangs_missing = 0;
  installation::Index hangs_on = installation::none;
};
/// Rigid conduit or tubing goes on as itself through a coupling: that is no end of it. How far apart the
/// supports on both sides are is asked between supports.
bool goes_on_as_itself(const installation::Raceway& raceway, const installation::Raceway& beyond);
/// At end 0 (from) or 1 (to). All ends of a check together cost linear time. Asks for supports of others.
Onward onward(Evaluation& e, Subject raceway, int end);

/// Whether an exception may be claimed.
struct Claim {
  installation::YesNo holds{};  ///< unstated: `missing` names what would tell
  MissingId missing = 0;

  void also(Evaluation& e, const Claim& other);
};
/// Conditions of the whole raceway: all of a row's but `unbroken` and `ceiling_whip`.
Claim claim_of_raceway(Evaluation& e, Subject raceway, Conditions asked);
/// Where the raceway may hang free by `allowed`: a joint at an end of it fastens nothing, so that what goes
/// on there is fastened near, or all that hangs free is no longer. `own`: its length.
Claim claim_held(Evaluation& e, Subject raceway, std::int64_t own, std::int64_t allowed);
/// No more joints in it, and at its ends where it goes on, than may lie between two supports.
Claim claim_one_joint(Evaluation& e, Subject raceway);
/// What tells of a raceway whether it is a whip.
inline constexpr std::string_view whip_word =
    "yes where it goes to a luminaire or other equipment in an accessible ceiling, else no";
/// Nothing that is written of what is at its ends says that it goes to no luminaire or other equipment.
bool may_be_whip(Evaluation& e, Subject raceway);
/// Of one that is said to be a whip: what it goes to is at this end (0 from, 1 to).
Claim claim_whip(Evaluation& e, Subject raceway, int end);
/// What it goes to is at either end.
Claim claim_whip(Evaluation& e, Subject raceway);
/// Of one that must stay movable: it must at this end (0 from, 1 to), where what moves is. `both`: at the
/// other one it is fastened as far off.
Claim claim_flexible(Evaluation& e, Subject raceway, int end, bool both);
/// No coupling within this distance of an end (0 from, 1 to).
Claim claim_unbroken(Evaluation& e, Subject raceway, int end, std::int64_t distance);

/// "4.5 ft"
std::string shown_along(const Evaluation& e, std::int64_t length);

}  // namespace raceward::figure
