// Rules as data beside conditions, declared facts, adopted laws and effective dates: as any other rule.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include "ruleset/ruleset.hpp"
#include "support/check_text.hpp"
#include "support/data_rules.hpp"

namespace raceward::test {
namespace {

constexpr std::string_view document = R"(<installation xmlns="urn:raceward:installation:1" id="shed" {}>
<area id="A1" location="wet"/><area id="A2" location="dry"/><area id="A3"/>
<box id="B1" area="A1"/><box id="B2" area="A2"/><box id="B3" area="A3"/>
<raceway id="R1" type="EMT" from="B1" to="B2" area="A1"><straight length="6ft"/></raceway>
<raceway id="R2" type="EMT" from="B2" to="B3" area="A2"><straight length="6ft"/></raceway>
<raceway id="R3" type="EMT" from="B1" to="B3" area="A3"><straight length="6ft"/></raceway>
{}</installation>)";

std::string parameter(std::string_view value) {
  return fmt::format(R"(<parameter name="reach" value="{}" section="1" basis="read" source="M1"/>)", value);
}
const std::string in_reach = rule_that("figures/@raceway-length <= $reach");
constexpr std::string_view cite = R"(<cite section="2" basis="read" source="M1"/>)";

Report report_of(const Law& law, std::string_view more = {}, std::string_view attributes = {}) {
  const Loaded loaded = load_bytes(fmt::format(document, attributes, more), "shed.xml", 1);
  for (const Problem& problem : loaded.problems) ADD_FAILURE() << text_of(problem);
  return loaded.installation ? check(*loaded.installation, law, {}) : Report{};
}

Report report_of(const std::string& elements, std::string_view more = {}) {
  const LoadedLaw law = law_around(elements);
  return law.law ? report_of(*law.law, more) : Report{};
}

/// "R1 violates, R3 undetermined"
std::string told(const Report& report) {
  std::string out;
  for (const Finding& f : report.findings) {
    if (f.rule != "own") continue;
    const char* kind = f.kind == Finding::Kind::undetermined ? "undetermined"
                       : f.kind == Finding::Kind::advised    ? "advised"
                                                             : "violates";
    out += fmt::format("{}{} {}", out.empty() ? "" : ", ", f.subject, kind);
  }
  return out;
}

/// The law of the last of these layers; each stands upon the one before it.
LoadedLaw law_of(std::vector<std::string> layers) {
  const ruleset::ReadFile read = [layers](const std::string& path) -> std::optional<std::string> {
    for (std::size_t i = 0; i < layers.size(); ++i) {
      if (path == fmt::format("l{}.xml", i)) return layers[i];
    }
    return std::nullopt;
  };
  LoadedLaw law = ruleset::load_layer(fmt::format("l{}.xml", layers.size() - 1), {read});
  for (const Problem& problem : law.problems) ADD_FAILURE() << text_of(problem);
  return law;
}

std::string layer_over(std::string_view base, std::string_view attributes, std::string_view elements) {
  return fmt::format(R"(<ruleset xmlns="urn:raceward:ruleset:1" id="hill" title="Hill town" base="{}" {}>
<document id="town" title="Town ordinance"/><source id="T" title="Town gazette"/>
{}
</ruleset>)",
                     base, attributes, elements);
}

TEST(DataRuleScope, IsOffWhereAConditionSwitchesItOff) {
  const std::string off =
      fmt::format(R"(<where location="wet"><uses rule="own" force="off">{}</uses></where>)", cite);
  EXPECT_EQ(told(report_of(parameter("5ft") + in_reach)), "R1 violates, R2 violates, R3 violates");
  // Of an area whose location nobody states it depends on that; the rule was asked both ways for it.
  const Report report = report_of(parameter("5ft") + in_reach + off);
  EXPECT_EQ(told(report), "R2 violates, R3 undetermined");
  EXPECT_EQ(ledger(report, "own").not_applicable, 1u);
  // Where it complies either way, nothing is missing.
  EXPECT_EQ(told(report_of(parameter("7ft") + in_reach + off)), "");
}

TEST(DataRuleScope, IsAskedWhereAConditionAsksIt) {
  const std::string only =
      parameter("5ft") + rule_that("figures/@raceway-length <= $reach", "raceway", R"(force="off")") +
      fmt::format(R"(<where location="wet"><uses rule="own" force="required">{}</uses></where>)", cite);
  const Report report = report_of(only);
  EXPECT_EQ(told(report), "R1 violates, R3 undetermined");
  ASSERT_FALSE(report.findings.empty());
  EXPECT_EQ(report.findings[0].cites.begin()->section, "2");
}

