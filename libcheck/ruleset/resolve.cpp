// Layers -> Law: each layer over what the layers below it made; sources, units, tables and names looked up.
#include <algorithm>
#include <deque>
#include <functional>
#include <map>
#include <memory>
#include <span>

#include "ruleset/amend_table.hpp"
#include "ruleset/chain.hpp"
#include "ruleset/citer.hpp"
#include "ruleset/conditions.hpp"
#include "ruleset/kept_citations.hpp"
#include "ruleset/read_table.hpp"
#include "ruleset/ruleset.hpp"
#include "ruleset/values.hpp"

namespace raceward::ruleset {
namespace {

using Force = RuleSetting::Force;

std::optional<Force> force_of(std::string_view text) {
  if (text == "required") return Force::required;
  if (text == "advised") return Force::advised;
  if (text == "off") return Force::off;
  return std::nullopt;
}

/// A path that cannot leave the layer's folder.
bool stays_inside(std::string_view path) {
  if (path.empty() || path.front() == '/' || path.find('\\') != std::string_view::npos ||
      path.find(':') != std::string_view::npos)
    return false;
  for (std::size_t at = 0; at <= path.size();) {
    const std::size_t end = std::min(path.find('/', at), path.size());
    const std::string_view part = path.substr(at, end - at);
    if (part.empty() || part == "..") return false;
    at = end + 1;
  }
  return true;
}

/// What the layers below made so far, by name.
struct Drawn {
  std::map<std::string, Parameter, std::less<>> parameters;
  std::map<std::string, Table, std::less<>> tables;
  std::map<std::string, RuleSetting, std::less<>> rules;
  DeclaredFacts facts;
  std::map<std::string, Requirement, std::less<>> requirements;
  std::vector<Scope> scopes;
};

/// They are bits of a number; one is left for the dates of the ruleset.
constexpr std::size_t most_scopes = 62;

/// Stands for the layer while the changes of a condition are told from what holds without it.
constexpr LayerId conditional = no_citation;

/// The rows that a condition changed, as those of `layer`, and those that it removed.
Table only_changed(const Table& amended, LayerId layer) {
  Table out;
  out.name = amended.name;
  out.columns = amended.columns;
  out.place = amended.place;
  for (const Table::Removed& r : amended.removed) {
    if (r.layer == conditional) out.removed.push_back({r.keys, r.cite, layer});
  }
  for (std::uint32_t row = 0; row < amended.row_count(); ++row) {
    if (amended.layer(row) == conditional && amended.copy_row(row, amended.cite(row), out))
      out.row_layers.push_back(layer);
  }
  return out;
}

/// The same table without the rows that `over` sets or removes.
Table without_rows(const Table& table, const Table& over, LayerId by) {
  Table out;
  out.name = table.name;
  out.columns = table.columns;
  out.place = table.place;
  const auto covered = [&](const std::vector<std::string>& keys) {
    const std::vector<std::string_view> views(keys.begin(), keys.end());
    const std::uint32_t row = over.find(views);
    return row == Table::none || over.layer(row) == by;
  };
  for (const Table::Removed& r : table.removed) {
    if (!covered(r.keys)) out.removed.push_back(r);
  }
  for (std::uint32_t row = 0; row < table.row_count(); ++row) {
    if (!covered(table.keys(row)) && table.copy_row(row, table.cite(row), out))
      out.row_layers.push_back(table.layer(row));
  }
  return out;
}

/// Gives the law of that id or path, or nothing and says why.
using Adopt = std::function<std::shared_ptr<const Law>(const Link&, const Field&)>;

/// One layer, set over the others.
class Resolver {
 public:
  Resolver(const Link& link, LayerId id, Drawn& drawn, Citer& citer, Problems& problems, const Adopt& adopt)
      : link_(link),
        file_(link.file),
        layer_(link.layer),
        id_(id),
        drawn_(drawn),
        citer_(citer),
        problems_(problems),
        adopt_(adopt) {}

