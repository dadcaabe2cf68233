// What conditions and data rules count: what has to do with a subject, as far as the document has all of it.
#include "facts/relations.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

#include "facts/shape.hpp"
#include "ruleset/ruleset.hpp"
#include "support/check_text.hpp"
#include "support/data_rules.hpp"

namespace raceward::test {
namespace {

/// A wash room of a pottery: P1 -R1- B1 -R2- L1 -R3- J1 -R4- E1.
constexpr std::string_view wash_room = R"(<installation xmlns="urn:raceward:installation:1" id="pottery">
<area id="A1" use="bathroom" location="dry" {area}/>
<panel id="P1" area="A1" spaces="20" {panel}><overcurrent-device id="P1-1" rating="20A" poles="1"/></panel>
<box id="B1" area="A1"/><conduit-body id="L1" area="A1"/><joint id="J1" area="A1"/><equipment id="E1" area="A1"/>
<raceway id="R1" type="steel-conduit" trade-size="{size}" from="P1" to="B1" area="A1"/>
<raceway id="R2" type="EMT" trade-size="1/2" from="B1" to="L1" area="A1"/>
<raceway id="R3" type="EMT" trade-size="1/2" from="L1" to="J1" area="A1"/>
<raceway id="R4" type="EMT" trade-size="1/2" from="J1" to="E1" area="A1"/>
<circuit id="C1" kind="branch" protected-by="P1-1" voltage="120V">
<conductor id="h" role="ungrounded" size="{wire}" insulation="{insulation}" count="12"/>
<run><stop place="P1"/><stop place="B1"/><stop place="L1"/><stop place="J1"/><stop place="E1"/></run></circuit>
<device id="D1" kind="receptacle" box="B1" circuit="C1"/>
<device id="D2" kind="switch" box="P1" circuit="C1"/><device id="D3" kind="receptacle" box="E1" circuit="C1"/>
<bonding-jumper id="J9" from="P1" to="B1" raceway="R1"/><bonding-jumper id="J8" from="L1" to="E1"/>
<bonding-jumper id="J7" from="J1" to="E1"/>
{more}</installation>)";

struct Room {
  std::string area = R"(outlets-complete="yes")", panel = R"(devices-complete="yes")", size = "20 mm",
              wire = "12 AWG", insulation = "THHN/THWN-2", more{};
};

Report report_of(const std::string& elements, const Room& room) {
  const LoadedLaw law = law_around(elements);
  const Loaded loaded = load_bytes(
      fmt::format(fmt::runtime(wash_room), fmt::arg("area", room.area), fmt::arg("panel", room.panel),
                  fmt::arg("size", room.size), fmt::arg("wire", room.wire),
                  fmt::arg("insulation", room.insulation), fmt::arg("more", room.more)),
      "pottery.xml", 1);
  for (const Problem& problem : loaded.problems) ADD_FAILURE() << text_of(problem);
  return law.law && loaded.installation ? check(*loaded.installation, *law.law, {}) : Report{};
}

std::string requires_of(std::string_view subject, std::string_view must, std::string_view given = {}) {
  return fmt::format(
      R"(<requires id="own" subject="{}" title="T" why="W" message="{{where}} is not so" cure="C">
<cite section="1" basis="read" source="M1"/>{}<must>{}</must></requires>)",
      subject, given.empty() ? "" : fmt::format("<given>{}</given>", given), must);
}

/// "complies 1, violates 0, undetermined 0, not applicable 0" as "1 0 0 0".
std::string told(const Report& report) {
  const LedgerLine line = ledger(report, "own");
  return fmt::format("{} {} {} {}", line.complies, line.violates, line.undetermined, line.not_applicable);
}
std::string asked(std::string_view subject, std::string_view must, const Room& room = {}) {
  return told(report_of(requires_of(subject, must), room));
}
std::string asked_as_rule(std::string_view subject, std::string_view test, const Room& room = {}) {
  return told(report_of(rule_that(test, subject), room));
}

/// The first thing that is asked for: "panel@devices-complete".
std::string need(const Report& report) {
  for (const Finding& f : report.findings) {
    if (f.rule == "own" && !f.needs.empty()) return f.needs.front().datum;
  }
  return "nothing";
}

constexpr SubjectKind kinds[] = {SubjectKind::installation,
                                 SubjectKind::area,
                                 SubjectKind::panel,
                                 SubjectKind::overcurrent_device,
                                 SubjectKind::box,
                                 SubjectKind::equipment,
                                 SubjectKind::conduit_body,
                                 SubjectKind::joint,
                                 SubjectKind::raceway,
                                 SubjectKind::circuit,
                                 SubjectKind::conductor,
                                 SubjectKind::device,
                                 SubjectKind::bonding_jumper,
                                 SubjectKind::pull_section};

