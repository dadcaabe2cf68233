// Which words a layer may write into a column of a table, or as a parameter, that the law below has.
//
// Keys such as raceway-type and occupancy are words of documents, and figures look for each of them. Kinds of
// equipment and colours are whatever documents write. What figures look for elsewhere is listed nowhere: the
// words that the law below has are the measure, and the closed lists of the documents' vocabulary that they
// are of. A word that nothing looks for would be taken for no word at all, and what it was to ask for would
// be asked nowhere.
#pragma once

#include <cstdint>
#include <set>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "document/words.hpp"
#include "raceward/law.hpp"
#include "ruleset/read_table.hpp"

namespace raceward::ruleset {

class KnownWords {
 public:
  explicit KnownWords(std::set<std::string_view> there);
  /// Those of a column of keys or texts.
  static KnownWords of(const Table& table, std::uint32_t column);

  /// Words that may be as well.
  void add(std::span<const std::string_view> words);

  [[nodiscard]] bool may_be(std::string_view word) const;
  /// "; did you mean ...", where one is near.
  [[nodiscard]] std::string near(std::string_view word, std::size_t most = SIZE_MAX) const;
  /// What is wrong with a word that may not be, "; did you mean ...", or which there are.
  [[nodiscard]] std::string instead_of(std::string_view word) const;

 private:
  std::set<std::string_view> there_;
  std::vector<const document::Words*> lists_;  ///< of the vocabulary that they are of
  std::set<std::string_view> units_;           ///< what stands behind their numbers, where all are numbers
  bool free_ = false;                          ///< sentences for people
};

/// Tells each word of `own` that nothing looks for in a table of the law below. To `near` goes what may be
/// there, and is near to a word that is.
void words_fit(const Table& base, const TableFile& own, const TextFile& file, Problems& problems,
               Problems& near);

}  // namespace raceward::ruleset
