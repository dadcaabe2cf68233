#include "tools/layers.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace raceward::pages {
namespace {

using std::string;

string escaped(std::string_view text) {
  string out;
  for (const char c : text) {
    if (std::string_view("<*_|`").find(c) != std::string_view::npos) out += '\\';
    out += c;
  }
  return out;
}

/// How many entries came to us how.
struct Bases {
  std::array<std::size_t, 4> counts{};
  void add(const Law& law, CitationId id) {
    if (id < law.citations.size()) ++counts[static_cast<std::size_t>(law.citation(id).basis)];
  }
  [[nodiscard]] std::size_t all() const { return counts[0] + counts[1] + counts[2] + counts[3]; }
  [[nodiscard]] string words() const {
    string out;
    for (const Basis basis : {Basis::read, Basis::derived, Basis::memory, Basis::common_practice}) {
      const std::size_t count = counts[static_cast<std::size_t>(basis)];
      if (count > 0) out += fmt::format("{}{} {}", out.empty() ? "" : ", ", count, name_of(basis));
    }
    return out;
  }
};

string stands(const Law& law, CitationId id) {
  if (id >= law.citations.size()) return "";
  const Citation& c = law.citation(id);
  return fmt::format("{} ({})", escaped(c.section.empty() ? c.document : c.section), name_of(c.basis));
}

/// All that the layer sets, counted.
Bases bases_of(const Law& law, LayerId own) {
  Bases out;
  for (const Parameter& p : law.parameters) {
    if (p.layer == own) out.add(law, p.cite);
  }
  for (const Table& t : law.tables) {
    for (std::uint32_t row = 0; row < t.row_count(); ++row) {
      if (t.layer(row) == own) out.add(law, t.cite(row));
    }
  }
  for (const RuleSetting& r : law.rules) {
    if (r.layer != own) continue;
    for (const CitationId id : r.cites) out.add(law, id);
  }
  return out;
}

string columns_of(const Table& t) {
  string keys, others;
  for (const Column& c : t.columns) {
    string& to = c.kind == Column::Kind::key ? keys : others;
    to += (to.empty() ? "" : ", ") + c.name;
    if (c.kind == Column::Kind::quantity && !symbol_of(c.unit).empty())
      to += fmt::format(" [{}]", symbol_of(c.unit));
  }
  return fmt::format("{}: {}", keys, others);
}

}  // namespace

string page_of_layer(const Law& law) {
  const auto own = static_cast<LayerId>(law.layers.size() - 1);
  string out = fmt::format("# {}: {}\n\n", law.layers[own], escaped(law.title));
  if (own == 0) {
    out += "It stands upon no other layer.";
  } else {
    out += fmt::format("It stands upon [{0}]({0}.md): here is what it says otherwise.", law.layers[own - 1]);
  }
  const Bases bases = bases_of(law, own);
  out += fmt::format(
      " {} entries: {}. `raceward rulesets {}` prints all that holds under it, each value with its source.\n",
      bases.all(), bases.words(), law.layers[own]);

  string rules, parameters, tables;
  for (const RuleSetting& r : law.rules) {
    if (r.layer != own) continue;
    string where;
    for (const CitationId id : r.cites) where += (where.empty() ? "" : "; ") + stands(law, id);
    rules += fmt::format("| [{0}](../rules/{0}.md) | {1} | {2} |\n", r.rule, name_of(r.force), where);
  }
  for (const Parameter& p : law.parameters) {
    if (p.layer != own) continue;
    const string was = p.replaces.empty() ? "" : fmt::format(" in place of {}", escaped(p.replaces));
    parameters += fmt::format("| `{}` | {}{} | {} |\n", p.name, escaped(p.text), was, stands(law, p.cite));
  }
  for (const Table& t : law.tables) {
    Bases of;
    std::size_t rows = 0, removed = 0;
    std::vector<string> sections;
    for (std::uint32_t row = 0; row < t.row_count(); ++row) {
      if (t.layer(row) != own) continue;
      ++rows;
      of.add(law, t.cite(row));
      const string section = t.cite(row) < law.citations.size() ? law.citation(t.cite(row)).section : "";
      if (!section.empty() && std::find(sections.begin(), sections.end(), section) == sections.end())
        sections.push_back(section);
    }
    for (const Table::Removed& r : t.removed) removed += r.layer == own ? 1 : 0;
    if (rows + removed == 0) continue;
    const string where = sections.empty()       ? ""
                         : sections.size() <= 3 ? fmt::format("{}", fmt::join(sections, "; "))
                                                : fmt::format("{} and others", sections.front());
    tables += fmt::format("| `{}` | {}{} | {} | {} | {} |\n", t.name, rows,
                          removed > 0 ? fmt::format(", {} taken out", removed) : "", columns_of(t),
                          escaped(where), of.words());
  }
  if (!rules.empty()) out += "\n## Rules\n\n| rule | force | stands in |\n|---|---|---|\n" + rules;
  if (!parameters.empty())
    out += "\n## Parameters\n\n| parameter | value | stands in |\n|---|---|---|\n" + parameters;
  if (!tables.empty())
    out += "\n## Tables\n\n| table | rows | keys: columns | stands in | basis |\n|---|---|---|---|---|\n" +
           tables;
  return out;
}

string index_of_layers(const std::vector<std::shared_ptr<const Law>>& laws) {
  string out = R"(# The shipped layers

What each ruleset in `rulesets/` sets itself. [rulesets.md](../rulesets.md) tells how layers stand one upon another, and
[editions.md](../editions.md) what the editions change, each with a fixture.

| layer | | stands upon | entries |
|---|---|---|---|
)";
  for (const auto& law : laws) {
    const auto own = static_cast<LayerId>(law->layers.size() - 1);
    out += fmt::format("| [{0}]({0}.md) | {1} | {2} | {3} |\n", law->layers[own], escaped(law->title),
                       own == 0 ? "" : law->layers[own - 1], bases_of(*law, own).words());
  }
  return out;
}

}  // namespace raceward::pages
