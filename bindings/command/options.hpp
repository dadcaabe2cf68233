// The command line, read.
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "status.hpp"

namespace raceward::command {

enum class Format { text, json, junit, html, xml };

/// Compiled modules that the user names.
struct Modules {
  std::vector<std::string> files;
  std::vector<std::string> folders;

  [[nodiscard]] bool any() const { return !files.empty() || !folders.empty(); }
};

struct CheckTask {
  std::vector<std::string> files;
  std::string under;  ///< id or path of a ruleset; empty: what each document names
  Modules modules;
  Format format = Format::text;
  std::string output;   ///< empty: standard output
  std::string against;  ///< a former report as JSON, to be compared with; empty: none
  std::string on;       ///< the day that waivers are judged on; empty: today
  bool accept_undetermined = false;
  bool quiet = false;
};

struct FiguresTask {
  std::string file;
  std::string under;
  bool all = false;
  Format format = Format::text;
  std::string output;
};

struct RulesTask {
  std::string under;  ///< empty: the rules as they are, without a law
  Modules modules;
};

struct RulesetsTask {
  std::string show;                     ///< empty: list them
  std::string table;                    ///< of the shown one: its rows; empty: all of the ruleset but rows
  std::vector<std::string> difference;  ///< two rulesets to compare, or none
  std::vector<std::string> among;       ///< documents and folders of them: witnesses of what changes
  Format format = Format::text;
};

struct SuiteTask {
  std::vector<std::string> paths;   ///< folders and documents
  std::vector<std::string> only;    ///< words of names of documents
  std::vector<std::string> change;  ///< words of names of what --mutate changes
  std::string under;                ///< empty: what each document says
  Modules modules;
  unsigned shard = 1, shards = 1;
  unsigned threads = 0;
  Format format = Format::text;
  std::string output;
  bool record = false, overwrite = false;
  bool coverage = false, mutate = false;
};

struct NewTask {
  std::string kind;  ///< layer, rule or module
  std::string name;
  std::string base = "nec-2023";
};

struct Options {
  std::variant<CheckTask, FiguresTask, RulesTask, RulesetsTask, SuiteTask, NewTask> task;
  std::string log_level;
};

/// What the command line asks for, or the status to end with where it has been answered already (help, a
/// mistake).
std::variant<Options, Status> read_options(int argc, char** argv);

}  // namespace raceward::command
