#include "check/finding_of.hpp"

#include <fmt/compile.h>

#include <algorithm>
#include <iterator>

#include "check/needs.hpp"
#include "check/wording.hpp"
#include "ruleset/conditions.hpp"

namespace raceward::checking {

namespace {

void show_amounts(Finding& f) {
  if (f.has_measured && f.has_limit) {
    Compared both = compared(f.measured, f.limit);
    f.measured_shown = std::move(both.measured);
    f.limit_shown = std::move(both.limit);
  } else {
    if (f.has_measured) f.measured_shown = shown(f.measured);
    if (f.has_limit) f.limit_shown = shown(f.limit);
  }
}

std::string message_of(const figure::Evaluation& e, const Rule& rule, Subject subject, const Verdict& verdict,
                       const Finding& f, const figure::Working& working) {
  if (verdict.outcome == Outcome::undetermined) {
    std::string facts;
    for (const Need& need : f.needs) {
      facts += facts.empty() ? "" : "; ";
      facts += need.why.empty() ? fmt::format(FMT_COMPILE("{} of {} is not stated"), need.fact, need.element)
                                : fmt::format(FMT_COMPILE("{} of {}: {}"), need.fact, need.element, need.why);
    }
    return fill_in("{where} cannot be judged: ", {f.where, {}, {}, {}}) + facts;
  }
  const std::string place = installation::words_of(e.model, e.in.sections, verdict.measured.place);
  const std::string_view detail =
      working.detail_of(verdict.measured.amount.count, verdict.measured.place, subject);
  return fill_in(rule.messages[verdict.message], {f.where, place, f.measured_shown, f.limit_shown, detail});
}

}  // namespace

std::vector<Citation> citations(const Law& law, std::vector<CitationId> ids) {
  // Each once, where it is named first.
  std::size_t kept = 0;
  for (std::size_t i = 0; i < ids.size(); ++i) {
    if (ids[i] >= law.citations.size()) continue;
    const auto same = [&](CitationId id) { return law.citation(id) == law.citation(ids[i]); };
    if (std::none_of(ids.begin(), ids.begin() + static_cast<std::ptrdiff_t>(kept), same))
      ids[kept++] = ids[i];
  }
  std::vector<Citation> out;
  out.reserve(kept);
  for (std::size_t i = 0; i < kept; ++i) out.push_back(law.citation(ids[i]));
  return out;
}

void verdict_into(Finding& f, const figure::Evaluation& e, const BoundRule& bound, Subject subject,
                  const Verdict& verdict) {
  f.rule = bound.id();
  const bool advised = bound.setting->force == RuleSetting::Force::advised;
  f.kind = verdict.outcome == Outcome::undetermined ? Finding::Kind::undetermined
           : advised                                ? Finding::Kind::advised
                                                    : Finding::Kind::violates;
  f.subject = installation::id_of(e.model, e.in.sections, subject);
  f.at = subject;
  if (verdict.outcome != Outcome::undetermined) {
    f.has_measured = verdict.has_measured;
    f.has_limit = verdict.has_limit;
    f.measured = verdict.measured.amount;
    f.limit = verdict.limit.amount;
  }
  const Subject at = f.has_measured ? verdict.measured.place : subject;
  f.place = place_of(e.model, installation::offset_of(e.model, e.in.sections, at));
}

Finding finding_of(const figure::Evaluation& e, const BoundRule& bound, Subject subject,
                   const Verdict& verdict, figure::Working& working, CitedLists& lists) {
  Finding f;
  verdict_into(f, e, bound, subject, verdict);
  f.where = installation::words_of(e.model, e.in.sections, subject);
  if (verdict.outcome == Outcome::undetermined) {
    f.needs = needs_of(e, verdict.missing);
  } else {
    f.cure = bound.program != nullptr ? bound.program->cure(verdict.message) : bound.rule->cure;
  }
  show_amounts(f);
  f.message = message_of(e, *bound.rule, subject, verdict, f, working);

  std::vector<CitationId> cites = bound.setting->cites;
  cites.insert(cites.end(), working.cites.begin(), working.cites.end());
  if (f.has_measured) cites.push_back(verdict.measured.cite);
  if (f.has_limit) cites.push_back(verdict.limit.cite);
  const auto [list, is_new] = lists.try_emplace(cites);
  if (is_new) list->second = citations(e.law, std::move(cites));
  f.cites = list->second;

  f.working.assign(std::make_move_iterator(working.lines.begin()),
                   std::make_move_iterator(working.lines.end()));
  if (bound.requirement != nullptr && f.working.empty()) {
    const std::string given = ruleset::words_of(bound.requirement->given);
    if (!given.empty()) f.working.push_back("asked where " + given);
    f.working.push_back("must hold: " + ruleset::words_of(bound.requirement->must));
  }
  if (f.has_measured && f.has_limit && f.working.empty()) {
    f.working.push_back(fmt::format(FMT_COMPILE("{} against {}"), text_of(f.measured), text_of(f.limit)));
  }
  return f;
}

}  // namespace raceward::checking
