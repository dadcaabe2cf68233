// CSV of a table -> Table, with every fault's line and column.
#pragma once

#include <optional>

#include "raceward/law.hpp"
#include "ruleset/citer.hpp"
#include "ruleset/text_file.hpp"

namespace raceward::ruleset {

/// Reads a table's file. Nothing where its head or its columns are wrong; faulty rows are reported and left
/// out.
std::optional<Table> read_table(const TextFile& file, Citer& citer, Problems& problems);

}  // namespace raceward::ruleset
