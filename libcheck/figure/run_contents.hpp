// What a run brings to each place that it visits, summed once a run, when somebody asks: a run may visit many
// places.
#pragma once

#include "figure/figure.hpp"

namespace raceward::figure {

/// More than there are conductor sizes: for arrays by size.
inline constexpr std::size_t size_count = 64;  // not law: room for every size

/// Conductors of one size within a run.
struct SizeCount {
  installation::ConductorSize size{};
  std::int64_t count = 0;
};

struct RunContents {
  /// For size_count_of, by rising size; cables left out, what lies in them counted.
  installation::Range other, grounding;
  installation::ConductorSize largest{};
  MissingId missing = 0;                              ///< sizes and roles that are not stated
  MissingId unsized = 0;                              ///< of those, what could be large
  bool large_other = false, large_grounding = false;  ///< some of them are large: see is_large
  bool ready = false;
  MissingId unranked = 0;  ///< what nobody can call large or not
  MissingId covering = 0;  ///< of those, grounding conductors that may be bare
  [[nodiscard]] bool large() const { return large_other || large_grounding; }
};
const RunContents& run_contents(Evaluation& e, installation::Index run);
/// REQUIRES: `item` lies in a range of RunContents of this evaluation.
SizeCount size_count_of(Evaluation& e, installation::Index item);

/// What is missing of a run for which no conductor is written.
MissingId without_conductors(Evaluation& e, const installation::Run& run);

/// Cables of a run whose conductors are not listed, or are listed once for several alike: nobody knows what
/// they bring.
MissingId cables_missing(Evaluation& e, const installation::Run& run);

/// Names in the law the smallest conductor that asks for pull-box dimensions.
inline constexpr std::string_view smallest_large_conductor = "pull-box-smallest-conductor";
/// Whether the law says it, in a word that is a size; without it no conductor is_large, and none is known not
/// to be.
bool large_is_known(Evaluation& e);
/// True for conductors that ask for pull-box dimensions instead of volume allowances.
bool is_large(Evaluation& e, installation::ConductorSize size);

}  // namespace raceward::figure