  void resolve() {
    word(layer_.id, "id");
    for (const Field* date : {&layer_.effective_from, &layer_.effective_before}) {
      if (!date->written || is_date(date->text)) continue;
      problem(date->offset, quoted(date->text) + " is no date; write year-month-day, such as 2024-01-01");
    }
    if (!amends()) {
      for (const DocumentFields& d : layer_.documents) no_change(d.change);
    }
    citer_.open(file_, layer_);
    for (const ParameterFields& p : layer_.parameters) parameter(p);
    for (const TableFields& t : layer_.tables) table(t);
    for (const UsesFields& u : layer_.uses) uses(u);
    overrule();
    for (const FactFields& f : layer_.facts) fact(f);
    for (const RequiresFields& r : layer_.requirements) requirement(r);
    const std::size_t below = drawn_.scopes.size();
    for (const WhereFields& w : layer_.wheres) {
      if (drawn_.scopes.size() < most_scopes)
        where(w);
      else
        problem(w.offset, "more than " + std::to_string(most_scopes) + " conditions in one ruleset");
    }
    contradictions(below);
  }

 private:
  enum class Change : char { amend, add, replace, faulty };

  [[nodiscard]] bool amends() const { return layer_.base.written || id_ == conditional; }

  void problem(std::size_t offset, std::string message) { problems_.add(file_, offset, std::move(message)); }

  bool word(const Field& name, std::string_view what) {
    if (name.text.empty()) return false;  // said when it was read
    if (is_word(name.text)) return true;
    problem(name.offset, std::string(what) + " " + quoted(name.text) +
                             " is no name; write small letters, digits and hyphens");
    return false;
  }

  bool first(std::map<std::string_view, std::size_t>& seen, const Field& name, std::string_view what) {
    const auto [at, is_new] = seen.emplace(name.text, name.offset);
    if (is_new) return true;
    problem(name.offset, std::string(what) + " " + quoted(name.text) + " stands in line " +
                             std::to_string(file_.at(at->second).line) + " already");
    return false;
  }

  void no_change(const Field& change) {
    if (change.written)
      problem(change.offset, "a layer without base has nothing to change; leave change out");
  }

  /// What is to be done to a name of the base, once it is clear that the base has it, or has it not.
  template <class Known>
  Change change_of(const Field& change, const Field& name, std::string_view what, const Known& known,
                   bool can_replace) {
    if (!amends()) {
      no_change(change);
      return change.written ? Change::faulty : Change::add;
    }
    const bool is_new = change.text == "new", replaces = can_replace && change.text == "replace";
    if (change.written && !is_new && !replaces) {
      problem(change.offset, "change " + quoted(change.text) + " is not known here; write " +
                                 (can_replace ? "new or replace" : "new") + ", or leave it out");
      return Change::faulty;
    }
    const bool has = known.count(name.text) != 0;
    if (has && is_new) {
      problem(change.offset, "the base has " + std::string(what) + " " + quoted(name.text) +
                                 "; leave change out to amend it");
    } else if (!has && !is_new) {
      std::vector<std::string_view> names;
      for (const auto& [other, item] : known) names.push_back(other);
      problem(name.offset, "the base has no " + std::string(what) + " " + quoted(name.text) +
                               suggestion(name.text, names) + "; say change=\"new\" where it is new");
    } else {
      return is_new ? Change::add : replaces ? Change::replace : Change::amend;
    }
    return Change::faulty;
  }

