// What the law says of raceway fill, looked up once a check.
#pragma once

#include <string_view>
#include <vector>

#include "figure/figure.hpp"

namespace raceward::figure {

/// A limit as a share of the raceway's area.
struct FillLimit {
  Number share;
  CitationId cite = no_citation;
  bool known = false;
};

/// Limits by number of conductors: rows "1", "2" are for that number, "over 2" for more, "nipple" for short
/// pieces, a raceway type for all of that type.
struct FillLimits {
  std::vector<std::pair<std::int64_t, FillLimit>> exactly, over;  // by rising number
  FillLimit nipple;
  std::vector<FillLimit> types;  ///< by raceway type, of those that a row of their own limits

  void read(const Law& law);

  [[nodiscard]] FillLimit of_type(installation::RacewayType type) const {
    const auto at = static_cast<std::size_t>(type);
    return at < types.size() ? types[at] : FillLimit{};
  }

  /// The limit for so many conductors (at least 1) in a raceway of any length.
  [[nodiscard]] FillLimit of(std::int64_t conductors) const;
};
const FillLimits& fill_limits(Evaluation& e);

/// Inside area of a raceway type and trade size: the circle of the internal diameter, or where the law has
/// none the area that it prints.
struct InsideArea {
  Area area;
  Length diameter;  ///< zero where the printed area was taken
  CitationId cite = no_citation;
  bool known = false;
  std::string_view counts;  ///< the table of the code that tells counts for it instead of a share; else empty
};
const InsideArea& inside_area(Evaluation& e, installation::RacewayType type, installation::TradeSize size);

}  // namespace raceward::figure
