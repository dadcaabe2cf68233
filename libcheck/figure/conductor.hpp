// How much room each kind of conductor takes in a raceway, looked up once a check.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "figure/figure.hpp"

namespace raceward::figure {

/// Its place among ConductorKind::insulations.
constexpr std::uint64_t bit_of(installation::Insulation insulation) {
  return std::uint64_t{1} << (static_cast<unsigned>(insulation) - 1);
}

inline bool is_bare(const installation::ConductorKind& kind) {
  return (kind.insulations & bit_of(installation::Insulation::bare)) != 0;
}

/// The cross-sectional area of one conductor of a kind, or the fact that is missing for it.
struct KindArea {
  Area area;
  CitationId cite = no_citation;
  std::string_view lacks;  ///< attribute of the conductor that is missing; empty: the area is known
  std::string_view expects;
  std::string why;  ///< where more than an absence is to be told
  Area spare{};     ///< by how much it is smaller at most, where its construction is not stated

  [[nodiscard]] bool known() const { return lacks.empty(); }
};

/// Area of a kind of conductor: a circle of the stated diameter; else the law's area for its size and
/// insulation, the largest of those that its marks stand for; for bare ones that of its construction.
const KindArea& area_of_kind(Evaluation& e, installation::Index kind);

/// "12 AWG THHN/THWN-2", "bare 12 AWG stranded", "cable 0.41 in across".
std::string words_of_kind(const Evaluation& e, const installation::ConductorKind& kind);

/// What a run lays into each raceway that it passes.
struct RunFill {
  std::int64_t count = 0;  ///< conductors; a multiconductor cable is one
  Area area;               ///< of all of them
  Area each;               ///< of one, where all alike
  bool alike = true;       ///< every conductor whose area is known has the area `each`
  bool cables = false;     ///< some are cables
  bool ready = false;
  MissingId missing = 0;  ///< of the area; where the count is 0, of that too
  Area spare{};           ///< by how much all of them are smaller at most, where some do not state theirs
  CitationId cite = no_citation;
};
/// Summed once a run, when somebody asks.
const RunFill& fill_of_run(Evaluation& e, installation::Index run);

/// One thing that a run lays into a raceway.
struct Laid {
  installation::Index conductor = 0;
  std::int64_t count = 0;
};
/// All that a run lays into each raceway that it passes: its conductors, and instead of those that lie in a
/// multiconductor cable the cable, once. Into a vector that the caller keeps, so that many runs cost no
/// memory.
void laid_by_run(const installation::Model& model, installation::Index run, std::vector<Laid>& out);

}  // namespace raceward::figure
