// Rules as data: what they answer, and that whatever they cannot know leaves them undetermined.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include "support/check_text.hpp"
#include "support/comma_locale.hpp"
#include "support/data_rules.hpp"

namespace raceward::test {
namespace {

/// P1 -R1- B1 -R2- K1 with a circuit C1 to K1; R2 states little.
constexpr std::string_view document = R"(<installation xmlns="urn:raceward:installation:1" id="shed">
<area id="A1" location="dry" ambient="86F"/>
<panel id="P1" area="A1" rating="100A"><overcurrent-device id="P1-1" rating="20A" poles="1"/></panel>
<box id="B1" kind="square" accessible="yes"/>
<equipment id="K1" kind="kiln"/>
<raceway id="R1" name="2.5" type="EMT" trade-size="3/4" from="P1" to="B1" area="A1">
<end place="P1" fitting="set-screw-connector" tight="yes"/>
<straight length="3ft"/><bend angle="90deg" radius="5in" length="7in"/><straight length="29in"/>
<support at="1ft" kind="strap"/>
</raceway>
<raceway id="R2" from="B1" to="K1" supports="none"/>
<circuit id="C1" kind="branch" protected-by="P1-1" voltage="120V">
<conductor id="a" role="ungrounded" size="12 AWG"/><conductor id="n" role="grounded"/>
<run><stop place="P1"/><stop place="B1"/><stop place="K1"/></run>
</circuit>
<device id="D1" kind="switch" box="B1"/>
</installation>
)";

Report report_of(const std::string& elements, std::string_view xml = document, unsigned threads = 1) {
  const Loaded loaded = load_bytes(xml, "shed.xml", 1);
  for (const Problem& problem : loaded.problems) ADD_FAILURE() << text_of(problem);
  const LoadedLaw law = law_around(elements);
  if (!loaded.installation || !law.law) return {};
  CheckOptions options;
  options.threads = threads;
  return check(*loaded.installation, *law.law, options);
}

/// "complies 1, violates 0, undetermined 1, not applicable 0"
std::string told(const Report& report) {
  const LedgerLine line = ledger(report, "own");
  return fmt::format("{} {} {} {}", line.complies, line.violates, line.undetermined, line.not_applicable);
}

/// What a rule about raceways says: complies, violates, undetermined, not applicable.
std::string asked(std::string_view test, std::string_view subject = "raceway", std::string_view more = {},
                  std::string_view inside = {}) {
  return told(report_of(rule_that(test, subject, more, inside)));
}

/// What the finding about a subject asks for.
std::string needs(const Report& report, std::string_view subject) {
  for (const Finding& f : report.findings) {
    if (f.subject != subject || f.kind != Finding::Kind::undetermined) continue;
    std::string out;
    for (const Need& need : f.needs) out += (out.empty() ? "" : ", ") + need.datum;
    return out;
  }
  return "nothing";
}

TEST(DataRule, ComparesFactsFiguresAndParameters) {
  EXPECT_EQ(asked("@type = 'EMT'"), "1 0 1 0");
  EXPECT_EQ(asked("@type = 'RMC'"), "0 1 1 0");
  EXPECT_EQ(asked("@from != 'X'"), "2 0 0 0");
  EXPECT_EQ(asked("count(raceway) = 2", "box"), "1 0 0 0");
  EXPECT_EQ(asked("sum(circuit/overcurrent-device/@rating) > 0"), "2 0 0 0");
  EXPECT_EQ(asked("end[@side = 'to']/place/@id = 'B1' or @to = 'K1'"), "2 0 0 0");
  EXPECT_EQ(asked("sum(conductor/@count) = 2"), "2 0 0 0");
  EXPECT_EQ(asked("count(device[@kind = 'switch']) = 1 and not(circuit/@id != 'C1')", "box"), "1 0 0 0");
  EXPECT_EQ(asked("panel/@rating > @rating", "overcurrent-device"), "1 0 0 0");
  EXPECT_EQ(asked("count(raceway) = 2 and count(box[@accessible = 'yes']) = 1", "installation"), "1 0 0 0");
  EXPECT_EQ(asked("circuit/@voltage = circuit/@voltage", "conductor"), "2 0 0 0");
  EXPECT_EQ(asked("count(raceway[@id = 'R1']) = 1", "circuit"), "1 0 0 0");
}

TEST(DataRule, AFactThatIsNotStatedIsAskedFor) {
  const Report report = report_of(rule_that("@type = 'EMT'"));
  EXPECT_EQ(needs(report, "R2"), "raceway@type");
  // Whichever way it is put: XPath would find false, and the other one true.
  for (const char* test :
       {"@type != 'EMT'", "not(@type = 'EMT')", "not(@type != 'EMT')", "@type = 'EMT' or true()"})
    EXPECT_EQ(needs(report_of(rule_that(test)), "R2"), "raceway@type") << test;
}

TEST(DataRule, AFigureThatMissesAFactIsAskedFor) {
  const std::string reach = R"(<parameter name="reach" value="6ft" section="1" basis="read" source="M1"/>)";
  for (const char* test : {"figures/@raceway-length <= $reach", "figures/@raceway-length > $reach",
                           "not(figures/@raceway-length > $reach)"}) {
    const Report report = report_of(reach + rule_that(test));
    EXPECT_EQ(needs(report, "R2"), "raceway@length") << test;
  }
}

TEST(DataRule, IsExactAtTheLimit) {
  for (const auto& [value, verdict] :
       {std::pair{"6ft", "1 0 1 0"}, {"71.999in", "0 1 1 0"}, {"72.001in", "1 0 1 0"}}) {
    const std::string reach =
        fmt::format(R"(<parameter name="reach" value="{}" section="1" basis="read" source="M1"/>)", value);
    EXPECT_EQ(told(report_of(reach + rule_that("figures/@raceway-length <= $reach"))), verdict) << value;
    // In a sum, and in a product with a fraction that is rounded to a step.
    EXPECT_EQ(
        told(report_of(reach + rule_that("figures/@raceway-length + figures/@raceway-length <= 2 * $reach"))),
        verdict);
    EXPECT_EQ(
        told(report_of(reach + rule_that("round(figures/@raceway-length * 1.1) <= round($reach * 1.1)"))),
        verdict);
  }
}

TEST(DataRule, AnElementThatNobodyRecordsIsAskedFor) {
  constexpr std::string_view no_support = R"(<installation xmlns="urn:raceward:installation:1" id="shed">
<box id="B1"/><box id="B2"/><raceway id="R1" from="B1" to="B2"/></installation>)";
  for (const char* test : {"count(support) = 0", "count(support) > 0", "not(support/@kind = 'strap')",
                           "sum(support/@at) = 0", "count(bend) = 0"}) {
    const Report report = report_of(rule_that(test), no_support);
    EXPECT_EQ(told(report), "0 0 1 0") << test;
  }
  // Where the document says that there are none, they are known, and nothing of them can be compared.
  EXPECT_EQ(asked("count(support) < 5"), "2 0 0 0");
  const Report report = report_of(rule_that("not(support/@kind = 'framing')"));
  EXPECT_NE(needs(report, "R2"), "nothing");
  EXPECT_EQ(asked("not(support/@kind = 'framing')", "raceway", R"(may-lack="support")"), "2 0 0 0");
}

