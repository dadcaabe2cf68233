// Amounts as plain decimals, in integers throughout.
#include <array>

#include "quantity/feet.hpp"
#include "quantity/units.hpp"

namespace raceward {
namespace {

constexpr unsigned decimals_shown = 9;
constexpr std::int64_t decimal_scale = 1'000'000'000;

// The amount in its unit, without its sign: a whole number and billionths.
struct Decimal {
  bool negative = false;
  std::uint64_t whole = 0;
  std::uint64_t billionths = 0;
  bool exact = true;
};

Decimal decimal_parts(const Amount& amount) {
  const quantity::UnitRow& row = quantity::row_of(amount.unit);
  const wide_int count = wide_int{amount.count} - row.zero;
  const wide_int size = count < 0 ? -count : count;
  const wide_int scaled = size % row.steps * decimal_scale;

  Decimal out;
  out.whole = static_cast<std::uint64_t>(size / row.steps);
  out.billionths = static_cast<std::uint64_t>((scaled + row.steps / 2) / row.steps);
  out.exact = scaled % row.steps == 0;
  if (out.billionths == decimal_scale) {
    ++out.whole;
    out.billionths = 0;
  }
  out.negative = count < 0 && (out.whole != 0 || out.billionths != 0);
  return out;
}

// Enough for a sign, 20 digits, a point and the decimals.
using Digits = std::array<char, 32>;

std::string_view write(const Decimal& d, Digits& buffer) {
  char* at = buffer.data() + buffer.size();
  char* const end = at;
  if (d.billionths != 0) {
    std::uint64_t rest = d.billionths;
    unsigned left = decimals_shown;
    for (; rest % 10 == 0; rest /= 10) --left;
    for (; left > 0; --left, rest /= 10) *--at = static_cast<char>('0' + rest % 10);
    *--at = '.';
  }
  std::uint64_t whole = d.whole;
  do *--at = static_cast<char>('0' + whole % 10);
  while ((whole /= 10) != 0);
  if (d.negative) *--at = '-';
  return {at, static_cast<std::size_t>(end - at)};
}

}  // namespace

std::string decimal_of(const Amount& amount) {
  Digits buffer;
  return std::string(write(decimal_parts(amount), buffer));
}

bool decimal_is_exact(const Amount& amount) { return decimal_parts(amount).exact; }

std::string text_of(const Amount& amount) {
  Digits buffer;
  const std::string_view number = write(decimal_parts(amount), buffer);
  const std::string_view symbol = symbol_of(amount.unit);
  std::string text;
  text.reserve(number.size() + 1 + symbol.size());
  text += number;
  if (!symbol.empty()) {
    text += ' ';
    text += symbol;
  }
  return text;
}

namespace quantity {

std::string feet_of(std::int64_t length, unsigned decimals) {
  const std::int64_t foot = row_of(Unit::foot).steps, inch = row_of(Unit::inch).steps;
  std::int64_t step = inch;
  for (unsigned i = 0; i < decimals; ++i) step /= 10;
  const wide_int half = length < 0 ? -step / 2 : step / 2;
  const std::int64_t near = raceward::detail::saturate((wide_int{length} + half) / step * step);
  const std::int64_t size = near < 0 ? -near : near;
  if (size != 0 && size < foot) return text_of({near, Unit::inch});
  if (size % (foot / 100) == 0) return text_of({near, Unit::foot});  // two decimals say it
  return text_of({near / foot * foot, Unit::foot}) + ' ' + text_of({size % foot, Unit::inch});
}

}  // namespace quantity

}  // namespace raceward
