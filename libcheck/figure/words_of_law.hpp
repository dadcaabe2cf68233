// Finds the word of a closed list that a table of law spells.
#pragma once

#include <algorithm>
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

/// Whether a parameter of words with blanks between them holds this one.
inline bool is_one_of(std::string_view words, std::string_view word) {
  while (!words.empty()) {
    const std::size_t end = std::min(words.find(' '), words.size());
    if (words.substr(0, end) == word) return true;
    words.remove_prefix(std::min(end + 1, words.size()));
  }
  return false;
}

}  // namespace raceward::figure