/// The same with more of one element, and of the root.
std::string document_with(std::string_view of, std::string_view more) {
  std::string out(document);
  const std::size_t at = out.find(of);
  EXPECT_NE(at, std::string::npos) << of;
  return out.insert(at + of.size(), more);
}

TEST(DataRule, LengthsOfRacewaysThatAreJoinedAreCompared) {
  const std::string sum = "sum(raceway/figures/@raceway-length) <= $reach";
  const auto reach = [](std::string_view value) {
    return fmt::format(R"(<parameter name="reach" value="{}" section="1" basis="read" source="M1"/>)", value);
  };
  const Report open = report_of(reach("10ft") + rule_that(sum, "circuit"));
  EXPECT_EQ(needs(open, "C1"), "raceway@length");
  const std::string known = document_with("<raceway id=\"R2\"", " length=\"4ft\"");
  EXPECT_EQ(told(report_of(reach("10ft") + rule_that(sum, "circuit"), known)), "1 0 0 0");
  EXPECT_EQ(told(report_of(reach("119.999in") + rule_that(sum, "circuit"), known)), "0 1 0 0");
  // What a condition leaves out may be unknown all the same, and is asked for.
  const std::string longest = "not(raceway[figures/@raceway-length > $reach])";
  EXPECT_EQ(told(report_of(reach("6ft") + rule_that(longest, "box"), known)), "1 0 0 0");
  EXPECT_EQ(told(report_of(reach("71.999in") + rule_that(longest, "box"), known)), "0 1 0 0");
  EXPECT_EQ(needs(report_of(reach("6ft") + rule_that(longest, "box")), "B1"), "raceway@length");
}

