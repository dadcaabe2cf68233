// Published values as the files in data/ hold them: a reader of its own, so that a fault of ours cannot hide
// itself.
#pragma once

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <map>
#include <string>
#include <vector>

namespace raceward::published {

using Row = std::map<std::string, std::string>;

inline std::vector<std::string> split(const std::string& line) {
  std::vector<std::string> cells(1);
  bool in_quotes = false;
  for (const char c : line) {
    if (c == '"') {
      in_quotes = !in_quotes;
    } else if (c == ',' && !in_quotes) {
      cells.emplace_back();
    } else if (c != '\r') {
      cells.back() += c;
    }
  }
  return cells;
}

/// Rows of data/<name>, each cell under its column's name. None, and a failure, where the file is not there.
inline std::vector<Row> rows_of(const std::string& name) {
#ifdef RACEWARD_SOURCE_DIR
  const std::filesystem::path folder = std::filesystem::path(RACEWARD_SOURCE_DIR) / "tests/published/data";
#else
  const std::filesystem::path folder = std::filesystem::path(__FILE__).parent_path() / "data";
#endif
  std::ifstream in(folder / name);
  EXPECT_TRUE(in) << folder / name;
  std::string line;
  std::getline(in, line);
  const std::vector<std::string> names = split(line);
  std::vector<Row> rows;
  while (std::getline(in, line)) {
    const std::vector<std::string> cells = split(line);
    EXPECT_EQ(cells.size(), names.size()) << name << ": " << line;
    if (cells.size() != names.size()) continue;
    Row& row = rows.emplace_back();
    for (std::size_t i = 0; i < cells.size(); ++i) row[names[i]] = cells[i];
  }
  EXPECT_FALSE(rows.empty()) << name;
  return rows;
}

/// "0.10" and "0.100" are one value: a decimal without the zeros that say nothing.
inline std::string plain_decimal(std::string text) {
  if (text.find('.') == std::string::npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

}  // namespace raceward::published
