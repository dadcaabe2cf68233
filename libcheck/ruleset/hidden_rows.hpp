// Rows for all sizes that no size ever comes to, because each has a row of its own.
#pragma once

#include <functional>
#include <string_view>

#include "raceward/law.hpp"
#include "ruleset/read_table.hpp"

namespace raceward::ruleset {

/// A table of the law below by its name, or null.
using TableOf = std::function<const Table*(std::string_view)>;

/// Of each row of `own` for trade size "all": where every size that the raceway is made in has a row of its
/// own under the same other keys, that is a fault, for what the row says would hold of nothing; where some
/// have, it goes to `remarks`. `base`: the table below.
void hidden_rows(const Table& base, const TableFile& own, const TableOf& table, const TextFile& file,
                 Problems& problems, Problems& remarks);

}  // namespace raceward::ruleset