TEST(DataRule, TheInstallationIsJoinedToEverySubject) {
  const std::string dwelling = "installation/@occupancy = 'dwelling'";
  for (const char* subject : {"raceway", "box", "device", "circuit", "conductor", "pull-section", "panel"}) {
    const Report open = report_of(rule_that(dwelling, subject));
    ASSERT_FALSE(open.findings.empty()) << subject;
    EXPECT_EQ(needs(open, open.findings.front().subject), "installation@occupancy") << subject;
    const Report known =
        report_of(rule_that(dwelling, subject), document_with("<installation", " occupancy=\"dwelling\""));
    EXPECT_EQ(known.findings.size(), 0U) << subject;
    EXPECT_GT(ledger(known, "own").complies, 0U) << subject;
  }
  const Report other =
      report_of(rule_that(dwelling, "box"), document_with("<installation", " occupancy=\"commercial\""));
  EXPECT_EQ(told(other), "0 1 0 0");
}

TEST(DataRule, BothEndsOfARacewayAreThere) {
  const Report report = report_of(rule_that("not(end/@tight = 'no')"));
  EXPECT_EQ(needs(report, "R1"), "end@tight") << "of its other end nothing is written";
}

TEST(DataRule, AJoinThatIsNotStatedIsAskedFor) {
  EXPECT_EQ(needs(report_of(rule_that("area/@location = 'dry'")), "R2"), "raceway@area");
  EXPECT_EQ(needs(report_of(rule_that("not(area/@location = 'wet')")), "R2"), "raceway@area");
  EXPECT_EQ(needs(report_of(rule_that("not(area/@corrosive = 'yes')")), "R1"), "area@corrosive");
  EXPECT_EQ(needs(report_of(rule_that("not(circuit/@voltage <= 0)", "device")), "D1"), "device@circuit");
}

TEST(DataRule, WaysThatAreNotKnownLeaveCircuitsUnknown) {
  constexpr std::string_view two_ways = R"(<installation xmlns="urn:raceward:installation:1" id="shed">
<box id="B1"/><box id="B2"/><raceway id="R1" from="B1" to="B2"/><raceway id="R2" from="B1" to="B2"/>
<circuit id="C1"><conductor id="a"/><run><stop place="B1"/><stop place="B2"/></run></circuit></installation>)";
  for (const char* test : {"count(circuit) = 0", "not(circuit)", "not(conductor)"}) {
    EXPECT_EQ(told(report_of(rule_that(test), two_ways)), "0 0 2 0") << test;
  }
}

TEST(DataRule, WhatIsNoNumberIsAskedFor) {
  EXPECT_EQ(asked("number(@name) = 2.5", "raceway", R"(needs="@name")"), "1 0 1 0");
  const std::string_view named = R"(<installation xmlns="urn:raceward:installation:1" id="shed">
<box id="B1"/><box id="B2"/><raceway id="R1" from="B1" to="B2" name="main"/></installation>)";
  for (const char* test :
       {"number(@name) <= 3", "number(@name) > 3", "not(number(@name) > 3)",
        "not(ceiling(1 div (string-length(@name) - 4)) > 3)", "not(1 mod (string-length(@name) - 4) > 0)"}) {
    EXPECT_EQ(told(report_of(rule_that(test), named)), "0 0 1 0") << test;
  }
}

TEST(DataRule, ConditionsMakeItNotApply) {
  const auto when = [](std::string_view test) {
    return fmt::format(R"(<when test="{}" reason="it is another"/>)", test);
  };
  EXPECT_EQ(asked("true()", "raceway", {}, when("@from = 'P1'")), "1 0 0 1");
  EXPECT_EQ(asked("false()", "raceway", {}, when("@from = 'P1'") + when("@to = 'P1'")), "0 0 0 2");
  // A condition that is not known leaves it open, but for one that is known not to hold.
  EXPECT_EQ(asked("true()", "raceway", {}, when("@type = 'EMT'")), "1 0 1 0");
  EXPECT_EQ(asked("true()", "raceway", {}, when("@type = 'EMT'") + when("@from = 'P1'")), "1 0 0 1");
  const Report report = report_of(rule_that("true()", "raceway", {}, when("@from = 'x'")));
  bool told = false;
  for (const NotChecked& each : report.not_checked)
    told = told || each.why.find("it is another") != std::string::npos;
  EXPECT_TRUE(told);
}

TEST(DataRule, NeedsMoreThanItReads) {
  EXPECT_EQ(asked("@from != 'x'", "raceway", R"(needs="@type")"), "1 0 1 0");
  EXPECT_EQ(asked("@from != 'x'", "raceway", R"(needs="bend support figures/@raceway-length")"), "1 0 1 0");
}

