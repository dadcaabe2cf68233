// Loads a document whose bytes are already in memory.
#pragma once

#include <string>

#include "installation/bytes.hpp"
#include "raceward/engine.hpp"

namespace raceward::document {

/// What a file of more than most_bytes gets.
inline constexpr const char* too_large = "the file is larger than 4 GB; divide it";

/// Takes the bytes of a file over. `name` is what problems and places call it; threads as in load_bytes.
Loaded load(installation::Bytes bytes, std::string name, unsigned threads);

}  // namespace raceward::document
