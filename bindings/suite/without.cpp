#include "without.hpp"

#include <fmt/format.h>

#include <iterator>
#include <map>
#include <set>

#include "laws.hpp"

namespace raceward::suite {

namespace {

/// A table with the same columns and no rows.
Table like(const Table& table) {
  Table out;
  out.name = table.name;
  out.columns = table.columns;
  out.place = table.place;
  out.removed = table.removed;
  return out;
}

void add(std::string& out, const std::vector<Need>& needs) {
  for (const Need& need : needs) fmt::format_to(std::back_inserter(out), " {}@{}", need.element, need.fact);
  out += '\n';
}

}  // namespace

Table with_row(const Table& table, std::uint32_t changed, const std::vector<std::int64_t>* quantities,
               const std::vector<std::string>* texts) {
  Table out = like(table);
  for (std::uint32_t row = 0; row < table.row_count(); ++row) {
    if (row != changed) {
      table.copy_row(row, table.cite(row), out);
    } else if (quantities != nullptr) {
      out.add_row(table.keys(row), *quantities, *texts, table.cite(row));
    } else {
      continue;
    }
    out.row_layers.push_back(table.layer(row));
  }
  return out;
}

std::string shown_of(const Document& document, const Installation& installation, const ReadyLaw& law) {
  std::string out;
  const auto to = std::back_inserter(out);
  for (const FigureLine& line : figures(installation, law_of(law))) {
    fmt::format_to(to, "{} {} {} {}", line.figure, line.subject, line.known,
                   line.known ? line.value.count : 0);
    add(out, line.needs);
  }
  const Report report = report_on(document, installation, law);
  for (const Finding& f : report.findings) {
    fmt::format_to(to, "{} {} {} {} {}", f.rule, static_cast<int>(f.kind), f.subject, f.measured_shown,
                   f.limit_shown);
    add(out, f.needs);
  }
  for (const LedgerLine& line : report.ledger)
    fmt::format_to(to, "{} {} {} {} {}\n", line.rule, line.complies, line.violates, line.undetermined,
                   line.not_applicable);
  return out;
}

std::shared_ptr<const ReadyLaw> without(const Law& law, const std::vector<Traced::Entry>& all,
                                        const std::vector<std::size_t>& entries,
                                        const std::vector<const Rule*>& extra_rules) {
  std::map<std::size_t, std::set<std::size_t>> rows;  // by table
  for (const std::size_t i : entries) rows[all[i].table].insert(all[i].at);
  auto changed = std::make_shared<Law>(law);
  for (const auto& [table, gone] : rows) {
    if (table == Traced::no_table) {
      for (auto at = gone.rbegin(); at != gone.rend(); ++at)
        changed->parameters.erase(changed->parameters.begin() + static_cast<std::ptrdiff_t>(*at));
      continue;
    }
    const Table& from = law.tables[table];
    Table kept = like(from);
    for (std::uint32_t row = 0; row < from.row_count(); ++row) {
      if (gone.count(row) > 0) continue;
      from.copy_row(row, from.cite(row), kept);
      kept.row_layers.push_back(from.layer(row));
    }
    changed->tables[table] = std::move(kept);
  }
  return make_ready(changed, extra_rules);
}

std::vector<std::size_t> missed_without(
    std::vector<std::size_t>& entries,
    const std::function<bool(const std::vector<std::size_t>& some)>& changes) {
  std::vector<std::size_t> found;
  std::vector<std::vector<std::size_t>> open;
  if (!entries.empty()) open.push_back(entries);
  while (!open.empty()) {
    const std::vector<std::size_t> some = std::move(open.back());
    open.pop_back();
    if (!changes(some)) continue;
    if (some.size() == 1) {
      found.push_back(some.front());
      continue;
    }
    const auto middle = some.begin() + static_cast<std::ptrdiff_t>(some.size() / 2);
    open.emplace_back(middle, some.end());
    open.emplace_back(some.begin(), middle);
  }
  const std::set<std::size_t> gone(found.begin(), found.end());
  std::erase_if(entries, [&](std::size_t i) { return gone.count(i) > 0; });
  return found;
}

std::vector<std::vector<std::size_t>> by_table(const std::vector<Traced::Entry>& all,
                                               const std::vector<std::size_t>& entries) {
  std::map<std::size_t, std::vector<std::size_t>> tables;
  for (const std::size_t i : entries) tables[all[i].table].push_back(i);
  std::vector<std::vector<std::size_t>> out;
  for (auto& [table, of] : tables) out.push_back(std::move(of));
  return out;
}

}  // namespace raceward::suite
