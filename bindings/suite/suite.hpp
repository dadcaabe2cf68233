// A suite: installations, each under each of its rulesets, and what is found otherwise than expected.
#pragma once

#include <functional>
#include <raceward/engine.hpp>
#include <string>
#include <vector>

#include "expectation.hpp"

namespace raceward::suite {

/// An installation of a suite and what is expected of it.
struct Document {
  std::string file;
  std::string name;     ///< from the folder that was named: "bend-total/at-limit.xml"
  std::string sidecar;  ///< path of the file of expectations beside it, whether it is there or not
  std::string text;     ///< taken when it is judged
  Expectations expected;
};

/// Which part of a suite to run.
struct Choice {
  std::vector<std::string> only;    ///< words, one of which a name must contain; empty: all
  std::vector<std::string> change;  ///< words, one of which the name of what mutate() changes must contain
  std::string under;                ///< in place of the rulesets that the documents name
  unsigned shard = 1, shards = 1;
  unsigned threads = 0;  ///< 0: as many as the machine has
  std::vector<const Rule*> extra_rules;
};

/// What is otherwise than expected.
struct Mismatch {
  enum class Kind : std::uint8_t {
    missed,      ///< expected and not found
    unexpected,  ///< found and not expected
    moved,       ///< found otherwise: another verdict, value or need
    counts,      ///< the ledger counts otherwise
    faulty       ///< a rule went wrong or is not there, so that what it would judge is open
  };
  Kind kind = Kind::missed;
  std::string expected;              ///< the sentence's key, or the counts; empty where unexpected
  std::string found;                 ///< "violates raceway-fill R2", what differs; empty where missed
  Place place;                       ///< of what was found; of the expectation where nothing was
  std::string message;               ///< of the finding
  std::vector<std::string> working;  ///< of the finding, or what it needs
  Place expected_at{};               ///< where it is expected; no file where it is not
  std::string ruleset{};             ///< of a case between two: under which of them
};

/// What was found, as an expectation would say it.
struct Found {
  std::string sentence;
  std::vector<std::string> cites;  ///< what it could say that this cites: "NFPA 70-2023 352.44"
};

/// An installation under one ruleset, or between two.
struct Case {
  std::string name;
  std::string file;
  std::string ruleset;  ///< as the document names it; "A and B" between two
  std::vector<Mismatch> mismatches;
  std::vector<Problem> problems;  ///< it could not be judged, or not all that it expects could be read
  std::vector<Found> found;
  bool between = false;   ///< judged between two rulesets
  bool doubtful = false;  ///< not all that is expected of its whole folder could be read; told of the suite

  [[nodiscard]] bool passed() const { return mismatches.empty() && problems.empty(); }
  /// A difference between the two rulesets is expected, and there is none any more.
  [[nodiscard]] bool alike() const;
};

/// Of a file whose sentences hold for all documents of its folder.
inline constexpr const char* for_all = "all.expect";

struct Result {
  std::vector<Case> cases;        ///< by name, then in the order of the rulesets
  std::vector<Problem> problems;  ///< of folders, and of files of expectations that are of no one document

  [[nodiscard]] std::size_t failed() const;
  [[nodiscard]] bool readable() const;
};

/// The documents of folders and files, sorted by name, each once. Rulesets among them are left out. What
/// cannot be read is a problem, and the rest goes on. A file NAME.expect beside NAME.xml holds sentences for
/// it; a file all.expect those for all documents of its folder. `threads` as in Choice.
std::vector<Document> documents_of(const std::vector<std::string>& paths, std::vector<Problem>& problems,
                                   unsigned threads = 0);

/// The documents of the choice's words and shard, in their order.
std::vector<Document> chosen(std::vector<Document> documents, const Choice& choice);

/// Runs the documents. `told` is called now and then, on the thread that called, with how many are done.
Result run(std::vector<Document> documents, const Choice& choice,
           const std::function<void(std::size_t done, std::size_t all, std::size_t failed)>& told = {});

std::string text_of(const Result& result);
std::string json_of(const Result& result);
/// JUnit XML: a testsuite a folder, a testcase a case. Without times: the same suite gives the same bytes.
std::string junit_of(const Result& result);

}  // namespace raceward::suite
