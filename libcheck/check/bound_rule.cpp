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
  if (rule.judge == nullptr && rule.compiled == nullptr && bound.requirement == nullptr &&
      bound.program == nullptr)
    return "it has no function that judges";
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
    bound.figures.push_back({found->id, figure::told_in(law, found->unit), speaks_of(*found, rule.subject)});
  }
  if (bound.program != nullptr) return {};  // it was bound when it was made
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

/// True where some condition of the law puts the rule in force.
bool put_in_force(const Law& law, std::string_view rule) {
  const auto in_force = [&](const RuleSetting& r) {
    return r.rule == rule && r.force != RuleSetting::Force::off;
  };
  return std::any_of(law.scopes.begin(), law.scopes.end(), [&](const Scope& scope) {
    const auto& adopted = scope.adopts ? scope.adopts->rules : scope.rules;
    return std::any_of(adopted.begin(), adopted.end(), in_force);
  });
}

struct TextsOfRequirement {
  std::string_view message[1], reason[1];
  Rule rule;
};

/// What the law requires itself, as a rule.
BoundRule bound_requirement(const Law& law, const Requirement& r) {
  auto texts = std::make_shared<TextsOfRequirement>();
  texts->message[0] = r.message;
  texts->reason[0] = "what it is given for does not hold there";
  texts->rule = Rule{.id = r.id,
                     .title = r.title,
                     .why = r.why,
                     .subject = r.subject,
                     .figures = {},
                     .parameters = {},
                     .messages = texts->message,
                     .reasons = texts->reason,
                     .cure = r.cure};
  BoundRule bound;
  bound.own = std::shared_ptr<const Rule>(texts, &texts->rule);
  bound.rule = bound.own.get();
  bound.requirement = &r;
  bound.setting = law.rule(r.id);
  bound.sometimes = bound.setting != nullptr && put_in_force(law, r.id);
  return bound;
}

/// A rule that the law brings as data. One that is asked only where another law is adopted is made under
/// that.
BoundRule bound_data_rule(const Law& law, const DataRule& rule,
                          const std::shared_ptr<const facts::Shapes>& shapes) {
  BoundRule bound;
  bound.setting = law.rule(rule.id);
  bound.sometimes = bound.setting != nullptr && put_in_force(law, rule.id);
  bound.program = ruleset::DataProgram::make(rule, law, shapes, bound.fault);
  for (const Scope& scope : law.scopes) {
    if (bound.program != nullptr || !scope.adopts) continue;
    for (const DataRule& other : scope.adopts->data_rules) {
      if (other.id == rule.id)
        bound.program = ruleset::DataProgram::make(other, *scope.adopts, shapes, bound.fault);
    }
  }
  if (bound.program == nullptr) return bound;
  bound.fault.clear();
  bound.rule = &bound.program->rule();
  if (bound.in_force()) bound.fault = bind(bound, law);
  return bound;
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
    bound.sometimes = bound.setting != nullptr && put_in_force(law, rule->id);
    if (bound.in_force()) bound.fault = bind(bound, law);
  }
  const auto put = [&](std::string_view id, const auto& make) {
    const auto at = std::lower_bound(out.begin(), out.end(), id,
                                     [](const BoundRule& b, std::string_view i) { return b.id() < i; });
    if (at != out.end() && at->id() == id)
      at->fault = "the ruleset brings a rule of this name itself; one of the two needs another id";
    else if (BoundRule made = make(); made.rule != nullptr || made.setting != nullptr)
      out.insert(at, std::move(made));
  };
  for (const Requirement& r : law.requirements) put(r.id, [&] { return bound_requirement(law, r); });
  if (!law.data_rules.empty()) {
    const auto shapes = std::make_shared<const facts::Shapes>();
    for (const DataRule& r : law.data_rules) put(r.id, [&] { return bound_data_rule(law, r, shapes); });
  }
  const std::size_t known = out.size();
  std::vector<std::string_view> ids;
  for (const BoundRule& bound : out) ids.push_back(bound.id());
  for (const RuleSetting& setting : law.rules) {
    const auto end = out.begin() + static_cast<std::ptrdiff_t>(known);
    const auto at = std::lower_bound(out.begin(), end, setting.rule,
                                     [](const BoundRule& b, std::string_view id) { return b.id() < id; });
    if (at != end && at->id() == setting.rule) continue;
    BoundRule bound;
    bound.setting = &setting;
    bound.fault = "the ruleset uses it, and there is no such rule here, nor in a module that was named" +
                  ruleset::suggestion(setting.rule, ids);
    out.push_back(std::move(bound));
  }
  std::stable_sort(out.begin(), out.end(),
                   [](const BoundRule& a, const BoundRule& b) { return a.id() < b.id(); });
  return out;
}

}  // namespace raceward::checking
