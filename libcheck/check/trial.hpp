// Rules of compiled modules asked once beforehand, in a process of their own.
#pragma once

#include <vector>

#include "check/subjects.hpp"
#include "check/survey.hpp"
#include "raceward/engine.hpp"

namespace raceward::checking {

/// A rule of a module that is to be asked.
bool asks_module(const BoundRule& bound);

/// Asks those that can be asked. One that ends its process, or does not return, gets that as its fault.
void try_compiled(const Installation& installation, const ReadyLaw& ready, std::vector<BoundRule>& rules,
                  Subjects& subjects, const CheckOptions& options);

}  // namespace raceward::checking
