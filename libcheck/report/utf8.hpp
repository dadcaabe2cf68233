// Texts of strangers: names of files and elements may hold any bytes.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace raceward::report {

/// Valid UTF-8: every byte that is not part of a valid sequence becomes U+FFFD.
std::string valid_utf8(std::string_view text);

/// Fit for a terminal: valid, and blanks for line breaks and tabs, "?" for what would move the cursor,
/// recolour or reverse the line (control characters, directional overrides).
std::string printable(std::string_view text);

/// Characters of valid UTF-8, each counted as one column.
std::size_t width_of(std::string_view text);

}  // namespace raceward::report
