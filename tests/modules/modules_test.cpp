// Compiled modules that are as they should be, and one for each thing that can go wrong: what the host says,
// and that it goes on. docs/modules.md holds the table of faults; each line of it is tried here.
#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <span>
#include <sstream>

#include "support/check_text.hpp"
#include "unit/check/studio.hpp"

namespace {

using namespace raceward;
using namespace raceward::test;
namespace fs = std::filesystem;

/// Seconds until a module that does not return is given up.
constexpr unsigned patience = 1;

std::string built(std::string_view file) {
  return std::string(RACEWARD_TEST_MODULES "/") + std::string(file);
}

/// A module that has to load.
std::shared_ptr<const Module> loaded(std::string_view file) {
  LoadedModules all = load_module(built(file));
  for (const Problem& problem : all.problems) ADD_FAILURE() << text_of(problem);
  return all.modules.empty() ? nullptr : all.modules[0];
}

std::string why(const Report& report, std::string_view what) {
  for (const NotChecked& entry : report.not_checked) {
    if (entry.what == what) return entry.why;
  }
  return {};
}

std::string verdicts(const LedgerLine& line) {
  std::string out;
  const auto add = [&](std::uint64_t count, const char* what) {
    if (count > 0) out += (out.empty() ? "" : ", ") + std::to_string(count) + " " + what;
  };
  add(line.complies, "complies");
  add(line.violates, "violates");
  add(line.undetermined, "undetermined");
  add(line.not_applicable, "not applicable");
  return out;
}

/// R1 is 5 ft long and R2 of unstated length; 6 ft is the most.
Report check_by(std::vector<std::string> in_force, const std::vector<const Rule*>& rules,
                unsigned trial = patience) {
  std::sort(in_force.begin(), in_force.end());
  CheckOptions options;
  options.extra_rules = rules;
  options.trial = trial;
  return check(studio().in, law_of(in_force), options);
}

void expect_goes_on(const Report& report) {
  EXPECT_EQ(verdicts(ledger(report, "good")), "1 complies, 1 undetermined");
}

/// What the report says of a faulty rule, and what it counts for it, as a line of the table.
std::string line_of(const std::string& fault, const Report& report, const std::string& rule) {
  std::string said = why(report, "rule " + rule);
  if (said.starts_with("fault of the rule at ")) said.erase(0, said.find(": ") + 2);
  for (const Finding& f : report.findings) {
    if (f.rule == rule && said.empty()) said = f.message;
  }
  return "| " + fault + " | " + said + " | " + verdicts(ledger(report, rule)) + " |\n";
}

struct Fault {
  const char* words;
  const char* rule;
  bool fatal = false;  ///< without a trial it would take the process with it
};

constexpr Fault in_c[] = {
    {"gives no answer", "no-answer"},
    {"answers for fewer subjects than it was asked of", "too-few"},
    {"answers for more", "too-many"},
    {"answers with rubbish", "garbage"},
    {"answers with an unknown verdict", "unknown-outcome"},
    {"violates, with a message that it does not have", "unknown-message"},
    {"undetermined, and nothing is missing", "nothing-missing"},
    {"undetermined, for facts that nobody named", "unknown-missing"},
    {"answers with values of an unknown kind", "unknown-values"},
    {"measures in an unknown unit", "unknown-unit"},
    {"measures what is no number", "no-number"},
    {"cites what the law does not hold", "unknown-citation"},
    {"points at an element that there is not", "unknown-element"},
    {"points at an unknown kind of element", "unknown-kind"},
    {"compares a length with a current", "two-kinds"},
    {"asks for a figure outside its list", "unknown-figure"},
    {"asks for a parameter outside its list", "unknown-parameter"},
    {"asks of a subject outside the batch", "unknown-subject"},
    {"joins missing facts that there are not", "joins-nothing"},
    {"complies over a value that is missing", "hides-missing"},
    {"reads without end", "reads-without-end"},
    {"does not heed that it is told to stop", "ignores-stop", true},
    {"does not return", "loops", true},
    {"reads where nothing is", "crashes", true},
    {"aborts", "aborts", true},
    {"ends the process", "ends", true},
    {"crashes when it is asked again for its working", "crashes-when-told", true},
};

constexpr Fault in_cpp[] = {
    {"throws", "throws"},
    {"throws at one subject", "throws-at-one"},
    {"throws something that is no exception", "throws-a-number"},
    {"throws for want of memory", "wants-memory"},
    {"throws past the author layer", "throws-across"},
    {"compares two kinds of quantities", "compares-kinds"},
    {"answers otherwise when it is asked again", "changes-its-mind"},
    {"reads a figure that there is not", "no-such-figure"},
    {"reads a parameter that the law does not set", "no-such-parameter"},
};

/// Files that are no modules, made where nobody looks.
class Folder {
 public:
  Folder() : path_(fs::temp_directory_path() / ("raceward-modules-" + std::to_string(::getpid()))) {
    fs::create_directories(path_);
  }
  ~Folder() { fs::remove_all(path_); }
  std::string file(const std::string& name, const std::string& bytes) const {
    std::ofstream(path_ / name, std::ios::binary) << bytes;
    return (path_ / name).string();
  }
  [[nodiscard]] const fs::path& path() const { return path_; }

