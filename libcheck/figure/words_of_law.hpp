// Finds the word of a closed list that a table of law spells.
#pragma once

#include <string_view>

#include "installation/terms.hpp"

namespace raceward::figure {

/// The term that is spelt so; Term{} ("not stated") where the list has none. O(length of the list): for
/// tables.
template <class Term>
Term term_spelt(std::string_view spelling) {
  const auto terms = installation::terms_of(Term{});
  for (std::size_t i = 0; i < terms.size(); ++i) {
    if (terms[i].spelling == spelling) return static_cast<Term>(i + 1);
  }
  return Term{};
}

/// How many values a closed list has, "not stated" included: for arrays by term.
template <class Term>
std::size_t terms_with_unstated() {
  return installation::terms_of(Term{}).size() + 1;
}

}  // namespace raceward::figure
