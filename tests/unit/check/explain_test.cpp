// Words put into the findings of a check for verdicts are those of a check of all detail.
#include <gtest/gtest.h>

#include <filesystem>

#include "raceward/engine.hpp"
#include "support/documents.hpp"

namespace {

using namespace raceward;

const std::filesystem::path fixtures = std::filesystem::path(RACEWARD_SOURCE_DIR) / "fixtures";

/// A report of its findings alone, without what they have in common with others: that is told of all at once.
std::string findings_of(const Report& report) {
  Report only;
  only.findings = report.findings;
  for (Finding& f : only.findings) {
    f.cause = 0;
    f.subject_place = {};
  }
  return json_report(only);
}

/// How many findings were told; all of them in the same words both ways.
std::size_t expect_same_words(const std::filesystem::path& file,
                              const std::shared_ptr<const ReadyLaw>& ready) {
  const Loaded loaded = load_file(file.string());
  EXPECT_TRUE(loaded.installation) << file;
  if (!loaded.installation) return 0;
  CheckOptions how;
  how.on = "2026-06-15";
  const Report whole = check(*loaded.installation, *ready, how);
  how.detail = Detail::verdicts;
  Report report = check(*loaded.installation, *ready, how);
  explain(*loaded.installation, *ready, report.findings);
  EXPECT_EQ(findings_of(report), findings_of(whole)) << file;
  // Some of them, and then the others.
  how.worded = 2;
  Report page = check(*loaded.installation, *ready, how);
  EXPECT_EQ(page.ledger.size(), whole.ledger.size());
  for (std::size_t i = 0; i < page.findings.size(); ++i)
    EXPECT_EQ(page.findings[i].message.empty(), i >= how.worded) << file;
  if (page.findings.size() > how.worded) {
    explain(*loaded.installation, *ready, std::span(page.findings).subspan(how.worded));
  }
  EXPECT_EQ(findings_of(page), findings_of(whole)) << file;
  return whole.findings.size();
}

TEST(Explain, SaysOfEachFindingWhatAWholeCheckSays) {
  const auto ready = make_ready(load_shipped_ruleset("nec-2023").law);
  std::size_t told = 0;
  for (const auto& file : test::good_documents(RACEWARD_SOURCE_DIR)) told += expect_same_words(file, ready);
  EXPECT_GT(told, 1000u);
}

TEST(Explain, AsksUnderTheConditionsOfTheLaw) {
  std::size_t told = 0, laws = 0;
  for (const auto& folder : std::filesystem::directory_iterator(fixtures / "jurisdictions")) {
    const LoadedLaw law = load_ruleset((folder.path() / "layer.xml").string());
    if (!law.law || law.law->scopes.empty()) continue;
    ++laws;
    const auto ready = make_ready(law.law);
    for (const auto& file : std::filesystem::directory_iterator(folder.path())) {
      const std::string name = file.path().filename().string();
      if (name.ends_with(".xml") && name != "layer.xml" && load_file(file.path().string()).installation)
        told += expect_same_words(file.path(), ready);
    }
  }
  EXPECT_GT(laws, 5u);
  EXPECT_GE(told, 20u);
}

TEST(Explain, LeavesAloneWhatItDoesNotKnow) {
  const auto ready = make_ready(load_shipped_ruleset("nec-2023").law);
  const Loaded loaded = load_file((fixtures / "demo" / "pottery-studio-faulty.xml").string());
  ASSERT_TRUE(loaded.installation);
  CheckOptions how;
  how.detail = Detail::verdicts;
  const Report report = check(*loaded.installation, *ready, how);
  ASSERT_GT(report.findings.size(), 4u);
  std::vector<Finding> strange(report.findings.begin(), report.findings.begin() + 5);
  strange[0].rule = "no-such-rule";
  strange[1].subject = "another";
  strange[2].at.index = UINT32_MAX;
  strange[3].at.kind = static_cast<SubjectKind>(200);
  strange[4].kind = Finding::Kind::undetermined;
  ASSERT_EQ(report.findings[4].kind, Finding::Kind::violates);
  explain(*loaded.installation, *ready, strange);
  for (const Finding& f : strange) EXPECT_EQ(f.message + f.where, "") << f.rule;
  explain(*loaded.installation, *ready, {});
}

}  // namespace
