// Pages of the layers that are shipped: what each sets itself, with where it stands and how it came to us.
#pragma once

#include <map>
#include <memory>
#include <string>
#include <vector>

#include "raceward/engine.hpp"

namespace raceward::pages {

/// The page of the last layer of a law.
std::string page_of_layer(const Law& law);
/// The list of all: one line a layer.
std::string index_of_layers(const std::vector<std::shared_ptr<const Law>>& laws);

}  // namespace raceward::pages