  void parameter(const ParameterFields& p) {
    if (!word(p.name, "parameter") || !first(names_, p.name, "name")) return;
    const Change change = change_of(p.change, p.name, "parameter", drawn_.parameters, false);
    if (amends() && change == Change::add && drawn_.tables.count(p.name.text) != 0) {
      return problem(p.name.offset, "name " + quoted(p.name.text) + " is that of a table of the base");
    }
    Parameter out;
    out.name = p.name.text;
    out.layer = id_;
    out.place = file_.at(p.name.offset);
    out.is_word = !p.value.written;
    out.text = p.value.written ? p.value.text : p.text.text;
    if (p.value.written && !p.value.text.empty()) {
      const Parsed<Amount> amount = parse_value(p.value.text);
      if (amount && below_zero(*amount)) {
        problem(p.value.offset, "value " + quoted(p.value.text) + " is below zero");
      } else if (amount) {
        out.value = *amount;
      } else {
        problem(p.value.offset, "value " + quoted(p.value.text) + ": " + amount.error().what);
      }
    }
    out.cite = p.cite.basis.text.empty() ? no_citation : citer_.cite(file_, p.cite, p.name.offset);
    if (change == Change::amend) {
      const Parameter& base = drawn_.parameters.find(out.name)->second;
      if (!may_replace(p, out, base)) return;
      if (base.text != out.text) out.replaces = base.text;
    }
    if (change != Change::faulty) drawn_.parameters[out.name] = std::move(out);
  }

  bool may_replace(const ParameterFields& p, const Parameter& own, const Parameter& base) {
    const std::size_t at = own.is_word ? p.text.offset : p.value.offset;
    if (own.is_word != base.is_word) {
      problem(at, "parameter " + quoted(own.name) +
                      (base.is_word ? " is a word in the base; write text="
                                    : " is a number in the base; write value=") +
                      quoted(base.text) + " or the like");
      return false;
    }
    if (!own.is_word && dimension_of(own.value.unit) != dimension_of(base.value.unit)) {
      problem(at, "parameter " + quoted(own.name) + " cannot be " + quoted(own.text) +
                      "; in the base it is " + quoted(base.text));
      return false;
    }
    const bool same_value = own.is_word ? own.text == base.text : own.value.count == base.value.count;
    if (same_value && citer_.same(own.cite, base.cite)) {
      problem(p.name.offset, "parameter " + quoted(own.name) + " is as in the base; leave it out");
      return false;
    }
    return true;
  }

  void table(const TableFields& t) {
    if (!word(t.name, "table") || !first(names_, t.name, "name") || t.file.text.empty()) return;
    const Change change = change_of(t.change, t.name, "table", drawn_.tables, true);
    if (change == Change::faulty) return;
    if (amends() && change == Change::add && drawn_.parameters.count(t.name.text) != 0) {
      return problem(t.name.offset, "name " + quoted(t.name.text) + " is that of a parameter of the base");
    }
    if (!stays_inside(t.file.text)) {
      problem(t.file.offset,
              "file " + quoted(t.file.text) + " leads out of the layer's folder; name a file in it");
      return;
    }
    std::optional<std::string> bytes = (*link_.read)(link_.folder + t.file.text);
    if (!bytes) {
      problem(t.file.offset,
              "file " + quoted(t.file.text) + " cannot be read; it should stand beside the layer");
      return;
    }
    // The byte order mark that some editors write is no part of the first line.
    if (bytes->starts_with("\xef\xbb\xbf")) bytes->erase(0, 3);
    const TextFile file(link_.shown + link_.folder + t.file.text, std::move(*bytes));
    std::optional<TableFile> own = read_table(file, citer_, problems_);
    if (!own) return;
    if (own->table.name != t.name.text) {
      problem(t.name.offset,
              "the file calls its table " + quoted(own->table.name) + ", the layer " + quoted(t.name.text));
      return;
    }
    if (change == Change::amend) {
      Table& base = drawn_.tables.find(t.name.text)->second;
      base = amended(base, *own, id_, file, citer_, problems_);
      return;
    }
    for (const TableFile::Row& row : own->rows) {
      if (row.change == RowChange::amends) continue;
      problems_.add(file, row.change_at, "the table amends none; leave the column \"change\" out");
      return;
    }
    own->table.row_layers.assign(own->table.row_count(), id_);
    drawn_.tables[t.name.text] = std::move(own->table);
  }

