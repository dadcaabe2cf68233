// A check compared with a former one: what appeared, what disappeared, what moved.
#pragma once

#include <map>
#include <raceward/engine.hpp>
#include <string>
#include <vector>

namespace raceward::command {

/// What a former report said, as far as it is compared.
struct FormerFinding {
  std::string rule, subject, verdict, message;
  std::string measured, limit;  ///< "43.1 %", exact; empty: none
  std::string needs;            ///< the missing facts, sorted, with blanks between
  bool waived = false;
};
struct FormerReport {
  std::string installation, document, ruleset, version;  ///< document: the file that was judged
  std::vector<FormerFinding> findings;
};

/// Reports that `check --format json` wrote, one a line, by the id of their installation.
struct Former {
  std::string file;
  std::map<std::string, FormerReport> reports;
  std::vector<Problem> problems;  ///< with any there are no reports
};
Former read_former(const std::string& file);

/// What a report says otherwise than a former one.
struct Compared {
  /// That on the installation of this id; else the only one on this document, where the installation has
  /// another id by now. None: the installation was not there, and all appeared.
  const FormerReport* former = nullptr;
  std::vector<const Finding*> appeared;
  std::vector<const FormerFinding*> disappeared;
  struct Moved {
    const FormerFinding* from;
    const Finding* to;
    std::string how;  ///< "measured 43.1 % to 41 %"
  };
  std::vector<Moved> moved;
  std::size_t stayed = 0;
};
Compared compare(const Report& report, const Former& former);

/// The report for people with the comparison in place of its findings.
std::string text_of(const Compared& compared, const Report& report, const Former& former);
/// The comparison as one JSON object on one line.
std::string json_of(const Compared& compared, const Former& former);

}  // namespace raceward::command
