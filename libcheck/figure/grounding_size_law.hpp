// What the law says of the sizes of equipment grounding conductors, looked up once a check.
#pragma once

#include <cstdint>
#include <vector>

#include "figure/figure.hpp"

namespace raceward::figure {

/// The law tells two metals apart: copper, and aluminum with or without copper cladding.
enum class Metal : std::uint8_t { copper, aluminum };
inline Metal metal_of(installation::ConductorMaterial material) {
  return material == installation::ConductorMaterial::copper ? Metal::copper : Metal::aluminum;
}

/// Sizes for overcurrent devices up to a rating.
struct SizeRow {
  std::int64_t rating = 0;
  installation::ConductorSize sizes[2]{};  ///< by metal
  CitationId cite = no_citation;

  [[nodiscard]] installation::ConductorSize of(Metal metal) const { return sizes[static_cast<int>(metal)]; }
};

class SizeLaw {
 public:
  void read(const Law& law);

  /// Size of the equipment grounding conductor; nothing where the law has no row that goes so far.
  [[nodiscard]] const SizeRow* grounding(std::int64_t rating) const { return row_for(grounding_, rating); }
  /// The least ungrounded conductor that such an overcurrent device protects.
  [[nodiscard]] const SizeRow* ungrounded(std::int64_t rating) const { return row_for(ungrounded_, rating); }
  /// The least size whose area is to `size` at least as `raised` is to `from`; unstated where the law does
  /// not know an area, or no size is so large. Among sizes of the gauge steps decide, else the law's areas.
  [[nodiscard]] installation::ConductorSize in_proportion(installation::ConductorSize size,
                                                          installation::ConductorSize raised,
                                                          installation::ConductorSize from) const;

  /// A number of circular mils; 0 where the law does not know it.
  [[nodiscard]] std::int64_t area(installation::ConductorSize size) const {
    return area_[static_cast<std::size_t>(size)];
  }

 private:
  static const SizeRow* row_for(const std::vector<SizeRow>& rows, std::int64_t rating);

  std::vector<SizeRow> grounding_, ungrounded_;  // by rising rating
  std::vector<std::int64_t> area_;               // numbers of circular mils by size, 0 where not known
};
const SizeLaw& size_law(Evaluation& e);

/// The rows of a table of sizes by rating, the ratings rising.
std::vector<SizeRow> size_rows(const Law& law, std::string_view table);

/// Sizes in millimetres squared have no place in lists by gauge.
inline bool by_gauge(installation::ConductorSize size) {
  return size != installation::ConductorSize::unstated && size < installation::ConductorSize::mm1;
}

}  // namespace raceward::figure
