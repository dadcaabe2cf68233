// Comparisons of an expression that cannot hold at once.
#pragma once

#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "ruleset/xpath.hpp"
#include "ruleset/xpath_words.hpp"

namespace raceward::ruleset {

/// What one value is compared with in expressions that must all hold. It looks at comparisons of a value of
/// the subject with something known, joined by `and`; the rest it takes for possible.
class Compared {
 public:
  explicit Compared(const Names& names) : names_(names) {}

  /// REQUIRES: check_expression found no fault in it. Answers which comparison excludes an earlier one.
  std::optional<ExpressionFault> add(std::string_view expression);
  /// Whether it cannot but hold where all that it reads is known: "@a = 'x' or @a != 'x'".
  [[nodiscard]] bool always(std::string_view expression) const;

 private:
  using Words = std::span<const XpathWord>;
  struct Known {
    std::string_view sign;  // as in: the value, sign, this
    std::optional<double> number;
    std::string_view text;
    std::string written;
    std::size_t offset = 0;
  };
  using All = std::map<std::string, std::vector<Known>, std::less<>>;

  std::optional<ExpressionFault> either(Words words, All& all) const;
  std::optional<ExpressionFault> each(Words words, All& all) const;
  std::optional<ExpressionFault> one(Words words, All& all, bool holds) const;
  /// Its value, where it is written or a parameter's.
  bool read(Words words, Known& out) const;

  const Names& names_;
  All all_;
};

}  // namespace raceward::ruleset
