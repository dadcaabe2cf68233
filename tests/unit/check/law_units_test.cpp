// A law in other units than figures read, or with words for numbers, is as good as one that says nothing:
// never a limit that everything keeps. Laws built in code come by no loader that would refuse them.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <iterator>
#include <memory>

#include "raceward/engine.hpp"
#include "studio.hpp"
#include "support/documents.hpp"

namespace raceward::test {
namespace {

const Law& nec() {
  static const LoadedLaw loaded = load_shipped_ruleset("nec-2023");
  return *loaded.law;
}

const std::vector<InstallationPtr>& documents() {
  static const std::vector<InstallationPtr> all = [] {
    std::vector<InstallationPtr> out;
    for (const auto& file : good_documents(RACEWARD_SOURCE_DIR)) {
      // Where the limits matter: what violates and what stands at them.
      const std::string name = file.filename().string();
      if (!name.starts_with("violates") && !name.starts_with("at-limit")) continue;
      Loaded loaded = load_file(file.string());
      if (loaded.installation) out.push_back(std::move(loaded.installation));
    }
    return out;
  }();
  return all;
}

/// What was judged of what, and what was compared: all that a law can pass or fail, without the words.
std::string verdicts_of(const Installation& in, const ReadyLaw& law) {
  CheckOptions options;
  options.detail = Detail::verdicts;
  options.threads = 1;
  const Report report = check(in, law, options);
  std::string out;
  for (const Finding& f : report.findings) {
    fmt::format_to(std::back_inserter(out), "{} {} {} {}", f.rule, static_cast<int>(f.kind),
                   static_cast<int>(f.at.kind), f.at.index);
    if (f.has_measured) fmt::format_to(std::back_inserter(out), " {}", text_of(f.measured));
    if (f.has_limit) fmt::format_to(std::back_inserter(out), " of {}", text_of(f.limit));
    out += '\n';
  }
  for (const LedgerLine& line : report.ledger)
    fmt::format_to(std::back_inserter(out), "{} {} {} {} {} {}\n", line.rule, line.complies, line.violates,
                   line.undetermined, line.not_applicable, line.at_limit);
  return out;
}

std::shared_ptr<const ReadyLaw> ready_of(const Law& law) {
  return make_ready(std::make_shared<const Law>(law));
}

/// Under each of these laws every document is judged as under a law that does not say the value at all.
/// Documents that the value makes no difference to read it nowhere, and are judged under that law only.
void expect_silence(const Law& without, std::initializer_list<const Law*> laws, const std::string& of) {
  static const std::vector<std::string> with = [] {
    std::vector<std::string> out;
    const auto ready = ready_of(nec());
    for (const InstallationPtr& in : documents()) out.push_back(verdicts_of(*in, *ready));
    return out;
  }();
  const auto silence = ready_of(without);
  std::vector<std::shared_ptr<const ReadyLaw>> others;
  for (const Law* law : laws) others.push_back(ready_of(*law));
  for (std::size_t i = 0; i < documents().size(); ++i) {
    const Installation& in = *documents()[i];
    const std::string silent = verdicts_of(in, *silence);
    if (silent == with[i]) continue;
    for (const auto& law : others) EXPECT_EQ(verdicts_of(in, *law), silent) << of;
  }
}

Unit of_another_dimension(Unit unit) {
  return dimension_of(unit) == Dimension::resistance ? Unit::watt : Unit::ohm;
}

void unname(Law& law, std::size_t parameter) {
  law.parameters[parameter].name = "-";
  std::sort(law.parameters.begin(), law.parameters.end(),
            [](const Parameter& a, const Parameter& b) { return a.name < b.name; });
}

TEST(LawUnits, AColumnInOtherUnitsSaysNothing) {
  ASSERT_GT(documents().size(), 20u);
  for (std::size_t t = 0; t < nec().tables.size(); ++t) {
    for (std::size_t c = 0; c < nec().tables[t].columns.size(); ++c) {
      const Column& column = nec().tables[t].columns[c];
      if (column.kind != Column::Kind::quantity) continue;
      Law other = nec(), without = nec();
      other.tables[t].columns[c].unit = of_another_dimension(column.unit);
      without.tables[t].columns[c].name = "-";
      expect_silence(without, {&other}, nec().tables[t].name + ", " + column.name);
    }
  }
}

TEST(LawUnits, AParameterInOtherUnitsOrInWordsSaysNothing) {
  for (std::size_t p = 0; p < nec().parameters.size(); ++p) {
    if (nec().parameters[p].is_word) continue;
    Law other = nec(), word = nec(), without = nec();
    other.parameters[p].value.unit = of_another_dimension(other.parameters[p].value.unit);
    word.parameters[p].value = {};
    word.parameters[p].is_word = true;
    unname(without, p);
    expect_silence(without, {&other, &word}, nec().parameters[p].name);
  }
}

TEST(LawUnits, WithoutTheSmallestLargeConductorNoPullIsOutOfTheQuestion) {
  for (const std::string_view word : {"", "4AWG", "16 mm2"}) {
    Law law = nec();
    for (Parameter& p : law.parameters) {
      if (p.name == "pull-box-smallest-conductor") p.text = word;
    }
    std::uint64_t asked = 0;
    for (const InstallationPtr& in : documents()) {
      for (const LedgerLine& line : check(*in, law, {}).ledger) {
        if (line.rule != "pull-box-size" && line.rule != "pull-box-entry-spacing") continue;
        asked += line.undetermined;
        EXPECT_EQ(line.complies, 0u) << installation_id(*in) << " " << line.rule;
      }
    }
    EXPECT_GT(asked, 0u) << word;
  }
}

TEST(LawUnits, ARuleThatReadsAWordAsANumberIsNotAsked) {
  const Rule rule = length_rule([](const Context& c) { return c.at_least(c.figure(0), c.parameter(0)); });
  Law law = law_of({"length"});
  law.parameters[0].is_word = true;
  CheckOptions options;
  options.extra_rules = {&rule};
  const Report report = check(studio().in, law, options);
  ASSERT_EQ(report.ledger.size(), 1u);
  EXPECT_EQ(report.ledger[0].complies, 0u);
  const auto at = std::find_if(report.not_checked.begin(), report.not_checked.end(),
                               [](const NotChecked& n) { return n.what == "rule length"; });
  ASSERT_NE(at, report.not_checked.end());
  EXPECT_EQ(at->why, "it reads parameter most as a number, and test-2020 sets a word: 6ft");
}

TEST(LawUnits, ARuleThatNobodyHasIsToldWithWhatWasMeant) {
  const Report report = check(studio().in, law_of({"raceway-fil"}), {});
  const auto at = std::find_if(report.not_checked.begin(), report.not_checked.end(),
                               [](const NotChecked& n) { return n.what == "rule raceway-fil"; });
  ASSERT_NE(at, report.not_checked.end());
  EXPECT_EQ(
      at->why,
      "the ruleset uses it, and there is no such rule here, nor in a module that was named; did you mean "
      "\"raceway-fill\"?");
}

}  // namespace
}  // namespace raceward::test
