// raceward new.
#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <raceward/engine.hpp>
#include <system_error>

#include "laws.hpp"
#include "output.hpp"
#include "tasks.hpp"
#include "templates.hpp"

namespace raceward::command {

namespace {

namespace fs = std::filesystem;

constexpr std::size_t longest_name = 60;

/// What is wrong with a name; empty where nothing is.
std::string fault_of(const std::string& name, const std::string& kind) {
  const bool letters = name.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789-") == std::string::npos;
  if (name.empty() || name.size() > longest_name || !letters || name[0] < 'a' || name.back() == '-' ||
      name.find("--") != std::string::npos)
    return fmt::format(
        "\"{}\" cannot be a name: use up to {} lower-case letters, digits and single -, a letter first", name,
        longest_name);
  // What CMake calls targets of its own.
  constexpr std::string_view taken[] = {"all",  "clean",   "edit-cache",    "help", "install",
                                        "list", "package", "rebuild-cache", "test", "suite"};
  if (kind == "module" && std::find(std::begin(taken), std::end(taken), name) != std::end(taken))
    return "CMake has a target of the name " + name + "; use another name";
  for (const RulesetInfo& info : shipped_rulesets()) {
    if (kind == "layer" && info.id == name) return "a ruleset " + name + " is shipped; use another name";
  }
  for (const Rule* rule : shipped_rules()) {
    if (kind == "rule" && rule->id == name) return "a rule " + name + " is shipped; use another name";
  }
  return {};
}

void replace_all(std::string& text, std::string_view token, std::string_view value) {
  for (std::size_t at = text.find(token); at != std::string::npos; at = text.find(token, at + value.size()))
    text.replace(at, token.size(), value);
}

std::string filled(std::string_view bytes, const NewTask& options) {
  std::string text(bytes);
  std::string word = options.name;
  std::replace(word.begin(), word.end(), '-', '_');
  replace_all(text, "@name@", options.name);
  replace_all(text, "@word@", word + "_rules");  // never a word of the language
  replace_all(text, "@base@", options.base);
  return text;
}

/// Writes the files below a folder that is not there yet.
void write(const fs::path& folder, const NewTask& options, std::error_code& error) {
  const std::string from = options.kind + "/";
  for (const EmbeddedFile& file : embedded_files()) {
    if (!file.path.starts_with(from)) continue;
    const fs::path to = folder / file.path.substr(from.size());
    fs::create_directories(to.parent_path(), error);
    if (error) return;
    std::ofstream out(to, std::ios::binary);
    out << filled(file.bytes, options);
    out.close();
    if (!out) error = std::make_error_code(std::errc::io_error);
    if (error) return;
  }
}

std::string next_steps(const NewTask& options) {
  const std::string& name = options.name;
  if (options.kind == "module")
    return fmt::format("  cd {} && cmake -S . -B build && cmake --build build && ctest --test-dir build\n",
                       name);
  return fmt::format(
      "  raceward suite {0}/suite\n  raceward check --under {0}/layer.xml my-installation.xml\n", name);
}

}  // namespace

Status run(const NewTask& options, spdlog::logger&) {
  const std::string fault = fault_of(options.name, options.kind);
  if (!fault.empty()) {
    complain(fault);
    return Status::usage;
  }
  const LoadedLaw base = load_shipped_ruleset(options.base);
  if (!base.law) {
    tell(base.problems);
    return Status::unreadable;
  }
  std::error_code error;
  const fs::path folder = options.name;
  if (fs::exists(fs::symlink_status(folder, error))) {
    complain(options.name + ": is there already; nothing is written over");
    return Status::usage;
  }
  // Beside it first, so that it is there whole or not at all.
  const fs::path beside = options.name + "." + std::to_string(getpid()) + ".part";
  write(beside, options, error);
  if (!error && options.kind != "module" && !load_ruleset((beside / "layer.xml").string()).law) {
    std::error_code ignored;
    fs::remove_all(beside, ignored);
    complain(
        fmt::format("what a new {} begins with stands over an edition of NFPA 70, and {} has not all that "
                    "it amends; begin with another --base, and change it then",
                    options.kind, options.base));
    return Status::usage;
  }
  if (!error) fs::rename(beside, folder, error);
  if (error) {
    complain(options.name + ": cannot be written: " + error.message());
    std::error_code ignored;
    fs::remove_all(beside, ignored);
    return error == std::errc::permission_denied || error == std::errc::read_only_file_system
               ? Status::usage
               : Status::internal;
  }
  std::string told = options.name + "/README.md tells what is in it. Next:\n" + next_steps(options);
  return write_standard(told);
}

}  // namespace raceward::command