  void uses(const UsesFields& u) {
    if (!word(u.rule, "rule") || !first(rules_, u.rule, "rule")) return;
    const Change change = change_of(u.change, u.rule, "rule", drawn_.rules, false);
    const RuleSetting* const base =
        change == Change::amend ? &drawn_.rules.find(u.rule.text)->second : nullptr;
    RuleSetting out;
    out.rule = u.rule.text;
    out.place = file_.at(u.rule.offset);
    out.layer = id_;
    if (const auto force = force_of(u.force.text)) {
      out.force = *force;
    } else if (u.force.written) {
      problem(u.force.offset, "force " + quoted(u.force.text) +
                                  " is not known; write required, advised or off" +
                                  suggestion(u.force.text, {"required", "advised", "off"}));
    } else if (base != nullptr) {
      out.force = base->force;
    }
    for (const CitationFields& c : u.cites) {
      if (!c.basis.text.empty()) out.cites.push_back(citer_.cite(file_, c, c.basis.offset));
    }
    if (base != nullptr && !may_replace(u, out, *base)) return;
    if (u.cites.empty() && out.force != Force::off) {
      problem(u.rule.offset,
              "rule " + quoted(u.rule.text) + " is asked without a <cite>; say where the requirement stands");
    }
    if (change != Change::faulty) drawn_.rules[out.rule] = std::move(out);
  }

  bool may_replace(const UsesFields& u, const RuleSetting& own, const RuleSetting& base) {
    const bool same_cites =
        std::equal(own.cites.begin(), own.cites.end(), base.cites.begin(), base.cites.end(),
                   [&](CitationId a, CitationId b) { return citer_.same(a, b); });
    const bool same_force = own.force == base.force;
    if (same_force && (u.cites.empty() || same_cites)) {
      problem(u.rule.offset, "rule " + quoted(own.rule) + " is as in the base; leave it out");
      return false;
    }
    if (!u.cites.empty()) return true;
    problem(u.rule.offset,
            "the force of rule " + quoted(own.rule) + " is changed without a <cite>; say on what authority");
    return false;
  }

  void fact(const FactFields& f) {
    if (!first(names_, f.name, "name")) return;
    std::optional<DeclaredFact> fact = declared(f, file_, problems_);
    if (!fact) return;
    fact->layer = id_;
    const auto [at, is_new] = drawn_.facts.try_emplace(fact->name, *fact);
    if (is_new) return;
    const DeclaredFact& other = at->second;
    if (other.of != fact->of || other.kind != fact->kind || other.words != fact->words ||
        dimension_of(other.unit) != dimension_of(fact->unit)) {
      problem(f.name.offset,
              "the base declares fact " + quoted(fact->name) + " as another one; give this one another name");
    } else {
      problem(f.name.offset, "the base declares fact " + quoted(fact->name) + " already; leave it out");
    }
  }

  void requirement(const RequiresFields& r) {
    if (drawn_.requirements.count(r.id.text) == 0 && drawn_.rules.count(r.id.text) != 0 &&
        rules_.count(r.id.text) == 0)
      return problem(r.id.offset, "the base has a rule " + quoted(r.id.text) +
                                      " of another sort; give this one another id");
    UsesFields& u = made_of_requirements_.emplace_back();
    u.rule = r.id;
    u.force = r.force;
    u.change = r.change;
    u.cites = r.cites;
    const std::size_t before = problems_.size();
    uses(u);
    std::optional<Requirement> made = requirement_of(r, file_, drawn_.facts, problems_);
    if (!made || problems_.size() != before) return;
    made->layer = id_;
    drawn_.requirements[made->id] = std::move(*made);
  }

  /// What this layer sets without a condition holds whatever the layers below it say under conditions.
  void overrule() {
    for (Scope& scope : drawn_.scopes) {
      std::erase_if(scope.parameters, [&](const Parameter& p) { return names_.count(p.name) != 0; });
      std::erase_if(scope.rules, [&](const RuleSetting& r) { return rules_.count(r.rule) != 0; });
      for (Table& table : scope.tables) {
        if (names_.count(table.name) != 0)
          table = without_rows(table, drawn_.tables.find(table.name)->second, id_);
      }
    }
  }

