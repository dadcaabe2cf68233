// The whole engine for an embedder: load an installation, load a ruleset, check, report.
//
//   auto loaded = raceward::load_file("studio.xml");
//   if (!loaded.installation) return tell(loaded.problems);  // text_of makes a line of each
//   auto ruleset = raceward::load_ruleset("nec-2023");
//   if (!ruleset.law) return tell(ruleset.problems);
//   raceward::Report report = raceward::check(*loaded.installation, *ruleset.law, {});
//   std::cout << raceward::text_report(report);
//   return raceward::exit_status(report);
//
// Nothing here throws for bad input, prints, or touches locale, environment or working directory. After
// loading there is no input or output. Installations and laws are immutable and may be shared between
// threads; every function may be called from several threads at once. Reports, findings and figures hold text
// of their own: they outlive the installation, the law and the rules that they were made from.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <span>
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

/// An installation, or every problem that the file has. Exactly one of the two: with problems there is no
/// installation.
struct Loaded {
  InstallationPtr installation;
  std::vector<Problem> problems;  ///< sorted by place
};

/// Reads a file. `name` in problems and places is `path` as given. Large files are read by two threads, where
/// the machine has them; with threads = 1 by none but the caller's.
RACEWARD_API Loaded load_file(const std::string& path, unsigned threads = 0);
/// Reads bytes already in memory; they are copied. `name` is what problems and places call it.
RACEWARD_API Loaded load_bytes(std::string_view bytes, std::string name, unsigned threads = 0);
/// Bytes of room that spare load_moved a copy.
inline constexpr std::size_t loading_room = 64;
/// The same, taking the bytes over. They are copied after all where they have no room for loading_room more.
RACEWARD_API Loaded load_moved(std::string&& bytes, std::string name, unsigned threads = 0);
/// The ruleset that the document says it adopts; empty where it says none. This text and the next live as
/// long as the installation.
RACEWARD_API std::string_view adopted_ruleset(const Installation& installation);
/// Where it says so: for a message about a ruleset that cannot be had.
RACEWARD_API Place where_ruleset_is_adopted(const Installation& installation);
/// Its id, as the document gives it.
RACEWARD_API std::string_view installation_id(const Installation& installation);

/// What a layer writes that has no effect, or less than somebody may think. It holds all the same.
struct Remark {
  Place place;
  std::string message;
  std::string parameter{};  ///< that nothing of the ruleset reads; a rule of a module may
};

/// A ruleset, or every problem that its files have. Exactly one of the two.
struct LoadedLaw {
  std::shared_ptr<const Law> law;
  std::vector<Problem> problems;
  std::vector<Remark> remarks{};  ///< of layers that are not shipped, base first
};
/// A shipped ruleset by id ("nec-2023"), or a layer file by path. A layer file's names and units are compared
/// with those of the shipped rulesets, which figures read. To amend by code what is loaded, change a copy of
/// the Law.
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

/// A figure that a rule may name.
struct FigureInfo {
  std::string name;                                 ///< "raceway-fill"
  SubjectKind subject = SubjectKind::installation;  ///< of each of what it speaks
  Unit unit = Unit::one;  ///< how it is shown; its dimension is what limits must have
  std::string about;      ///< one sentence: what it is
};
/// All figures, in the order in which `figures` tells them.
RACEWARD_API std::vector<FigureInfo> all_figures();

/// What a compiled module says of itself.
struct ModuleInfo {
  std::string file;       ///< as it was named
  std::string name;       ///< "house"
  std::string version;    ///< its own
  std::string about;      ///< a sentence on whose rules these are, or empty
  std::string interface;  ///< of module.h, that it was built for: "1.0"
};
class Module;  ///< a compiled module: rules of somebody else, built outside
/// Modules that could be used, and what is wrong with others or with single rules.
struct LoadedModules {
  std::vector<std::shared_ptr<const Module>> modules;
  std::vector<Problem> problems;
};
/// Seconds that a trial lets pass without a sign of life.
inline constexpr unsigned usual_trial = 10;
/// Loads a compiled module; no other file than this one is looked for. Its code runs in this process, with
/// all that this process may do: load only what you trust. A module stays loaded to the end of the process.
/// With `trial` seconds it is first loaded in a process of its own (fork), so that one which crashes, ends
/// the process or does not return is a problem and not the end; 0: without.
RACEWARD_API LoadedModules load_module(const std::string& file, unsigned trial = 0);
/// Every *.so of a folder, sorted by name, and of none below it.
RACEWARD_API LoadedModules load_modules(const std::string& folder, unsigned trial = 0);
/// Lives as long as the module.
RACEWARD_API const ModuleInfo& info_of(const Module& module);
/// Its rules, for CheckOptions::extra_rules; they live as long as the module.
RACEWARD_API std::vector<const Rule*> rules_of(const Module& module);
/// The module that a rule comes from; null where it is of none.
RACEWARD_API const ModuleInfo* origin_of(const Rule& rule);

