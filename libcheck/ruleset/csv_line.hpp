// One line of comma-separated values, with the place of every cell.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace raceward::ruleset {

struct Cell {
  std::string text;        ///< without quotes and surrounding blanks
  std::size_t offset = 0;  ///< byte in the line where it begins
};

/// Why a line cannot be taken apart.
struct LineFault {
  std::size_t offset = 0;
  std::string what;
};

/// Cells of a line. Text in double quotes may hold commas; a quote in it is written \" and a backslash \\.
std::optional<LineFault> split_line(std::string_view line, std::vector<Cell>& cells);

}  // namespace raceward::ruleset
