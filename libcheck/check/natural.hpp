// Order of ids as people count: R2 before R10, whatever the order in the file.
#pragma once

#include <string_view>

namespace raceward::checking {

/// A strict total order: runs of digits compare as numbers; texts that differ in leading zeros only compare
/// as bytes.
bool natural_less(std::string_view a, std::string_view b);

}  // namespace raceward::checking