  void where(const WhereFields& w) {
    Scope scope;
    scope.place = file_.at(w.offset);
    scope.layer = id_;
    scope.when = condition_of(w, file_, drawn_.facts, problems_);
    scope.words = words_of(scope.when);
    Drawn under = drawn_;
    under.scopes.clear();
    Resolver inner(link_, conditional, under, citer_, problems_, adopt_);
    const auto always = [&](const Field& change) {
      if (!change.written) return true;
      problem(change.offset,
              "under a condition nothing is new or replaced as a whole; set it outside, and here "
              "what is different");
      return false;
    };
    for (const ParameterFields& p : w.parameters) {
      if (always(p.change)) inner.parameter(p);
      const auto found = under.parameters.find(p.name.text);
      if (found == under.parameters.end() || found->second.layer != conditional) continue;
      scope.parameters.push_back(found->second);
      scope.parameters.back().layer = id_;
    }
    for (const TableFields& t : w.tables) {
      if (always(t.change)) inner.table(t);
      const auto found = under.tables.find(t.name.text);
      if (found != under.tables.end()) scope.tables.push_back(only_changed(found->second, id_));
    }
    for (const UsesFields& u : w.uses) {
      if (u.force.text == "advised") problem(u.force.offset, "under a condition a rule is required or off");
      inner.uses(u);
      const auto found = under.rules.find(u.rule.text);
      if (found == under.rules.end() || found->second.layer != conditional) continue;
      scope.rules.push_back(found->second);
      scope.rules.back().layer = id_;
      // Reports of what is not asked elsewhere want a line of it.
      const auto [base, only_here] = drawn_.rules.try_emplace(u.rule.text, scope.rules.back());
      if (only_here) base->second.force = Force::off;
    }
    if (w.adopts.written) {
      if (scope.parameters.size() + scope.tables.size() + scope.rules.size() > 0)
        problem(w.adopts.offset, "write changes of what is adopted in a second <where>, after this one");
      scope.adopts = adopt_(link_, w.adopts);
    } else if (w.parameters.empty() && w.tables.empty() && w.uses.empty()) {
      problem(w.offset, "<where> changes nothing");
    }
    drawn_.scopes.push_back(std::move(scope));
  }

  /// Two conditions of one layer that can hold at once and say different things of one name.
  void contradictions(std::size_t from) {
    for (std::size_t i = from; i < drawn_.scopes.size(); ++i) {
      for (std::size_t j = from; j < i; ++j) {
        const Scope &a = drawn_.scopes[j], &b = drawn_.scopes[i];
        const std::string what = both_set(a, b);
        if (what.empty() || exclude_each_other(a.when, b.when)) continue;
        problems_.add(b.place, "this condition and that of line " + std::to_string(a.place.line) +
                                   " can hold at once and set " + what +
                                   " differently; let them exclude each other");
      }
    }
  }

  static std::string both_set(const Scope& a, const Scope& b) {
    if (a.adopts && b.adopts && a.adopts->id != b.adopts->id) return "the adopted ruleset";
    for (const Parameter& p : a.parameters) {
      for (const Parameter& q : b.parameters) {
        if (p.name == q.name && p.text != q.text) return "parameter " + quoted(p.name);
      }
    }
    for (const RuleSetting& r : a.rules) {
      for (const RuleSetting& s : b.rules) {
        if (r.rule == s.rule && r.force != s.force) return "rule " + quoted(r.rule);
      }
    }
    for (const Table& t : a.tables) {
      for (const Table& u : b.tables) {
        if (t.name != u.name) continue;
        for (std::uint32_t row = 0; row < t.row_count(); ++row) {
          const std::vector<std::string> keys = t.keys(row);
          const std::vector<std::string_view> views(keys.begin(), keys.end());
          const std::uint32_t other = u.find(views);
          if (other != Table::none && !t.same_cells(row, u, other)) return "a row of table " + quoted(t.name);
          if (std::any_of(u.removed.begin(), u.removed.end(),
                          [&](const Table::Removed& r) { return r.keys == keys; }))
            return "a row of table " + quoted(t.name);
        }
      }
    }
    return {};
  }

