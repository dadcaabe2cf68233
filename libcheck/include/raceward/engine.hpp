// The whole engine for an embedder: load an installation, load a ruleset, check, report.
//
//   auto loaded = raceward::load_file("studio.xml");
//   if (!loaded.installation) { for (auto& p : loaded.problems) std::cerr << raceward::text_of(p) << '\n'; return 3; }
//   auto law = raceward::load_ruleset("nec-2023");
//   raceward::Report report = raceward::check(*loaded.installation, *law.law, {});
//   std::cout << raceward::text_report(report);
//
// Nothing here throws for bad input, prints, or touches locale, environment or working directory. After loading
// there is no input or output. Installations and laws are immutable and may be shared between threads.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "raceward/export.h"
#include "raceward/finding.hpp"
#include "raceward/law.hpp"
#include "raceward/rule.hpp"

namespace raceward {

/// "0.1.0"
RACEWARD_API std::string_view version();

/// A fault of an input file: what, where, what to do.
struct Problem {
  Place place;
  std::string message;  ///< one sentence; ends with what to do where that is not plain
};
/// "file:line:column: message"
RACEWARD_API std::string text_of(const Problem& problem);

class Installation;  ///< a loaded, immutable installation
struct RACEWARD_API InstallationDeleter {
  void operator()(const Installation* installation) const;
};
using InstallationPtr = std::unique_ptr<const Installation, InstallationDeleter>;

/// An installation, or every problem that the file has. Exactly one of the two: with problems there is no installation.
struct Loaded {
  InstallationPtr installation;
  std::vector<Problem> problems;  ///< sorted by place
};

/// Reads a file. `name` in problems and places is `path` as given.
RACEWARD_API Loaded load_file(const std::string& path);
/// Reads bytes already in memory; they are copied. `name` is what problems and places call it.
RACEWARD_API Loaded load_bytes(std::string_view bytes, std::string name);
/// The ruleset that the document says it adopts; empty where it says none.
RACEWARD_API std::string_view adopted_ruleset(const Installation& installation);
/// Its id, as the document gives it.
RACEWARD_API std::string_view installation_id(const Installation& installation);

struct LoadedLaw {
  std::shared_ptr<const Law> law;
  std::vector<Problem> problems;
};
/// A shipped ruleset by id ("nec-2023"), or a layer file by path.
RACEWARD_API LoadedLaw load_ruleset(std::string_view id_or_path);
/// A shipped ruleset by id and never a file: for an id that a document names.
RACEWARD_API LoadedLaw load_shipped_ruleset(std::string_view id);

/// A shipped ruleset, as `rulesets` lists it.
struct RulesetInfo {
  std::string id;
  std::string title;
  std::string document;
  std::string edition;
};
RACEWARD_API std::vector<RulesetInfo> shipped_rulesets();
/// All rules built into the library, sorted by id.
RACEWARD_API std::vector<const Rule*> shipped_rules();

/// Where log lines go. level: 0 debug, 1 information, 2 warning, 3 error. Silent where none is given.
using Log = std::function<void(int level, std::string_view line)>;

struct CheckOptions {
  std::vector<const Rule*> extra_rules;  ///< beside the shipped ones
  bool findings = true;                  ///< false: the ledger only
  Log log;
};

RACEWARD_API Report check(const Installation& installation, const Law& law, const CheckOptions& options);
/// Every figure of every subject, with its working.
RACEWARD_API std::vector<FigureLine> figures(const Installation& installation, const Law& law);

/// Reports. Same input, same bytes.
RACEWARD_API std::string text_report(const Report& report);
RACEWARD_API std::string json_report(const Report& report);
RACEWARD_API std::string text_figures(const std::string& installation, const std::vector<FigureLine>& lines);
RACEWARD_API std::string json_figures(const std::string& installation, const std::vector<FigureLine>& lines);

/// 0 all comply, 1 a violation, 2 something undetermined and no violation.
RACEWARD_API int exit_status(const Report& report, bool accept_undetermined = false);

}  // namespace raceward
