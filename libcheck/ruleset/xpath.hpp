// Expressions of data rules: XPath 1.0, read before it is used.
//
// XPath itself compares whatever it is given: a fact that is missing, a word that is misspelt, metres with
// amperes, and finds *false*. So each expression is checked against the form of the figures document and the
// parameters of the ruleset: names, words and dimensions must fit, what it reads is known beforehand, and
// what could take long or round at a limit is refused. The rest is XPath as any tool evaluates it.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "facts/shape.hpp"
#include "facts/writer.hpp"
#include "raceward/law.hpp"

namespace raceward::ruleset {

/// What expressions read of an element.
struct Reads {
  struct Fact {
    const facts::FactRow* row = nullptr;
    bool needed = true;  ///< unknown: the rule cannot be answered
  };
  struct Figure {
    const figure::Info* info = nullptr;
    bool needed = true;
  };
  struct Stated {
    const DeclaredFact* fact = nullptr;
    bool needed = true;
  };
  struct Part;
  std::vector<Fact> facts;
  std::vector<Figure> figures;
  std::vector<Stated> stated;
  std::vector<Part> parts;

  void add(const Reads& more);
  [[nodiscard]] facts::Wanted wanted() const;
  [[nodiscard]] bool empty() const;
};
struct Reads::Part {
  const facts::ChildRow* row = nullptr;
  bool needed = true;      ///< all of them must be known
  bool some_fact = false;  ///< a fact of them is compared, so that there must be one
  Reads of;
};
inline bool Reads::empty() const {
  return facts.empty() && figures.empty() && stated.empty() && parts.empty();
}

/// What an expression may refer to.
struct Names {
  const facts::Shape* subject = nullptr;
  std::function<const Parameter*(std::string_view)> parameter;
  std::vector<std::string_view> parameters;  ///< for suggestions
  std::function<const DeclaredFact*(std::string_view)> fact;
  std::vector<std::string_view> facts;
  std::vector<std::string> may_lack;  ///< paths: "support", "@name", "end/@fitting"
};

struct ExpressionFault {
  std::size_t offset = 0;  ///< in the expression
  std::string message;
};

/// An expression that was found right.
struct Expression {
  std::string text;
  facts::Holds holds;                   ///< of one that gives a number
  std::vector<std::string> guards;      ///< parts of it that must come to a number
  std::vector<std::string> parameters;  ///< that it reads, sorted
  Reads reads;
  std::vector<std::string> lacking;  ///< entries of may_lack that it makes use of
};

enum class Gives : std::uint8_t {
  truth,
  must,  ///< a truth that does not hold because one of several makes it so
  number,
};

std::optional<ExpressionFault> check_expression(std::string_view text, Gives gives, const Names& names,
                                                Expression& out);
/// A path without predicates, as a list of needs names it.
std::optional<ExpressionFault> check_path(std::string_view text, const Names& names, Reads& out);

}  // namespace raceward::ruleset
