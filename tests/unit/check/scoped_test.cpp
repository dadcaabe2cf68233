// What holds under a condition: asked where it holds, not where it does not, and undetermined where the
// verdict depends on what is not known.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "raceward/engine.hpp"
#include "support/check_text.hpp"

namespace {

using namespace raceward;
using namespace raceward::test;
namespace fs = std::filesystem;

constexpr const char* document = "fixtures/rules/arc-fault-protection/violates-living.xml";
constexpr const char* arc_fault = "arc-fault-protection";

constexpr const char* off_for_old =
    R"(<fact name="old" of="device" value="yes-no" title="Whether it was there before"/>
  <where><if fact="old" is="yes"/>
    <uses rule="arc-fault-protection" force="off"><cite section="1" basis="read" source="S"/></uses>
  </where>)";

class Scoped : public testing::Test {
 protected:
  /// The report on the document with `more` in it, under nec-2023 with `changes` upon it.
  Report check_under(const std::string& changes, const std::string& more, const std::string& from = {},
                     const std::string& to = {}) {
    const fs::path file =
        fs::path(testing::TempDir()) /
        (std::string("raceward-") + testing::UnitTest::GetInstance()->current_test_info()->name() + ".xml");
    std::ofstream(file, std::ios::binary)
        << R"(<ruleset xmlns="urn:raceward:ruleset:1" id="hill" title="Hill town" base="nec-2023">
  <document id="town" title="Town ordinance"/><source id="S" title="Town gazette"/>
  )" << changes
        << "\n</ruleset>";
    const LoadedLaw law = load_ruleset(file.string());
    for (const Problem& problem : law.problems) ADD_FAILURE() << text_of(problem);
    fs::remove(file);
    std::ifstream in(fs::path(RACEWARD_SOURCE_DIR) / document, std::ios::binary);
    std::string text{std::istreambuf_iterator<char>(in), {}};
    text.insert(text.rfind("</installation>"), more);
    if (!from.empty()) {
      const std::size_t at = text.rfind(from);
      EXPECT_NE(at, std::string::npos);
      text.replace(at, from.size(), to);
    }
    const Loaded loaded = load_bytes(text, "studio.xml");
    for (const Problem& problem : loaded.problems) ADD_FAILURE() << text_of(problem);
    return law.law && loaded.installation ? check(*loaded.installation, *law.law, {}) : Report{};
  }

  /// "violates", "undetermined" or nothing.
  static std::string said(const Report& report, const char* rule) {
    for (const Finding& f : report.findings) {
      if (f.rule == rule) return f.kind == Finding::Kind::undetermined ? "undetermined" : "violates";
    }
    return {};
  }
  static std::string why(const Report& report, const char* rule) {
    for (const Finding& f : report.findings) {
      if (f.rule == rule && !f.needs.empty()) return f.needs.front().why;
    }
    return {};
  }
};

TEST_F(Scoped, ARuleIsOffWhereTheConditionHolds) {
  const Report report = check_under(off_for_old, R"(<fact name="old" of="D1" value="yes"/>)");
  EXPECT_EQ(said(report, arc_fault), "");
  EXPECT_EQ(ledger(report, arc_fault).not_applicable, 1u);
  bool told = false;
  for (const NotChecked& n : report.not_checked)
    told = told || n.why.find("the ruleset does not ask it there") != std::string::npos;
  EXPECT_TRUE(told);
}

TEST_F(Scoped, ARuleIsAskedWhereTheConditionDoesNotHold) {
  EXPECT_EQ(said(check_under(off_for_old, R"(<fact name="old" of="D1" value="no"/>)"), arc_fault),
            "violates");
}

TEST_F(Scoped, WhatIsNotStatedLeavesItOpen) {
  const Report report = check_under(off_for_old, "");
  EXPECT_EQ(said(report, arc_fault), "undetermined");
  EXPECT_EQ(why(report, arc_fault), "no <fact name=\"old\"> states it");
  EXPECT_EQ(exit_status(report), 2);
}

TEST_F(Scoped, WhatIsNotStatedLeavesNothingOpenWhereTheVerdictIsTheSame) {
  const Report report = check_under(off_for_old, "", R"(arc-fault="no" tamper)", R"(arc-fault="yes" tamper)");
  EXPECT_EQ(said(report, arc_fault), "");
}