TEST(DataRuleScope, HasTheParametersThatHoldThere) {
  const std::string wet =
      R"(<where location="wet"><parameter name="reach" value="5ft" section="3" basis="read" source="M1"/></where>)";
  EXPECT_EQ(told(report_of(parameter("7ft") + in_reach + wet)), "R1 violates, R3 undetermined");
  const LoadedLaw law = law_around(parameter("7ft") + in_reach + wet);
  ASSERT_TRUE(law.law);
  for (const Finding& f : report_of(*law.law).findings) {
    if (f.subject == "R1") {
      EXPECT_EQ((f.cites.end() - 1)->section, "3");
    }
  }
}

TEST(DataRuleScope, MayBeAdvised) {
  EXPECT_EQ(told(report_of(parameter("5ft") +
                           rule_that("figures/@raceway-length <= $reach", "raceway", R"(force="advised")"))),
            "R1 advised, R2 advised, R3 advised");
}

TEST(DataRuleScope, FitsTheParametersOfEachCondition) {
  const ruleset::ReadFile read = [](const std::string&) -> std::optional<std::string> {
    return layer_around(
        R"(<parameter name="metal" text="EMT" section="1" basis="read" source="M1"/>)" +
        rule_that("@type = $metal") +
        R"(<where location="wet"><parameter name="metal" text="EMTX" section="3" basis="read" source="M1"/></where>)");
  };
  const LoadedLaw law = ruleset::load_layer("layer.xml", {read});
  ASSERT_EQ(law.problems.size(), 1u);
  EXPECT_NE(text_of(law.problems[0]).find("does not fit the parameters set here: \"EMTX\" is no word"),
            std::string::npos)
      << text_of(law.problems[0]);
}

constexpr std::string_view facts =
    R"(<fact name="painted" of="raceway" value="word" words="red blue" title="How it is painted"/>
<fact name="old" of="raceway" value="yes-no" title="Whether it was there before"/>
<fact name="reach" of="area" value="ft" title="How far raceways may go"/>
<fact name="laid" of="raceway" value="date" title="When it was laid"/>
)";

std::string with_fact(std::string_view test, std::string_view stated) {
  return told(report_of(
      std::string(facts) + rule_that(test, "raceway", {}, R"(<when test="@id = 'R1'" reason="another"/>)"),
      stated));
}

TEST(DataRuleScope, ReadsDeclaredFacts) {
  const char* red = R"(<fact name="painted" of="R1" value="red"/>)";
  EXPECT_EQ(with_fact("stated/@painted = 'red'", red), "");
  EXPECT_EQ(with_fact("stated/@painted != 'red'", red), "R1 violates");
  EXPECT_EQ(with_fact("figures/@raceway-length <= area/stated/@reach",
                      R"(<fact name="reach" of="A1" value="6ft"/>)"),
            "");
  EXPECT_EQ(with_fact("figures/@raceway-length <= area/stated/@reach",
                      R"(<fact name="reach" of="A1" value="71.99in"/>)"),
            "R1 violates");
  EXPECT_EQ(with_fact("number(translate(stated/@laid, '-', '')) >= 20260401",
                      R"(<fact name="laid" of="R1" value="2026-04-01"/>)"),
            "");
}

TEST(DataRuleScope, AFactThatIsNotStatedOrNotOfItsKindIsAskedFor) {
  for (const char* test : {"stated/@painted = 'red'", "not(stated/@painted = 'red')",
                           "not(stated/@painted != 'red')", "stated/@painted = 'red' or true()"}) {
    for (const char* stated :
         {"", R"(<fact name="painted" of="R1" value="green"/>)",
          R"(<fact name="painted" of="R2" value="red"/>)",
          R"(<fact name="painted" of="R1" value="red"/><fact name="painted" of="R1" value="blue"/>)"})
      EXPECT_EQ(with_fact(test, stated), "R1 undetermined") << test << " " << stated;
  }
  EXPECT_EQ(with_fact("not(stated/@old = 'yes')", R"(<fact name="old" of="R1" value="maybe"/>)"),
            "R1 undetermined");
  EXPECT_EQ(with_fact("not(area/stated/@reach > 0)", R"(<fact name="reach" of="A1" value="6A"/>)"),
            "R1 undetermined");
  EXPECT_EQ(with_fact("not(stated/@laid = 'x')", R"(<fact name="laid" of="R1" value="spring"/>)"),
            "R1 undetermined");
  const Report report = report_of(std::string(facts) + rule_that("stated/@painted = 'red'"));
  ASSERT_FALSE(report.findings.empty());
  ASSERT_FALSE(report.findings[0].needs.empty());
  EXPECT_EQ(report.findings[0].needs[0].datum, "fact@painted");
  EXPECT_NE(report.findings[0].needs[0].why.find("no <fact name=\"painted\"> states it"), std::string::npos);
}

