// What figures about outlets ask of the document and of the law's tables of places.
#pragma once

#include "figure/figure.hpp"

namespace raceward::figure::outlets {

/// Id of a device, circuit or overcurrent device.
std::string_view id_of(const Evaluation& e, Subject subject);
/// 1 where the overcurrent device of the circuit is rated at most so.
Value rated_at_most(Evaluation& e, Index circuit, std::int64_t most);
Value lacks_occupancy(Evaluation& e);
Value lacks_area(Evaluation& e, Index place);
/// What is contradicted where the height of a device and that of its box lie on two sides of a limit; else 0.
MissingId height_contradicted(Evaluation& e, Index device, std::int64_t limit);

/// The row of a word for the occupancy of the premises, or else for all occupancies.
std::uint32_t row_of(const Evaluation& e, const Table* table, std::string_view word);

/// Whether some occupancy has a row of that word of its own.
bool differs_by_occupancy(const Table* table, std::string_view word);

/// A row of the law about an area, found by a word that the document uses of it.
struct Row {
  const Table* table = nullptr;
  std::uint32_t row = Table::none;
  Index area = installation::none;
  std::string_view attribute;  ///< that the word stands in

  [[nodiscard]] bool known() const { return row != Table::none; }
  [[nodiscard]] std::string_view text(std::string_view column) const {
    return table->text(row, table->column(column));
  }
  [[nodiscard]] CitationId cite() const { return table->cite(row); }
};
Row find(Evaluation& e, std::string_view table, Index area, std::string_view attribute,
         std::string_view word);

}  // namespace raceward::figure::outlets
