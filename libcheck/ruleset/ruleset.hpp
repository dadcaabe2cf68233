// Rulesets: law as data in files, read into a Law.
//
// load_ruleset and its kin of engine.hpp are made from what stands here.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "raceward/engine.hpp"

namespace raceward::ruleset {

/// How files of a ruleset are had: the bytes of a path, or nothing where there is no such file.
using ReadFile = std::function<std::optional<std::string>(const std::string& path)>;

/// Where layers are had from.
struct Shelf {
  ReadFile read;
  std::string shown{};                                       ///< what problems and places write before a path
  std::map<std::string, std::string, std::less<>> layers{};  ///< paths of layers that are known by an id
  /// The names of all parameters and tables that its rulesets set: what figures and rules read. Asked seldom.
  std::function<const std::set<std::string, std::less<>>&()> names{};
};

/// Reads the layer at `path` of the own shelf, the layers that it is based on, and their tables. A base is an
/// id of the shipped shelf or a path from the folder of the layer that names it. Law or problems, never both.
LoadedLaw load_layer(const std::string& path, const Shelf& own, const Shelf& shipped = {});

/// Where a law sets what `known` sets too, but as another kind of value, and what it sets under a name that
/// is one of `known` misspelt. What it leaves out or brings besides is no fault.
std::vector<Problem> known_names(const Law& own, const Law& known);

}  // namespace raceward::ruleset
