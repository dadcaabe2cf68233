// Rows of a table of law that is keyed by raceway type, and perhaps by another closed list, found once a
// law.
#pragma once

#include <vector>

#include "figure/figure.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure {

/// Derive from it for each table, with a read(const Law&) that names it, for of_law<>.
struct TypeRows {
  const Table* table = nullptr;
  std::vector<std::uint32_t> rows;
  std::size_t seconds = 1;

  /// A table whose only key is the raceway type.
  void read_all(const Law& law, std::string_view name) {
    if (start(law, name, 1) == nullptr) return;
    for (std::uint32_t row = 0; row < table->row_count(); ++row)
      rows[static_cast<std::size_t>(term_spelt<installation::RacewayType>(table->key(row, 0)))] = row;
    rows[0] = Table::none;
  }
  /// A table whose second key is a word of a closed list.
  template <class Term>
  void read_by(const Law& law, std::string_view name) {
    if (start(law, name, terms_with_unstated<Term>()) == nullptr) return;
    for (std::uint32_t row = 0; row < table->row_count(); ++row) {
      const auto type = static_cast<std::size_t>(term_spelt<installation::RacewayType>(table->key(row, 0)));
      const auto second = static_cast<std::size_t>(term_spelt<Term>(table->key(row, 1)));
      if (type != 0 && second != 0) rows[type * seconds + second] = row;
    }
  }
  /// Table::none where the law has no row.
  [[nodiscard]] std::uint32_t of(installation::RacewayType type, std::size_t second = 0) const {
    return table == nullptr ? Table::none : rows[static_cast<std::size_t>(type) * seconds + second];
  }

 private:
  const Table* start(const Law& law, std::string_view name, std::size_t second_count) {
    table = law.table(name);
    seconds = second_count;
    rows.assign(terms_with_unstated<installation::RacewayType>() * seconds, Table::none);
    return table;
  }
};

/// "the ruleset in force says nothing of X for FMC".
inline Value lacks_row(Evaluation& e, Subject subject, std::string_view table, std::string_view of,
                       installation::RacewayType type) {
  return e.lacks(
      subject, table, "a row for this raceway type", ruleset_author,
      fmt::format(FMT_COMPILE("the ruleset in force says nothing of {} for {}"), of, name_of(type)));
}

inline Value lacks_type(Evaluation& e, Subject raceway) {
  return e.lacks(raceway, "type", "a raceway type such as EMT", installer);
}

}  // namespace raceward::figure