TEST_F(Scoped, ARuleIsAdvisedWhereTheConditionHolds) {
  std::string advised(off_for_old);
  advised.replace(advised.find("force=\"off\""), 11, "force=\"advised\"");
  const Report there = check_under(advised, R"(<fact name="old" of="D1" value="yes"/>)");
  const auto kind = [](const Report& report) {
    const auto at =
        std::ranges::find_if(report.findings, [](const Finding& f) { return f.rule == arc_fault; });
    return at == report.findings.end() ? Finding::Kind::undetermined : at->kind;
  };
  EXPECT_EQ(kind(there), Finding::Kind::advised);
  EXPECT_EQ(exit_status(there, true), 0);
  EXPECT_EQ(ledger(there, arc_fault).violates, 1u);
  EXPECT_EQ(ledger(there, arc_fault).advised, 1u);
  EXPECT_NE(text_report(there).find("1 departure from what is advised"), std::string::npos);
  EXPECT_NE(text_report(there).find("of these advised only"), std::string::npos);
  EXPECT_NE(json_report(there).find("\"advised\":1"), std::string::npos);

  const Report elsewhere = check_under(advised, R"(<fact name="old" of="D1" value="no"/>)");
  EXPECT_EQ(kind(elsewhere), Finding::Kind::violates);
  EXPECT_EQ(exit_status(elsewhere, true), 1);
  EXPECT_EQ(ledger(elsewhere, arc_fault).advised, 0u);
  // Whether it violates or departs from advice only is not known: it is neither.
  EXPECT_EQ(said(check_under(advised, ""), arc_fault), "undetermined");
}

TEST_F(Scoped, AValueOfAnotherKindLeavesItOpen) {
  const Report report = check_under(off_for_old, R"(<fact name="old" of="D1" value="maybe"/>)");
  EXPECT_EQ(said(report, arc_fault), "undetermined");
  EXPECT_EQ(why(report, arc_fault), "\"maybe\" is none of the words declared for old");
}

TEST_F(Scoped, TwoValuesLeaveItOpen) {
  const Report report = check_under(
      off_for_old, R"(<fact name="old" of="D1" value="yes"/><fact name="old" of="D1" value="no"/>)");
  EXPECT_EQ(why(report, arc_fault), "old is stated twice, and not alike");
}

TEST_F(Scoped, AFactThatNobodyDeclaresIsToldAsUnread) {
  const Report report = check_under(
      off_for_old, R"(<fact name="odd" of="D1" value="yes"/><fact name="old" of="D1" value="yes"/>)");
  bool told = false;
  for (const NotChecked& n : report.not_checked) told = told || n.what == "fact odd of D1";
  EXPECT_TRUE(told);
}

TEST_F(Scoped, AFactThatIsDeclaredAndThatNothingReadsIsToldAsUnread) {
  const std::string more = R"(<fact name="odd" of="device" value="yes-no" title="Whether it is odd"/>)";
  const Report report = check_under(
      more + off_for_old, R"(<fact name="odd" of="D1" value="yes"/><fact name="old" of="D1" value="yes"/>)");
  std::vector<std::string> told;
  for (const NotChecked& n : report.not_checked) {
    if (n.what.starts_with("fact ")) told.push_back(n.what + ": " + n.why);
  }
  EXPECT_EQ(told, std::vector<std::string>{"fact odd of D1: no rule in force reads it"});
  const Report by_rule =
      check_under(more + R"(<rule id="even" change="new" subject="device" title="T" why="W">
    <cite section="1" basis="memory"/><assert test="stated/@odd = 'yes'" message="m" cure="c"/></rule>)",
                  R"(<fact name="odd" of="D1" value="yes"/>)");
  EXPECT_TRUE(std::none_of(by_rule.not_checked.begin(), by_rule.not_checked.end(),
                           [](const NotChecked& n) { return n.what == "fact odd of D1"; }));
}

TEST_F(Scoped, TheDateOfThePermitDecides) {
  const std::string dated = R"(<where permit-before="2024-01-01">
    <uses rule="arc-fault-protection" force="off"><cite section="1" basis="read" source="S"/></uses></where>)";
  EXPECT_EQ(said(check_under(dated, ""), arc_fault), "undetermined");
  EXPECT_EQ(said(check_under(dated, "", "occupancy=", R"(permit-date="2023-12-31" occupancy=)"), arc_fault),
            "");
  EXPECT_EQ(said(check_under(dated, "", "occupancy=", R"(permit-date="2024-01-01" occupancy=)"), arc_fault),
            "violates");
}

TEST_F(Scoped, WhatIsNotAttestedIsNotKnown) {
  const std::string attested = R"(<where><if attested="special-permission"/>
    <uses rule="arc-fault-protection" force="off"><cite section="1" basis="read" source="S"/></uses></where>)";
  EXPECT_EQ(said(check_under(attested, ""), arc_fault), "undetermined");
  EXPECT_EQ(
      said(check_under(attested,
                       R"(<attest fact="special-permission" of="D1" by="the inspector" on="2026-05-01"/>)"),
           arc_fault),
      "");
}

TEST_F(Scoped, AnotherRulesetIsAdoptedAsAWhole) {
  const std::string adopts = R"(<where use="living" adopts="nec-2014"/>)";
  EXPECT_EQ(said(check_under(adopts, ""), arc_fault), "violates");
}

std::string required(const std::string& must) {
  return R"(<fact name="old" of="device" value="yes-no" title="x"/><fact name="reach" of="raceway" value="ft" title="x"/>
  <requires id="local" subject="raceway" change="new" title="x" why="x" message="{where} is wrong" cure="x">
    <cite section="2" basis="read" source="S"/><must>)" +
         must + "</must></requires>";
}

