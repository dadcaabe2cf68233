// What the runs over a suite share: which documents, under which rulesets.
#pragma once

#include <map>
#include <mutex>
#include <string>
#include <vector>

#include "suite.hpp"

namespace raceward::suite {

/// Each ruleset loaded once, for all threads.
class Laws {
 public:
  const LoadedLaw& at(const std::string& id_or_path) {
    const std::lock_guard guard(mutex_);
    const auto [law, is_new] = laws_.try_emplace(id_or_path);
    if (is_new) law->second = load_ruleset(id_or_path);
    return law->second;
  }

 private:
  std::mutex mutex_;
  std::map<std::string, LoadedLaw> laws_;
};

/// A ruleset as a document names it in a sentence: the id of a shipped one, or a path as seen from the
/// document.
std::string law_named(const std::string& name, const std::string& document);
/// How a document's sentences spell a ruleset that is named from outside; as it is where they do not.
std::string spelt_in(const Document& document, const std::string& law);
/// What a document is judged under, as load_ruleset takes it; empty where it names nothing that is shipped.
std::vector<std::string> rulesets_of(const Document& document, const Installation& installation,
                                     const Choice& choice);
inline constexpr const char* names_none =
    "the document names no ruleset that is shipped; write one in its ruleset attribute, or in a sentence "
    "\"under: ...\"";
/// The documents of the choice's words and shard, in their order.
std::vector<Document> chosen(std::vector<Document> documents, const Choice& choice);

}  // namespace raceward::suite
