// Products of dimensions, exact in 128 bits and rounded down to a whole step.
#include "raceward/quantity.hpp"

namespace raceward {
namespace {

// pm2 in an area step (1e-8 mm2); area steps times pm in a volume step (1e-6 mm3); uV times uA in a uW.
constexpr std::int64_t square_picometres = 10'000'000'000;
constexpr std::int64_t area_picometres = 100'000'000'000;
constexpr std::int64_t microvolt_microamperes = 1'000'000;

constexpr wide_int floor_divide(wide_int value, std::int64_t by) {
  const wide_int quotient = value / by;
  return value % by < 0 ? quotient - 1 : quotient;
}

constexpr wide_int magnitude(std::int64_t n) { return n < 0 ? -wide_int{n} : wide_int{n}; }

}  // namespace

Area operator*(Length a, Length b) {
  return Area::steps(detail::saturate(floor_divide(wide_int{a.count()} * b.count(), square_picometres)));
}

Volume operator*(Area a, Length b) {
  return Volume::steps(detail::saturate(floor_divide(wide_int{a.count()} * b.count(), area_picometres)));
}

Volume box_volume(Length a, Length b, Length c) {
  // a * b * c needs up to 189 bits. With p = a * b = (q * A + r) * S + s (S, A the two constants above):
  //   p * c / (S * A) = q * c + (r * c + (s * c) / S) / A, rounded down at each division,
  // where no term exceeds 2^120.
  const wide_int p = magnitude(a.count()) * magnitude(b.count());
  const wide_int c_size = magnitude(c.count());
  const wide_int s = p % square_picometres;
  const wide_int areas = p / square_picometres;
  const wide_int low = s * c_size;
  const wide_int middle = areas % area_picometres * c_size + low / square_picometres;
  wide_int volume = areas / area_picometres * c_size + middle / area_picometres;
  if ((a.count() < 0) != ((b.count() < 0) != (c.count() < 0))) {
    const bool whole = low % square_picometres == 0 && middle % area_picometres == 0;
    volume = whole ? -volume : -volume - 1;
  }
  return Volume::steps(detail::saturate(volume));
}

Power operator*(Voltage v, Current a) {
  return Power::steps(
      detail::saturate(floor_divide(wide_int{v.count()} * a.count(), microvolt_microamperes)));
}

}  // namespace raceward