TEST_F(Scoped, ARequirementIsExactAtItsLimit) {
  const std::string most = required(R"(<if fact="reach" at-most="3ft"/>)");
  EXPECT_EQ(said(check_under(most, R"(<fact name="reach" of="R1" value="36in"/>)"), "local"), "");
  EXPECT_EQ(said(check_under(most, R"(<fact name="reach" of="R1" value="36.001in"/>)"), "local"), "violates");
  EXPECT_EQ(said(check_under(most, R"(<fact name="reach" of="R1" value="3A"/>)"), "local"), "undetermined");
  EXPECT_EQ(said(check_under(most, ""), "local"), "undetermined");
}

TEST_F(Scoped, ACountIsOpenOnlyWhereTheDoubtfulOnesDecide) {
  const char* old = R"(<if fact="old" is="yes"/></count>)";
  const std::string area = R"(outlets-complete="no")", whole = R"(outlets-complete="yes")";
  const std::string none = required(
      std::string(R"(<count of="circuit" at-most="0"><if attribute="device@kind" is="receptacle"/>)") + old);
  EXPECT_EQ(said(check_under(none, "", area, whole), "local"), "undetermined");
  EXPECT_EQ(said(check_under(none, R"(<fact name="old" of="D1" value="no"/>)", area, whole), "local"), "");
  EXPECT_EQ(said(check_under(none, R"(<fact name="old" of="D1" value="no"/>)"), "local"), "undetermined")
      << "a receptacle that is not written may be on the circuit";
  EXPECT_EQ(said(check_under(none, R"(<fact name="old" of="D1" value="yes"/>)"), "local"), "violates");
  const std::string one = required(
      std::string(R"(<count of="circuit" at-most="1"><if attribute="device@kind" is="receptacle"/>)") + old);
  EXPECT_EQ(said(check_under(one, "", area, whole), "local"), "")
      << "one circuit only, whatever its devices are";
}

TEST_F(Scoped, ReceptaclesThatAreNotWrittenMayBeOnACircuit) {
  const char* few = R"(<requires id="local" subject="circuit" change="new" title="x" why="x"
      message="{where} is wrong" cure="x"><cite section="2" basis="read" source="S"/>
    <must><count of="device" at-most="8"><if attribute="device@kind" is="receptacle"/></count></must></requires>)";
  const std::string area = R"(outlets-complete="no")", whole = R"(outlets-complete="yes")";
  EXPECT_EQ(said(check_under(few, ""), "local"), "undetermined");
  EXPECT_EQ(said(check_under(few, "", area, whole), "local"), "");
  EXPECT_EQ(said(check_under(few, R"(<circuit id="C9" kind="branch"/>)", area, whole), "local"),
            "undetermined")
      << "where it goes is not said";
}

TEST_F(Scoped, ARequirementSaysOfHowManyItMustHold) {
  const auto asked = [](const std::string& must) {
    return R"(<fact name="old" of="raceway" value="yes-no" title="x"/>
  <requires id="local" subject="installation" change="new" title="x" why="x" message="{where} is wrong" cure="x">
    <cite section="2" basis="read" source="S"/><must>)" +
           must + "</must></requires>";
  };
  const std::string one = R"(<raceway id="R2" type="EMT" trade-size="1/2" from="P1" to="B1" area="A1"/>
  <fact name="old" of="R1" value="yes"/>)";
  const std::string two = one + R"(<fact name="old" of="R2" value="no"/>)";
  const std::string plain = asked(R"(<if fact="old" is="yes"/>)");
  EXPECT_EQ(said(check_under(plain, two), "local"), "undetermined") << "whether one is enough is not said";
  EXPECT_EQ(said(check_under(plain, one), "local"), "undetermined") << "nobody says what the other is";
  const std::string every =
      asked(R"(<count of="raceway" at-most="0"><unless><if fact="old" is="yes"/></unless></count>)");
  EXPECT_EQ(said(check_under(every, two), "local"), "violates");
  const std::string some = asked(R"(<count of="raceway" at-least="1"><if fact="old" is="yes"/></count>)");
  EXPECT_EQ(said(check_under(some, two), "local"), "");
}

TEST_F(Scoped, WhatDecidesIsEnough) {
  const std::string either =
      required(R"(<any><if fact="reach" at-most="3ft"/><if attribute="raceway@type" is="EMT"/></any>)");
  EXPECT_EQ(said(check_under(either, ""), "local"), "");
  const std::string both =
      required(R"(<if fact="reach" at-most="3ft"/><if attribute="raceway@type" is="RMC"/>)");
  EXPECT_EQ(said(check_under(both, ""), "local"), "violates");
  const std::string neither =
      required(R"(<unless><if fact="reach" at-most="3ft"/><if attribute="raceway@type" is="EMT"/></unless>)");
  EXPECT_EQ(said(check_under(neither, ""), "local"), "violates");
}

}  // namespace
