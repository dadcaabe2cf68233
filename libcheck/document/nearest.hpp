// What a misspelt word may have meant. For messages only.
#pragma once

#include <cstddef>
#include <span>
#include <string>
#include <string_view>

#include "document/words.hpp"

namespace raceward::document {

/// Letters that must change, come, go or swap places with a neighbour to make b of a, small and capital
/// letters being alike; more than `limit` where it exceeds it. O(len a * len b), words beyond 64 bytes never
/// match.
std::size_t edit_distance(std::string_view a, std::string_view b, std::size_t limit);

/// How many such slips a word of that length may have and still be taken for another.
constexpr std::size_t slips_allowed(std::size_t length) { return length <= 2 ? 1 : length <= 5 ? 2 : 3; }

/// The nearest spelling of a list; empty where none is near.
std::string_view nearest(std::string_view word, std::span<const Term> terms);

/// "; did you mean "x"?", where x is what people on site call so, or else the nearest spelling; where there
/// is neither, "; known are a, b and c".
std::string suggestion(std::string_view word, std::span<const Term> terms);

/// "a", "a or b", "a, b or c"; `last` is the word before the last one.
std::string listed(std::span<const Term> terms, std::string_view last);

/// A name out of a file, fit for a message: control characters replaced, long ones cut.
std::string shown(std::string_view name);

}  // namespace raceward::document
