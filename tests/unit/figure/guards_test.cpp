// Who gives ground-fault protection: walks over devices and over panels.
#include <gtest/gtest.h>

#include <string>

#include "support/check_text.hpp"

namespace raceward::test {
namespace {

constexpr std::string_view rule = "ground-fault-protection";

std::string document(const std::string& elements) {
  return "<installation xmlns=\"urn:raceward:installation:1\" id=\"test\" occupancy=\"dwelling\">"
         "<area id=\"A1\" use=\"garage\" location=\"dry\"/><box id=\"B1\" area=\"A1\"/>" +
         elements + "</installation>";
}

std::string panel(const std::string& id, const std::string& protection, const std::string& more = "") {
  return "<panel id=\"" + id + "\" " + more + "><overcurrent-device id=\"" + id + "-1\" ground-fault=\"" +
         protection + "\" rating=\"20A\"/></panel>";
}

std::string circuit(const std::string& id, const std::string& from, const std::string& to) {
  return "<raceway id=\"R" + id + "\" from=\"" + from + "\" to=\"" + to + "\"/><circuit id=\"" + id +
         "\" protected-by=\"" + from +
         "-1\" voltage-to-ground=\"120V\"><conductor id=\"h\" role=\"ungrounded\"/><run><stop place=\"" +
         from + "\"/><stop place=\"" + to + "\"/></run></circuit>";
}

std::string receptacle(const std::string& id, const std::string& more, const std::string& circuits = "C1") {
  return "<device id=\"" + id + "\" kind=\"receptacle\" box=\"B1\" circuit=\"" + circuits +
         "\" rating=\"20A\" voltage=\"125V\" " + more + "/>";
}

TEST(Guards, ReachTheEndOfALongChain) {
  constexpr int count = 3'000;
  std::string all =
      panel("P1", "none") + circuit("C1", "P1", "B1") + receptacle("D0", "ground-fault=\"class-a\"");
  for (int i = 1; i < count; ++i) {
    all += receptacle("D" + std::to_string(i),
                      "ground-fault=\"none\" fed-from-load-of=\"D" + std::to_string(i - 1) + "\"");
  }
  EXPECT_EQ(ledger(check_text(document(all)), rule).complies, count);
}

TEST(Guards, AFeederGuardsWhatItsPanelFeeds) {
  for (const char* feeder : {"class-a", "none"}) {
    const std::string all = panel("P1", feeder) + panel("P2", "none", "fed-by=\"F1\"") +
                            circuit("F1", "P1", "P2") + circuit("C1", "P2", "B1") +
                            receptacle("D1", "ground-fault=\"none\"");
    const LedgerLine line = ledger(check_text(document(all)), rule);
    EXPECT_EQ(line.complies, std::string_view(feeder) == "class-a" ? 1U : 0U) << feeder;
    EXPECT_EQ(line.violates, std::string_view(feeder) == "none" ? 1U : 0U) << feeder;
  }
}

TEST(Guards, ADeviceOfTwoCircuitsNeedsBoth) {
  const std::string both = panel("P1", "class-a") + panel("P2", "none") + circuit("C1", "P1", "B1") +
                           circuit("C2", "P2", "B1") + receptacle("D1", "ground-fault=\"none\"", "C1 C2");
  EXPECT_EQ(ledger(check_text(document(both)), rule).violates, 1U);
  const std::string one = panel("P1", "class-a") + panel("P2", "none") + circuit("C1", "P1", "B1") +
                          circuit("C2", "P2", "B1") + receptacle("D1", "ground-fault=\"none\"", "C1");
  EXPECT_EQ(ledger(check_text(document(one)), rule).complies, 1U);
}

TEST(Guards, WhatIsSaidTwiceAndOtherwiseIsOpen) {
  const std::string all =
      panel("P1", "none") + circuit("C1", "P1", "B1") + receptacle("D1", "ground-fault=\"class-a\"") +
      receptacle("D2", "ground-fault=\"none\" fed-from-load-of=\"D1\" fed-from-line=\"yes\"");
  const Report report = check_text(document(all));
  const Finding* const open = finding(report, rule, "D2");
  ASSERT_NE(open, nullptr);
  EXPECT_EQ(open->kind, Finding::Kind::undetermined);
  ASSERT_EQ(open->needs.size(), 1U);
  EXPECT_EQ(open->needs[0].datum, "device@fed-from-line");
}

}  // namespace
}  // namespace raceward::test
