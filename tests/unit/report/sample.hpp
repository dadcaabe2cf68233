// A report written by hand, for tests of how reports are printed.
#pragma once

#include "raceward/engine.hpp"

namespace raceward::test {

inline Need need_of(std::string fact, std::string datum, std::string element, std::uint32_t line,
                    std::string why = "") {
  return {std::move(fact), std::move(datum), std::move(element),     "a length such as 4in",
          "the installer", std::move(why),   {"studio.xml", line, 3}};
}

inline Finding undetermined(std::string rule, std::string subject, std::vector<Need> needs) {
  Finding f;
  f.rule = std::move(rule);
  f.kind = Finding::Kind::undetermined;
  f.where = "box " + subject;
  f.message = f.where + " cannot be judged";
  f.subject = std::move(subject);
  f.place = {"studio.xml", 7, 3};
  f.cites = {{"Test Code", "2020", "1", Basis::read, "the code", ""}};
  f.needs = std::move(needs);
  return f;
}

/// One violation with all that a violation has.
inline Finding violation() {
  Finding f;
  f.rule = "raceway-fill";
  f.subject = "R2";
  f.where = "raceway R2, box B1 to box B2";
  f.place = {"studio.xml", 12, 3};
  f.message = "raceway R2, box B1 to box B2, is filled to 43.1 %, and at most 40 % is allowed";
  f.cites = {{"Test Code", "2020", "1", Basis::read, "the code", ""},
             {"Test Code", "2020", "Table 2", Basis::memory, "", ""},
             {"Test Code", "2020", "Table 2", Basis::memory, "", "another row"}};
  f.has_measured = f.has_limit = true;
  f.measured = *parse_amount("43.1%", Dimension::none);
  f.limit = *parse_amount("40%", Dimension::none);
  f.measured_shown = "43.1 %";
  f.limit_shown = "40 %";
  f.working = {"conductor area: 5 x 0.0133 in2 = 0.0665 in2"};
  f.cure = "Use a larger trade size.";
  return f;
}

inline Report sample() {
  Report r;
  r.installation = "studio";
  r.file = "studio.xml";
  r.ruleset = "test-2020";
  r.layers = {"test-2020"};
  r.findings = {violation(), undetermined("box-volume", "B1", {need_of("depth", "box@depth", "box B1", 7)}),
                undetermined("box-volume", "B2", {need_of("depth", "box@depth", "box B2", 9)}),
                undetermined("pull-box-size", "B2",
                             {need_of("depth", "box@depth", "box B2", 9),
                              need_of("support", "support", "raceway R2", 12)})};
  LedgerLine fill{"raceway-fill", "A raceway is not too full", RuleSetting::Force::required, 3, 1, 0, 0};
  LedgerLine volume{"box-volume", "A box is not too full", RuleSetting::Force::required, 0, 0, 2, 0};
  LedgerLine pull{"pull-box-size", "A box is large enough", RuleSetting::Force::advised, 0, 0, 1, 4};
  r.ledger = {volume, pull, fill};
  r.not_checked = {{"rule bend-total", "ruleset test-2020 does not use it"},
                   {"attribute box@covered (2 times)", "no rule in force reads it"},
                   {"element attest (once)", "no rule in force reads it"},
                   {"attribute box@material (2 times)", "no rule in force reads it"}};
  r.cautions = {"Electricity kills."};
  r.element_count = 20;
  return r;
}

/// The sample with its violation waived, and a waiver without effect.
inline Report waived_sample() {
  Report r = sample();
  r.on = "2026-06-15";
  WaiverLine w{"raceway-fill",
               "R2",
               "the inspector, permit 7",
               "a beam",
               "2026-05-01",
               "2026-06-15",
               "45%",
               {"studio.xml", 30, 3},
               WaiverLine::State::holds,
               ""};
  r.waivers.push_back(w);
  w.subject = "R9";
  w.accepts.clear();
  w.place.line = 31;
  w.state = WaiverLine::State::unmatched;
  w.why = "rule raceway-fill finds nothing at R9";
  r.waivers.push_back(w);
  r.findings[0].waiver = 1;
  r.ledger[2].waived = 1;
  return r;
}

}  // namespace raceward::test
