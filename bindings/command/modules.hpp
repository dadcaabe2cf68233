// Compiled modules that the user names, loaded.
#pragma once

#include <raceward/engine.hpp>

#include "options.hpp"

namespace raceward::command {

/// Those that can be used; what is wrong with the others is told on standard error.
const LoadedModules& load(const Modules& named);

/// The rules of all of them.
std::vector<const Rule*> rules_of(const LoadedModules& loaded);

}  // namespace raceward::command
