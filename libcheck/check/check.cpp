// The check of a whole installation: bind, ask, count, report.
#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <map>
#include <memory>
#include <utility>

#include "check/always_said.hpp"
#include "check/causes.hpp"
#include "check/ready_law.hpp"
#include "check/survey.hpp"
#include "check/trial.hpp"
#include "check/unread.hpp"
#include "check/waivers.hpp"
#include "raceward/engine.hpp"

namespace raceward {

namespace {

using namespace checking;

/// Lines are made where somebody reads them.
template <class... Args>
void log(const CheckOptions& options, int level, fmt::format_string<Args...> line, Args&&... args) {
  if (options.log) options.log(level, fmt::format(line, std::forward<Args>(args)...));
}

void append(std::vector<NotChecked>& to, std::vector<NotChecked> more) {
  to.insert(to.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
}

/// An uppermost layer that is no law on the day of the permit judged nothing: what it stands upon did. A
/// lower one judged, for those above are written over what it made.
void tell_not_in_effect(const Law& law, std::string_view permit_date, std::vector<NotChecked>& out) {
  for (const LayerPeriod& p : law.periods) {
    if (permit_date.empty()) {
      out.push_back(
          {fmt::format("whether ruleset {} was law when the permit was given", p.layer),
           fmt::format("it is law{}{}{}{}, and the document states no permit-date; it was judged as law",
                       p.from.empty() ? "" : " from ", p.from, p.before.empty() ? "" : " before ",
                       p.before)});
      continue;
    }
    const bool too_early = !p.from.empty() && permit_date < p.from;
    const bool too_late = !p.before.empty() && permit_date >= p.before;
    if (!too_early && !too_late) continue;
    const bool uppermost = p.layer == law.id;
    out.push_back(
        {uppermost ? fmt::format("all that ruleset {} changes", p.layer)
                   : fmt::format("anything without what ruleset {} changes", p.layer),
         fmt::format("it is law {} {}, and the permit is of {}; {}", too_early ? "from" : "before",
                     too_early ? p.from : p.before, permit_date,
                     uppermost ? "what it stands upon was judged without it"
                               : "it was judged as law all the same, for " + law.id + " stands upon it")});
  }
}

/// Whoever reads a verdict of a module should know that it is none of ours.
void append_origins(const std::vector<BoundRule>& rules, std::vector<std::string>& cautions) {
  std::map<std::string, std::string> ids;
  for (const BoundRule& bound : rules) {
    const ModuleInfo* const of = bound.rule != nullptr && bound.in_force() ? origin_of(*bound.rule) : nullptr;
    if (of == nullptr) continue;
    std::string& list = ids[of->name + " " + of->version];
    list += (list.empty() ? "" : ", ") + std::string(bound.id());
  }
  for (const auto& [module, list] : ids) {
    cautions.push_back(fmt::format(
        "The compiled module {} is no part of Raceward; its authors answer for what it judges: {}.", module,
        list));
  }
}

}  // namespace

Report check(const Installation& installation, const Law& law, const CheckOptions& options) {
  // Not owned: it lives longer than this check.
  const std::shared_ptr<const Law> here(std::shared_ptr<const Law>(), &law);
  return check(installation, ReadyLaw(here, options.extra_rules), options);
}

Report check(const Installation& installation, const ReadyLaw& ready, const CheckOptions& options) {
  const Law& law = *ready.law;
  Report report;
  report.installation = installation.model.id;
  report.file = installation.model.file;
  report.ruleset = law.id;
  report.layers = law.layers;
  report.element_count = installation.model.element_count;

  Subjects subjects(installation);
  std::vector<BoundRule> tried;
  const bool tries = options.trial > 0 && std::ranges::any_of(ready.rules, asks_module);
  if (tries) {
    tried = ready.rules;
    try_compiled(installation, ready, tried, subjects, options);
  }
  const std::vector<BoundRule>& rules = tries ? tried : ready.rules;
  std::vector<const BoundRule*> asked;
  // Of a small installation most of the cost would be rules that it has nothing for.
  const auto has_subjects = [&](const BoundRule& bound) { return !subjects.of(bound.rule->subject).empty(); };
  asked.reserve(rules.size());
  for (const BoundRule& bound : rules) {
    if (bound.in_force() && bound.fault.empty() && has_subjects(bound)) asked.push_back(&bound);
  }
  // What is waived is known by its finding.
  const Detail asked_for =
      installation.model.waivers.empty() ? options.detail : std::max(options.detail, Detail::verdicts);
  Answers answers =
      ask_all(installation, ready, asked, subjects, {options.threads, asked_for, options.worded});
  report.findings = std::move(answers.findings);

  const bool tells_all = options.detail == Detail::all;
  report.ledger.reserve(rules.size());
  std::vector<NotChecked> faults, silent, unasked;
  for (const Rule* rule : ready.doubles) {
    const ModuleInfo* const of = origin_of(*rule);
    faults.push_back({fmt::format("rule {}{}", rule->id, of == nullptr ? "" : " of module " + of->name),
                      "two rules bear this name; the second was left out"});
  }
  auto next = answers.tallies.cbegin();
  const Tally nothing;
  for (const BoundRule& bound : rules) {
    if (!bound.in_force()) {
      if (tells_all) tell_not_asked(bound, law, unasked);
      continue;
    }
    if (!bound.fault.empty()) {
      const bool counts =
          bound.rule != nullptr && static_cast<std::uint8_t>(bound.rule->subject) < subject_kind_count;
      report.ledger.push_back(ledger_line(bound, counts ? subjects.of(bound.rule->subject).size() : 0));
      tell_not_asked(bound, law, faults);
      log(options, 2, "rule {} was not asked: {}", bound.id(), bound.fault);
      continue;
    }
    const Tally& tally = has_subjects(bound) ? *next++ : nothing;
    report.ledger.push_back(ledger_line(bound, tally));
    if (tally.faults > 0 || tells_all) tell_not_checked(bound, tally, tally.faults > 0 ? faults : silent);
    log(options, tally.faults > 0 ? 2 : 0,
        "rule {}: {} comply, {} violate, {} undetermined ({} faults of the rule), {} not applicable",
        bound.id(), tally.complies, tally.violates, tally.undetermined, tally.faults, tally.not_applicable);
  }

  waive(installation, law, rules, options.on, report);
  for (const WaiverLine& w : report.waivers) {
    const bool holds = w.state == WaiverLine::State::holds;
    log(options, 1, "{}: waiver of {} at {} {}", text_of(Problem{w.place, {}}), w.rule, w.subject,
        holds ? "holds" : "has no effect: " + w.why);
  }
  if (options.detail == Detail::counts) report.findings.clear();
  if (tells_all) mark_causes(installation, report);
  tell_not_in_effect(law, installation.model.permit_date, report.not_checked);
  append(report.not_checked, std::move(faults));
  if (tells_all) {
    append(report.not_checked, std::move(silent));
    append(report.not_checked, std::move(unasked));
    append(report.not_checked, tries ? unread(installation.model, WordsRead(rules, &law))
                                     : unread(installation.model, ready.words));
    append(report.not_checked, never_checked());
  } else {
    report.not_checked.push_back(
        {"all else", "verdicts alone were asked for: what they leave out is not told"});
  }
  report.cautions = ready.cautions;
  append_origins(rules, report.cautions);
  log(options, 1, "{}: {} rules of {} asked, {} findings", report.file, report.ledger.size(), law.id,
      report.findings.size());
  return report;
}

void explain(const Installation& installation, const ReadyLaw& ready, std::span<Finding> findings) {
  std::vector<const BoundRule*> asked;
  for (const BoundRule& bound : ready.rules) {
    if (bound.in_force() && bound.fault.empty()) asked.push_back(&bound);
  }
  ask_again(installation, ready, asked, findings);
}

std::string_view installation_id(const Installation& installation) { return installation.model.id; }

int exit_status(const Report& report, bool accept_undetermined) {
  bool judged = false;  // a report that judged nothing is no pass
  bool undetermined = false, faulty = false;
  for (const LedgerLine& line : report.ledger) {
    if (line.violates > line.waived + line.advised) return 1;
    judged = judged || line.complies + line.violates > 0;
    undetermined = undetermined || line.undetermined > 0;
    faulty = faulty || line.faults > 0;
  }
  return faulty || ((undetermined || !judged) && !accept_undetermined) ? 2 : 0;
}

}  // namespace raceward
