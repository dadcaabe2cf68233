// A table of the base with the rows of a higher layer set over it.
#pragma once

#include "raceward/law.hpp"
#include "ruleset/citer.hpp"
#include "ruleset/read_table.hpp"

namespace raceward::ruleset {

/// The base's table with each row of `own` in it: rows of keys that the base has take the place of its rows,
/// new ones follow, removed ones go. A column that `own` leaves out keeps the base's cells and is blank in
/// new rows. Every fault of a row or column goes to `problems` with its place in `file`.
Table amended(const Table& base, const TableFile& own, LayerId layer, const TextFile& file,
              const Citer& citer, Problems& problems);

}  // namespace raceward::ruleset