/// Where log lines go. level: 0 debug, 1 information, 2 warning, 3 error. Silent where none is given. It is
/// called within check, on the thread that called check; what it throws passes through check.
using Log = std::function<void(int level, std::string_view line)>;

/// How much a report tells.
enum class Detail : std::uint8_t {
  counts,    ///< the ledger and waivers; no findings
  verdicts,  ///< findings too, but of each only rule, kind, subject, place, measured value and limit
  all
};

struct CheckOptions {
  /// Rules beside the shipped ones, of your own or of compiled modules, which need to live until check
  /// returns. As with those, a rule is asked where the law names it (Law::rules, <uses> in a layer); reports
  /// list the others as not checked. Where two bear one id, the shipped one is asked.
  std::vector<const Rule*> extra_rules{};
  /// Less is sooner made, for whoever asks often or compares. With less than all, Report::not_checked holds
  /// rules that went wrong, and a line that says that nothing else was looked for.
  Detail detail = Detail::all;
  /// Of verdicts, so many of the first findings are told in words all the same: as many as a page shows. See
  /// explain for others, later.
  std::size_t worded = 0;
  /// On how many threads rules are asked, the caller's among them. 0: as many as the machine has, and fewer
  /// for a small installation, which is checked sooner than a thread starts. 1: on the caller's alone. The
  /// report is the same.
  unsigned threads = 0;
  /// Where it is not 0 and compiled modules have rules in force, those are first asked in a process of their
  /// own (fork), which may be without a sign of life for so many seconds: a rule that crashes, ends the
  /// process or does not return is then not asked, and all that it would judge is undetermined. It costs the
  /// time of asking them once more. usual_trial is a good value.
  unsigned trial = 0;
  /// The day that waivers of the document are judged on: "2026-05-01". Where it is no day, none of them
  /// holds. No clock is read.
  std::string on{};
  Log log{};
};

/// Judges the installation by every rule that the law has in force.
RACEWARD_API Report check(const Installation& installation, const Law& law, const CheckOptions& options);

class ReadyLaw;  ///< a law with what checks learn of it alone: for many checks of small installations
/// The law is not to change any more. `extra_rules` as CheckOptions has them, which are then of no effect in
/// the options; they need to live as long. REQUIRES: there is a law.
RACEWARD_API std::shared_ptr<const ReadyLaw> make_ready(std::shared_ptr<const Law> law,
                                                        const std::vector<const Rule*>& extra_rules = {});
RACEWARD_API const Law& law_of(const ReadyLaw& ready);
/// The same report as under the law itself. Several threads may check under one ready law at once.
RACEWARD_API Report check(const Installation& installation, const ReadyLaw& ready,
                          const CheckOptions& options);

/// Puts words into findings of a check that was asked for verdicts: for whoever shows some of many. What a
/// check of all detail says of them they say then. One that is no finding of this installation under this
/// law, or of no rule of these, stays as it is. Compiled modules are asked in this process. Cost: that of
/// asking those rules of those subjects, and what their figures need of the whole installation, once a call.
RACEWARD_API void explain(const Installation& installation, const ReadyLaw& ready,
                          std::span<Finding> findings);

/// Every figure of every subject that has something to measure there, with its working: a raceway without
/// bends has no tightest radius, and a box without large conductors no pull.
RACEWARD_API std::vector<FigureLine> figures(const Installation& installation, const Law& law);

/// Of those the ones that matter to their subjects under this law: a rule in force that applies there
/// compares them, or they belong to such a one, or no rule of any law compares them. Cost: that of asking all
/// rules as well.
RACEWARD_API FigureList figures_of_use(const Installation& installation, const Law& law);

/// The figures document: every fact that the installation states and every figure, joined to what they
/// belong to, as one XML document of namespace urn:raceward:figures:1. What data rules are asked of.
RACEWARD_API std::string figures_document(const Installation& installation, const Law& law);

/// Reports. Same input, same bytes.
RACEWARD_API std::string text_report(const Report& report);
RACEWARD_API std::string json_report(const Report& report);
/// The same in pieces, in order: for whoever writes it somewhere and does not want it whole in memory. What
/// `out` throws passes through.
RACEWARD_API void json_report(const Report& report, const std::function<void(std::string_view)>& out);
RACEWARD_API std::string text_figures(const std::string& installation, const std::vector<FigureLine>& lines,
                                      std::size_t left_out = 0);
RACEWARD_API std::string json_figures(const std::string& installation, const std::vector<FigureLine>& lines,
                                      std::size_t left_out = 0);

/// 0 no violation and nothing undetermined (breaches of what is only advised do not count, nor do those that
/// a waiver accepts), 1 a violation, 2 no violation, but something undetermined or nothing judged at all.
/// What is undetermined because a rule went wrong can be accepted by nobody.
RACEWARD_API int exit_status(const Report& report, bool accept_undetermined = false);

}  // namespace raceward
