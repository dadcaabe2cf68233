// Amounts as working lines show them: few decimals, halves away from zero; never used to decide anything.
#pragma once

#include <string>

#include "figure/figure.hpp"
#include "raceward/quantity.hpp"

namespace raceward::figure {

template <Dimension D>
Amount nearest(Quantity<D> q, Unit unit, std::int64_t step) {
  const std::int64_t half = q.count() < 0 ? -step / 2 : step / 2;
  return show(Quantity<D>::steps(detail::saturate((wide_int{q.count()} + half) / step * step)), unit);
}
template <Dimension D>
std::string rounded(Quantity<D> q, Unit unit, std::int64_t step) {
  return text_of(nearest(q, unit, step));
}

inline constexpr std::int64_t shown_length_step = 2'540'000;  // not law: 0.0001 in
inline constexpr std::int64_t shown_area_step = 6'451'600;    // not law: 0.0001 in2
inline constexpr std::int64_t shown_ohms_step = 100'000;      // not law: 0.0001 ohm
inline constexpr std::int64_t shown_share_step = 100'000;     // not law: 0.01 %

/// "12.25 in": four decimals of an inch, square inch; two of a percentage; angles as they are.
inline std::string shown(const Evaluation& e, Length q) {
  return e.law.metric ? e.text_of(show(q, Unit::inch)) : rounded(q, Unit::inch, shown_length_step);
}
/// The same of what may be long: from two feet on in feet.
inline std::string shown_far(const Evaluation& e, Length q) {
  constexpr std::int64_t two_feet = 609'600'000'000;  // not law: where feet read better
  return !e.law.metric && q.count() >= two_feet ? e.text_of(show(q, Unit::foot)) : shown(e, q);
}
inline std::string shown(const Evaluation& e, Area q) {
  return e.law.metric ? e.text_of(show(q, Unit::square_inch))
                      : rounded(q, Unit::square_inch, shown_area_step);
}
inline std::string shown_percent(Number q) { return rounded(q, Unit::percent, shown_share_step); }
inline std::string shown_ohms(std::int64_t count) {
  return rounded(Resistance::steps(count), Unit::ohm, shown_ohms_step);
}
/// Down, so that what is shown is never more than what there is.
inline std::string amperes_of(std::int64_t count) {
  constexpr std::int64_t step = 10'000;  // not law: 0.01 A
  return text_of({count / step * step, Unit::ampere});
}
/// Tables of temperatures are in whole degrees: "54.44 C" for 130 F.
inline std::string celsius_of(std::int64_t count) {
  constexpr std::int64_t step = 180;  // not law: 0.01 C
  return rounded(Temperature::steps(count), Unit::celsius, step);
}
inline std::string shown(Angle q) { return text_of(show(q, Unit::degree)); }

}  // namespace raceward::figure
