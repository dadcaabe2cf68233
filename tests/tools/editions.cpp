#include "tools/editions.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

namespace raceward::pages {
namespace {

namespace fs = std::filesystem;
using std::string;

bool all_equal(const std::vector<string>& all) {
  return std::all_of(all.begin(), all.end(), [&](const string& s) { return s == all.front(); });
}

string escaped(std::string_view text) {
  string out;
  for (const char c : text) {
    if (std::string_view("<*_|`").find(c) != std::string_view::npos) out += '\\';
    out += c;
  }
  return out;
}

/// What one edition says, and who set it.
struct Said {
  string value, section, basis, note;
  LayerId layer = 0;
};

Said cited(const Law& law, CitationId id, string value, LayerId layer) {
  if (id >= law.citations.size()) return {std::move(value), {}, {}, {}, layer};
  const Citation& c = law.citation(id);
  return {std::move(value), c.section, string(name_of(c.basis)), c.note, layer};
}

/// Makes the difference of what each edition says; nothing where all say the same and none sets it itself.
bool make(Difference& d, const Editions& editions, const std::vector<Said>& said) {
  bool amended = false;
  for (std::size_t i = 0; i < said.size(); ++i) {
    const Said& s = said[i];
    d.values.push_back(s.value);
    d.sections.push_back(s.section);
    d.stands.push_back(s.basis.empty() ? s.section : fmt::format("{} ({})", s.section, s.basis));
    amended = amended || s.layer != 0;
    const string setter = editions[i]->layers[s.layer];
    const string remark = setter + ": " + s.note;
    const bool once = std::find(d.remarks.begin(), d.remarks.end(), remark) == d.remarks.end();
    if (s.layer != 0 && !s.note.empty() && once) d.remarks.push_back(remark);
  }
  return amended || !all_equal(d.values) || !all_equal(d.sections);
}

template <class Item>
Item& named(std::vector<Item>& items, const string& name) {
  return *std::find_if(items.begin(), items.end(), [&](const Item& i) { return i.name == name; });
}

std::set<string> names_of(const Editions& editions,
                          const std::function<void(const Law&, std::set<string>&)>& add) {
  std::set<string> names;
  for (const auto& law : editions) add(*law, names);
  return names;
}

void parameters(const Editions& editions, std::vector<Difference>& out) {
  for (const string& name : names_of(editions, [](const Law&law, std::set<string>&names) {
         for (const Parameter& p : law.parameters) names.insert(p.name);
       })) {
    std::vector<Said> said;
    for (const auto& law : editions) {
      const Parameter* p = law->parameter(name);
      said.push_back(p == nullptr ? Said{} : cited(*law, p->cite, p->text, p->layer));
    }
    Difference d{"parameter " + name, name, {}, {}, {}, {}, {}};
    if (!make(d, editions, said)) continue;
    d.taken_from = [name](const Law& to, const Law& from) {
      Law law = to;
      Parameter& own = named(law.parameters, name);
      const CitationId cite = own.cite;
      own = *from.parameter(name);
      own.cite = cite;
      return law;
    };
    out.push_back(std::move(d));
  }
}

string cell(const Table& table, std::uint32_t row, std::uint32_t column) {
  if (table.columns[column].kind != Column::Kind::quantity) return string(table.text(row, column));
  const std::int64_t count = table.count(row, column);
  return count == Table::blank ? string{} : text_of(Amount{count, table.columns[column].unit});
}

std::vector<string> keys_of(const Table& table, std::uint32_t row) {
  std::vector<string> keys;
  for (std::uint32_t i = 0; i < table.columns.size() && table.columns[i].kind == Column::Kind::key; ++i)
    keys.emplace_back(table.key(row, i));
  return keys;
}

std::uint32_t find(const Table& table, const std::vector<string>& keys) {
  const std::vector<std::string_view> views(keys.begin(), keys.end());
  return table.find(views);
}

/// Columns in which the editions differ over a row; all but the keys where a row is not in all of them.
std::vector<std::uint32_t> differing(const std::vector<const Table*>& tables,
                                     const std::vector<string>& keys) {
  std::vector<std::uint32_t> out;
  for (std::uint32_t column = 0; column < tables.front()->columns.size(); ++column) {
    if (tables.front()->columns[column].kind == Column::Kind::key) continue;
    std::vector<string> cells;
    for (const Table* table : tables) {
      const std::uint32_t row = find(*table, keys);
      cells.push_back(row == Table::none ? "no row" : cell(*table, row, column));
    }
    if (!all_equal(cells)) out.push_back(column);
  }
  return out;
}

string words_of(const Table& table, std::uint32_t row, const std::vector<std::uint32_t>& columns) {
  if (row == Table::none) return "no row";
  string out;
  for (const std::uint32_t column : columns) {
    const string value = cell(table, row, column);
    if (!value.empty())
      out += fmt::format("{}{} {}", out.empty() ? "" : ", ", table.columns[column].name, value);
  }
  return out;
}

/// Of a row that an edition does not have: by which citation it was taken out, where it was.
Said without(const Law& edition, const Table& table, const std::vector<string>& keys) {
  for (const Table::Removed& removed : table.removed) {
    if (removed.keys == keys) return cited(edition, removed.cite, "no row", removed.layer);
  }
  return {"no row", {}, {}, {}, 0};
}

using Keys = std::vector<std::vector<string>>;

/// A copy of the table with the rows of those keys as `from` has them.
Table with_rows(const Table& table, const Table& from, const Keys& keys) {
  Table out;
  out.name = table.name;
  out.columns = table.columns;
  out.place = table.place;
  const auto add = [&](const Table& source, std::uint32_t row, CitationId cite) {
    std::vector<std::int64_t> counts;
    std::vector<string> texts;
    for (std::uint32_t i = 0; i < source.columns.size(); ++i) {
      if (source.columns[i].kind == Column::Kind::quantity) counts.push_back(source.count(row, i));
      if (source.columns[i].kind == Column::Kind::text) texts.emplace_back(source.text(row, i));
    }
    out.add_row(keys_of(source, row), counts, texts, cite);
  };
  const auto moved = [&](const std::vector<string>& own) {
    return std::find(keys.begin(), keys.end(), own) != keys.end();
  };
  for (std::uint32_t row = 0; row < table.row_count(); ++row) {
    if (!moved(keys_of(table, row))) add(table, row, table.cite(row));
  }
  for (const auto& own : keys) {
    const std::uint32_t row = find(from, own), here = find(table, own);
    if (row != Table::none) add(from, row, here == Table::none ? no_citation : table.cite(here));
  }
  return out;
}

void rows(const Editions& editions, const string& name, std::vector<Difference>& out) {
  std::vector<const Table*> tables;
  for (const auto& law : editions) {
    const Table* table = law->table(name);
    if (table == nullptr) return;
    tables.push_back(table);
  }
  std::set<std::vector<string>> seen;
  std::map<string, std::size_t> by_content;  // rows of which the same is to be said
  std::vector<std::pair<Difference, Keys>> found;
  for (const Table* each : tables) {
    for (std::uint32_t r = 0; r < each->row_count(); ++r) {
      const std::vector<string> keys = keys_of(*each, r);
      if (!seen.insert(keys).second) continue;
      const std::vector<std::uint32_t> columns = differing(tables, keys);
      std::vector<Said> said;
      for (std::size_t i = 0; i < tables.size(); ++i) {
        const std::uint32_t row = find(*tables[i], keys);
        said.push_back(row == Table::none ? without(*editions[i], *tables[i], keys)
                                          : cited(*editions[i], tables[i]->cite(row),
                                                  words_of(*tables[i], row, columns), tables[i]->layer(row)));
      }
      Difference d{{}, name, {}, {}, {}, {}, {}};
      if (!make(d, editions, said)) continue;
      const string content = fmt::format("{}|{}|{}", fmt::join(d.values, ";"), fmt::join(d.stands, ";"),
                                         fmt::join(d.remarks, ";"));
      const auto [at, is_new] = by_content.emplace(content, found.size());
      if (is_new) found.emplace_back(std::move(d), Keys{});
      found[at->second].second.push_back(keys);
    }
  }
  for (auto& [d, keys] : found) {
    string list;
    for (const auto& own : keys) list += fmt::format("{}{}", list.empty() ? "" : "; ", fmt::join(own, ", "));
    d.what = fmt::format("table {}: {}", name, list);
    d.taken_from = [name, keys = keys](const Law& to, const Law& from) {
      Law law = to;
      Table& own = named(law.tables, name);
      own = with_rows(own, *from.table(name), keys);
      return law;
    };
    out.push_back(std::move(d));
  }
}

void rules(const Editions& editions, std::vector<Difference>& out) {
  for (const string& name : names_of(editions, [](const Law&law, std::set<string>&names) {
         for (const RuleSetting& r : law.rules) names.insert(r.rule);
       })) {
    Difference d{"rule " + name, name, {}, {}, {}, {}, {}};
    bool amended = false;
    for (const auto& law : editions) {
      const RuleSetting* rule = law->rule(name);
      string sections, stands;
      for (const CitationId id : rule == nullptr ? std::vector<CitationId>{} : rule->cites) {
        const Citation& c = law->citation(id);
        sections += (sections.empty() ? "" : ", ") + c.section;
        stands += fmt::format("{}{} ({})", stands.empty() ? "" : ", ", c.section, name_of(c.basis));
        const string remark = law->layers[rule->layer] + ": " + c.section + ": " + c.note;
        const auto& newest = editions.back()->citations;
        const bool old = std::any_of(newest.begin(), newest.end(), [&](const Citation& n) {
          return n.section == c.section && n.note == c.note;
        });
        const bool once = !old && std::find(d.remarks.begin(), d.remarks.end(), remark) == d.remarks.end();
        if (rule->layer != 0 && !c.note.empty() && once) d.remarks.push_back(remark);
      }
      amended = amended || (rule != nullptr && rule->layer != 0);
      d.sections.push_back(sections);
      d.stands.push_back(stands);
      d.values.emplace_back();
    }
    if (amended || !all_equal(d.sections)) out.push_back(std::move(d));
  }
}

/// A fixture and what is found in it.
struct Shown {
  string name;
  Loaded loaded;
  std::vector<Report> reports;  // an edition each
};

std::vector<string> verdicts(const Report& report) {
  std::vector<string> out;
  for (const Finding& f : report.findings)
    out.push_back(fmt::format("{} {} {}", static_cast<int>(f.kind), f.rule, f.subject));
  return out;
}

std::vector<Shown> fixtures_in(const fs::path& folder, const Editions& editions) {
  std::vector<Shown> out;
  for (const auto& entry : fs::directory_iterator(folder)) {
    Shown one{entry.path().filename().string(), load_file(entry.path().string()), {}};
    if (!one.loaded.installation) continue;
    for (const auto& law : editions) one.reports.push_back(check(*one.loaded.installation, *law, {}));
    out.push_back(std::move(one));
  }
  std::sort(out.begin(), out.end(), [](const Shown& a, const Shown& b) { return a.name < b.name; });
  return out;
}

/// True where a verdict changes with nothing but this changed to what the next edition says.
bool shows_value(const Shown& fixture, const Difference& d, const Editions& editions) {
  for (std::size_t i = 0; i + 1 < editions.size(); ++i) {
    if (d.values[i] == d.values[i + 1]) continue;
    const Law law = d.taken_from(*editions[i], *editions[i + 1]);
    if (verdicts(check(*fixture.loaded.installation, law, {})) != verdicts(fixture.reports[i])) return true;
  }
  return false;
}

bool shows_section(const Shown& fixture, const Difference& d) {
  for (std::size_t i = 0; i < fixture.reports.size(); ++i) {
    for (const Finding& f : fixture.reports[i].findings) {
      if (f.rule == d.name) return true;
      if (std::any_of(f.cites.begin(), f.cites.end(),
                      [&](const Citation& c) { return c.section == d.sections[i]; }))
        return true;
    }
  }
  return false;
}

string link(const string& fixture) { return fmt::format("[{0}](../fixtures/editions/{0})", fixture); }

string row_of(const Difference& d, const string& shown) {
  string out = "| " + escaped(d.what) + " |";
  for (std::size_t i = 0; i < d.stands.size(); ++i) {
    const string value = d.of_value() && !d.values[i].empty() ? "**" + escaped(d.values[i]) + "**" : "";
    const string between = value.empty() || d.stands[i].empty() ? "" : "; ";
    out += fmt::format(" {}{}{} |", value, between, escaped(d.stands[i]));
  }
  return out + fmt::format(" {} | {} |\n", escaped(fmt::format("{}", fmt::join(d.remarks, " "))), shown);
}

string head_of(const Editions& editions) {
  string out = "| what |", line = "|---|";
  for (const auto& law : editions) {
    out += fmt::format(" {} |", law->id);
    line += "---|";
  }
  return out + " remarks | shown by |\n" + line + "---|---|\n";
}

}  // namespace

bool Difference::of_value() const { return !all_equal(values); }

std::vector<Difference> differences_of(const Editions& editions) {
  std::vector<Difference> out;
  rules(editions, out);
  parameters(editions, out);
  for (const string& name : names_of(editions, [](const Law&law, std::set<string>&names) {
         for (const Table& t : law.tables) names.insert(t.name);
       }))
    rows(editions, name, out);
  return out;
}

string page_of_editions(const Editions& editions, const fs::path& folder,
                        const std::function<bool(std::string_view)>& is_read, std::vector<string>& unshown) {
  const std::vector<Shown> fixtures = fixtures_in(folder, editions);
  string values, numbers;
  for (const Difference& d : differences_of(editions)) {
    string shown;
    for (const Shown& fixture : fixtures) {
      const bool shows = d.of_value() ? shows_value(fixture, d, editions) : shows_section(fixture, d);
      if (shows && (d.of_value() || shown.empty())) shown += (shown.empty() ? "" : ", ") + link(fixture.name);
    }
    if (shown.empty() && d.of_value()) {
      if (is_read(d.name)) unshown.push_back(d.what);
      shown = "no rule reads it";
    }
    (d.of_value() ? values : numbers) += row_of(d, shown);
  }
  string out = R"(# What the editions change

As the layers of the shipped editions say it, for the rules that there are. What is not here is the same in all of them,
as far as it was read or is remembered; [rulesets.md](rulesets.md) tells how the layers stand one upon another.

## What is asked otherwise

The value, the section and its basis. Each of the fixtures gets another verdict when nothing but this is changed from one
edition to the next.

)" + head_of(editions) +
               values + R"(
## What only stands elsewhere, or is worded otherwise

The same value under another number or wording. Where a fixture cites it, one is named. Where none does, nothing is judged
otherwise: the rule's own fixtures judge it under one edition, and a new number changes no verdict, only what is cited.

)" + head_of(editions) +
               numbers;
  return out;
}

}  // namespace raceward::pages
