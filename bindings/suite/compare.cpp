#include "compare.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

namespace raceward::suite {

namespace {

Mismatch mismatch(Mismatch::Kind kind, const Finding& found) {
  Mismatch out{kind, {}, key_of(found), found.place, found.message, found.working, {}, {}};
  for (const Need& need : found.needs)
    out.working.push_back(fmt::format("needs {} of {}{}", need.datum.empty() ? need.fact : need.datum,
                                      need.element, need.why.empty() ? "" : ": " + need.why));
  return out;
}

/// The finding that an expectation speaks of: that of its rule and subject.
template <class Findings>
auto spoken_of(const Expectation& e, const Findings& waiting) {
  return std::find_if(waiting.begin(), waiting.end(),
                      [&](const Finding* f) { return f->rule == e.rule && f->subject == e.subject; });
}

}  // namespace

void compare(const Expectations& expected, const std::vector<const Finding*>& found,
             const std::string& ruleset, std::vector<Mismatch>& out) {
  std::vector<const Finding*> waiting = found;
  for (const Expectation& e : expected.findings) {
    if (!holds_under(e, ruleset)) continue;
    const auto at = spoken_of(e, waiting);
    if (at == waiting.end()) {
      out.push_back({Mismatch::Kind::missed, key_of(e), {}, e.place, {}, {}, e.place, {}});
      continue;
    }
    const std::string unlike = difference(e, **at);
    if (!unlike.empty()) {
      Mismatch moved = mismatch(Mismatch::Kind::moved, **at);
      moved.expected = key_of(e);
      moved.found = unlike;
      moved.expected_at = e.place;
      out.push_back(std::move(moved));
    }
    waiting.erase(at);
  }
  for (const Finding* f : waiting) {
    if (!disregards(expected, *f, ruleset)) out.push_back(mismatch(Mismatch::Kind::unexpected, *f));
  }
}

void compare_ledger(const Expectations& expected, const Report& report, const std::string& ruleset,
                    std::vector<Mismatch>& out) {
  for (const LedgerExpectation& e : expected.ledger) {
    if (!holds_under(e, ruleset)) continue;
    std::string want = e.rule, is;
    bool same = true;
    const auto line = std::find_if(report.ledger.begin(), report.ledger.end(),
                                   [&](const LedgerLine& l) { return l.rule == e.rule; });
    for (const auto& [name, count] : e.counts) {
      want += fmt::format(" {}={}", name, count);
      if (line == report.ledger.end()) continue;
      const std::uint64_t has = name == "complies"       ? line->complies
                                : name == "violates"     ? line->violates
                                : name == "undetermined" ? line->undetermined
                                                         : line->not_applicable;
      is += fmt::format("{}{}={}", is.empty() ? "" : " ", name, has);
      same = same && has == count;
    }
    if (line == report.ledger.end()) is = "the ledger has no such rule";
    if (!same || line == report.ledger.end())
      out.push_back({Mismatch::Kind::counts, std::move(want), std::move(is), e.place, {}, {}, e.place, {}});
  }
}

void compare_waivers(const Expectations& expected, const Report& report, const std::string& ruleset,
                     std::vector<Mismatch>& out) {
  std::vector<const WaiverLine*> waiting;
  for (const WaiverLine& w : report.waivers) {
    if (w.state != WaiverLine::State::holds) waiting.push_back(&w);
  }
  for (const WaiverExpectation& e : expected.waivers) {
    if (!holds_under(e, ruleset)) continue;
    const auto at = std::find_if(waiting.begin(), waiting.end(), [&](const WaiverLine* w) {
      return w->rule == e.rule && w->subject == e.subject;
    });
    if (at == waiting.end()) {
      out.push_back({Mismatch::Kind::missed, key_of(e), {}, e.place, {}, {}, e.place, {}});
      continue;
    }
    const WaiverLine& w = **at;
    if (raceward::name_of(w.state) != e.state)
      out.push_back({Mismatch::Kind::moved,
                     key_of(e),
                     fmt::format("it is {}", raceward::name_of(w.state)),
                     w.place,
                     w.why,
                     {},
                     e.place,
                     {}});
    waiting.erase(at);
  }
  for (const WaiverLine* w : waiting)
    out.push_back({Mismatch::Kind::unexpected, {}, key_of(*w), w->place, w->why, {}, {}, {}});
}

/// A rule that went wrong has no findings: only the ledger counts what it left open. No expectation covers
/// it.
void tell_faults(const Report& report, std::vector<Mismatch>& out) {
  for (const LedgerLine& line : report.ledger) {
    const auto told = std::count_if(report.findings.begin(), report.findings.end(), [&](const Finding& f) {
      return f.kind == Finding::Kind::undetermined && f.rule == line.rule;
    });
    if (static_cast<std::uint64_t>(told) >= line.undetermined) continue;
    Mismatch fault{Mismatch::Kind::faulty, {}, "rule " + line.rule, {report.file, 0, 0}, {}, {}, {}, {}};
    for (const NotChecked& n : report.not_checked) {
      if (n.what == fault.found || n.what.starts_with(fault.found + " ")) fault.message = n.why;
    }
    out.push_back(std::move(fault));
  }
}

void compare_figures(const Expectations& expected, const Installation& installation, const Law& law,
                     const std::string& ruleset, std::vector<Mismatch>& out) {
  std::vector<FigureLine> lines;
  std::map<std::pair<std::string_view, std::string_view>, const FigureLine*> found;
  for (const FigureExpectation& e : expected.figures) {
    if (!holds_under(e, ruleset)) continue;
    if (lines.empty()) {
      lines = figures(installation, law);
      for (const FigureLine& line : lines) found[{line.figure, line.subject}] = &line;
    }
    const std::string what = fmt::format("figure {} {} {}", e.figure, e.subject, e.value);
    const auto at = found.find({e.figure, e.subject});
    if (at == found.end()) {
      out.push_back({Mismatch::Kind::missed, what, {}, e.place, {}, {}, e.place, {}});
      continue;
    }
    const std::string unlike = difference(e, *at->second);
    if (unlike.empty()) continue;
    std::vector<std::string> working = at->second->working;
    for (const Need& need : at->second->needs)
      working.push_back(
          fmt::format("needs {} of {}", need.datum.empty() ? need.fact : need.datum, need.element));
    out.push_back({Mismatch::Kind::moved, what, unlike, e.place, {}, std::move(working), e.place, {}});
  }
}

void explain_missed(const Expectations& expected, const Installation& installation, const Law& law,
                    const std::vector<const Rule*>& rules, std::vector<Mismatch>& all) {
  const auto is_missed = [](const Mismatch& m) { return m.kind == Mismatch::Kind::missed; };
  if (std::none_of(all.begin(), all.end(), is_missed)) return;
  const std::vector<const Rule*> shipped = shipped_rules();
  std::vector<FigureLine> lines;
  for (Mismatch& m : all) {
    if (!is_missed(m)) continue;
    const auto of =
        std::find_if(expected.findings.begin(), expected.findings.end(), [&](const Expectation& e) {
          return e.place.line == m.expected_at.line && e.place.file == m.expected_at.file &&
                 key_of(e) == m.expected;
        });
    if (of == expected.findings.end()) continue;
    const auto is_meant = [&](const Rule* rule) { return rule->id == of->rule; };
    const Rule* rule = nullptr;
    for (const auto* list : {&shipped, &rules}) {
      const auto at = std::find_if(list->begin(), list->end(), is_meant);
      if (rule == nullptr && at != list->end()) rule = *at;
    }
    if (rule == nullptr) continue;  // one that is data names its figures nowhere
    if (lines.empty()) lines = figures(installation, law);
    std::set<std::string> told;  // figures that read each other share their steps
    for (const std::string_view name : rule->figures) {
      for (const FigureLine& line : lines) {
        if (line.figure != name || line.subject != of->subject) continue;
        m.working.push_back(fmt::format("{}: {}", line.figure, line.known ? line.shown : "not known"));
        for (const std::string& step : line.working)
          if (told.insert(step).second) m.working.push_back("  " + step);
      }
    }
    m.message = m.working.empty() ? "of this subject there is nothing that the rule reads"
                                  : "what the rule reads of it is now:";
  }
}

std::vector<Mismatch> mismatches_of(const Expectations& expected, const Report& report,
                                    const std::string& ruleset) {
  std::vector<const Finding*> found;
  for (const Finding& f : report.findings) found.push_back(&f);
  std::vector<Mismatch> out;
  compare(expected, found, ruleset, out);
  compare_waivers(expected, report, ruleset, out);
  compare_ledger(expected, report, ruleset, out);
  tell_faults(report, out);
  return out;
}

}  // namespace raceward::suite