TEST(Relations, WhatIsRelatedIsFound) {
  for (const SubjectKind of : kinds) {
    for (const SubjectKind to : kinds) {
      if (!facts::related(of, to)) continue;
      const std::string must = fmt::format(R"(<count of="{}" at-least="1"/>)", facts::word_of(to));
      const LedgerLine line = ledger(report_of(requires_of(facts::word_of(of), must), {}), "own");
      EXPECT_GT(line.complies, 0u) << facts::word_of(of) << " " << facts::word_of(to);
      EXPECT_EQ(line.undetermined, 0u) << facts::word_of(of) << " " << facts::word_of(to);
    }
  }
}

TEST(Relations, ThePageListsThem) {
  std::ifstream in(RACEWARD_SOURCE_DIR "/docs/rulesets.md");
  std::ostringstream all;
  all << in.rdbuf();
  for (const SubjectKind of : kinds) {
    if (of == SubjectKind::installation) continue;  // all
    const std::string row = fmt::format("| `{}` | {} |", facts::word_of(of), facts::related_to(of));
    EXPECT_NE(all.str().find(row), std::string::npos) << row;
  }
}

TEST(Relations, AnAreaHasWhatStandsInIt) {
  constexpr auto none = R"(<count of="device" at-most="0"/>)";
  EXPECT_EQ(asked("area", none), "0 1 0 0");
  EXPECT_EQ(asked("area", R"(<count of="device" at-most="3"/>)"), "1 0 0 0");
  // A box that says not where it is may be here.
  EXPECT_EQ(asked("area", R"(<count of="device" at-most="3"/>)", {.more = R"(<box id="B9"/>)"}), "0 0 1 0");
}

TEST(Relations, AnAreaWhoseReceptaclesAreNotAllWrittenMayHaveMore) {
  for (const char* area : {"", R"(outlets-complete="no")"}) {
    const Room room{.area = area};
    EXPECT_EQ(asked("area", R"(<count of="device" at-most="3"/>)", room), "0 0 1 0") << area;
    EXPECT_EQ(asked("area", R"(<count of="device" at-most="2"/>)", room), "0 1 0 0") << "three are written";
    EXPECT_EQ(asked("area", R"(<count of="device" at-least="3"/>)", room), "1 0 0 0");
    EXPECT_EQ(asked("area", R"(<count of="device" at-least="4"/>)", room), "0 0 1 0");
    constexpr auto switches =
        R"(<count of="device" at-most="1"><if attribute="device@kind" is="switch"/></count>)";
    EXPECT_EQ(asked("area", switches, room), "1 0 0 0") << "it speaks of receptacles only";
  }
  EXPECT_EQ(need(report_of(requires_of("area", R"(<count of="device" at-most="3"/>)"), {.area = ""})),
            "area@outlets-complete");
}

TEST(Relations, APanelWhoseDevicesAreNotAllWrittenMayHaveMore) {
  const std::string most = requires_of("panel", R"(<count of="overcurrent-device" at-most="1"/>)");
  EXPECT_EQ(told(report_of(most, {})), "1 0 0 0");
  for (const char* panel : {"", R"(devices-complete="no")"}) {
    const Room room{.panel = panel};
    EXPECT_EQ(told(report_of(most, room)), "0 0 1 0") << panel;
    EXPECT_EQ(asked("panel", R"(<count of="overcurrent-device" at-most="0"/>)", room), "0 1 0 0");
    EXPECT_EQ(asked("panel", R"(<count of="overcurrent-device" at-least="1"/>)", room), "1 0 0 0");
    EXPECT_EQ(asked("installation", R"(<count of="overcurrent-device" at-most="1"/>)", room), "0 0 1 0");
    EXPECT_EQ(asked("area", R"(<count of="overcurrent-device" at-most="1"/>)", room), "0 0 1 0");
    EXPECT_EQ(asked("panel", R"(<if attribute="overcurrent-device@rating" at-most="20A"/>)", room),
              "0 0 1 0");
    for (const char* test : {"count(overcurrent-device) <= 6", "sum(overcurrent-device/@rating) > 0",
                             "not(overcurrent-device/@poles > 3)"})
      EXPECT_EQ(asked_as_rule("panel", test, room), "0 0 1 0") << test;
  }
  EXPECT_EQ(need(report_of(most, {.panel = ""})), "panel@devices-complete");
  EXPECT_EQ(asked_as_rule("panel", "count(overcurrent-device) <= 6"), "1 0 0 0");
}

TEST(Relations, ACircuitThatSaysNotWhatProtectsItMayBeOfAnyDevice) {
  const Room room{
      .more = R"(<circuit id="C2" kind="branch"><run><stop place="P1"/><stop place="B1"/></run></circuit>)"};
  EXPECT_EQ(asked("overcurrent-device", R"(<count of="circuit" at-most="1"/>)"), "1 0 0 0");
  EXPECT_EQ(asked("overcurrent-device", R"(<count of="circuit" at-most="1"/>)", room), "0 0 1 0");
  EXPECT_EQ(asked_as_rule("overcurrent-device", "count(circuit) = 1", room), "0 0 1 0");
  EXPECT_EQ(asked("circuit", R"(<count of="overcurrent-device" at-least="1"/>)", room), "1 0 1 0");
}

