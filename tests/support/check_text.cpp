#include "support/check_text.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>

namespace raceward::test {

Report check_text(std::string_view xml, std::string_view ruleset, std::string on) {
  const Loaded loaded = load_bytes(xml, "test.xml");
  for (const Problem& problem : loaded.problems) ADD_FAILURE() << text_of(problem);
  const LoadedLaw law = load_ruleset(ruleset);
  for (const Problem& problem : law.problems) ADD_FAILURE() << text_of(problem);
  if (!loaded.installation || !law.law) return {};
  CheckOptions how;
  how.on = std::move(on);
  return check(*loaded.installation, *law.law, how);
}

const Finding* finding(const Report& report, std::string_view rule, std::string_view subject) {
  const auto at = std::find_if(report.findings.begin(), report.findings.end(),
                               [&](const Finding& f) { return f.rule == rule && f.subject == subject; });
  return at == report.findings.end() ? nullptr : &*at;
}

LedgerLine ledger(const Report& report, std::string_view rule) {
  const auto at = std::find_if(report.ledger.begin(), report.ledger.end(),
                               [&](const LedgerLine& line) { return line.rule == rule; });
  return at == report.ledger.end() ? LedgerLine{} : *at;
}

double figure_of(std::string_view xml, std::string_view name, std::string_view subject,
                 std::string_view ruleset) {
  const Loaded loaded = load_bytes(xml, "test.xml");
  for (const Problem& problem : loaded.problems) ADD_FAILURE() << text_of(problem);
  const LoadedLaw law = load_ruleset(ruleset);
  if (!loaded.installation || !law.law) return ADD_FAILURE() << "not loaded", 0;
  for (const FigureLine& line : figures(*loaded.installation, *law.law)) {
    if (line.figure == name && line.known && (subject.empty() || line.subject == subject))
      return std::stod(decimal_of(line.value));
  }
  ADD_FAILURE() << "no figure " << name << " of " << subject;
  return 0;
}

std::string installation(std::string_view elements, std::string_view rating) {
  std::string out = R"(<installation xmlns="urn:raceward:installation:1" id="test" ruleset="nec-2023">
  <area id="A1" use="workshop" location="dry"/>
  <panel id="P1" area="A1" material="metal" grounded-by="feeder" accessible="yes">
    <overcurrent-device id="P1-1" rating=")";
  out.append(rating).append("\" poles=\"1\"/>\n  </panel>\n").append(elements).append("</installation>\n");
  return out;
}

}  // namespace raceward::test
