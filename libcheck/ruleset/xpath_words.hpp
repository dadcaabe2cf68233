// The words of an XPath 1.0 expression.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace raceward::ruleset {

struct XpathWord {
  enum class Kind : std::uint8_t { end, name, variable, number, text, mark, axis, faulty } kind{};
  std::string_view text;         ///< of a variable without its $, of a text without its quotes
  std::size_t offset = 0;        ///< in the expression
  bool follows_operand = false;  ///< so that * and the like are operators

  [[nodiscard]] bool is(std::string_view mark) const { return kind == Kind::mark && text == mark; }
  /// and, or, div, mod, where they stand between two operands.
  [[nodiscard]] bool is_operator(std::string_view name) const {
    return kind == Kind::name && follows_operand && text == name;
  }
};

/// All of them and one `end`; where a character has no meaning, the last one before it is `faulty`.
std::vector<XpathWord> xpath_words(std::string_view expression);

/// Whether they begin with a condition that one end of a raceway alone can meet: [@side = 'from'].
bool names_a_side(std::span<const XpathWord> words);

/// A function that expressions may call, and how many arguments it takes.
struct XpathFunction {
  std::string_view name;
  std::size_t least, most;
};
/// Null where none of that name is read.
const XpathFunction* xpath_function(std::string_view name);
std::vector<std::string_view> xpath_function_names();

/// Why a word cannot stand behind the one before it; null: it is the first.
std::string unexpected_fault(const XpathWord& word, const XpathWord* before);
/// A name behind a number that is no operator: "ft" of 12ft.
bool begins_unit(const XpathWord& word);
std::string with_unit_fault(const XpathWord& number, const XpathWord& unit);
/// There is no function of that name.
std::string function_fault(std::string_view name);

}  // namespace raceward::ruleset
