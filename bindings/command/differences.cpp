#include "differences.hpp"

#include <spdlog/fmt/fmt.h>
#include <spdlog/fmt/ranges.h>

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

namespace raceward::command {

namespace {

using std::string;

string authority_of(const Law& law, CitationId cite) {
  return cite < law.citations.size() ? cited_with_basis(law.citation(cite)) : string{};
}

/// Where it stands, whatever the edition: a section keeps its number from one to the next, or is replaced.
string stands(const Law& law, CitationId cite) {
  if (cite >= law.citations.size()) return {};
  const Citation& c = law.citation(cite);
  return c.section.empty() ? c.document : c.document + " " + c.section;
}

string stand(const Law& law, const std::vector<CitationId>& cites) {
  std::vector<string> all;
  for (const CitationId cite : cites) all.push_back(stands(law, cite));
  return fmt::format("{}", fmt::join(all, ", "));
}

/// The same law that stands elsewhere; false where it stands where it did.
bool moves(Difference& d, const string& what, string from, string to) {
  d.cites_only = true;
  d.what = "where " + what + " stands";
  d.from = std::move(from);
  d.to = std::move(to);
  return d.from != d.to;
}

CitationId take_over(Law& into, const Law& from, CitationId cite) {
  if (cite >= from.citations.size()) return no_citation;
  into.citations.push_back(from.citation(cite));
  return static_cast<CitationId>(into.citations.size() - 1);
}

template <class Item, class Name>
void set(std::vector<Item>& items, const Item* item, const string& name, Name name_of_item) {
  const auto at = std::lower_bound(items.begin(), items.end(), name,
                                   [&](const Item& a, const string& b) { return name_of_item(a) < b; });
  const bool is_there = at != items.end() && name_of_item(*at) == name;
  if (item == nullptr) {
    if (is_there) items.erase(at);
  } else if (is_there) {
    *at = *item;
  } else {
    items.insert(at, *item);
  }
}

constexpr auto name_of_parameter = [](const Parameter& p) -> const string& { return p.name; };
constexpr auto name_of_table = [](const Table& t) -> const string& { return t.name; };
constexpr auto name_of_rule = [](const RuleSetting& r) -> const string& { return r.rule; };

template <class Items, class Name>
void names(const Items& items, Name name_of_item, std::set<string>& out) {
  for (const auto& item : items) out.insert(name_of_item(item));
}

void parameters(const Law& from, const Law& to, std::vector<Difference>& out) {
  std::set<string> all;
  names(from.parameters, name_of_parameter, all);
  names(to.parameters, name_of_parameter, all);
  for (const string& name : all) {
    const Parameter *a = from.parameter(name), *b = to.parameter(name);
    const bool same = a != nullptr && b != nullptr && a->is_word == b->is_word &&
                      (a->is_word ? a->text == b->text : a->value == b->value);
    Difference d;
    d.what = "parameter " + name;
    if (same) {
      if (!moves(d, d.what, stands(from, a->cite), stands(to, b->cite))) continue;
    } else {
      for (const Parameter* p : {a, b}) {
        if (p != nullptr && !p->is_word) d.amounts.push_back(p->value);
      }
      if (a != nullptr) d.from = a->text;
      if (b != nullptr) d.to = b->text;
    }
    if (b != nullptr) {
      d.authority = authority_of(to, b->cite);
      d.layer = to.layers[b->layer];
    }
    d.name = name;
    d.first_without = [&from, name] {
      Law law = from;
      set<Parameter>(law.parameters, nullptr, name, name_of_parameter);
      return law;
    };
    d.first_with = [&from, &to, name, b] {
      Law law = from;
      Parameter own = b != nullptr ? *b : Parameter{};
      own.cite = take_over(law, to, own.cite);
      own.layer = 0;
      set(law.parameters, b != nullptr ? &own : nullptr, name, name_of_parameter);
      return law;
    };
    d.first_with_all = d.first_with;
    out.push_back(std::move(d));
  }
}

std::uint32_t row_in(const Table* table, const std::vector<string>& keys) {
  if (table == nullptr) return Table::none;
  const std::vector<std::string_view> views(keys.begin(), keys.end());
  return table->find(views);
}

string cells_of(const Table& table, std::uint32_t row, std::vector<Amount>& amounts) {
  string out;
  for (std::uint32_t i = 0; i < table.columns.size(); ++i) {
    const Column& column = table.columns[i];
    if (column.kind == Column::Kind::key) continue;
    const std::int64_t count = table.count(row, i);
    string value(table.text(row, i));
    if (column.kind == Column::Kind::quantity) {
      value = count == Table::blank ? string{} : raceward::text_of(Amount{count, column.unit});
      if (count != Table::blank) amounts.push_back({count, column.unit});
    }
    if (!value.empty()) out += fmt::format("{}{} {}", out.empty() ? "" : ", ", column.name, value);
  }
  return out.empty() ? "(empty)" : out;
}

/// What documents must say for a row to be found.
void found_by(const Table& table, const std::vector<string>& keys, Difference& d) {
  for (std::size_t i = 0; i < keys.size() && i < table.columns.size(); ++i) {
    for (const Dimension dimension :
         {Dimension::length, Dimension::voltage, Dimension::current, Dimension::temperature}) {
      if (const Parsed<Amount> amount = parse_amount(keys[i], dimension)) d.amounts.push_back(*amount);
    }
    const string& column = table.columns[i].name;
    if (keys[i] != "all") d.words.push_back({"", column == "raceway-type" ? "type" : column, {keys[i]}});
  }
}

/// The first law with the whole table of the second.
Law with_table(const Law& from, const Law& to, const string& name) {
  Law law = from;
  const Table* theirs = to.table(name);
  if (theirs == nullptr) {
    set(law.tables, theirs, name, name_of_table);
    return law;
  }
  Table table;
  table.name = name;
  table.columns = theirs->columns;
  table.place = theirs->place;
  for (std::uint32_t row = 0; row < theirs->row_count(); ++row)
    theirs->copy_row(row, take_over(law, to, theirs->cite(row)), table);
  set(law.tables, &table, name, name_of_table);
  return law;
}

Law with_row(const Law& from, const Law& to, const string& name, const std::vector<string>& keys) {
  Law law = from;
  const Table* theirs = to.table(name);
  const Table* own = from.table(name);
  if (own == nullptr || theirs == nullptr) return with_table(from, to, name);
  Table table;
  table.name = name;
  table.columns = own->columns;
  table.place = own->place;
  for (std::uint32_t row = 0; row < own->row_count(); ++row) {
    if (own->keys(row) != keys) own->copy_row(row, own->cite(row), table);
  }
  const std::uint32_t row = row_in(theirs, keys);
  if (row != Table::none) theirs->copy_row(row, take_over(law, to, theirs->cite(row)), table);
  set(law.tables, &table, name, name_of_table);
  return law;
}

void rows(const Law& from, const Law& to, std::vector<Difference>& out) {
  std::set<string> all;
  names(from.tables, name_of_table, all);
  names(to.tables, name_of_table, all);
  for (const string& name : all) {
    const Table *a = from.table(name), *b = to.table(name);
    std::vector<std::vector<string>> keys;
    for (const Table* table : {a, b}) {
      for (std::uint32_t row = 0; table != nullptr && row < table->row_count(); ++row) {
        if (table == a || row_in(a, table->keys(row)) == Table::none) keys.push_back(table->keys(row));
      }
    }
    for (const auto& own : keys) {
      const std::uint32_t in_a = row_in(a, own), in_b = row_in(b, own);
      Difference d;
      d.from = in_a == Table::none ? string{} : cells_of(*a, in_a, d.amounts);
      d.to = in_b == Table::none ? string{} : cells_of(*b, in_b, d.amounts);
      d.what = fmt::format("row {} of table {}", fmt::join(own, ", "), name);
      found_by(b == nullptr ? *a : *b, own, d);
      if (d.from == d.to) {
        d.amounts.clear();
        if (!moves(d, d.what, stands(from, a->cite(in_a)), stands(to, b->cite(in_b)))) continue;
      }
      if (in_b != Table::none) {
        d.authority = authority_of(to, b->cite(in_b));
        d.layer = to.layers[b->layer(in_b)];
      } else if (b != nullptr) {
        for (const Table::Removed& r : b->removed) {
          if (r.keys != own) continue;
          d.authority = authority_of(to, r.cite);
          d.layer = to.layers[r.layer];
        }
      }
      const bool same_columns =
          a == nullptr || b == nullptr ||
          std::equal(a->columns.begin(), a->columns.end(), b->columns.begin(), b->columns.end(),
                     [](const Column& x, const Column& y) { return x.name == y.name && x.kind == y.kind; });
      d.name = name;
      d.first_without = [&from, name] {
        Law law = from;
        set<Table>(law.tables, nullptr, name, name_of_table);
        return law;
      };
      d.first_with_all = [&from, &to, name] { return with_table(from, to, name); };
      if (same_columns) d.first_with = [&from, &to, name, own] { return with_row(from, to, name, own); };
      out.push_back(std::move(d));
    }
  }
}

template <class Own>
const Own* own_rule(const std::vector<Own>& rules, const string& name) {
  const auto at = std::find_if(rules.begin(), rules.end(), [&](const Own& r) { return r.id == name; });
  return at == rules.end() ? nullptr : &*at;
}

/// What a ruleset's own rule asks, as it is written; empty for a rule of the program.
string asked_by(const Law& law, const string& name) {
  if (const auto* data = own_rule(law.data_rules, name)) {
    std::vector<string> parts;
    for (const auto& when : data->whens) parts.push_back("where " + when.test);
    for (const auto& a : data->asserts) parts.push_back(a.test);
    return fmt::format("of each {}: {}", name_of(data->subject), fmt::join(parts, "; "));
  }
  const Requirement* r = own_rule(law.requirements, name);
  if (r == nullptr) return {};
  return fmt::format("of each {}: {}{}{}", name_of(r->subject),
                     r->given_words.empty() ? "" : "where " + r->given_words + "; ",
                     "must hold: ", r->must_words);
}

bool asks_the_same(const Law& from, const Law& to, const string& name) {
  const auto *a = own_rule(from.data_rules, name), *b = own_rule(to.data_rules, name);
  const auto *c = own_rule(from.requirements, name), *d = own_rule(to.requirements, name);
  if ((a == nullptr) != (b == nullptr) || (c == nullptr) != (d == nullptr)) return false;
  if (a != nullptr) return a->subject == b->subject && a->whens == b->whens && a->asserts == b->asserts;
  return c == nullptr || (c->subject == d->subject && c->given == d->given && c->must == d->must);
}

/// A ruleset's own rule comes with the parameters and the facts that the other law lacks.
void bring_own(Law& law, const Law& to, const string& name) {
  constexpr auto name_of_own = [](const auto& r) -> const string& { return r.id; };
  const auto of_first_layer = [](const auto* rule) {
    auto own = *rule;
    own.layer = 0;
    return own;
  };
  if (const auto* data = own_rule(to.data_rules, name)) {
    const DataRule own = of_first_layer(data);
    set(law.data_rules, &own, name, name_of_own);
  } else if (const auto* required = own_rule(to.requirements, name)) {
    const Requirement own = of_first_layer(required);
    set(law.requirements, &own, name, name_of_own);
  } else {
    return;
  }
  for (const Parameter& p : to.parameters) {
    if (law.parameter(p.name) != nullptr) continue;
    Parameter own = p;
    own.cite = take_over(law, to, p.cite);
    own.layer = 0;
    set(law.parameters, &own, own.name, name_of_parameter);
  }
  for (const DeclaredFact& fact : to.facts) {
    if (law.fact(fact.name) == nullptr)
      set(law.facts, &fact, fact.name, [](const DeclaredFact& f) -> const string& { return f.name; });
  }
}

/// What a condition asks of documents.
void asked_of(const Condition& c, Difference& d) {
  for (const Condition& part : c.parts) asked_of(part, d);
  for (const Condition::Bound* bound : {&c.low, &c.high}) {
    if (bound->kind != Condition::Bound::Kind::none && bound->date.empty())
      d.amounts.push_back(bound->amount);
  }
  if (!c.words.empty() && c.kind == Condition::Kind::attribute)
    d.words.push_back({c.element, c.name, c.words});
  if (!c.words.empty() && c.kind == Condition::Kind::fact) d.words.push_back({"fact", c.name, c.words});
}

/// What an expression compares with words: @type = 'EMT'.
void asked_of(const string& test, Difference& d) {
  for (std::size_t at = test.find('@'); at != string::npos; at = test.find('@', at + 1)) {
    const std::size_t end = test.find_first_of(" =!", at), open = test.find_first_not_of(" =!", end);
    if (end == string::npos || open == string::npos || (test[open] != '\'' && test[open] != '"')) continue;
    const std::size_t close = test.find(test[open], open + 1);
    if (close != string::npos && test.find('=', end) < open)
      d.words.push_back({"", test.substr(at + 1, end - at - 1), {test.substr(open + 1, close - open - 1)}});
  }
}

void rules(const Law& from, const Law& to, std::vector<Difference>& out) {
  std::set<string> all;
  names(from.rules, name_of_rule, all);
  names(to.rules, name_of_rule, all);
  for (const string& name : all) {
    const RuleSetting *a = from.rule(name), *b = to.rule(name);
    Difference d;
    d.from = a == nullptr ? "not used" : string(name_of(a->force));
    d.to = b == nullptr ? "not used" : string(name_of(b->force));
    const bool same = asks_the_same(from, to, name);
    d.what = "rule " + name;
    if (d.from == d.to && same) {
      if (a == nullptr || b == nullptr || !moves(d, d.what, stand(from, a->cites), stand(to, b->cites)))
        continue;
    }
    if (!same) {
      for (const auto& [law, text] : {std::pair{&from, &d.from}, {&to, &d.to}}) {
        const string asked = asked_by(*law, name);
        if (!asked.empty()) *text += ", " + asked;
      }
    }
    for (const Law* law : {&from, &to}) {
      if (const Requirement* r = own_rule(law->requirements, name))
        asked_of(r->given, d), asked_of(r->must, d);
      const DataRule* const data = own_rule(law->data_rules, name);
      if (data == nullptr) continue;
      for (const auto& when : data->whens) asked_of(when.test, d);
      for (const auto& a_test : data->asserts) asked_of(a_test.test, d);
      for (const Parameter& p : law->parameters) {
        const bool read = std::any_of(data->asserts.begin(), data->asserts.end(), [&](const auto& each) {
          return each.test.find("$" + p.name) != string::npos;
        });
        if (read && !p.is_word) d.amounts.push_back(p.value);
      }
    }
    if (b != nullptr) {
      d.layer = to.layers[b->layer];
      if (!b->cites.empty()) d.authority = authority_of(to, b->cites.front());
    }
    d.first_with = [&from, &to, name, b, same] {
      Law law = from;
      RuleSetting own = b != nullptr ? *b : RuleSetting{};
      for (CitationId& cite : own.cites) cite = take_over(law, to, cite);
      own.layer = 0;
      set(law.rules, b != nullptr ? &own : nullptr, name, name_of_rule);
      if (b != nullptr && !same) bring_own(law, to, name);
      return law;
    };
    out.push_back(std::move(d));
  }
}

string changes_of(const Scope& scope) {
  std::vector<string> out;
  for (const Parameter& p : scope.parameters) out.push_back(fmt::format("{} {}", p.name, p.text));
  for (const RuleSetting& r : scope.rules) out.push_back(fmt::format("rule {} {}", r.rule, name_of(r.force)));
  std::vector<Amount> ignored;
  for (const Table& t : scope.tables) {
    for (std::uint32_t row = 0; row < t.row_count(); ++row)
      out.push_back(
          fmt::format("{} {}: {}", t.name, fmt::join(t.keys(row), ", "), cells_of(t, row, ignored)));
    for (const Table::Removed& r : t.removed)
      out.push_back(fmt::format("{} {}: no row", t.name, fmt::join(r.keys, ", ")));
  }
  if (scope.adopts) out.push_back("adopts " + scope.adopts->id);
  return fmt::format("{}", fmt::join(out, "; "));
}

/// Values under a condition, those that they stand in place of, and the condition.
void asked_by(const Scope& scope, const Law& law, Difference& d) {
  asked_of(scope.when, d);
  for (const Parameter& p : scope.parameters) {
    const Parameter* const base = law.parameter(p.name);
    if (!p.is_word) d.amounts.push_back(p.value);
    if (base != nullptr && !base->is_word) d.amounts.push_back(base->value);
  }
  for (const Table& t : scope.tables) {
    const Table* const base = law.table(t.name);
    for (std::uint32_t row = 0; row < t.row_count(); ++row) {
      cells_of(t, row, d.amounts);
      const std::uint32_t there = row_in(base, t.keys(row));
      if (there != Table::none) cells_of(*base, there, d.amounts);
      found_by(t, t.keys(row), d);
    }
  }
}

void conditions(const Law& from, const Law& to, std::vector<Difference>& out) {
  const auto has = [](const Law& law, const Scope& scope) {
    return std::any_of(law.scopes.begin(), law.scopes.end(), [&](const Scope& s) {
      return s.words == scope.words && changes_of(s) == changes_of(scope);
    });
  };
  for (std::size_t i = 0; i < from.scopes.size(); ++i) {
    if (has(to, from.scopes[i])) continue;
    Difference d;
    d.what = "where " + from.scopes[i].words;
    d.from = changes_of(from.scopes[i]);
    asked_by(from.scopes[i], from, d);
    d.first_with = [&from, i] {
      Law law = from;
      law.scopes.erase(law.scopes.begin() + static_cast<std::ptrdiff_t>(i));
      return law;
    };
    out.push_back(std::move(d));
  }
  for (const Scope& scope : to.scopes) {
    if (has(from, scope)) continue;
    Difference d;
    d.what = "where " + scope.words;
    d.to = changes_of(scope);
    asked_by(scope, to, d);
    d.layer = to.layers[scope.layer];
    for (const Parameter& p : scope.parameters) d.authority = authority_of(to, p.cite);
    for (const RuleSetting& r : scope.rules) {
      if (!r.cites.empty()) d.authority = authority_of(to, r.cites.front());
    }
    for (const Table& t : scope.tables) {
      if (t.row_count() > 0) d.authority = authority_of(to, t.cite(0));
    }
    d.first_with = [&from, &to, &scope] {
      Law law = from;
      Scope own = scope;
      own.layer = 0;
      for (Parameter& p : own.parameters) p.cite = take_over(law, to, p.cite), p.layer = 0;
      for (RuleSetting& r : own.rules) {
        for (CitationId& cite : r.cites) cite = take_over(law, to, cite);
      }
      for (Table& t : own.tables) {
        for (std::uint32_t row = 0; row < t.row_count(); ++row)
          t.set_cite(row, take_over(law, to, t.cite(row)));
      }
      for (const DeclaredFact& fact : to.facts) {
        if (law.fact(fact.name) != nullptr) continue;
        law.facts.push_back(fact);
        std::sort(law.facts.begin(), law.facts.end(),
                  [](const auto& x, const auto& y) { return x.name < y.name; });
      }
      law.scopes.push_back(std::move(own));
      return law;
    };
    out.push_back(std::move(d));
  }
}

std::vector<Difference> one_way(const Law& from, const Law& to) {
  std::vector<Difference> out;
  parameters(from, to, out);
  rows(from, to, out);
  rules(from, to, out);
  conditions(from, to, out);
  return out;
}

}  // namespace

std::vector<Difference> differences(const Law& from, const Law& to) {
  std::vector<Difference> out = one_way(from, to), back = one_way(to, from);
  std::map<std::tuple<string, string, string>, Difference*> reversed;
  for (Difference& d : back) reversed.emplace(std::tuple(d.what, d.to, d.from), &d);
  for (Difference& d : out) {
    const auto same = reversed.find({d.what, d.from, d.to});
    if (same != reversed.end())
      d.second_without = same->second->first_with, d.second_without_any = same->second->first_without;
  }
  put_together(out);
  std::stable_partition(out.begin(), out.end(), [](const Difference& d) { return !d.cites_only; });
  return out;
}

}  // namespace raceward::command
