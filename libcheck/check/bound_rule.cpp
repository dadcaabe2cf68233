#include "check/bound_rule.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "ruleset/text_file.hpp"

namespace raceward::checking {

namespace {

/// Some subject of the rule can be one that the figure speaks of.
bool can_speak_of(const figure::Info& figure, SubjectKind rule_subject) {
  return speaks_of(figure, rule_subject) || (rule_subject == SubjectKind::place && is_place(figure.subject));
}

std::string bind(BoundRule& bound, const Law& law) {
  const Rule& rule = *bound.rule;
  if (rule.judge == nullptr && rule.compiled == nullptr) return "it has no function that judges";
  if (static_cast<std::uint8_t>(rule.subject) >= subject_kind_count)
    return "it is about an unknown kind of subject";
  for (const std::string_view name : rule.figures) {
    const figure::Info* found = figure::find(name);
    if (found == nullptr) {
      std::vector<std::string_view> names;
      for (const figure::Info& info : figure::all()) names.push_back(info.name);
      return fmt::format("it reads figure {}, which this version does not have{}", name,
                         ruleset::suggestion(name, names));
    }
    if (!can_speak_of(*found, rule.subject)) {
      return fmt::format("it judges each {} and reads figure {} of each {}", name_of(rule.subject), name,
                         name_of(found->subject));
    }
    bound.figures.push_back({found->id, found->unit, speaks_of(*found, rule.subject)});
  }
  for (const std::string_view name : rule.parameters) {
    const Parameter* found = law.parameter(name);
    if (found == nullptr) return fmt::format("it reads parameter {}, which {} does not set", name, law.id);
    if (found->is_word) {
      return fmt::format("it reads parameter {} as a number, and {} sets a word: {}", name, law.id,
                         found->text);
    }
    bound.parameters.push_back(found);
  }
  return {};
}

}  // namespace

bool speaks_of(const figure::Info& figure, SubjectKind subject) {
  return figure.subject == subject || (figure.subject == SubjectKind::place && is_place(subject));
}

std::vector<BoundRule> bind_rules(const Law& law, const std::vector<const Rule*>& rules,
                                  std::vector<const Rule*>& doubles) {
  std::vector<const Rule*> sorted;
  for (const Rule* rule : rules) {
    if (rule != nullptr) sorted.push_back(rule);
  }
  std::stable_sort(sorted.begin(), sorted.end(), [](const Rule* a, const Rule* b) { return a->id < b->id; });

  std::vector<BoundRule> out;
  for (const Rule* rule : sorted) {
    if (!out.empty() && out.back().rule->id == rule->id) {
      if (out.back().rule != rule) doubles.push_back(rule);
      continue;
    }
    BoundRule& bound = out.emplace_back();
    bound.rule = rule;
    bound.setting = law.rule(rule->id);
    if (bound.in_force()) bound.fault = bind(bound, law);
  }
  const std::size_t known = out.size();
  std::vector<std::string_view> ids;
  for (const BoundRule& bound : out) ids.push_back(bound.rule->id);
  for (const RuleSetting& setting : law.rules) {
    const auto end = out.begin() + static_cast<std::ptrdiff_t>(known);
    const auto at = std::lower_bound(out.begin(), end, setting.rule,
                                     [](const BoundRule& b, std::string_view id) { return b.rule->id < id; });
    if (at != end && at->rule->id == setting.rule) continue;
    BoundRule bound;
    bound.setting = &setting;
    bound.fault =
        "the ruleset uses it, and there is no such rule here" + ruleset::suggestion(setting.rule, ids);
    out.push_back(std::move(bound));
  }
  std::stable_sort(out.begin(), out.end(),
                   [](const BoundRule& a, const BoundRule& b) { return a.id() < b.id(); });
  return out;
}

}  // namespace raceward::checking
