// Rulesets: law as data in files, read into a Law.
//
// load_ruleset and its kin of engine.hpp are made from what stands here.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "raceward/engine.hpp"

namespace raceward::ruleset {

/// How files of a ruleset are had: the bytes of a path, or nothing where there is no such file.
using ReadFile = std::function<std::optional<std::string>(const std::string& path)>;

/// Reads the layer at `path`, and its tables from paths relative to the layer's folder. Problems and places
/// call a file `shown` followed by its path. Law or problems, never both.
LoadedLaw load_layer(const std::string& path, const ReadFile& read, const std::string& shown = {});

/// Where a law sets what `known` sets too, but as another kind of value, and what it sets under a name that
/// is one of `known` misspelt. What it leaves out or brings besides is no fault.
std::vector<Problem> known_names(const Law& own, const Law& known);

}  // namespace raceward::ruleset
