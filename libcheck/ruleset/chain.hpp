// A layer and all layers below it, as their files say it.
#pragma once

#include <string>
#include <vector>

#include "ruleset/layer.hpp"
#include "ruleset/ruleset.hpp"

namespace raceward::ruleset {

struct Link {
  const ReadFile* read = nullptr;  ///< how its tables are had
  std::string folder;              ///< where they stand, with a slash at the end
  std::string shown;               ///< what stands before a path in problems and places
  TextFile file;
  Layer layer;
  bool shipped = false;
};

/// A path that a layer names, from its folder on.
std::string path_from(const std::string& folder, std::string_view named);

/// Whether two names of layers, or paths from one folder, mean the same.
bool same_path(const std::string& a, const std::string& b);

/// Base first. Empty where a file cannot be had or read, or the bases lead in a circle; then at least one
/// problem says so.
std::vector<Link> read_chain(const std::string& path, const Shelf& own, const Shelf& shipped,
                             Problems& problems);

}  // namespace raceward::ruleset
