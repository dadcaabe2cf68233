// Values as rulesets write them: numbers with a unit in layers, bare numbers under a column's unit in tables.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "raceward/law.hpp"
#include "raceward/quantity.hpp"

namespace raceward::ruleset {

/// "24in", "250V", "0.8", "40%": a quantity of whatever dimension its unit says.
Parsed<Amount> parse_value(std::string_view text);

/// A bare number in the unit of its column, also "3-1/2".
Parsed<Amount> parse_cell(std::string_view text, Unit unit);

/// True for what no law can mean: less than nothing of a thing that has a zero.
bool below_zero(const Amount& amount);

/// What is wrong with a word in a key column whose words are those of documents, such as raceway-type;
/// nothing where it is one of them, or where the column holds words of its own. A row that no document can
/// reach would otherwise leave the one that it should override in force.
std::optional<std::string> strange_key(std::string_view column, std::string_view word);

/// Whether strange_key knows the words of a column of that name.
bool has_words_of_documents(std::string_view column);

/// "trade-size [key]", "internal-diameter [in]", "limit [%]", "circular-mils [number]", "group [text]".
/// Nothing, and why, where it is no column.
std::optional<Column> column_of(std::string_view heading, std::string& why);

/// "[key]", "[in]": what a column holds, as its heading says it.
std::string kind_of(const Column& column);

/// True where what stands in the one could stand in the other: also inches and feet.
bool alike(const Column& a, const Column& b);

}  // namespace raceward::ruleset
