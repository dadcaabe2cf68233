// What the law says of supports, by raceway type and trade size, looked up once a check.
#pragma once

#include <cstdint>
#include <vector>

#include "figure/figure.hpp"

namespace raceward::figure {

/// What must hold for a row of the law to be claimed: bits of a set.
enum class Condition : std::uint16_t {
  no_fastening_point = 1,
  unbroken = 2,  ///< no coupling between an end and its support
  threaded_couplings = 4,
  straight = 8,
  vertical_riser = 16,
  flexibility_needed = 32,
  ceiling_whip = 64,       ///< for one end of the raceway only
  short_length = 128,      ///< for the raceway as a whole, never for an end of a longer one
  fished = 1 << 8,         ///< through closed walls and ceilings: whatever its length
  accepted = 1 << 9,       ///< the authority accepts that the enclosures at its ends hold it
  pendant_stem = 1 << 10,  ///< a suspended box hangs from it
  from_equipment = 1 << 11,
  one_joint = 1 << 12,  ///< no more than one between supports
};
using Conditions = std::uint16_t;
constexpr bool asks(Conditions set, Condition one) { return (set & static_cast<Conditions>(one)) != 0; }

/// Distances in steps of length, or Table::blank.
struct SupportRow {
  Conditions conditions = 0;  ///< 0: the general row
  std::int64_t spacing = Table::blank;
  std::int64_t termination = Table::blank;
  std::int64_t unsecured = Table::blank;  ///< how long a piece may stay without fastening
  CitationId cite = no_citation;

  /// It sets no distance: nothing is asked of the raceway, whatever its length.
  [[nodiscard]] bool any_length() const {
    return spacing == Table::blank && termination == Table::blank && unsecured == Table::blank;
  }
};

struct SupportRows {
  bool known = false;    ///< the law has a general row
  bool by_size = false;  ///< some rows depend on the trade size, and it is not stated
  SupportRow general;
  std::vector<SupportRow> exceptions;
};

/// Rows for a raceway's type and trade size. A table row whose condition this method does not know is left
/// out.
const SupportRows& support_rows(Evaluation& e, const installation::Raceway& raceway);

}  // namespace raceward::figure
