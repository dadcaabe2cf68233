// What the law says of the current that conductors may carry, looked up once a check.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "figure/figure.hpp"
#include "figure/grounding_size_law.hpp"

namespace raceward::figure {

/// A value of the law with its row.
struct Found {
  std::int64_t count = 0;
  CitationId cite = no_citation;
};

/// How hot an insulation may become, by location; the best of a conductor's marks.
struct InsulationRating {
  std::int64_t at[4]{};  ///< by Location; 0: no mark is made for it
  CitationId cite = no_citation;
  bool known = false;  ///< the law knows one of its marks at least
  bool all = false;    ///< it knows every one of them
  [[nodiscard]] std::int64_t in(installation::Location where) const { return at[static_cast<int>(where)]; }
  [[nodiscard]] std::int64_t best() const;
};

class AmpacityLaw {
 public:
  void read(const Law& law);

  /// Ampacity in the column of the highest rating that is not above `rating`.
  [[nodiscard]] std::optional<Found> ampacity(Metal metal, installation::ConductorSize size,
                                              std::int64_t rating) const;
  /// Part that is left in so warm surroundings, of the ampacity in the column of that rating.
  [[nodiscard]] std::optional<Found> correction(std::int64_t ambient, std::int64_t rating) const;
  /// Share that is left where so many conductors carry current together.
  [[nodiscard]] std::optional<Found> adjustment(std::int64_t conductors) const;
  /// The standard rating that is not below; of fuses, or of all overcurrent devices.
  [[nodiscard]] std::optional<Found> standard(std::int64_t current, bool fuses) const;
  /// Largest overcurrent device of a small conductor; nothing where it has no such limit.
  [[nodiscard]] std::optional<Found> small_conductor(installation::ConductorMaterial material,
                                                     installation::ConductorSize size) const;
  [[nodiscard]] bool has_small_conductors() const { return has_small_; }
  [[nodiscard]] InsulationRating insulation(const installation::ConductorKind& kind) const;

 private:
  struct Row {
    std::int64_t key = 0, rating = 0, value = 0;
    CitationId cite = no_citation;
  };
  void read_ampacities(const Law& law);
  void read_insulations(const Law& law);

  std::vector<Row> ampacity_[2];       // by metal: key is a size, by falling rating
  std::vector<Row> correction_;        // key is the highest temperature of the surroundings, rising
  std::vector<Row> adjustment_;        // key is a number of conductors, falling
  std::vector<Row> standard_, fuses_;  // key is a current, rising
  std::vector<Row> small_;             // key is material and size
  bool has_small_ = false;
  std::vector<InsulationRating> insulation_;  // by mark
};
const AmpacityLaw& ampacity_law(Evaluation& e);
InsulationRating insulation_rating(Evaluation& e, installation::Index kind);

}  // namespace raceward::figure