  const Link& link_;
  const TextFile& file_;
  const Layer& layer_;
  const LayerId id_;
  Drawn& drawn_;
  Citer& citer_;
  Problems& problems_;
  const Adopt& adopt_;
  std::deque<UsesFields> made_of_requirements_;  // names below point into them
  std::map<std::string_view, std::size_t> names_, rules_;
};

template <class Item>
std::vector<Item> sorted(std::map<std::string, Item, std::less<>>& items) {
  std::vector<Item> out;
  out.reserve(items.size());
  for (auto& [name, item] : items) out.push_back(std::move(item));
  return out;
}

}  // namespace

namespace {

/// A rule that is asked only where another ruleset is adopted has its line in this one as well: it is off.
void with_rules_of(Law& law, const Law* adopted) {
  for (const RuleSetting& r : adopted == nullptr ? std::vector<RuleSetting>{} : adopted->rules) {
    if (law.rule(r.rule) != nullptr) continue;
    RuleSetting off{r.rule, Force::off, {}, r.place, 0};
    law.rules.insert(std::upper_bound(law.rules.begin(), law.rules.end(), off,
                                      [](const auto& a, const auto& b) { return a.rule < b.rule; }),
                     std::move(off));
  }
}

std::shared_ptr<const Law> resolved(std::span<const Link> chain, const Adopt& adopt, Problems& problems) {
  Drawn drawn;
  Citer citer(problems);
  Law law;
  for (const Link& link : chain) {
    const auto id = static_cast<LayerId>(law.layers.size());
    law.layers.push_back(link.layer.id.text);
    const std::size_t before = problems.size();
    Resolver(link, id, drawn, citer, problems, adopt).resolve();
    // What is amiss below would be said again of all that stands upon it.
    if (problems.size() != before) break;
  }
  if (!problems.empty() || chain.empty()) return nullptr;
  const Layer& last = chain.back().layer;
  law.id = last.id.text;
  law.title = last.title.text;
  law.effective_from = last.effective_from.text;
  law.effective_before = last.effective_before.text;
  law.parameters = sorted(drawn.parameters);
  law.tables = sorted(drawn.tables);
  law.rules = sorted(drawn.rules);
  law.facts = sorted(drawn.facts);
  law.requirements = sorted(drawn.requirements);
  law.scopes = std::move(drawn.scopes);
  for (const Scope& scope : law.scopes) with_rules_of(law, scope.adopts.get());
  Kept(law, citer.citations()).keep();
  return std::make_shared<const Law>(std::move(law));
}

}  // namespace

LoadedLaw load_layer(const std::string& path, const Shelf& own, const Shelf& shipped) {
  Problems problems;
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
    const Shelf& shelf = is_id ? shipped : own;
    const std::vector<Link> other =
        read_chain(is_id ? shipped_path->second : link.folder + named.text, shelf, shipped, problems);
    const Adopt none = [&](const Link&, const Field&) {
      problem("what is adopted adopts another ruleset itself");
      return std::shared_ptr<const Law>{};
    };
    std::shared_ptr<const Law> law = resolved(other, none, problems);
    if (law && !law->scopes.empty()) problem("what is adopted has conditions of its own");
    return law;
  };
  std::shared_ptr<const Law> law = resolved(chain, adopt, problems);
  if (law && chain.size() > 1 && (!law->effective_from.empty() || !law->effective_before.empty())) {
    // Where the permit is older or younger than the layer, what it stands upon holds.
    const std::span<const Link> below(chain.data(), chain.size() - 1);
    Scope dated;
    dated.when = outside_of(law->effective_from, law->effective_before);
    dated.words = words_of(dated.when);
    dated.place = chain.back().file.at(chain.back().layer.id.offset);
    dated.layer = static_cast<LayerId>(law->layers.size() - 1);
    dated.adopts = resolved(below, adopt, problems);
    Law with = *law;
    with_rules_of(with, dated.adopts.get());
    with.scopes.push_back(std::move(dated));
    law = std::make_shared<const Law>(std::move(with));
  }
  if (!problems.empty()) return {nullptr, std::move(problems).sorted()};
  return {std::move(law), {}};
}

}  // namespace raceward::ruleset
