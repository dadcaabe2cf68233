// Faults in words: one sentence each, saying what is wrong and what would be right.
#include <initializer_list>

#include "quantity/fault.hpp"
#include "quantity/scan.hpp"
#include "quantity/units.hpp"

namespace raceward::quantity {
namespace {

std::string join(std::initializer_list<std::string_view> parts) {
  std::string out;
  for (const std::string_view part : parts) out += part;
  return out;
}

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && is_blank(text.back())) text.remove_suffix(1);
  while (!text.empty() && is_blank(text.front())) text.remove_prefix(1);
  return text;
}

std::string_view first_word(std::string_view text) {
  std::size_t size = 0;
  while (size < text.size() && !is_blank(text[size])) ++size;
  return text.substr(0, size);
}

bool begins_exponent(std::string_view rest) {
  if (rest.size() < 2 || (rest[0] != 'e' && rest[0] != 'E')) return false;
  const bool is_signed = rest[1] == '+' || rest[1] == '-';
  return is_digit(rest[1]) || (is_signed && rest.size() > 2 && is_digit(rest[2]));
}

// "ft-6in", "'6": feet and inches, but not as we write them.
bool begins_feet_and_inches(std::string_view rest) {
  std::size_t size = 0;
  for (const std::string_view feet : {"ft", "'", "\u2032"})
    if (rest.starts_with(feet)) size = feet.size();
  if (size == 0 || rest.size() == size) return false;
  rest = trimmed(rest.substr(size));
  if (rest.front() == '-') rest.remove_prefix(1);
  return !rest.empty() && is_digit(rest.front());
}

// "in, ft, mm, cm or m"
std::string list_of_units(Dimension dimension) {
  const UnitRange range = unit_ranges[static_cast<std::size_t>(dimension)];
  std::string out;
  for (std::size_t i = range.first; i < range.last; ++i) {
    if (i > range.first) out += i + 1 == range.last ? " or " : ", ";
    out += unit_rows[i].symbol;
  }
  return out;
}

std::string unknown_unit(std::string_view text, const DimensionRow& wanted, std::size_t offset) {
  const std::string_view rest = trimmed(text.substr(offset));
  const std::string_view word = first_word(rest);
  if (begins_exponent(rest)) return "exponents are not read; write the number out, as in 1500 for 1.5e3";
  if ((word[0] == 'x' || word[0] == 'X') && offset > 0 && text[offset - 1] == '0')
    return "hexadecimal numbers are not read";
  if (word[0] == ',') return "unexpected \",\"; write a point before decimals and nothing between thousands";
  if (wanted.dimension == Dimension::length && begins_feet_and_inches(rest))
    return "feet and inches are written as in 3ft 6in";
  if (const auto unit = unit_of(word)) {
    const DimensionRow& other = row_of(row_of(*unit).dimension);
    const std::string_view says = other.dimension == Dimension::none ? " makes " : " is a unit of ";
    const std::string_view what = other.dimension == Dimension::none ? other.article : other.name;
    if (other.dimension != wanted.dimension)
      return join({quoted(word), says, what, "; ", wanted.article, " is wanted, such as ", wanted.example});
  }
  if (wanted.dimension == Dimension::none)
    return join({"unexpected ", quoted(word), "; a pure number is wanted, such as ", wanted.example});
  auto near = nearest_unit(rest, wanted.dimension);
  if (!near) near = nearest_unit(word, wanted.dimension);
  if (near && (word == "\"" || word == "'"))
    return join({"the mark ", word, " is not read as a unit; write ", row_of(*near).symbol});
  if (near) {
    return join(
        {quoted(word), " is not a unit of ", wanted.name, "; did you mean \"", row_of(*near).symbol, "\"?"});
  }
  return join({quoted(word), " is not a unit of ", wanted.name, "; write ", list_of_units(wanted.dimension)});
}

std::string no_number(std::string_view text, const DimensionRow& wanted, std::size_t offset) {
  const char found = offset < text.size() ? text[offset] : ' ';
  if (found == '.') return "needs a digit before the point, as in 0.5";
  if (found == '+') return "a \"+\" is not read; leave it out";
  return join({"a number must come first, as in ", wanted.example});
}

std::string unexpected(std::string_view text, std::size_t offset) {
  return join({"unexpected ", quoted(first_word(text.substr(offset))), " behind ",
               quoted(trimmed(text.substr(0, offset)))});
}

std::string out_of_range(Unit unit) {
  const UnitRow& row = row_of(unit);
  const Amount most{(parse_limit - farthest_zero) / row.steps * row.steps + row.zero, unit};
  return join({"is out of range; the most that can be held is ", text_of(most), ", above or below zero"});
}

std::string words_of(std::string_view text, const DimensionRow& wanted, const Reading& reading) {
  switch (reading.fault) {
    case Fault::none:
      break;
    case Fault::empty:
      return join({"is empty; write ", wanted.article, ", such as ", wanted.example});
    case Fault::no_number:
      return no_number(text, wanted, reading.offset);
    case Fault::point:
      return "needs a digit behind the point, as in 3.5";
    case Fault::fraction:
      return "a fraction needs a denominator above zero and at most nine digits above and below, and must be "
             "less "
             "than 1 behind a whole number";
    case Fault::fraction_unit:
      return "fractions are read for in and ft only; write a decimal";
    case Fault::missing_unit:
      return join({"needs a unit, such as ", wanted.example});
    case Fault::unknown_unit:
      return unknown_unit(text, wanted, reading.offset);
    case Fault::unexpected:
      return unexpected(text, reading.offset);
    case Fault::feet_split:
      return "only whole feet may be followed by inches, as in 3ft 6in";
    case Fault::inches_split:
      return "feet may be followed only by less than 12 inches, as in 3ft 6in";
    case Fault::inexact:
      return join({"cannot be held exactly; ", wanted.article, " is kept in whole steps of ", wanted.step,
                   ": round it"});
    case Fault::out_of_range:
      return out_of_range(reading.amount.unit);
  }
  return "is not a quantity";
}

}  // namespace

QuantityError explain(std::string_view text, Dimension wanted, const Reading& reading) {
  return {words_of(text, row_of(wanted), reading), reading.offset};
}

}  // namespace raceward::quantity
