// Character and entity references: &lt; &#233; &#xE9;
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

namespace raceward::document {

enum class ReferenceFault : std::uint8_t { none, bare, unknown, number, character };

/// What is wrong with the reference that `text` begins with. Looks at a few bytes only.
ReferenceFault fault_of_reference(std::string_view text);
std::string explain(ReferenceFault fault, std::string_view text);

/// Writes an attribute's value as XML means it: references replaced, each tab and line end a blank. `room`
/// has as many bytes as the value; answers how many were written. What is no reference stays as it is.
std::size_t normalize(std::string_view value, char* room);

}  // namespace raceward::document
