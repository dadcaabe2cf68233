#include "ruleset/resolver.hpp"

#include <algorithm>
#include <set>

#include "raceward/rule.hpp"
#include "ruleset/amend_table.hpp"
#include "ruleset/hidden_rows.hpp"
#include "ruleset/idle.hpp"
#include "ruleset/read_table.hpp"
#include "ruleset/resolve_rule.hpp"
#include "ruleset/scopes.hpp"
#include "ruleset/table_words.hpp"
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

/// A new name this close to one of the base is that one misspelt.
constexpr std::size_t slips = 2;

/// One layer, set over the others.
class Resolver {
 public:
  Resolver(const Link& link, LayerId id, const Resolving& with)
      : link_(link),
        file_(link.file),
        layer_(link.layer),
        id_(id),
        drawn_(with.drawn),
        citer_(with.citer),
        problems_(with.problems),
        with_(with) {}

  void resolve() {
    word(layer_.id, "id");
    for (const Field* date : {&layer_.effective_from, &layer_.effective_before}) {
      if (!date->written || is_date(date->text)) continue;
      problem(date->offset, quoted(date->text) + " is no date; write year-month-day, such as 2024-01-01");
    }
    period(layer_.effective_from, layer_.effective_before);
    if (layer_.units.written && layer_.units.text != "metric" && layer_.units.text != "inch")
      problem(layer_.units.offset,
              quoted(layer_.units.text) + " are no units of reports; write metric or inch");
    if (!amends()) {
      for (const DocumentFields& d : layer_.documents) no_change(d.change);
    }
    citer_.open(file_, layer_);
    for (const ParameterFields& p : layer_.parameters) parameter(p);
    for (const TableFields& t : layer_.tables) table(t);
    for (const UsesFields& u : layer_.uses) uses(u);
    const Set without_facts = names_;
    for (const FactFields& f : layer_.facts) fact(f);
    for (const RequiresFields& r : layer_.requirements) requirement(r);
    for (const RuleFields& r : layer_.rules) rule(r);
    overrule(drawn_.scopes, without_facts, rules_, drawn_.tables, id_);
    stand_over_adopted(without_facts);
    const std::size_t below = drawn_.scopes.size();
    for (const WhereFields& w : layer_.wheres) {
      if (drawn_.scopes.size() < most_scopes)
        where(w);
      else
        problem(w.offset, too_many_scopes());
    }
    contradictions(drawn_.scopes, below, problems_);
    first_scope_ = below;
  }
  /// Of those that the layer writes itself.
  [[nodiscard]] std::size_t first_scope() const { return first_scope_; }

 private:
  enum class Change : char { amend, add, replace, faulty };

  /// A layer of somebody's own over shipped ones: what figures read is what those have.
  [[nodiscard]] bool is_measured() const { return with_.on_shipped && !link_.shipped; }
  [[nodiscard]] bool amends() const { return layer_.base.written || id_ == conditional; }

  void problem(std::size_t offset, std::string message) { problems_.add(file_, offset, std::move(message)); }

  /// A period that no day lies in: what is written for it would hold never, and nobody would be told.
  void period(const Field& from, const Field& before) {
    if (!is_date(from.text) || !is_date(before.text) || from.text < before.text) return;
    problem(before.offset, "no day lies from " + from.text + " on and before " + before.text);
  }

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

  /// The one that is spelt much like it, or else one that goes on where it ends.
  static std::string meant_by(const std::string& name, const std::vector<std::string_view>& known) {
    std::string meant = suggestion(name, known);
    const auto longer = std::ranges::find_if(known, [&](std::string_view k) { return k.starts_with(name); });
    return meant.empty() && longer != known.end() ? "; did you mean " + quoted(*longer) + "?" : meant;
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
    if (!has && is_new && is_measured() && !reads(name.text)) {
      std::vector<std::string_view> names;
      for (const auto& [other, item] : known) names.push_back(other);
      const std::string meant = what == "rule" ? std::string() : suggestion(name.text, names, slips);
      if (!meant.empty()) {
        problem(name.offset, "nothing reads " + std::string(what) + " " + quoted(name.text) + meant +
                                 " Then leave change out; or give it a name that is less like that one");
        return Change::faulty;
      }
    }
    if (has && is_new) {
      problem(change.offset, "the base has " + std::string(what) + " " + quoted(name.text) +
                                 "; leave change out to amend it");
    } else if (!has && !is_new) {
      std::vector<std::string_view> names;
      for (const auto& [other, item] : known) names.push_back(other);
      problem(name.offset, "the base has no " + std::string(what) + " " + quoted(name.text) +
                               meant_by(name.text, names) + "; say change=\"new\" where it is new");
    } else {
      return is_new ? Change::add : replaces ? Change::replace : Change::amend;
    }
    return Change::faulty;
  }

