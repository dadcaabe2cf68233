// A small installation and a law, built in code, for tests of checking.
#pragma once

#include "raceward/engine.hpp"
#include "support/sketch.hpp"

namespace raceward::test {

/// P1 -R1- B1 -R2- B2 with a run to B2; R1 is 5 ft long, R2 of unstated length. The file has one element a
/// line.
inline Sketch studio() {
  Sketch s("P1 -R1- B1 -R2- B2");
  s.run("P1 B1 B2");
  installation::Model& m = s.in.model;
  m.id = "studio";
  m.file = "studio.xml";
  m.raceways[0].length = feet(5);
  m.conductor_kinds.emplace_back();
  for (installation::Conductor& conductor : m.conductors) conductor.kind = 0;
  for (installation::Offset line = 0; line < 40; ++line) m.line_starts.push_back(line * 10);
  installation::Offset at = 1;
  const auto place = [&](auto& list) {
    for (auto& each : list) each.source = (at += 10);
  };
  place(m.places);
  place(m.raceways);
  place(m.circuits);
  s.derive();
  return s;
}

inline Citation citation(std::string section, Basis basis = Basis::read) {
  return {"Test Code", "2020", std::move(section), basis, basis == Basis::read ? "the code" : "", ""};
}

/// A law that puts each of the rules in force, cites section 1, and sets parameter "most" to 6 ft, section 2.
inline Law law_of(const std::vector<std::string>& rules,
                  RuleSetting::Force force = RuleSetting::Force::required) {
  Law law;
  law.id = "test-2020";
  law.layers = {"test-2020"};
  law.citations = {citation("1"), citation("2")};
  Parameter most;
  most.name = "most";
  most.value = show(feet(6), Unit::foot);
  most.text = "6ft";
  most.cite = 1;
  law.parameters = {most};
  for (const std::string& rule : rules) law.rules.push_back({rule, force, {0}, {}});
  return law;
}

inline constexpr std::string_view length_figure[] = {"raceway-length"};
inline constexpr std::string_view most_parameter[] = {"most"};
inline constexpr std::string_view length_message[] = {
    "{where} is {measured} long, and at most {limit} is allowed"};

/// A rule about the length of raceways.
inline Rule length_rule(Verdict (*judge)(const Context&)) {
  Rule rule;
  rule.id = "length";
  rule.title = "A raceway is no longer than allowed";
  rule.why = "for the test";
  rule.subject = SubjectKind::raceway;
  rule.figures = length_figure;
  rule.parameters = most_parameter;
  rule.messages = length_message;
  rule.cure = "Make it shorter.";
  rule.judge = judge;
  return rule;
}

/// The report of a check with one extra rule that alone is in force.
inline Report check_with(const Rule& rule, const Sketch& sketch,
                         RuleSetting::Force force = RuleSetting::Force::required) {
  CheckOptions options;
  options.extra_rules = {&rule};
  return check(sketch.in, law_of({std::string(rule.id)}, force), options);
}

}  // namespace raceward::test
