// Plain text broken to a width.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace raceward::command {

/// The text with a line break after each line, broken at blanks to 100 columns; every line starts with
/// `indent` blanks, the first with `label` in place of some of them.
std::string wrapped(std::string_view text, std::size_t indent, std::string_view label = {});

}  // namespace raceward::command
