// What parts of an expression give, and whether they fit together.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "ruleset/xpath.hpp"

namespace raceward::ruleset {

/// How sure it is that a number is the true one.
enum class Exact : std::uint8_t {
  whole,    ///< a whole number
  decimal,  ///< as written: right where it is compared as it is
  rough,    ///< rounded in between
};

struct Operand {
  enum class Is : std::uint8_t { truth, number, text, elements } is = Is::truth;
  facts::Holds holds;
  Exact exact = Exact::whole;
  bool many = false;    ///< a path that may lead to several
  bool path = false;    ///< to a fact, as it is
  bool any = false;     ///< of several, one is what is meant: somebody attests it
  bool absent = false;  ///< a path to what may be absent, so that one may ask whether it is there
  bool literal = false;
  bool of_text = false;  ///< what number() makes of a text: of a date, mostly
  /// Of a truth: where several are compared, one of which is enough for it to hold, or not to hold.
  std::optional<std::size_t> one_makes{}, one_breaks{};
  std::string_view word;                 ///< a text that is known: a literal, or a parameter's
  const DeclaredFact* stated = nullptr;  ///< a path to this fact
  std::size_t from = 0;
};

/// True for a count or a number without dimension.
bool is_plain(const facts::Holds& holds);
Operand number_of(const facts::Holds& holds, Exact exact, std::size_t from);
/// A path to a fact or a figure.
Operand path_to(const facts::Holds& holds, std::size_t from, bool many, bool absent);
/// Of a parameter, a number or a word.
Operand operand_of(const Parameter& parameter, std::size_t from);
/// "a length", "a text", "a truth value"
std::string_view name_of(const Operand& operand);

/// Each says why something cannot be, or nothing where it can.
ExpressionFault several_fault(const Operand& operand);
ExpressionFault rough_fault(const Operand& operand);
/// Numbers are of the same dimension; 0 is of any.
std::optional<ExpressionFault> unlike_fault(const Operand& a, const Operand& b);
std::optional<ExpressionFault> comparison_fault(const Operand& a, const Operand& b, bool ordered);
std::optional<ExpressionFault> truth_fault(const Operand& operand);
/// Of what must hold: one of several is not enough.
std::optional<ExpressionFault> must_fault(const Operand& operand);
/// What number() makes of dates is compared, and neither added nor subtracted.
ExpressionFault reckoned_date_fault(const Operand& operand);
/// Nothing of that name stands in the element; `followed` by more of a path.
std::string child_fault(const facts::Shape& shape, std::string_view name, bool followed);
/// It has no figure of that name.
std::string figure_fault(const facts::Shape& shape, std::string_view name);

/// "an end", "a box"
std::string with_article(std::string_view name);

template <class Row>
std::vector<std::string_view> names_of(const std::vector<Row>& rows) {
  std::vector<std::string_view> out;
  for (const Row& row : rows) out.push_back(row.name);
  return out;
}

}  // namespace raceward::ruleset
