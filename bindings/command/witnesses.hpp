// Documents that show a difference between two laws.
#pragma once

#include <map>
#include <memory>
#include <set>
#include <string>
#include <vector>

#include "differences.hpp"

namespace raceward::command {

/// Looks for a witness among the documents, then among variations of them.
class Witnesses {
 public:
  Witnesses(const Law& from, const Law& to, const std::vector<std::string>& files);
  bool find(const Difference& difference, Witness& out);
  [[nodiscard]] std::size_t documents() const { return documents_.size(); }

 private:
  using Ready = std::shared_ptr<const ReadyLaw>;
  using Findings = std::vector<std::string>;
  struct Document {
    std::string file, bytes;
    InstallationPtr installation;
    Findings from, to;              ///< findings
    Findings from_cited, to_cited;  ///< with what they cite; made when first asked for
  };
  /// What is written otherwise, and what it is told as.
  struct Variation {
    std::string bytes, told;
  };

  void see_words_of(const std::string& bytes);
  const std::vector<const Document*>& concerned(const Difference& difference);
  /// The first law with a change, and the second without it; either may be none.
  struct Alone {
    Ready with, without;
  };
  bool differ(const Document& document, const Alone& alone, bool cited, Witness& out) const;
  bool vary(const Document& document, const Difference& difference, const Alone& alone, Witness& out);
  bool vary_words(const Document& document, const Difference& difference, const Alone& alone, Witness& out);
  bool vary_word(const Document& document, const Difference::Words& of, const std::string& word,
                 const Alone& alone, Witness& out);
  bool vary_date(const Document& document, const Alone& alone, Witness& out);
  bool attempt(const Document& document, const Alone& alone, const Variation& variation, Witness& out);

  Ready from_, to_;
  std::vector<Document> documents_;
  std::vector<const Document*> all_;
  std::map<std::string, std::vector<const Document*>> concerned_;  // by parameter or table
  std::map<std::string, std::size_t> tries_left_;                  // the same
  std::map<std::string, std::set<std::string>> seen_;  // by attribute: some words that documents have
  std::vector<std::string> dates_;  // on which a condition, or a layer, begins or ends; and the days before
  std::size_t tries_ = 0;
};

}  // namespace raceward::command
