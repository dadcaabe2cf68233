// The largest ungrounded conductor that supplies a panel.
#pragma once

#include "figure/grounding_size_law.hpp"

namespace raceward::figure {

inline constexpr std::string_view a_size = "a size such as 6 AWG";
inline constexpr std::string_view a_metal = "copper, aluminum or copper-clad-aluminum";

struct Supply {
  std::int64_t area = 0;  ///< a number of circular mils, of all in parallel together; 0: not known
  Metal metal{};
  MissingId missing = 0;  ///< where something is, the area is the least that it may be
};
/// Of equipment: what a transformer supplies, the ungrounded conductors of its secondary.
Supply supply_of(Evaluation& e, Subject panel);
/// Largest ungrounded conductor of each secondary of a transformer, those side by side taken together.
Supply derived_supply(Evaluation& e, Index transformer);

}  // namespace raceward::figure
