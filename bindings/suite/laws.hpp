// What the runs over a suite share: which documents, under which rulesets.
#pragma once

#include <map>
#include <memory>
#include <mutex>
#include <set>
#include <string>
#include <vector>

#include "suite.hpp"

namespace raceward::suite {

/// Each ruleset loaded once and made ready, for all threads, and which are shipped.
class Laws {
 public:
  struct Law {
    LoadedLaw loaded;
    std::shared_ptr<const ReadyLaw> ready;  ///< null where it could not be loaded
  };
  /// Rules beside the shipped ones, which must outlive it.
  explicit Laws(std::vector<const Rule*> extra_rules = {});

  const Law& at(const std::string& id_or_path);
  /// A ruleset as a document names it in a sentence: the id of a shipped one, or a path as seen from the
  /// document.
  [[nodiscard]] std::string named(const std::string& name, const std::string& document) const;
  /// How a document's sentences spell a ruleset that is named from outside; as it is where they do not.
  [[nodiscard]] std::string spelt_in(const Document& document, const std::string& law) const;
  /// What a document is judged under, for `at`; empty where it names nothing that is shipped.
  [[nodiscard]] std::vector<std::string> judging(const Document& document, const Installation& installation,
                                                 const Choice& choice) const;

 private:
  std::vector<const Rule*> extra_rules_;
  std::set<std::string> shipped_;
  std::mutex mutex_;
  std::map<std::string, Law> laws_;
};

inline constexpr const char* names_none =
    "the document names no ruleset that is shipped; write one in its ruleset attribute, or in a sentence "
    "\"under: ...\"";
/// What a check of the document says, on the day that its sentences name; findings in words.
Report report_on(const Document& document, const Installation& installation, const ReadyLaw& law);

/// What a document that is judged between two rulesets says otherwise than expected, and what it finds.
struct Between {
  std::vector<Mismatch> mismatches;
  std::vector<Found> found;
};
Between judge_between(const Document& document, const Installation& installation, const ReadyLaw& first,
                      const ReadyLaw& second);

}  // namespace raceward::suite
