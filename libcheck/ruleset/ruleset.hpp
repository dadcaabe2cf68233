// Rulesets: law as data in files, read into a Law.
//
// load_ruleset and its kin of engine.hpp are made from what stands here.
#pragma once

#include <functional>
#include <optional>
#include <span>
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

/// What does not fit between a law and the rules that are to be asked under it: rules that the law names and
/// nobody has, and parameters that a rule of the law reads and the law lacks. Rules that the law does not
/// name are no fault.
std::vector<Problem> verify(const Law& law, std::span<const Rule* const> rules);

}  // namespace raceward::ruleset
