// What is built in can be brought as a module: every shipped rule says the same from there, of every fixture.
#include <gtest/gtest.h>

#include <algorithm>

#include "raceward/engine.hpp"
#include "support/documents.hpp"
#include "support/generate.hpp"

namespace {

using namespace raceward;
using namespace raceward::test;

std::vector<const Rule*> shipped_as_module() {
  static const LoadedModules loaded = load_module(RACEWARD_TEST_MODULES "/good/shipped.so");
  EXPECT_EQ(loaded.modules.size(), 1u);
  EXPECT_EQ(loaded.problems.size(), 0u);
  return loaded.modules.empty() ? std::vector<const Rule*>{} : rules_of(*loaded.modules[0]);
}

/// The law, with the module's rules in force where it has the shipped ones.
Law renamed(Law law) {
  for (RuleSetting& setting : law.rules) setting.rule.insert(0, "m-");
  return law;
}

std::string without(std::string text, const std::string& word, const std::string& other) {
  for (std::size_t at = 0; (at = text.find(word, at)) != std::string::npos;)
    text.replace(at, word.size(), other);
  return text;
}

/// Without what tells whose rules they are.
std::string said(Report report) {
  std::erase_if(report.not_checked, [](const NotChecked& n) { return n.why.ends_with(" does not use it"); });
  std::erase_if(report.cautions, [](const std::string& c) { return c.starts_with("The compiled module "); });
  for (LedgerLine& line : report.ledger) line.rule = without(line.rule, "m-", "");
  return without(without(json_report(report), "\"m-", "\""), "rule m-", "rule ");
}

void expect_the_same(const Installation& installation, const Law& law, unsigned threads) {
  CheckOptions options;
  options.threads = threads;
  const std::string built_in = said(check(installation, law, options));
  options.extra_rules = shipped_as_module();
  const Report report = check(installation, renamed(law), options);
  EXPECT_EQ(report.cautions.back().substr(0, 31), "The compiled module shipped 1.0");
  const std::string brought = said(report);
  EXPECT_TRUE(brought == built_in) << built_in.substr(0, 2000) << "\n\n" << brought.substr(0, 2000);
}

TEST(ShippedAsModule, HasEveryRule) {
  const std::vector<const Rule*> shipped = shipped_rules(), brought = shipped_as_module();
  ASSERT_EQ(brought.size(), shipped.size());
  for (std::size_t i = 0; i < shipped.size(); ++i) {
    const auto same = std::find_if(brought.begin(), brought.end(), [&](const Rule* rule) {
      return rule->id.substr(2) == shipped[i]->id && rule->title == shipped[i]->title &&
             rule->why == shipped[i]->why && rule->unseen == shipped[i]->unseen &&
             std::equal(rule->messages.begin(), rule->messages.end(), shipped[i]->messages.begin(),
                        shipped[i]->messages.end());
    });
    EXPECT_NE(same, brought.end()) << shipped[i]->id;
  }
}

TEST(ShippedAsModule, SaysTheSameOfEveryFixture) {
  const LoadedLaw law = load_shipped_ruleset("nec-2023");
  ASSERT_TRUE(law.law);
  for (const auto& file : good_documents(RACEWARD_SOURCE_DIR)) {
    SCOPED_TRACE(file.string());
    if (file.parent_path().filename() == "waivers") continue;  // they name rules by their shipped ids
    const Loaded loaded = load_file(file.string());
    ASSERT_TRUE(loaded.installation);
    expect_the_same(*loaded.installation, *law.law, 1);
  }
}

TEST(ShippedAsModule, SaysTheSameOfAnInstallationFullOfFaultsOnSeveralThreads) {
  const LoadedLaw law = load_shipped_ruleset("nec-2023");
  ASSERT_TRUE(law.law);
  const Loaded loaded = load_bytes(generate({.raceways = 2000, .seed = 3, .faults = 0.7}), "generated.xml");
  ASSERT_TRUE(loaded.installation);
  for (const unsigned threads : {1u, 3u}) expect_the_same(*loaded.installation, *law.law, threads);
}

}  // namespace
