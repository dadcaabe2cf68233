// Why a text is not a quantity, before anything is put into words.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

#include "raceward/quantity.hpp"

namespace raceward::quantity {

enum class Fault : unsigned char {
  none,
  empty,      ///< nothing but blanks
  no_number,  ///< does not begin with a digit, or a "-" and a digit
  point,      ///< no digit after the point
  fraction,   ///< denominator missing or zero, digits beyond nine, or a mixed number's fraction of 1 or more
  fraction_unit,  ///< a fraction in a unit other than in or ft
  missing_unit,
  unknown_unit,  ///< also a unit of another dimension; told apart when put into words
  unexpected,    ///< something behind what could be read
  feet_split,    ///< inches follow feet that are not whole
  inches_split,  ///< the inches behind feet lack their unit, or are 12 or more
  inexact,
  out_of_range,
};

/// What reading found: an amount, or a fault and the byte where it lies.
struct Reading {
  Amount amount;
  Fault fault = Fault::none;
  std::size_t offset = 0;
};

/// The fault of a reading in words.
QuantityError explain(std::string_view text, Dimension wanted, const Reading& reading);

/// The unit of the dimension that a misspelt symbol is nearest to ("inn", "inches", "IN"); none where no unit
/// or several are equally near.
std::optional<Unit> nearest_unit(std::string_view misspelt, Dimension wanted);

/// The text between double quotes, fit for a message: control characters and bytes that are not UTF-8 become
/// "?", and what exceeds about 40 bytes is cut.
std::string quoted(std::string_view text);

}  // namespace raceward::quantity
