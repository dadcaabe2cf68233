// What a layer writes without effect, and that is no fault: it may be meant, and is told.
#pragma once

#include "ruleset/resolver.hpp"

namespace raceward::ruleset {

/// `before` and `after`: what the layers made below this one, and with it. `added` is the first scope of its
/// own.
void tell_idle(const Link& link, LayerId id, const Drawn& before, const Drawn& after, std::size_t added,
               const Resolving& with);

}  // namespace raceward::ruleset
