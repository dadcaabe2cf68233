// The largest ungrounded conductor that supplies a panel.
#pragma once

#include "figure/grounding_size_law.hpp"

namespace raceward::figure {

inline constexpr std::string_view a_size = "a size such as 6 AWG";
inline constexpr std::string_view a_metal = "copper, aluminum or copper-clad-aluminum";

struct Supply {
  std::int64_t area = 0;  ///< circular mils, of all in parallel together; 0: not known
  Metal metal{};
  MissingId missing = 0;  ///< where something is, the area is the least that it may be
};
Supply supply_of(Evaluation& e, Subject panel);

}  // namespace raceward::figure
