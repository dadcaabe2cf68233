// CSV of a table -> Table, with every fault's line and column.
#pragma once

#include <optional>
#include <vector>

#include "raceward/law.hpp"
#include "ruleset/citer.hpp"
#include "ruleset/text_file.hpp"

namespace raceward::ruleset {

/// What a row does to the table of the base.
enum class RowChange : std::uint8_t { amends, adds, removes };

struct TableFile {
  Table table;
  struct Row {
    std::size_t offset = 0;     ///< where the row begins
    std::size_t change_at = 0;  ///< where its change is written; the row's offset where it is not
    RowChange change{};
  };
  std::vector<Row> rows;              ///< one each of the table's
  std::vector<std::size_t> headings;  ///< where the names of its columns stand
};

/// Reads a table's file. Nothing where its head or its columns are wrong; faulty rows are reported and left
/// out.
std::optional<TableFile> read_table(const TextFile& file, Citer& citer, Problems& problems);

}  // namespace raceward::ruleset