TEST(DataRule, WhatMayLackLeavesNothingOpen) {
  EXPECT_EQ(asked("not(@type) or @type = 'EMT'", "raceway", R"(may-lack="@type")"), "2 0 0 0");
}

TEST(DataRule, TellsWhatItMeasuredAndHow) {
  const std::string reach =
      R"(<parameter name="reach" value="60in" section="7.2" basis="read" source="M1"/>)";
  const Report report = report_of(reach + rule_that("figures/@raceway-length <= $reach", "raceway", {},
                                                    R"(<when test="@from = 'P1'" reason="no"/>)",
                                                    R"(measured="figures/@raceway-length" limit="$reach")"));
  ASSERT_EQ(report.findings.size(), 1u);
  const Finding& f = report.findings.front();
  EXPECT_EQ(f.kind, Finding::Kind::violates);
  EXPECT_EQ(f.measured, show(feet(6), Unit::inch));
  EXPECT_EQ(f.limit, show(inches(60), Unit::inch));
  EXPECT_EQ(f.message, "raceway R1 (2.5), panel P1 to box B1, is not so");
  EXPECT_EQ(f.cure, "Make it so.");
  ASSERT_GE(f.cites.size(), 2u);
  EXPECT_EQ(f.cites.begin()->section, "1");
  EXPECT_EQ((f.cites.end() - 1)->section, "7.2");
  const std::string all = fmt::format("{}", fmt::join(f.working, "\n"));
  for (const char* line : {"reach: 60 in", "asked: figures/@raceway-length <= $reach"})
    EXPECT_NE(all.find(line), std::string::npos) << all;
}

TEST(DataRule, TellsTheFirstAssertionThatDoesNotHold) {
  const Report report = report_of(
      rule_that("@from = 'P1'", "raceway", {}, R"(<assert test="@to != 'K1'" message="first" cure="x"/>)"));
  ASSERT_EQ(report.findings.size(), 1u);
  EXPECT_EQ(report.findings.front().message, "first");
}

TEST(DataRule, SaysTheSameUnderADecimalComma) {
  const std::string law = R"(<parameter name="factor" value="1.5" section="1" basis="read" source="M1"/>)" +
                          rule_that(
                              "$factor = 1.5 and $factor != 1.9 and string-length(concat(@id, 'x')) = 3 and "
                              "round(figures/@raceway-length * $factor) > figures/@raceway-length");
  const std::string before = told(report_of(law));
  EXPECT_EQ(before, "1 0 1 0");
  const CommaLocale comma;
  EXPECT_EQ(told(report_of(law)), before);
}

TEST(DataRule, SaysTheSameOnAnyNumberOfThreads) {
  std::string many = R"(<installation xmlns="urn:raceward:installation:1" id="shed">)";
  for (int i = 0; i < 900; ++i) many += fmt::format("<box id=\"B{}\"/>", i);
  for (int i = 1; i < 900; ++i)
    many += fmt::format("<raceway id=\"R{}\" from=\"B{}\" to=\"B{}\" {}/>", i, i - 1, i,
                        i % 3 == 0 ? "" : "type=\"EMT\"");
  many += "</installation>";
  const std::string law = rule_that("@type = 'EMT' and count(end) = 2");
  const std::string one = json_report(report_of(law, many, 1));
  EXPECT_EQ(told(report_of(law, many, 1)), "600 0 299 0");
  for (const unsigned threads : {2U, 3U, 8U}) EXPECT_EQ(json_report(report_of(law, many, threads)), one);
}

TEST(DataRule, CountsAsReadingWhatItReads) {
  for (const NotChecked& each :
       report_of(rule_that("@type = 'EMT' and area/@location = 'dry'")).not_checked) {
    EXPECT_EQ(each.what.find("raceway@type"), std::string::npos);
    EXPECT_EQ(each.what.find("area@location"), std::string::npos);
  }
}

TEST(DataRule, OfALawMadeByCodeIsAtFaultAndNotSilent) {
  const Loaded loaded = load_bytes(document, "shed.xml", 1);
  Law law = *law_around(rule_that("@type = 'EMT'")).law;
  law.data_rules[0].asserts[0].test = "@tipe = 'EMT'";
  const Report report = check(*loaded.installation, law, {});
  EXPECT_EQ(ledger(report, "own").complies, 0u);
  EXPECT_GT(ledger(report, "own").undetermined, 0u);
}

}  // namespace
}  // namespace raceward::test