TEST(DataRuleScope, MayLetAFactLack) {
  const std::string rule = std::string(facts) + rule_that("not(stated/@painted) or stated/@painted = 'red'",
                                                          "raceway", R"(may-lack="stated/@painted")");
  EXPECT_EQ(told(report_of(rule)), "");
  EXPECT_EQ(told(report_of(rule, R"(<fact name="painted" of="R1" value="blue"/>)")), "R1 violates");
}

TEST(DataRuleScope, AnAttestIsAStatementOnlyWhereTheRuleSaysSo) {
  const std::string rule = rule_that("attest/@fact = 'seen-by-inspector'", "raceway", R"(may-lack="attest")");
  EXPECT_EQ(told(report_of(rule)), "R1 violates, R2 violates, R3 violates");
  EXPECT_EQ(
      told(report_of(rule, R"(<attest of="R1" fact="seen-by-inspector" by="Inspector" on="2026-05-01"/>)")),
      "R2 violates, R3 violates");
}

TEST(DataRuleScope, HoldsFromTheDateOfItsLayer) {
  const std::string base = layer_around(parameter("7ft"));
  const LoadedLaw law =
      law_of({base, layer_over("l0.xml", R"(effective-from="2026-01-01")",
                               R"(<rule id="own" change="new" subject="raceway" title="T" why="W">
<cite section="4" basis="read" source="T"/><assert test="@type = 'RMC'" message="m" cure="c"/></rule>)")});
  ASSERT_TRUE(law.law);
  EXPECT_EQ(told(report_of(*law.law, {}, R"(permit-date="2025-12-31")")), "");
  EXPECT_EQ(told(report_of(*law.law, {}, R"(permit-date="2026-01-01")")),
            "R1 violates, R2 violates, R3 violates");
}

TEST(DataRuleScope, OfALayerBelowHoldsBeforeTheDateOfTheOneAbove) {
  const std::string base = layer_around(parameter("5ft") + in_reach);
  const LoadedLaw law = law_of({base, layer_over("l0.xml", R"(effective-from="2026-01-01")",
                                                 R"(<rule id="own" subject="raceway" title="T" why="W">
<cite section="4" basis="read" source="T"/><assert test="@type = 'EMT'" message="m" cure="c"/></rule>)")});
  ASSERT_TRUE(law.law);
  EXPECT_EQ(told(report_of(*law.law, {}, R"(permit-date="2025-12-31")")),
            "R1 violates, R2 violates, R3 violates");
  EXPECT_EQ(told(report_of(*law.law, {}, R"(permit-date="2026-01-01")")), "");
}

TEST(DataRuleScope, ConditionsBelowHoldBeforeTheDateOfTheLayerAbove) {
  const std::string base = layer_around(
      parameter("5ft") + in_reach +
      fmt::format(R"(<where location="wet"><uses rule="own" force="off">{}</uses></where>)", cite));
  const LoadedLaw law = law_of(
      {base, layer_over("l0.xml", R"(effective-from="2026-01-01")",
                        R"(<parameter name="reach" value="8ft" section="4" basis="read" source="T"/>)")});
  ASSERT_TRUE(law.law);
  EXPECT_EQ(told(report_of(*law.law, {}, R"(permit-date="2025-12-31")")), "R2 violates, R3 undetermined");
  EXPECT_EQ(told(report_of(*law.law, {}, R"(permit-date="2026-01-01")")), "");
}

TEST(DataRuleScope, OfAnAdoptedLawIsAskedWhereItIsAdopted) {
  const std::string other =
      layer_around(R"(<parameter name="far" value="5ft" section="1" basis="read" source="M1"/>)" +
                   rule_that("figures/@raceway-length <= $far"));
  const ruleset::ReadFile read = [&](const std::string& path) -> std::optional<std::string> {
    if (path == "other.xml") return other;
    if (path != "layer.xml") return std::nullopt;
    return layer_around(parameter("7ft") + R"(<where location="wet" adopts="./other.xml"/>)");
  };
  const ruleset::ReadFile either = [&](const std::string& path) {
    return read(path.starts_with("./") ? path.substr(2) : path);
  };
  const LoadedLaw law = ruleset::load_layer("layer.xml", {either});
  for (const Problem& problem : law.problems) ADD_FAILURE() << text_of(problem);
  ASSERT_TRUE(law.law);
  EXPECT_EQ(told(report_of(*law.law)), "R1 violates, R3 undetermined");
}

/// A layer that adopts another ruleset for the wet parts, and one more above it.
LoadedLaw over_one_that_adopts(const std::string& adopted, const std::string& above) {
  const ruleset::ReadFile read = [=](const std::string& path) -> std::optional<std::string> {
    const std::string name = path.substr(path.rfind('/') + 1);
    if (name == "other.xml") return layer_around(adopted);
    if (name == "base.xml")
      return layer_around(parameter("7ft") + in_reach + R"(<where location="wet" adopts="./other.xml"/>)");
    if (name == "layer.xml") return layer_over("./base.xml", "", above);
    return std::nullopt;
  };
  LoadedLaw law = ruleset::load_layer("layer.xml", {read});
  for (const Problem& problem : law.problems) ADD_FAILURE() << text_of(problem);
  return law;
}

std::string own_reach(std::string_view value) {
  return fmt::format(R"(<parameter name="reach" value="{}" section="4" basis="read" source="T"/>)", value);
}

TEST(DataRuleScope, WhatALayerAboveSetsHoldsUnderAnAdoptedLawToo) {
  const std::string adopted = parameter("8ft") + in_reach;
  constexpr std::string_view cited = R"(<cite section="5" basis="read" source="T"/>)";
  const LoadedLaw plain = over_one_that_adopts(adopted, own_reach("9ft"));
  ASSERT_TRUE(plain.law);
  EXPECT_EQ(told(report_of(*plain.law)), "");
  const LoadedLaw shorter = over_one_that_adopts(adopted, own_reach("5ft"));
  ASSERT_TRUE(shorter.law);
  EXPECT_EQ(told(report_of(*shorter.law)), "R1 violates, R2 violates, R3 violates")
      << "5 ft holds whether the place is wet or not, so nothing is missing of R3";
  const LoadedLaw off = over_one_that_adopts(parameter("5ft") + in_reach,
                                             fmt::format(R"(<uses rule="own" force="off">{}</uses>)", cited));
  ASSERT_TRUE(off.law);
  EXPECT_EQ(told(report_of(*off.law)), "");
  const LoadedLaw more = over_one_that_adopts(
      adopted,
      fmt::format(
          R"(<requires id="metal" subject="raceway" change="new" title="T" why="W" message="m" cure="c">{}
<must><if attribute="raceway@type" is="RMC"/></must></requires>
<rule id="named" subject="raceway" change="new" title="T" why="W">{}
<assert test="figures/@raceway-length &lt;= $reach" message="m" cure="c"/></rule>{})",
          cited, cited, own_reach("5ft")));
  ASSERT_TRUE(more.law);
  EXPECT_EQ(ledger(report_of(*more.law), "metal").violates, 3u);
  EXPECT_EQ(ledger(report_of(*more.law), "named").violates, 3u);
}

TEST(DataRuleScope, AnAdoptedLawHasItsConditions) {
  const LoadedLaw law = over_one_that_adopts(
      parameter("8ft") + in_reach +
          R"(<where occupancy="dwelling"><parameter name="reach" value="5ft" section="3" basis="read" source="M1"/></where>)",
      own_reach("7ft"));
  ASSERT_TRUE(law.law);
  EXPECT_EQ(told(report_of(*law.law, {}, R"(occupancy="dwelling")")), "") << "what stands above holds";
  const std::string condition =
      R"(<where occupancy="dwelling"><parameter name="reach" value="5ft" section="3" basis="read" source="M1"/></where>)";
  const LoadedLaw below = over_one_that_adopts(parameter("8ft") + in_reach + condition,
                                               R"(<fact name="unread" of="box" value="yes-no" title="x"/>)");
  ASSERT_TRUE(below.law);
  EXPECT_EQ(told(report_of(*below.law, {}, R"(occupancy="dwelling")")), "R1 violates, R3 undetermined");
  EXPECT_EQ(told(report_of(*below.law, {}, R"(occupancy="commercial")")), "");
  EXPECT_EQ(told(report_of(*below.law)), "R1 undetermined, R3 undetermined");
}

TEST(DataRuleScope, NamedLikeAnotherRuleIsAskedByNeither) {
  const LoadedLaw law = law_around(parameter("5ft") + in_reach);
  ASSERT_TRUE(law.law);
  const Rule other{.id = "own",
                   .title = "another",
                   .why = "for the test",
                   .subject = SubjectKind::raceway,
                   .figures = {},
                   .parameters = {},
                   .messages = {},
                   .reasons = {},
                   .cure = "",
                   .judge = [](const Context&) { return Context::complies(); }};
  const Loaded loaded = load_bytes(fmt::format(document, "", ""), "shed.xml", 1);
  ASSERT_TRUE(loaded.installation);
  CheckOptions options;
  options.extra_rules = {&other};
  const Report report = check(*loaded.installation, *law.law, options);
  EXPECT_EQ(ledger(report, "own").complies, 0u);
  EXPECT_EQ(ledger(report, "own").undetermined, 3u);
}

}  // namespace
}  // namespace raceward::test