 private:
  fs::path path_;
};

std::string bytes_of(const std::string& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

/// What loading says, and what it means for a rule that the law names.
std::string line_of(const std::string& fault, const LoadedModules& all, const std::string& rule) {
  std::string said;
  for (const Problem& problem : all.problems) said += (said.empty() ? "" : "; ") + problem.message;
  const auto good = loaded("faulty/faulty_c.so");
  std::vector<const Rule*> rules = rules_of(*good);
  for (const auto& module : all.modules) {
    const auto more = rules_of(*module);
    rules.insert(rules.end(), more.begin(), more.end());
  }
  const Report report = check_by({rule, "good"}, rules);
  expect_goes_on(report);
  return "| " + fault + " | " + said + " | " + verdicts(ledger(report, rule)) + " |\n";
}

std::string lines_of_files() {
  const Folder folder;
  const std::string old = bytes_of(built("good/old.so"));
  std::string other_machine = old, half = old;
  other_machine[18] = 0;
  other_machine[19] = 0x7f;
  half.resize(old.size() / 8);
  const std::pair<const char*, std::string> files[] = {
      {"no such file", (folder.path() / "nothing.so").string()},
      {"a folder", folder.path().string()},
      {"an empty file", folder.file("empty.so", "")},
      {"a text", folder.file("text.so", "rule: all is well\n")},
      {"built for another machine", folder.file("machine.so", other_machine)},
      {"cut off", folder.file("half.so", half)},
      {"a library that is no module", built("bad/no_entry.so")},
      {"a function instead of an entry", built("bad/function_as_entry.so")},
      {"an entry that is cut off", built("bad/cut_off.so")},
      {"an entry that begins otherwise", built("bad/no_magic.so")},
      {"built for an earlier major version", built("bad/older_major.so")},
      {"built for a later minor version", built("bad/newer_minor.so")},
      {"built for a later major version", built("bad/newer_major.so")},
      {"an entry smaller than it can be", built("bad/small_entry.so")},
      {"a name that is nowhere", built("bad/no_name.so")},
      {"no rules", built("bad/no_rules.so")},
      {"no function that tells the rules", built("bad/null_rules.so")},
      {"rules with faults of their own, beside a good one", built("bad/bad_rules.so")},
      {"refuses its host", built("bad/refuses.so")},
      {"needs a function that nobody has", built("bad/missing_symbol.so")},
      {"crashes while it is loaded", built("bad/crashes_at_load.so")},
      {"ends the process while it is loaded", built("bad/exits_at_load.so")},
      {"does not return from being loaded", built("bad/loops_at_load.so")},
  };
  std::string out;
  for (const auto& [words, file] : files) {
    const LoadedModules all = load_module(file, patience);
    EXPECT_FALSE(all.problems.empty()) << words;
    for (const Problem& problem : all.problems) EXPECT_EQ(problem.place.file, file);
    out += line_of(words, all, "entry-good");
  }
  return out;
}

std::string lines_of_rules(std::span<const Fault> faults, std::string_view module, unsigned trial) {
  const auto good = loaded("faulty/faulty_c.so"), one = loaded(module);
  std::vector<const Rule*> rules = rules_of(*good);
  for (const Rule* rule : rules_of(*one)) rules.push_back(rule);
  std::string out;
  for (const Fault& fault : faults) {
    if (fault.fatal && trial == 0) continue;
    SCOPED_TRACE(fault.words);
    const Report report = check_by({fault.rule, "good"}, rules, trial);
    expect_goes_on(report);
    const LedgerLine line = ledger(report, fault.rule);
    EXPECT_EQ(line.complies + line.violates + line.undetermined, 2u);
    EXPECT_GE(line.undetermined, 1u);
    EXPECT_NE(exit_status(report), 0);
    out += line_of(fault.words, report, fault.rule);
  }
  return out;
}

/// The lines of the table after that heading in docs/modules.md.
std::string told(const std::string& heading) {
  std::istringstream page(bytes_of(RACEWARD_SOURCE_DIR "/docs/modules.md"));
  std::string out;
  int seen = 0;  // the heading, then two lines of the table's own
  for (std::string line; std::getline(page, line);) {
    if (line == heading) seen = 1;
    if (seen == 0 || (seen == 1 && !line.starts_with("|"))) continue;
    if (!line.starts_with("|")) break;
    if (++seen > 3) out += line + "\n";
  }
  return out;
}

TEST(Matrix, FilesThatAreNoModulesOrNoneThatFits) {
  EXPECT_EQ(lines_of_files(), told("### What cannot be loaded"));
}

TEST(Matrix, RulesThatMisbehave) {
  EXPECT_EQ(lines_of_rules(in_c, "faulty/faulty_c.so", patience) +
                lines_of_rules(in_cpp, "faulty/faulty_cpp.so", patience),
            told("### What rules get wrong"));
}

TEST(Matrix, WithoutATrialTheSameIsSaidOfWhatDoesNoHarm) {
  for (const auto& [faults, module] :
       {std::pair{std::span<const Fault>(in_c), "faulty/faulty_c.so"}, {in_cpp, "faulty/faulty_cpp.so"}}) {
    std::istringstream lines(lines_of_rules(faults, module, 0));
    for (std::string line; std::getline(lines, line);) {
      EXPECT_NE(told("### What rules get wrong").find(line + "\n"), std::string::npos) << line;
    }
  }
}

TEST(Modules, SayWhatTheyAre) {
  const auto module = loaded("good/old.so");
  ASSERT_TRUE(module);
  const ModuleInfo& info = info_of(*module);
  EXPECT_EQ(info.file, built("good/old.so"));
  EXPECT_EQ(info.name, "old");
  EXPECT_EQ(info.version, "0.9");
  EXPECT_EQ(info.about, "From before.");
  EXPECT_EQ(info.interface, "1.0");
  const std::vector<const Rule*> rules = rules_of(*module);
  ASSERT_EQ(rules.size(), 1u);
  EXPECT_EQ(rules[0]->id, "old-length");
  EXPECT_EQ(rules[0]->subject, SubjectKind::raceway);
  ASSERT_EQ(rules[0]->figures.size(), 1u);
  EXPECT_EQ(rules[0]->figures[0], "raceway-length");
  EXPECT_EQ(rules[0]->unseen, "");  // which interface 1.0 did not know
  EXPECT_EQ(origin_of(*rules[0]), &info);
  EXPECT_EQ(origin_of(*shipped_rules()[0]), nullptr);
}

TEST(Modules, BuiltForAnEarlierInterfaceJudge) {
  const auto module = loaded("good/old.so");
  ASSERT_TRUE(module);
  const Report report = check_by({"old-length"}, rules_of(*module));
  EXPECT_EQ(verdicts(ledger(report, "old-length")), "1 complies, 1 undetermined");
  ASSERT_EQ(report.findings.size(), 1u);
  EXPECT_EQ(report.findings[0].needs[0].element, "raceway R2");
  EXPECT_EQ(report.cautions.back(),
            "The compiled module old 0.9 is no part of Raceward; its authors answer for what it judges: "
            "old-length.");
}

TEST(Modules, TellViolationsWithArithmeticAndPlace) {
  Sketch s = studio();
  s.in.model.raceways[0].length = feet(7);
  const auto c = loaded("good/old.so"), cpp = loaded("faulty/faulty_cpp.so");
  for (const auto& [module, id] : {std::pair{c, "old-length"}, {cpp, "fine"}}) {
    CheckOptions options;
    options.extra_rules = rules_of(*module);
    const Report report = check(s.in, law_of({id}), options);
    const Finding* f = finding(report, id, "R1");
    ASSERT_NE(f, nullptr);
    EXPECT_EQ(f->kind, Finding::Kind::violates);
    EXPECT_EQ(f->place.line, 5u);
    EXPECT_EQ(f->message, "raceway R1, panel P1 to box B1, is 7 ft long, and at most 6 ft is allowed");
    EXPECT_EQ(f->cites.size(), 2u);
    EXPECT_FALSE(f->working.empty());
    EXPECT_EQ(f->cure, "Make it shorter.");
  }
}

TEST(Modules, ReportsOutliveThem) {
  Report report;
  std::string text;
  {
    const auto module = loaded("faulty/faulty_cpp.so");
    report = check_by({"fine", "throws"}, rules_of(*module));
    text = text_report(report) + json_report(report);
  }
  EXPECT_EQ(text_report(report) + json_report(report), text);
}

TEST(Modules, AreAskedOnlyWhereTheLawNamesTheirRules) {
  const auto module = loaded("faulty/faulty_c.so");
  const Report report = check_by({"good"}, rules_of(*module));
  EXPECT_EQ(report.ledger.size(), 1u);
  EXPECT_EQ(why(report, "rule crashes"), "ruleset test-2020 does not use it");
}

TEST(Modules, WithARuleOfAnothersNameLeaveItOut) {
  const auto first = loaded("faulty/faulty_c.so"), second = loaded("faulty/faulty_c.so"),
             other = loaded("faulty/faulty_cpp.so");
  std::vector<const Rule*> rules = rules_of(*first);
  for (const auto& module : {second, other}) {
    for (const Rule* rule : rules_of(*module)) rules.push_back(rule);
  }
  const Report report = check_by({"good", "bend-total"}, rules);
  expect_goes_on(report);
  EXPECT_EQ(why(report, "rule good of module faulty-c"), "two rules bear this name; the second was left out");
  EXPECT_EQ(why(report, "rule bend-total of module faulty-cpp"),
            "two rules bear this name; the second was left out");
}

TEST(Modules, AreAskedOfManySubjectsInOneCall) {
  Sketch s = studio();
  installation::Model& m = s.in.model;
  m.raceways.resize(1, m.raceways[0]);
  for (int i = 1; i < 600; ++i) m.raceways.push_back(m.raceways[0]);
  s.derive();
  const auto module = loaded("faulty/faulty_c.so");
  CheckOptions options;
  options.extra_rules = rules_of(*module);
  options.threads = 1;
  const Report report = check(s.in, law_of({"too-few"}), options);
  // It answers for the first of each call: two slices of 300, and at most 256 in a call.
  EXPECT_EQ(verdicts(ledger(report, "too-few")), "4 complies, 596 undetermined");
}

TEST(Modules, OfAFolderAreLoadedInTheOrderOfTheirNames) {
  const LoadedModules good = load_modules(built("good"));
  ASSERT_EQ(good.modules.size(), 2u);
  EXPECT_EQ(info_of(*good.modules[0]).name, "old");
  EXPECT_EQ(info_of(*good.modules[1]).name, "shipped");
  EXPECT_TRUE(good.problems.empty());
  const LoadedModules none = load_modules(built("nowhere"));
  ASSERT_EQ(none.problems.size(), 1u);
  EXPECT_EQ(none.problems[0].message, "the folder cannot be read");
}

}  // namespace
