#include "check/waivers.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <utility>

#include "check/wording.hpp"
#include "document/nearest.hpp"
#include "quantity/fault.hpp"

namespace raceward::checking {

namespace {

using State = WaiverLine::State;
using quantity::quoted;

/// Why a value that was accepted does not cover what is measured now; empty where it does. What lies nearer
/// to the limit than was accepted is covered as well.
std::string beyond(const std::string& accepts, const Finding& f) {
  if (!f.has_measured) return "the finding has no measured value; leave accepts out";
  const Parsed<Amount> accepted = parse_amount(accepts, dimension_of(f.measured.unit));
  if (!accepted) return fmt::format("accepts {}: {}", quoted(accepts), accepted.error().what);
  const std::int64_t now = f.measured.count, then = accepted->count;
  const bool nearer = f.has_limit && (now > f.limit.count ? now <= then : now < f.limit.count && now >= then);
  if (nearer || now == then) return {};
  return fmt::format("{} was accepted, and now it is {}", accepts, compared(f.measured, *accepted).measured);
}

class Waiving {
 public:
  Waiving(const Law& law, const std::vector<BoundRule>& rules, Report& report)
      : law_(law), rules_(rules), report_(report) {
    for (std::size_t i = 0; i < report.findings.size(); ++i) {
      const Finding& f = report.findings[i];
      if (f.kind == Finding::Kind::undetermined) ++told_open_[f.rule];
    }
  }

  /// Of each finding that a waiver speaks of, where it is in the report.
  void find() {
    std::map<std::pair<std::string_view, std::string_view>, std::size_t> waivers;
    for (std::size_t i = 0; i < report_.waivers.size(); ++i)
      waivers[{report_.waivers[i].rule, report_.waivers[i].subject}] = i;
    found_.resize(report_.waivers.size());
    for (std::size_t i = 0; i < report_.findings.size(); ++i) {
      const Finding& f = report_.findings[i];
      const auto at = waivers.find({f.rule, f.subject});
      if (at != waivers.end()) found_[at->second].push_back(i);
    }
  }

  void settle(std::size_t number) {
    WaiverLine& w = report_.waivers[number];
    std::tie(w.state, w.why) = outcome(w, found_[number]);
    if (w.state != State::holds) return;
    Finding& finding = report_.findings[found_[number].front()];
    finding.waiver = static_cast<std::uint32_t>(number + 1);
    LedgerLine& line = *ledger_line(w.rule);
    ++line.waived;
    if (finding.kind == Finding::Kind::advised) --line.advised;
  }

 private:
  using Outcome = std::pair<State, std::string>;

  Outcome outcome(const WaiverLine& w, const std::vector<std::size_t>& found) {
    if (found.empty()) return without_finding(w);
    const Finding& f = report_.findings[found.front()];
    if (std::any_of(found.begin(), found.end(),
                    [&](std::size_t i) { return report_.findings[i].kind == Finding::Kind::undetermined; }))
      return {State::undetermined,
              fmt::format("rule {} at {} is undetermined, and that cannot be waived; supply what is missing",
                          w.rule, w.subject)};
    if (found.size() > 1)
      return {State::unmatched, fmt::format("{} findings of {} bear the name {}, and a waiver is for one",
                                            found.size(), w.rule, w.subject)};
    if (report_.on.empty()) return {State::day_unknown, "the check was not told what day it is judged on"};
    if (report_.on < w.on) return {State::not_yet, "its first day is to come"};
    if (report_.on > w.until) return {State::expired, "its last day is over; ask again, or cure the finding"};
    if (!w.accepts.empty()) {
      std::string why = beyond(w.accepts, f);
      if (!why.empty()) return {State::exceeded, std::move(why)};
    }
    return {State::holds, {}};
  }

  Outcome without_finding(const WaiverLine& w) {
    const auto bound = std::find_if(rules_.begin(), rules_.end(),
                                    [&](const BoundRule& rule) { return rule.id() == w.rule; });
    if (bound == rules_.end()) return {State::unknown_rule, unknown(w.rule)};
    if (!bound->in_force())
      return {State::unmatched, fmt::format("ruleset {} does not ask {}", law_.id, w.rule)};
    const LedgerLine* const line = ledger_line(w.rule);
    if (line != nullptr && line->undetermined > told_open_[w.rule])
      return {State::undetermined,
              fmt::format("rule {} went wrong, so that what it would find at {} is open", w.rule, w.subject)};
    return {
        State::unmatched,
        fmt::format("rule {} finds nothing at {}; delete the waiver, or name the subject as the report does",
                    w.rule, w.subject)};
  }

  [[nodiscard]] std::string unknown(const std::string& rule) const {
    std::vector<document::Term> ids;
    for (const BoundRule& bound : rules_) ids.push_back({bound.id(), {}});
    const std::string_view near = document::nearest(rule, ids);
    return fmt::format(
        "there is no rule {}; {}", quoted(rule),
        near.empty() ? "raceward rules lists them" : fmt::format("did you mean {}?", quoted(near)));
  }

  LedgerLine* ledger_line(const std::string& rule) {
    const auto at =
        std::lower_bound(report_.ledger.begin(), report_.ledger.end(), rule,
                         [](const LedgerLine& line, const std::string& id) { return line.rule < id; });
    return at != report_.ledger.end() && at->rule == rule ? &*at : nullptr;
  }

  const Law& law_;
  const std::vector<BoundRule>& rules_;
  Report& report_;
  std::map<std::string, std::uint64_t, std::less<>> told_open_;  // undetermined findings, by rule
  std::vector<std::vector<std::size_t>> found_;                  // by waiver
};

}  // namespace

void waive(const Installation& installation, const Law& law, const std::vector<BoundRule>& rules,
           const std::string& on, Report& report) {
  const installation::Model& model = installation.model;
  if (model.waivers.empty()) return;
  if (is_date(on)) report.on = on;
  report.waivers.reserve(model.waivers.size());
  for (const installation::Waiver& w : model.waivers) {
    const installation::LineColumn at = installation::locate(model, w.source);
    WaiverLine& line = report.waivers.emplace_back();
    line.rule = w.rule;
    line.subject = w.of;
    line.authority = w.authority;
    line.reason = w.reason;
    line.on = w.on;
    line.until = w.until;
    line.accepts = w.accepts;
    line.place = {model.file, at.line, at.column};
  }
  Waiving waiving(law, rules, report);
  waiving.find();
  for (std::size_t i = 0; i < report.waivers.size(); ++i) waiving.settle(i);
}

}  // namespace raceward::checking

namespace raceward {

std::string_view name_of(WaiverLine::State state) {
  switch (state) {
    case WaiverLine::State::holds:
      return "holds";
    case WaiverLine::State::expired:
      return "expired";
    case WaiverLine::State::not_yet:
      return "not-yet";
    case WaiverLine::State::day_unknown:
      return "day-unknown";
    case WaiverLine::State::exceeded:
      return "exceeded";
    case WaiverLine::State::undetermined:
      return "undetermined";
    case WaiverLine::State::unknown_rule:
      return "unknown-rule";
    case WaiverLine::State::unmatched:
      break;
  }
  return "unmatched";
}

}  // namespace raceward
