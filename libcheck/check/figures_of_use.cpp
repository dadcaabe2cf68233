#include "check/figures_of_use.hpp"

#include <algorithm>

#include "check/unread.hpp"
#include "raceward/engine.hpp"

namespace raceward::checking {

namespace {

void add_figures(const Condition& condition, std::vector<figure::Id>& to) {
  for (const Condition& part : condition.parts) add_figures(part, to);
  if (condition.kind != Condition::Kind::figure) return;
  if (const figure::Info* const found = figure::find(condition.name)) to.push_back(found->id);
}

std::vector<figure::Id> figures_of(const Rule& rule) {
  std::vector<figure::Id> out;
  for (const std::string_view name : rule.figures)
    if (const figure::Info* const found = figure::find(name)) out.push_back(found->id);
  return out;
}

bool judges(const Rule& rule, SubjectKind subject) {
  return rule.subject == subject || (rule.subject == SubjectKind::place && is_place(subject));
}

constexpr std::size_t at(figure::Id id) { return static_cast<std::size_t>(id); }

}  // namespace

FiguresOfUse::FiguresOfUse(figure::Evaluation& e, const std::vector<BoundRule>& rules) {
  const std::size_t count = figure::all().size();
  compared_.assign(count, false);
  for (const Rule* const rule : shipped_rules())
    for (const figure::Id id : figures_of(*rule)) compared_[at(id)] = true;
  for (const BoundRule& bound : rules) {
    if (bound.rule == nullptr) continue;
    Asked asked{&bound, figures_of(*bound.rule), nullptr};
    if (bound.requirement != nullptr) {
      add_figures(bound.requirement->given, asked.figures);
      add_figures(bound.requirement->must, asked.figures);
    }
    for (const figure::Id id : asked.figures) compared_[at(id)] = true;
    if (!bound.in_force() || !bound.fault.empty()) continue;
    const bool always = bound.rule->compiled != nullptr || !e.law.scopes.empty();
    if (!always) asked.asking = std::make_unique<Asking>(e, bound, cited_, Detail::counts);
    rules_.push_back(std::move(asked));
  }
  readers_.resize(count);
  for (const figure::Info& reader : figure::all()) {
    for (const figure::Id id : figures_read_by(reader.id))
      if (id != reader.id && !compared_[at(id)]) readers_[at(id)].push_back(reader.id);
  }
}

const std::vector<bool>& FiguresOfUse::of(Subject subject) {
  of_use_.assign(compared_.size(), false);
  for (Asked& rule : rules_) {
    if (!judges(*rule.bound->rule, subject.kind)) continue;
    if (rule.asking != nullptr && rule.asking->outcome_of(subject) == Outcome::not_applicable) continue;
    for (const figure::Id id : rule.figures) of_use_[at(id)] = true;
  }
  for (const figure::Info& info : figure::all()) {
    if (compared_[at(info.id)]) continue;
    const auto& readers = readers_[at(info.id)];
    // Readers of another kind of subject say nothing of this one.
    const auto of_kind = [&](figure::Id id) {
      return compared_[at(id)] && speaks_of(figure::info(id), subject.kind);
    };
    const bool any = std::ranges::any_of(readers, of_kind);
    of_use_[at(info.id)] =
        !any || std::ranges::any_of(readers, [&](figure::Id id) { return of_kind(id) && of_use_[at(id)]; });
  }
  return of_use_;
}

}  // namespace raceward::checking
