// Sentences and amounts for people.
#pragma once

#include <string>
#include <string_view>

#include "raceward/quantity.hpp"
#include "raceward/subject.hpp"

namespace raceward::checking {

/// The amount with at most so many decimals, halves away from zero: "43.09 %".
std::string rounded(const Amount& amount, unsigned decimals);

/// Two amounts that a sentence compares: rounded for reading, but never so far that different ones look
/// alike, and in one unit, the limit's.
struct Compared {
  std::string measured, limit;
};
Compared compared(const Amount& found, const Amount& limit);
/// One amount, rounded for reading.
std::string shown(const Amount& amount);

/// "raceways", "conduit bodies", "pieces of equipment".
std::string_view plural_of(SubjectKind kind);

/// What a rule's sentence puts in.
struct Fillings {
  std::string_view where, place, measured, limit, detail{};
};
/// The sentence with {where}, {place}, {measured}, {limit} and {detail} filled in; anything else in braces
/// stays.
std::string fill_in(std::string_view sentence, const Fillings& with);

}  // namespace raceward::checking
