// Feeders that carry all of one dwelling unit: the law lets their conductors carry a share of their rating.
#pragma once

#include "figure/figure.hpp"

namespace raceward::figure {

/// Largest overcurrent device that an ampacity allows on a circuit whose device has that rating: by the share
/// of the law where the circuit carries all of one dwelling unit and the share decides, else `general`.
/// Missing where it is not known whether it does, and that decides.
Value device_for_dwelling(Evaluation& e, Subject circuit, std::int64_t rating, const Value& ampacity,
                          const Value& general);

}  // namespace raceward::figure
