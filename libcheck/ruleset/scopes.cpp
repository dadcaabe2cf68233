#include "ruleset/scopes.hpp"

#include <algorithm>

#include "ruleset/conditions.hpp"

namespace raceward::ruleset {
namespace {

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

std::string both_set(const Scope& a, const Scope& b) {
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

}  // namespace

Table rows_of(const Table& amended, LayerId of, LayerId layer) {
  Table out;
  out.name = amended.name;
  out.columns = amended.columns;
  out.place = amended.place;
  for (const Table::Removed& r : amended.removed) {
    if (r.layer == of) out.removed.push_back({r.keys, r.cite, layer});
  }
  for (std::uint32_t row = 0; row < amended.row_count(); ++row) {
    if (amended.layer(row) == of && amended.copy_row(row, amended.cite(row), out))
      out.row_layers.push_back(layer);
  }
  return out;
}

bool same_columns(const Table& a, const Table& b) {
  return std::ranges::equal(a.columns, b.columns, [](const Column& x, const Column& y) {
    return x.name == y.name && x.kind == y.kind && x.unit == y.unit;
  });
}

std::string too_many_scopes() {
  return "more than " + std::to_string(most_scopes) + " conditions in one ruleset";
}

void overrule(std::vector<Scope>& scopes, const Set& names, const Set& rules,
              const std::map<std::string, Table, std::less<>>& tables, LayerId layer) {
  for (Scope& scope : scopes) {
    std::erase_if(scope.parameters, [&](const Parameter& p) { return names.count(p.name) != 0; });
    std::erase_if(scope.rules, [&](const RuleSetting& r) { return rules.count(r.rule) != 0; });
    for (Table& table : scope.tables) {
      if (names.count(table.name) != 0) table = without_rows(table, tables.find(table.name)->second, layer);
    }
  }
}

void contradictions(const std::vector<Scope>& scopes, std::size_t from, Problems& problems) {
  for (std::size_t i = from; i < scopes.size(); ++i) {
    for (std::size_t j = from; j < i; ++j) {
      const Scope &a = scopes[j], &b = scopes[i];
      const std::string what = both_set(a, b);
      if (what.empty() || exclude_each_other(a.when, b.when)) continue;
      problems.add(b.place, "this condition and that of line " + std::to_string(a.place.line) +
                                " can hold at once and set " + what +
                                " differently; let them exclude each other");
    }
  }
}

}  // namespace raceward::ruleset
