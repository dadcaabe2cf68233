// Loads a document whose bytes are already in memory.
#pragma once

#include <string>

#include "raceward/engine.hpp"

namespace raceward::document {

/// Bytes beyond the file's own that its text is best given room for.
inline constexpr std::size_t loading_room = 4096;
/// What a file of more than most_bytes gets.
inline constexpr const char* too_large = "the file is larger than 4 GB; divide it";

/// Takes the bytes of a file over. `name` is what problems and places call it.
Loaded load(std::string bytes, std::string name);

}  // namespace raceward::document
