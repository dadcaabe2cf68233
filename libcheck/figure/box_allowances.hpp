// The allowances of volume that the law gives, looked up once for a check.
#pragma once

#include <array>
#include <string_view>

#include "figure/run_contents.hpp"

namespace raceward::figure {

struct Allowances {
  std::array<std::int64_t, size_count> volume{};  // per ConductorSize; Table::blank where the table has none
  std::array<CitationId, size_count> cite{};
  const Parameter *loops, *clamps, *fittings, *devices, *first_count, *first_allowances, *further, *isolated,
      *blocks, *canopy;
  std::string_view lacking;

  void read(const Law& law);
};

/// factor (a pure number in steps) times a volume; exact for the quarters and whole numbers that codes use.
inline Volume times(const Parameter* factor, Volume volume) {
  const wide_int product = wide_int{factor->value.count} * volume.count();
  return Volume::steps(detail::saturate(product / number(1).count()));
}

/// Whether a box, or a conduit body with a volume, is known to have so much room, or to have less.
bool suffices(Evaluation& e, Subject box, Volume needed);
bool falls_short(Evaluation& e, Subject box, Volume needed);
/// Whether it has room for the one and not for the other, as far as rings and covers of unknown volume let it
/// be told.
bool decides(Evaluation& e, Subject box, Volume least, Volume most);

/// For the headline of a box that is too small for what is known: that it needs so much or more.
inline constexpr const char* at_least = "at least ";

}  // namespace raceward::figure
