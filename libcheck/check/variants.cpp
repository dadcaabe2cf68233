#include "check/variants.hpp"

#include <algorithm>
#include <deque>

namespace raceward::checking {

namespace {

CitationId brought(Law& law, const Law& from, CitationId cite, bool foreign) {
  if (!foreign || cite >= from.citations.size()) return cite;
  law.citations.push_back(from.citations[cite]);
  return static_cast<CitationId>(law.citations.size() - 1);
}

template <class Item, class Name>
void put(std::vector<Item>& sorted, Item item, Name name) {
  const auto at = std::lower_bound(sorted.begin(), sorted.end(), item,
                                   [&](const Item& a, const Item& b) { return name(a) < name(b); });
  if (at != sorted.end() && name(*at) == name(item))
    *at = std::move(item);
  else
    sorted.insert(at, std::move(item));
}

/// The rows of `over` in place of those of the same keys; without those that it removes.
Table amended(const Table& base, const Table& over, Law& law, const Law& from, bool foreign) {
  Table out;
  out.name = over.name;
  out.columns = over.columns;
  out.place = base.columns.empty() ? over.place : base.place;
  const auto find = [](const Table& table, const std::vector<std::string>& keys) {
    const std::vector<std::string_view> views(keys.begin(), keys.end());
    return table.find(views);
  };
  for (std::uint32_t row = 0; row < base.row_count(); ++row) {
    const std::vector<std::string> keys = base.keys(row);
    if (std::any_of(over.removed.begin(), over.removed.end(),
                    [&](const Table::Removed& r) { return r.keys == keys; }))
      continue;
    const std::uint32_t own = find(over, keys);
    if (own == Table::none)
      base.copy_row(row, base.cite(row), out);
    else
      over.copy_row(own, brought(law, from, over.cite(own), foreign), out);
  }
  for (std::uint32_t row = 0; row < over.row_count(); ++row) {
    if (find(base, over.keys(row)) == Table::none)
      over.copy_row(row, brought(law, from, over.cite(row), foreign), out);
  }
  return out;
}

/// A rule that layers write themselves, where a law is adopted in their place that has none of that name.
template <class Item, class Name>
void bring(std::vector<Item>& sorted, const std::vector<Item>& others, std::string_view id, Name name) {
  const auto there = std::ranges::find(others, id, name);
  if (there != others.end() && std::ranges::find(sorted, id, name) == sorted.end()) put(sorted, *there, name);
}

void apply(Law& law, const Law& from, const Scope& scope, bool foreign) {
  for (Parameter p : scope.parameters) {
    p.cite = brought(law, from, p.cite, foreign);
    put(law.parameters, std::move(p), [](const Parameter& x) { return std::string_view(x.name); });
  }
  for (RuleSetting r : scope.rules) {
    for (CitationId& cite : r.cites) cite = brought(law, from, cite, foreign);
    if (foreign) {
      bring(law.requirements, from.requirements, r.rule,
            [](const Requirement& x) { return std::string_view(x.id); });
      bring(law.data_rules, from.data_rules, r.rule,
            [](const DataRule& x) { return std::string_view(x.id); });
    }
    put(law.rules, std::move(r), [](const RuleSetting& x) { return std::string_view(x.rule); });
  }
  for (const Table& over : scope.tables) {
    const auto at = std::ranges::find(law.tables, over.name, &Table::name);
    if (at != law.tables.end())
      *at = amended(*at, over, law, from, foreign);
    else
      put(law.tables, amended({}, over, law, from, foreign),
          [](const Table& x) { return std::string_view(x.name); });
  }
  if (!foreign) return;
  for (const DeclaredFact& f : from.facts)
    bring(law.facts, from.facts, f.name, [](const DeclaredFact& x) { return std::string_view(x.name); });
}

}  // namespace

Law law_under(const Law& law, Mask holding) {
  Law out = law;
  bool foreign = false;
  for (std::size_t i = 0; i < law.scopes.size(); ++i) {
    if ((holding & bit(i)) == 0) continue;
    const Scope& scope = law.scopes[i];
    if (scope.adopts) {
      out = *scope.adopts;
      foreign = true;
    } else {
      apply(out, law, scope, foreign);
    }
  }
  out.scopes.clear();
  return out;
}

const Variant& Variants::of(Mask mask) {
  const std::lock_guard lock(guard_);
  std::unique_ptr<Variant>& made = made_[mask];
  if (made) return *made;
  made = std::make_unique<Variant>();
  made->law = law_under(law_, mask);
  made->notes = std::make_shared<figure::LawNotes>(made->law);
  std::vector<const Rule*> rules;
  for (const BoundRule* bound : rules_) {
    if (bound->requirement == nullptr && bound->program == nullptr) rules.push_back(bound->rule);
  }
  std::vector<const Rule*> doubles;
  std::vector<BoundRule> bound = bind_rules(made->law, rules, doubles);
  // Rules that nobody has stand among them; those of the check are wanted, in its order.
  for (const BoundRule* wanted : rules_) {
    const auto at =
        std::find_if(bound.begin(), bound.end(), [&](const BoundRule& b) { return b.id() == wanted->id(); });
    // One that this law lacks, or that does not fit it, is not asked, but has its texts all the same.
    BoundRule& own = made->rules.emplace_back(at == bound.end() || at->rule == nullptr ? *wanted : *at);
    if (at == bound.end()) {
      own.setting = nullptr;
      own.sometimes = false;
    } else if (at->rule == nullptr) {
      own.setting = at->setting;
      own.sometimes = at->sometimes;
      own.fault = at->fault;
    }
  }
  return *made;
}

Mask Variants::relevant(std::size_t rule) const {
  Mask out = 0;
  for (std::size_t i = 0; i < law_.scopes.size(); ++i) {
    const Scope& scope = law_.scopes[i];
    const bool named = std::any_of(scope.rules.begin(), scope.rules.end(),
                                   [&](const RuleSetting& r) { return r.rule == rules_[rule]->id(); });
    if (named || scope.adopts || !scope.parameters.empty() || !scope.tables.empty()) out |= bit(i);
  }
  return out;
}

ScopedAsking::Under::Under(const Installation& installation, const Variant& v,
                           const std::vector<const BoundRule*>& rules, Detail detail)
    : variant(v), evaluation(installation, v.law, v.notes) {
  for (std::size_t i = 0; i < rules.size(); ++i) askings.emplace_back(evaluation, v.rules[i], cited, detail);
}

ScopedAsking::ScopedAsking(const Installation& installation, Variants& variants, figure::Evaluation& e,
                           std::deque<Asking>& plain, Detail detail)
    : in_(installation),
      variants_(variants),
      e_(e),
      plain_(plain),
      detail_(detail),
      states_(e, variants.law()) {
  for (std::size_t i = 0; i < variants.rules().size(); ++i) relevant_.push_back(variants.relevant(i));
}

ScopedAsking::Under& ScopedAsking::under(Mask mask) {
  std::unique_ptr<Under>& made = under_[mask];
  if (!made) made = std::make_unique<Under>(in_, variants_.of(mask), variants_.rules(), detail_);
  return *made;
}

void ScopedAsking::ask_under(Mask mask, std::size_t rule, Subject subject, std::size_t position,
                             std::vector<Finding>* findings) {
  if (mask == 0 && variants_.rules()[rule]->setting->force != RuleSetting::Force::off)
    return plain_[rule].ask({&subject, 1}, position, findings);
  Under& u = under(mask);
  const BoundRule& bound = u.variant.rules[rule];
  if (!bound.in_force()) return plain_[rule].off_here();
  if (!bound.fault.empty()) {
    const figure::Value lacks = e_.lacks(subject, bound.id(), "", figure::ruleset_author, bound.fault);
    return plain_[rule].depends_on(subject, lacks.missing, findings);
  }
  u.askings[rule].ask({&subject, 1}, position, findings);
}

Outcome ScopedAsking::outcome_under(Mask mask, std::size_t rule, Subject subject) {
  Under& u = under(mask);
  const BoundRule& bound = u.variant.rules[rule];
  if (!bound.in_force()) return Outcome::not_applicable;
  if (!bound.fault.empty()) return Outcome::undetermined;
  return u.askings[rule].outcome_of(subject);
}

bool ScopedAsking::advised_under(Mask mask, std::size_t rule) {
  return under(mask).variant.rules[rule].setting->force == RuleSetting::Force::advised;
}

void ScopedAsking::ask(std::size_t rule, Subject subject, std::size_t position,
                       std::vector<Finding>* findings) {
  if (relevant_[rule] == 0) return ask_under(0, rule, subject, position, findings);
  const ScopeStates::State& state = states_.of(subject);
  const Mask holds = state.holds & relevant_[rule], unknown = state.unknown & relevant_[rule];
  if (unknown == 0) return ask_under(holds, rule, subject, position, findings);
  const MissingId missing = states_.missing(state, relevant_[rule]);
  const auto ways = states_.ways(state, relevant_[rule]);
  if (!ways) return plain_[rule].depends_on(subject, missing, findings);
  // All ways that it can be: where they lead to the same, nothing is missing.
  bool violates = false, advises = false, sound = false, undetermined = false;
  Mask best = holds;
  for (const Mask with : *ways) {
    const Outcome outcome = outcome_under(with, rule, subject);
    const bool advised = outcome == Outcome::violates && advised_under(with, rule);
    violates = violates || (outcome == Outcome::violates && !advised);
    advises = advises || advised;
    undetermined = undetermined || outcome == Outcome::undetermined;
    sound = sound || outcome == Outcome::complies || outcome == Outcome::not_applicable;
    if (outcome == Outcome::complies || outcome == Outcome::violates) best = with;
  }
  if (violates + advises + sound + undetermined > 1)
    return plain_[rule].depends_on(subject, missing, findings);
  ask_under(best, rule, subject, position, findings);
}

void ScopedAsking::use_words() {
  detail_ = Detail::all;
  for (auto& [mask, u] : under_) {
    for (Asking& asking : u->askings) asking.use_words();
  }
}

void ScopedAsking::forget() {
  states_.forget();
  for (auto& [mask, u] : under_) u->evaluation.forget();
}

void ScopedAsking::add_to(std::vector<Tally>& tallies) {
  for (const auto& [mask, u] : under_) {
    for (std::size_t rule = 0; rule < tallies.size(); ++rule)
      tallies[rule].add(u->askings[rule].take_tally());
  }
}

}  // namespace raceward::checking
