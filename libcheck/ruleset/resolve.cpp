// Layers -> Law: each layer over what the layers below it made; sources, units, tables and names looked up.
#include <algorithm>
#include <span>

#include "ruleset/data_program.hpp"
#include "ruleset/kept_citations.hpp"
#include "ruleset/resolver.hpp"
#include "ruleset/ruleset.hpp"
#include "ruleset/scopes.hpp"

namespace raceward::ruleset {
namespace {

template <class Item>
std::vector<Item> sorted(std::map<std::string, Item, std::less<>>& items) {
  std::vector<Item> out;
  out.reserve(items.size());
  for (auto& [name, item] : items) out.push_back(std::move(item));
  return out;
}

/// What another law brings that this one lacks, into its place.
template <class Item, class Name>
void bring(std::vector<Item>& own, const std::vector<Item>& others, Name name) {
  const auto before = [&](const Item& a, const Item& b) { return name(a) < name(b); };
  for (const Item& other : others) {
    const auto at = std::lower_bound(own.begin(), own.end(), other, before);
    if (at == own.end() || name(*at) != name(other)) own.insert(at, other);
  }
}

/// A rule that is asked only where another ruleset is adopted stands in this one as well: it is off.
void with_rules_of(Law& law, const Law* adopted) {
  if (adopted == nullptr) return;
  std::vector<RuleSetting> off = adopted->rules;
  for (RuleSetting& r : off) r = {r.rule, RuleSetting::Force::off, {}, r.place, 0};
  bring(law.rules, off, [](const RuleSetting& r) -> const std::string& { return r.rule; });
  std::vector<DataRule> data = adopted->data_rules;
  for (DataRule& r : data) r.layer = 0;
  bring(law.data_rules, data, [](const DataRule& r) -> const std::string& { return r.id; });
  std::vector<Requirement> required = adopted->requirements;
  for (Requirement& r : required) r.layer = 0;
  bring(law.requirements, required, [](const Requirement& r) -> const std::string& { return r.id; });
  bring(law.facts, adopted->facts, [](const DeclaredFact& f) -> const std::string& { return f.name; });
}

/// What a lower layer wrote must still be right under what higher ones, or conditions, made of parameters.
void data_rules_fit(const Law& law, const facts::Shapes& shapes, Problems& problems) {
  for (const DataRule& rule : law.data_rules) {
    const Names names = names_for(rule, law, shapes);
    for (const DataRuleFault& each : faults_of(rule, names)) {
      problems.add(rule.place, "rule " + quoted(rule.id) + " does not fit the parameters of " + law.id +
                                   ": " + each.fault.message);
    }
    for (const Scope& scope : law.scopes) {
      if (scope.parameters.empty()) continue;
      Names there = names;
      there.parameter = [&](std::string_view name) {
        const auto own = std::find_if(scope.parameters.begin(), scope.parameters.end(),
                                      [&](const Parameter& p) { return p.name == name; });
        return own != scope.parameters.end() ? &*own : law.parameter(name);
      };
      for (const DataRuleFault& each : faults_of(rule, there)) {
        problems.add(scope.place, "rule " + quoted(rule.id) +
                                      " does not fit the parameters set here: " + each.fault.message);
      }
    }
  }
}

bool is_dated(const Layer& layer) {
  return !layer.effective_from.text.empty() || !layer.effective_before.text.empty();
}

/// A condition under which another ruleset is adopted, and behind it those of that ruleset, each within it.
void put_with_conditions(Scope scope, Law& law, std::vector<Scope>& to) {
  const std::shared_ptr<const Law> adopted = scope.adopts;
  const Condition when = scope.when;
  const LayerId layer = scope.layer;
  to.push_back(std::move(scope));
  if (adopted == nullptr || adopted->scopes.empty()) return;
  const auto shift = static_cast<CitationId>(law.citations.size());
  law.citations.insert(law.citations.end(), adopted->citations.begin(), adopted->citations.end());
  for (Scope inner : adopted->scopes) {
    each_citation(inner, [&](CitationId& id) { id += id == no_citation ? 0 : shift; });
    Condition both;
    both.parts = {when, std::move(inner.when)};
    inner.when = std::move(both);
    inner.words = words_of(inner.when);
    inner.layer = layer;
    to.push_back(std::move(inner));
  }
}

void with_conditions_of_adopted(Law& law, Problems& problems) {
  std::vector<Scope> scopes;
  for (Scope& scope : law.scopes) {
    const Place place = scope.place;
    put_with_conditions(std::move(scope), law, scopes);
    if (scopes.size() <= most_scopes) continue;
    return problems.add(place, too_many_scopes());
  }
  law.scopes = std::move(scopes);
}

std::shared_ptr<const Law> resolved(std::span<const Link> chain, const Adopt& adopt,
                                    const facts::Shapes& shapes, const Shelf& shipped, Problems& problems,
                                    std::vector<Remark>& remarks) {
  Drawn drawn;
  Citer citer(problems);
  Law law;
  for (const Link& link : chain) {
    const auto id = static_cast<LayerId>(law.layers.size());
    law.layers.push_back(link.layer.id.text);
    const std::size_t before = problems.size();
    resolve_layer(link, id, {drawn, citer, problems, adopt, shapes, shipped, remarks, chain.front().shipped});
    // What is amiss below would be said again of all that stands upon it.
    if (problems.size() != before) break;
  }
  if (!problems.empty() || chain.empty()) return nullptr;
  const Layer& last = chain.back().layer;
  law.id = last.id.text;
  law.title = last.title.text;
  for (const Link& link : chain) {
    const Layer& layer = link.layer;
    if (layer.units.written) law.metric = layer.units.text == "metric";
    if (is_dated(layer))
      law.periods.push_back({layer.id.text, layer.effective_from.text, layer.effective_before.text});
  }
  law.parameters = sorted(drawn.parameters);
  law.tables = sorted(drawn.tables);
  law.rules = sorted(drawn.rules);
  law.facts = sorted(drawn.facts);
  law.requirements = sorted(drawn.requirements);
  law.data_rules = sorted(drawn.data_rules);
  law.scopes = std::move(drawn.scopes);
  data_rules_fit(law, shapes, problems);
  if (!problems.empty()) return nullptr;
  for (const Scope& scope : law.scopes) with_rules_of(law, scope.adopts.get());
  Kept(law, citer.citations()).keep();
  with_conditions_of_adopted(law, problems);
  if (!problems.empty()) return nullptr;
  law.parameter_slots = NameSlots(law.parameters);
  law.table_slots = NameSlots(law.tables);
  return std::make_shared<const Law>(std::move(law));
}

/// Where the permit is older or younger than the layer, what it stands upon holds, with its own conditions.
std::shared_ptr<const Law> within_dates(const Law& law, std::shared_ptr<const Law> below, const Link& last,
                                        Problems& problems) {
  if (below == nullptr) return nullptr;
  Law with = law;
  Scope dated;
  dated.when = outside_of(last.layer.effective_from.text, last.layer.effective_before.text);
  dated.words = words_of(dated.when);
  dated.place = last.file.at(last.layer.id.offset);
  dated.layer = static_cast<LayerId>(law.layers.size() - 1);
  dated.adopts = below;
  with_rules_of(with, below.get());
  put_with_conditions(std::move(dated), with, with.scopes);
  if (with.scopes.size() > most_scopes) {
    problems.add(last.file.at(last.layer.id.offset), too_many_scopes());
    return nullptr;
  }
  return std::make_shared<const Law>(std::move(with));
}

}  // namespace

LoadedLaw load_layer(const std::string& path, const Shelf& own, const Shelf& shipped) {
  Problems problems;
  std::vector<Remark> remarks, aside;  // aside: said again of what was said already, or of another ruleset
  const facts::Shapes shapes;
  const std::vector<Link> chain = read_chain(path, own, shipped, problems);
  const Adopt adopt = [&](const Link& link, const Field& named) -> std::shared_ptr<const Law> {
    if (named.text.empty()) return nullptr;
    const auto problem = [&](std::string message) {
      problems.add(link.file, named.offset, std::move(message));
    };
    const auto shipped_path = shipped.layers.find(named.text);
    const bool is_id = shipped_path != shipped.layers.end();
    if (!is_id && is_word(named.text)) {
      problem("no ruleset " + quoted(named.text) + " is shipped; the path of a file holds a dot or a slash");
      return nullptr;
    }
    if (!is_id && same_path(path_from(link.folder, named.text), link.file.name())) {
      problem("the layer adopts itself; name what holds in its place");
      return nullptr;
    }
    const Shelf& shelf = is_id ? shipped : own;
    const std::vector<Link> other = read_chain(
        is_id ? shipped_path->second : path_from(link.folder, named.text), shelf, shipped, problems);
    const Adopt none = [&](const Link&, const Field&) {
      problem("what is adopted adopts another ruleset itself");
      return std::shared_ptr<const Law>{};
    };
    return resolved(other, none, shapes, shipped, problems, aside);
  };
  std::shared_ptr<const Law> law = resolved(chain, adopt, shapes, shipped, problems, remarks);
  if (law && chain.size() > 1 && is_dated(chain.back().layer)) {
    const std::span<const Link> below(chain.data(), chain.size() - 1);
    law =
        within_dates(*law, resolved(below, adopt, shapes, shipped, problems, aside), chain.back(), problems);
  }
  if (!problems.empty()) return {nullptr, std::move(problems).sorted()};
  return {std::move(law), {}, std::move(remarks)};
}

}  // namespace raceward::ruleset