TEST(Relations, ConductorsAlikeCountAsManyTimes) {
  EXPECT_EQ(asked("circuit", R"(<count of="conductor" at-most="3"/>)"), "0 1 0 0");
  EXPECT_EQ(asked("circuit", R"(<count of="conductor" is="12"/>)"), "1 0 0 0");
  EXPECT_EQ(asked_as_rule("circuit", "sum(conductor/@count) = 12"), "1 0 0 0");
}

TEST(Relations, OneOfSeveralMarksIsEnough) {
  const auto insulation = [](std::string_view is, const Room& room = {}) {
    return asked("conductor", fmt::format(R"(<if attribute="conductor@insulation" is="{}"/>)", is), room);
  };
  EXPECT_EQ(insulation("THWN-2"), "1 0 0 0");
  EXPECT_EQ(insulation("XHHW THHN"), "1 0 0 0");
  EXPECT_EQ(insulation("TW"), "0 1 0 0");
  constexpr auto no_tw = R"(<unless><if attribute="conductor@insulation" is="TW"/></unless>)";
  EXPECT_EQ(asked("conductor", no_tw, {.insulation = "TW/THW"}), "0 1 0 0");
  EXPECT_EQ(asked("conductor", no_tw), "1 0 0 0");
  EXPECT_EQ(asked("device", R"(<if attribute="device@circuit" is="C1"/>)"), "3 0 0 0");
}

TEST(Relations, ConductorsAreComparedByTheirArea) {
  const auto size = [](std::string_view bound, std::string_view wire) {
    return asked("conductor", fmt::format(R"(<if attribute="conductor@size" {}/>)", bound),
                 {.wire = std::string(wire)});
  };
  // 12 AWG has 3.31 mm2, 4/0 AWG 107 mm2 and 250 kcmil 127 mm2 (NFPA 70, chapter 9, table 8).
  EXPECT_EQ(size(R"(at-least="12 AWG")", "95 mm2"), "1 0 0 0");
  EXPECT_EQ(size(R"(at-least="12 AWG")", "2.5 mm2"), "0 1 0 0");
  EXPECT_EQ(size(R"(at-least="12 AWG")", "4 mm2"), "1 0 0 0");
  EXPECT_EQ(size(R"(at-most="12 AWG")", "1.5 mm2"), "1 0 0 0");
  EXPECT_EQ(size(R"(at-least="120 mm2")", "4/0 AWG"), "0 1 0 0");
  EXPECT_EQ(size(R"(at-least="120 mm2")", "250 kcmil"), "1 0 0 0");
  EXPECT_EQ(size(R"(more-than="12 AWG")", "12 AWG"), "0 1 0 0");
  EXPECT_EQ(size(R"(at-most="12 AWG")", "12 AWG"), "1 0 0 0");
}

TEST(Relations, TradeSizesOfTwoSystemsHaveNoOrder) {
  const auto r1 = [](std::string_view bound) {
    const std::string must = fmt::format(R"(<if attribute="raceway@trade-size" {}/>)", bound);
    return told(report_of(requires_of("raceway", must, R"(<if attribute="raceway@id" is="R1"/>)"), {}));
  };
  EXPECT_EQ(r1(R"(at-least="4")"), "0 0 1 3");
  EXPECT_EQ(r1(R"(at-most="2")"), "0 0 1 3");
  EXPECT_EQ(r1(R"(at-least="16 mm" at-most="25 mm")"), "1 0 0 3");
  EXPECT_EQ(r1(R"(at-least="25 mm")"), "0 1 0 3");
  EXPECT_EQ(r1(R"(is="1/2")"), "0 1 0 3") << "another size it is in any case";
}

TEST(Relations, WiringIsNotAskedForWhatOnlyCircuitsHave) {
  const Room room{.more = R"(<wiring id="W1" system="class-2"><conductor id="a"/>
<run><stop place="P1"/><stop place="B1"/></run></wiring>)"};
  EXPECT_EQ(asked("circuit", R"(<if attribute="circuit@voltage" at-most="120V"/>)", room), "1 0 0 1");
  constexpr auto low =
      R"(<count of="circuit" at-most="0"><unless><if attribute="circuit@voltage" at-most="120V"/></unless></count>)";
  EXPECT_EQ(asked("raceway", low, room), "4 0 0 0");
  EXPECT_EQ(asked("circuit", R"(<if attribute="circuit@kind" is="other"/>)", room), "1 1 0 0");
  EXPECT_EQ(asked("circuit", R"(<if attribute="wiring@system" is="class-2"/>)", room), "1 0 0 1");
  EXPECT_EQ(asked_as_rule("circuit", "@voltage > 0", room), "1 0 0 1");
  EXPECT_EQ(asked_as_rule("circuit", "@system = 'power'", room), "1 1 0 0");
  EXPECT_EQ(asked_as_rule("raceway", "not(circuit/@voltage <= 0)", room), "4 0 0 0");
}

}  // namespace
}  // namespace raceward::test