  /// Whether a rule of this layer reads a parameter.
  [[nodiscard]] bool reads(const std::string& name) const {
    const auto in = [&](const Field& field) { return field.text.find("$" + name) != std::string::npos; };
    return std::any_of(layer_.rules.begin(), layer_.rules.end(), [&](const RuleFields& r) {
      return std::any_of(r.whens.begin(), r.whens.end(), [&](const WhenFields& w) { return in(w.test); }) ||
             std::any_of(r.asserts.begin(), r.asserts.end(),
                         [&](const AssertFields& a) { return in(a.test) || in(a.measured) || in(a.limit); });
    });
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
    bool faulty = false;
    if (p.value.written && !p.value.text.empty()) {
      const Parsed<Amount> amount = parse_value(p.value.text);
      if (amount && below_zero(*amount)) {
        problem(p.value.offset, "value " + quoted(p.value.text) + " is below zero");
        faulty = true;
      } else if (amount) {
        out.value = *amount;
      } else {
        problem(p.value.offset, "value " + quoted(p.value.text) + ": " + amount.error().what);
        faulty = true;
      }
    }
    out.cite = p.cite.basis.text.empty() ? no_citation : citer_.cite(file_, p.cite, p.name.offset);
    if (change == Change::amend) {
      const Parameter& base = drawn_.parameters.find(out.name)->second;
      if (faulty || !may_replace(p, out, base)) return;
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
    if (const KnownWords known({base.text}); own.is_word && is_measured() && !known.may_be(own.text)) {
      problem(at, "parameter " + quoted(own.name) + " cannot be " + quoted(own.text) +
                      ": nothing looks for it" + known.instead_of(own.text));
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
    if (change == Change::add && unread(t.name)) return;
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
    if (change != Change::amend) whole_tables_.insert(t.name.text);
    if (own->table.name != t.name.text) {
      problem(t.name.offset,
              "the file calls its table " + quoted(own->table.name) + ", the layer " + quoted(t.name.text));
      return;
    }
    if (change != Change::add) fits(t.name.text, change, *own, file);
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

  /// A new table that no figure reads: rules as data read none, and neither do those of modules.
  bool unread(const Field& name) {
    if (!amends() || !is_measured() || !with_.shipped.names) return false;
    const std::set<std::string, std::less<>>& known = with_.shipped.names();
    if (known.count(name.text) != 0) return false;
    problem(name.offset, "nothing reads table " + quoted(name.text) +
                             suggestion(name.text, {known.begin(), known.end()}) +
                             "; a rule as data reads parameters");
    return true;
  }

  void fits(const std::string& table, Change change, const TableFile& own, const TextFile& file) {
    Problems told;
    const Table& base = drawn_.tables.find(table)->second;
    if (is_measured()) words_fit(base, own, file, problems_, told);
    const auto below = [&](std::string_view name) -> const Table* {
      const auto found = drawn_.tables.find(name);
      return found == drawn_.tables.end() ? nullptr : &found->second;
    };
    if (change == Change::amend) hidden_rows(base, own, below, file, problems_, told);
    for (Problem& p : std::move(told).sorted())
      with_.remarks.push_back({std::move(p.place), std::move(p.message), {}});
  }

  void uses(const UsesFields& u) {
    std::optional<RuleSetting> asked = setting(u.rule, u.force, u.change, u.cites, false);
    if (asked) drawn_.rules[asked->rule] = std::move(*asked);
  }

  /// What a layer says of a rule; `whole`: it says what the rule asks as well. Nothing where it is faulty.
  std::optional<RuleSetting> setting(const Field& rule, const Field& force, const Field& written_change,
                                     const std::vector<CitationFields>& cites, bool whole) {
    if (!word(rule, "rule") || !first(rules_, rule, "rule")) return std::nullopt;
    const Change change = change_of(written_change, rule, "rule", drawn_.rules, false);
    if (!whole && amends() && change == Change::add && force.text == "off") {
      std::vector<std::string_view> names;
      for (const auto& [other, item] : drawn_.rules) names.push_back(other);
      problem(rule.offset, "the base has no rule " + quoted(rule.text) + " that could be switched off" +
                               meant_by(rule.text, names));
      return std::nullopt;
    }
    const RuleSetting* const base = change == Change::amend ? &drawn_.rules.find(rule.text)->second : nullptr;
    RuleSetting out;
    out.rule = rule.text;
    out.place = file_.at(rule.offset);
    out.layer = id_;
    if (const auto known = force_of(force.text)) {
      out.force = *known;
    } else if (force.written) {
      problem(force.offset, "force " + quoted(force.text) + " is not known; write required, advised or off" +
                                suggestion(force.text, {"required", "advised", "off"}));
    } else if (base != nullptr) {
      out.force = base->force;
    }
    for (const CitationFields& c : cites) {
      if (!c.basis.text.empty()) out.cites.push_back(citer_.cite(file_, c, c.basis.offset));
    }
    if (base != nullptr && !whole && !may_replace(rule, out, *base)) return std::nullopt;
    if (cites.empty() && (whole || out.force != Force::off)) {
      problem(rule.offset,
              "rule " + quoted(rule.text) + " is asked without a <cite>; say where the requirement stands");
    }
    if (change == Change::faulty) return std::nullopt;
    return out;
  }

  bool may_replace(const Field& rule, const RuleSetting& own, const RuleSetting& base) {
    const bool same_cites =
        std::equal(own.cites.begin(), own.cites.end(), base.cites.begin(), base.cites.end(),
                   [&](CitationId a, CitationId b) { return citer_.same(a, b); });
    const bool same_force = own.force == base.force;
    if (same_force && (own.cites.empty() || same_cites)) {
      problem(rule.offset, "rule " + quoted(own.rule) + " is as in the base; leave it out");
      return false;
    }
    if (!own.cites.empty()) return true;
    problem(rule.offset,
            "the force of rule " + quoted(own.rule) + " is changed without a <cite>; say on what authority");
    return false;
  }

  void fact(const FactFields& f) {
    if (!first(names_, f.name, "name")) return;
    std::optional<DeclaredFact> fact = declared(f, file_, problems_);
    if (!fact) {
      drawn_.facts.try_emplace(f.name.text);  // without a name: what asks for it is not at fault as well
      return;
    }
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
    if (!own_sort(r.id, drawn_.requirements)) return;
    const std::size_t before = problems_.size();
    std::optional<RuleSetting> asked = setting(r.id, r.force, r.change, r.cites, true);
    std::optional<Requirement> made = requirement_of(r, file_, drawn_.facts, problems_);
    if (!asked || !made || problems_.size() != before) return;
    made->layer = id_;
    drawn_.rules[asked->rule] = std::move(*asked);
    drawn_.requirements[made->id] = std::move(*made);
  }

  void rule(const RuleFields& r) {
    if (!own_sort(r.id, drawn_.data_rules)) return;
    const std::size_t before = problems_.size();
    std::optional<RuleSetting> asked = setting(r.id, r.force, r.change, r.cites, true);
    std::optional<DataRule> made =
        data_rule(r, file_, id_, drawn_.parameters, drawn_.facts, with_.shapes, problems_);
    if (!asked || !made || problems_.size() != before) return;
    drawn_.rules[asked->rule] = std::move(*asked);
    drawn_.data_rules[made->id] = std::move(*made);
  }

  /// A rule that a layer writes itself takes the place of one of its own sort only.
  template <class Known>
  bool own_sort(const Field& id, const Known& known) {
    const std::vector<const Rule*> built_in = shipped_rules();
    if (std::any_of(built_in.begin(), built_in.end(), [&](const Rule* r) { return r->id == id.text; })) {
      problem(id.offset, "rule " + quoted(id.text) +
                             " is one of this program; give yours another id, or name that one with <uses>");
      return false;
    }
    if (known.count(id.text) != 0 || drawn_.rules.count(id.text) == 0 || rules_.count(id.text) != 0)
      return true;
    problem(id.offset,
            "the base has a rule " + quoted(id.text) + " of another sort; give this one another id");
    return false;
  }

  /// What this layer sets without a condition is set over a ruleset too that a layer below adopts under one.
  void stand_over_adopted(const Set& names) {
    const std::size_t below = drawn_.scopes.size();
    for (std::size_t i = 0; i < below; ++i) {
      if (!drawn_.scopes[i].adopts) continue;
      Scope over = set_over(*drawn_.scopes[i].adopts, names);
      if (over.parameters.empty() && over.tables.empty() && over.rules.empty()) continue;
      over.when = drawn_.scopes[i].when;
      over.words = drawn_.scopes[i].words;
      if (drawn_.scopes.size() >= most_scopes) return problem(layer_.id.offset, too_many_scopes());
      drawn_.scopes.push_back(std::move(over));
    }
  }

  Scope set_over(const Law& adopted, const Set& names) {
    Scope over;
    over.place = file_.at(layer_.id.offset);
    over.layer = id_;
    for (const auto& [name, offset] : names) {
      if (const auto p = drawn_.parameters.find(name); p != drawn_.parameters.end())
        over.parameters.push_back(p->second);
      const auto t = drawn_.tables.find(name);
      if (t == drawn_.tables.end()) continue;
      const Table* const there = adopted.table(name);
      if (there != nullptr && !same_columns(*there, t->second)) {
        problem(offset, "table " + quoted(name) + " has other columns in " + adopted.id +
                            ", which a layer below adopts under a condition; name that ruleset as the base "
                            "of a layer of its own");
        continue;
      }
      over.tables.push_back(rows_of(t->second, id_, id_));
      if (there == nullptr || whole_tables_.count(name) == 0) continue;
      for (std::uint32_t row = 0; row < there->row_count(); ++row) {
        const std::vector<std::string> keys = there->keys(row);
        const std::vector<std::string_view> views(keys.begin(), keys.end());
        if (t->second.find(views) == Table::none)
          over.tables.back().removed.push_back({keys, no_citation, id_});
      }
    }
    for (const auto& [id, offset] : rules_) {
      const auto r = drawn_.rules.find(id);
      if (r != drawn_.rules.end()) over.rules.push_back(r->second);
    }
    return over;
  }

  /// Its own base is adopted where the layer is not to hold; where it sets nothing, that changes nothing.
  [[nodiscard]] bool adopts_nothing_else(const WhereFields& w) const {
    return layer_.base.written && same_path(layer_.base.text, w.adopts.text) && &w == layer_.wheres.data() &&
           layer_.parameters.empty() && layer_.tables.empty() && layer_.uses.empty() &&
           layer_.rules.empty() && layer_.requirements.empty() && layer_.renumbered.empty() &&
           std::none_of(layer_.documents.begin(), layer_.documents.end(),
                        [](const DocumentFields& d) { return d.change.written; });
  }

  void where(const WhereFields& w) {
    period(w.permit_from, w.permit_before);
    period(layer_.effective_from, w.permit_before);
    period(w.permit_from, layer_.effective_before);
    Scope scope;
    scope.place = file_.at(w.offset);
    scope.layer = id_;
    scope.when = condition_of(w, file_, drawn_.facts, problems_);
    scope.words = words_of(scope.when);
    Drawn under = drawn_;
    under.scopes.clear();
    Resolver inner(link_, conditional,
                   {under, citer_, problems_, with_.adopt, with_.shapes, with_.shipped, with_.remarks,
                    with_.on_shipped});
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
      if (found != under.tables.end()) scope.tables.push_back(rows_of(found->second, conditional, id_));
    }
    for (const UsesFields& u : w.uses) {
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
      if (adopts_nothing_else(w))
        problem(w.adopts.offset,
                "this is what the layer stands upon, and it sets nothing that would not hold "
                "there; leave the <where> out");
      else
        scope.adopts = with_.adopt(link_, w.adopts);
    } else if (w.parameters.empty() && w.tables.empty() && w.uses.empty()) {
      problem(w.offset, "<where> changes nothing");
    }
    drawn_.scopes.push_back(std::move(scope));
  }

  const Link& link_;
  const TextFile& file_;
  const Layer& layer_;
  const LayerId id_;
  Drawn& drawn_;
  Citer& citer_;
  Problems& problems_;
  const Resolving with_;
  std::size_t first_scope_ = 0;
  Set names_, rules_;
  std::set<std::string, std::less<>>
      whole_tables_;  ///< new ones, and those that stand in the place of others
};

}  // namespace

void resolve_layer(const Link& link, LayerId id, const Resolving& with) {
  if (link.shipped || !link.layer.base.written) return Resolver(link, id, with).resolve();
  const Drawn before = with.drawn;
  const std::size_t faults = with.problems.size();
  Resolver resolver(link, id, with);
  resolver.resolve();
  if (with.problems.size() == faults) tell_idle(link, id, before, with.drawn, resolver.first_scope(), with);
}

}  // namespace raceward::ruleset
