// Which unit a misspelt symbol may have meant. Used for messages only.
#include <algorithm>
#include <array>

#include "quantity/fault.hpp"
#include "quantity/units.hpp"

namespace raceward::quantity {
namespace {

struct Spelling {
  std::string_view text;
  Unit unit;
};

// What people write for units in place of our symbols, in lower case.
constexpr Spelling other_spellings[] = {
    {"inch", Unit::inch},
    {"inches", Unit::inch},
    {"\"", Unit::inch},
    {"\u2033", Unit::inch},
    {"foot", Unit::foot},
    {"feet", Unit::foot},
    {"'", Unit::foot},
    {"\u2032", Unit::foot},
    {"millimetre", Unit::millimetre},
    {"millimetres", Unit::millimetre},
    {"millimeter", Unit::millimetre},
    {"millimeters", Unit::millimetre},
    {"metre", Unit::metre},
    {"metres", Unit::metre},
    {"meter", Unit::metre},
    {"meters", Unit::metre},
    {"in^2", Unit::square_inch},
    {"in\u00b2", Unit::square_inch},
    {"sq in", Unit::square_inch},
    {"sq. in.", Unit::square_inch},
    {"mm^2", Unit::square_millimetre},
    {"mm\u00b2", Unit::square_millimetre},
    {"cm^2", Unit::square_centimetre},
    {"cm\u00b2", Unit::square_centimetre},
    {"in^3", Unit::cubic_inch},
    {"in\u00b3", Unit::cubic_inch},
    {"cu in", Unit::cubic_inch},
    {"cu. in.", Unit::cubic_inch},
    {"mm^3", Unit::cubic_millimetre},
    {"mm\u00b3", Unit::cubic_millimetre},
    {"cm^3", Unit::cubic_centimetre},
    {"cm\u00b3", Unit::cubic_centimetre},
    {"cc", Unit::cubic_centimetre},
    {"\u00b0", Unit::degree},
    {"degree", Unit::degree},
    {"degrees", Unit::degree},
    {"amp", Unit::ampere},
    {"amps", Unit::ampere},
    {"ampere", Unit::ampere},
    {"amperes", Unit::ampere},
    {"milliamps", Unit::milliampere},
    {"volt", Unit::volt},
    {"volts", Unit::volt},
    {"\u00b0c", Unit::celsius},
    {"degc", Unit::celsius},
    {"deg c", Unit::celsius},
    {"celsius", Unit::celsius},
    {"\u00b0f", Unit::fahrenheit},
    {"degf", Unit::fahrenheit},
    {"deg f", Unit::fahrenheit},
    {"fahrenheit", Unit::fahrenheit},
    {"watt", Unit::watt},
    {"watts", Unit::watt},
    {"v-a", Unit::volt_ampere},
    {"volt-amperes", Unit::volt_ampere},
    {"\u03a9", Unit::ohm},
    {"\u2126", Unit::ohm},
    {"ohms", Unit::ohm},
    {"m\u03a9", Unit::milliohm},
    {"m\u2126", Unit::milliohm},
    {"milliohms", Unit::milliohm},
};

constexpr std::size_t longest_compared = 16;

constexpr char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

bool same_letters(std::string_view a, std::string_view b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [](char x, char y) { return lower(x) == lower(y); });
}

// Whether one letter too many, too few, another in its place, or two neighbours exchanged lead from a to b,
// with at least one letter left as it was.
bool one_slip_apart(std::string_view a, std::string_view b) {
  if (a.size() < b.size()) std::swap(a, b);
  const auto [x, y] = std::mismatch(a.begin(), a.begin() + static_cast<std::ptrdiff_t>(b.size()), b.begin());
  const std::string_view rest_a(x, a.end());
  const std::string_view rest_b(y, b.end());
  if (a.size() == b.size() + 1) return !b.empty() && rest_a.substr(1) == rest_b;
  if (a.size() != b.size() || rest_a.empty()) return false;
  if (a.size() > 1 && rest_a.substr(1) == rest_b.substr(1)) return true;
  return rest_a.size() > 1 && rest_a[0] == rest_b[1] && rest_a[1] == rest_b[0] &&
         rest_a.substr(2) == rest_b.substr(2);
}

}  // namespace

std::optional<Unit> nearest_unit(std::string_view misspelt, Dimension wanted) {
  if (misspelt.empty() || misspelt.size() > longest_compared) return std::nullopt;
  for (const Spelling& other : other_spellings)
    if (row_of(other.unit).dimension == wanted && same_letters(misspelt, other.text)) return other.unit;

  const UnitRange range = unit_ranges[static_cast<std::size_t>(row_of(wanted).dimension)];
  for (std::size_t i = range.first; i < range.last; ++i)
    if (same_letters(misspelt, unit_rows[i].symbol)) return static_cast<Unit>(i);

  std::optional<Unit> near;
  for (std::size_t i = range.first; i < range.last; ++i) {
    if (!one_slip_apart(misspelt, unit_rows[i].symbol)) continue;
    if (near) return std::nullopt;
    near = static_cast<Unit>(i);
  }
  return near;
}

}  // namespace raceward::quantity
