#include "law_changes.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cctype>
#include <charconv>
#include <chrono>
#include <cstdio>
#include <optional>

#include "without.hpp"

namespace raceward::suite {

namespace {

template <class Item>
using In = std::function<Item&(Law&)>;

/// One in the last place that a decimal is written to.
std::string last_place(const std::string& decimal) {
  const std::size_t point = decimal.find('.');
  const std::size_t decimals = point == std::string::npos ? 0 : decimal.size() - point - 1;
  return decimals == 0 ? "1" : "0." + std::string(decimals - 1, '0') + "1";
}

std::int64_t step_of(const Amount& amount) {
  const auto step = parse_amount(fmt::format("{} {}", last_place(decimal_of(amount)), symbol_of(amount.unit)),
                                 dimension_of(amount.unit));
  return step ? step->count : 1;
}

/// The amount one step up and one down; none is below zero.
std::vector<Amount> neighbours(const Amount& amount) {
  std::vector<Amount> out;
  for (const std::int64_t by : {step_of(amount), -step_of(amount)}) {
    if (amount.count + by >= 0) out.push_back({amount.count + by, amount.unit});
  }
  return out;
}

void add_amount(const Amount& is, const std::string& before, const In<Amount>& in,
                std::vector<LawChange>& out) {
  for (const Amount& to : neighbours(is))
    out.push_back(
        {fmt::format("{}{} to {}", before, text_of(is), text_of(to)), [in, to](Law& law) { in(law) = to; }});
}

/// Cells of a row, for add_row.
struct Cells {
  std::vector<std::int64_t> quantities;
  std::vector<std::string> texts;
  std::vector<std::uint32_t> columns_of_quantities, columns_of_texts;
};

Cells cells_of(const Table& t, std::uint32_t row) {
  Cells out;
  for (std::uint32_t i = 0; i < t.columns.size(); ++i) {
    if (t.columns[i].kind == Column::Kind::quantity) {
      out.quantities.push_back(t.count(row, i));
      out.columns_of_quantities.push_back(i);
    } else if (t.columns[i].kind == Column::Kind::text) {
      out.texts.emplace_back(t.text(row, i));
      out.columns_of_texts.push_back(i);
    }
  }
  return out;
}

/// The text of the column that follows on this one, in the order of its rows and around; empty where it has
/// no other.
std::string another_text(const Table& t, std::uint32_t column, std::string_view text) {
  std::string first;
  bool passed = false;
  for (std::uint32_t row = 0; row < t.row_count(); ++row) {
    const std::string_view one = t.text(row, column);
    if (one.empty()) continue;
    if (one == text) {
      passed = true;
    } else if (passed) {
      return std::string(one);
    } else if (first.empty()) {
      first = one;
    }
  }
  return first;
}

void add_row_changes(const Table& t, std::uint32_t row, const std::string& before, const In<Table>& in,
                     std::vector<LawChange>& out) {
  const auto put = [in](Law& law, std::uint32_t at, const Cells* cells) {
    Table& table = in(law);
    table =
        with_row(table, at, cells ? &cells->quantities : nullptr, cells != nullptr ? &cells->texts : nullptr);
  };
  out.push_back({before + "taken away", [=](Law& law) { put(law, row, nullptr); }});
  const Cells cells = cells_of(t, row);
  for (std::size_t i = 0; i < cells.quantities.size(); ++i) {
    if (cells.quantities[i] == Table::blank) continue;
    const Column& column = t.columns[cells.columns_of_quantities[i]];
    const Amount is{cells.quantities[i], column.unit};
    for (const Amount& to : neighbours(is)) {
      Cells with = cells;
      with.quantities[i] = to.count;
      out.push_back({fmt::format("{}{} {} to {}", before, column.name, text_of(is), text_of(to)),
                     [=](Law& law) { put(law, row, &with); }});
    }
  }
  for (std::size_t i = 0; i < cells.texts.size(); ++i) {
    const std::string& name = t.columns[cells.columns_of_texts[i]].name;
    if (cells.texts[i].empty() || name == "words") continue;
    Cells with = cells;
    with.texts[i] = another_text(t, cells.columns_of_texts[i], cells.texts[i]);
    const std::string change =
        with.texts[i].empty() ? fmt::format("{}{} blank", before, name)
                              : fmt::format("{}{} {} to {}", before, name, cells.texts[i], with.texts[i]);
    out.push_back({change, [=](Law& law) { put(law, row, &with); }, before + "text of " + name});
  }
}

using Bound = Condition::Bound;

/// The bounds of a condition and of its parts, always in the same order.
template <class Any, class Visit>
void each_bound(Any& condition, Visit&& visit) {
  visit(condition.low);
  visit(condition.high);
  for (auto& part : condition.parts) each_bound(part, visit);
}

std::string_view name_of(Bound::Kind kind) {
  switch (kind) {
    case Bound::Kind::at_least:
      return "at least";
    case Bound::Kind::at_most:
      return "at most";
    case Bound::Kind::more_than:
      return "more than";
    case Bound::Kind::less_than:
      return "less than";
    case Bound::Kind::none:
      break;
  }
  return "";
}

/// "2024-02-29" and a number of days; empty where it is no day.
std::string day_after(const std::string& day, int days) {
  namespace time = std::chrono;
  int year = 0;
  unsigned month = 0, of_month = 0;
  if (std::sscanf(day.c_str(), "%4d-%2u-%2u", &year, &month, &of_month) != 3) return {};
  const time::year_month_day is{time::year(year), time::month(month), time::day(of_month)};
  if (!is.ok()) return {};
  const time::year_month_day to{time::sys_days(is) + time::days(days)};
  return fmt::format("{:04}-{:02}-{:02}", int(to.year()), unsigned(to.month()), unsigned(to.day()));
}

void add_bounds(const Condition& condition, const std::string& before, const In<Condition>& in,
                std::vector<LawChange>& out) {
  std::size_t count = 0;
  each_bound(condition, [&](const Bound& bound) {
    const std::size_t at = count++;
    const auto bound_in = [in, at](Law& law) -> Bound& {
      Bound* found = nullptr;
      std::size_t seen = 0;
      each_bound(in(law), [&](Bound& one) {
        if (seen++ == at) found = &one;
      });
      return *found;
    };
    const std::string head = fmt::format("{}{} ", before, name_of(bound.kind));
    if (bound.kind == Bound::Kind::none) return;
    if (bound.date.empty())
      return add_amount(
          bound.amount, head, [bound_in](Law& law) -> Amount& { return bound_in(law).amount; }, out);
    for (const int by : {1, -1}) {
      const std::string to = day_after(bound.date, by);
      if (to.empty()) continue;
      out.push_back({fmt::format("{}{} to {}", head, bound.date, to),
                     [bound_in, to](Law& law) { bound_in(law).date = to; }});
    }
  });
}

/// Bare numbers of an expression: where they stand, and how long they are.
std::vector<std::pair<std::size_t, std::size_t>> numbers_in(const std::string& test) {
  const auto digit = [](char c) { return std::isdigit(static_cast<unsigned char>(c)) != 0; };
  const auto of_name = [](char c) {
    return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '-' || c == '_' || c == '.' || c == '@' ||
           c == '$';
  };
  std::vector<std::pair<std::size_t, std::size_t>> out;
  for (std::size_t i = 0; i < test.size();) {
    if (test[i] == '\'' || test[i] == '"') {
      const std::size_t end = test.find(test[i], i + 1);
      i = end == std::string::npos ? test.size() : end + 1;
      continue;
    }
    std::size_t end = i;
    if (digit(test[i])) {
      while (end < test.size() && (digit(test[end]) || test[end] == '.')) ++end;
      out.emplace_back(i, end - i);
    } else if (of_name(test[i])) {
      while (end < test.size() && of_name(test[end])) ++end;
    }
    i = std::max(end, i + 1);
  }
  return out;
}

void add_numbers(const std::string& test, const In<std::string>& in, std::vector<LawChange>& out) {
  for (const auto& [at, size] : numbers_in(test)) {
    const std::string is = test.substr(at, size);
    double value = 0, step = 0;
    const std::string place = last_place(is);
    std::from_chars(is.data(), is.data() + is.size(), value);
    std::from_chars(place.data(), place.data() + place.size(), step);
    const std::size_t decimals = place.size() < 2 ? 0 : place.size() - 2;
    for (const double to : {value + step, value - step}) {
      if (to < -step / 2) continue;
      const std::string written = fmt::format("{:.{}f}", std::max(to, 0.0), decimals);
      std::string with = test;
      with.replace(at, size, written);
      out.push_back(
          {fmt::format("{} to {} in {}", is, written, test), [in, with](Law& law) { in(law) = with; }});
    }
  }
}

void add_forces(const RuleSetting& rule, const std::string& before, const In<RuleSetting>& in,
                std::vector<LawChange>& out) {
  using Force = RuleSetting::Force;
  const auto to = [in](Force force) { return [in, force](Law& law) { in(law).force = force; }; };
  if (rule.force == Force::off) {
    out.push_back({before + "required", to(Force::required)});
    return;
  }
  out.push_back({before + "off", to(Force::off)});
  const bool required = rule.force == Force::required;
  out.push_back(
      {before + (required ? "advised" : "required"), to(required ? Force::advised : Force::required)});
}

}  // namespace

std::vector<LawChange> changes_of_parameter(const Law& law, std::size_t at) {
  const Parameter& p = law.parameters[at];
  if (p.is_word)
    return {{"taken away", [at](Law& changed) {
               changed.parameters.erase(changed.parameters.begin() + static_cast<std::ptrdiff_t>(at));
             }}};
  std::vector<LawChange> out;
  add_amount(
      p.value, "", [at](Law& changed) -> Amount& { return changed.parameters[at].value; }, out);
  return out;
}

std::vector<LawChange> changes_of_row(const Law& law, std::size_t table, std::uint32_t row) {
  std::vector<LawChange> out;
  add_row_changes(
      law.tables[table], row, "", [table](Law& changed) -> Table& { return changed.tables[table]; }, out);
  return out;
}

std::vector<LawChange> changes_of_rule(const Law& law, std::size_t at) {
  std::vector<LawChange> out;
  add_forces(
      law.rules[at], "", [at](Law& changed) -> RuleSetting& { return changed.rules[at]; }, out);
  return out;
}

std::vector<LawChange> changes_of_own_rule(const Law& law, const std::string& rule) {
  std::vector<LawChange> out;
  for (std::size_t i = 0; i < law.requirements.size(); ++i) {
    if (law.requirements[i].id != rule) continue;
    add_bounds(
        law.requirements[i].given, "given ",
        [i](Law& changed) -> Condition& { return changed.requirements[i].given; }, out);
    add_bounds(
        law.requirements[i].must, "must ",
        [i](Law& changed) -> Condition& { return changed.requirements[i].must; }, out);
  }
  for (std::size_t i = 0; i < law.data_rules.size(); ++i) {
    const DataRule& data = law.data_rules[i];
    if (data.id != rule) continue;
    for (std::size_t n = 0; n < data.whens.size(); ++n)
      add_numbers(
          data.whens[n].test,
          [i, n](Law& changed) -> std::string& { return changed.data_rules[i].whens[n].test; }, out);
    for (std::size_t n = 0; n < data.asserts.size(); ++n)
      add_numbers(
          data.asserts[n].test,
          [i, n](Law& changed) -> std::string& { return changed.data_rules[i].asserts[n].test; }, out);
  }
  return out;
}

std::vector<LawChange> changes_of_scope(const Law& law, std::size_t at) {
  const Scope& scope = law.scopes[at];
  std::vector<LawChange> out;
  out.push_back({"taken away", [at](Law& changed) {
                   changed.scopes.erase(changed.scopes.begin() + static_cast<std::ptrdiff_t>(at));
                 }});
  add_bounds(
      scope.when, "", [at](Law& changed) -> Condition& { return changed.scopes[at].when; }, out);
  for (std::size_t i = 0; i < scope.parameters.size(); ++i) {
    if (scope.parameters[i].is_word) continue;
    add_amount(
        scope.parameters[i].value, scope.parameters[i].name + " ",
        [at, i](Law& changed) -> Amount& { return changed.scopes[at].parameters[i].value; }, out);
  }
  for (std::size_t i = 0; i < scope.tables.size(); ++i) {
    const Table& table = scope.tables[i];
    for (std::uint32_t row = 0; row < table.row_count(); ++row)
      add_row_changes(
          table, row, fmt::format("{} {}: ", table.name, fmt::join(table.keys(row), ", ")),
          [at, i](Law& changed) -> Table& { return changed.scopes[at].tables[i]; }, out);
  }
  return out;
}

}  // namespace raceward::suite
