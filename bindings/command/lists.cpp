// raceward rules and raceward rulesets: what is judged, and under which numbers.
#include <spdlog/fmt/fmt.h>
#include <spdlog/fmt/ranges.h>

#include <algorithm>
#include <filesystem>

#include "differences.hpp"
#include "law_json.hpp"
#include "laws.hpp"
#include "modules.hpp"
#include "output.hpp"
#include "tasks.hpp"
#include "witnesses.hpp"
#include "wrap.hpp"

namespace raceward::command {

namespace {

constexpr std::size_t indent = 15;

std::string joined(std::span<const std::string_view> names) {
  std::string out;
  for (const std::string_view name : names) {
    if (!out.empty()) out += ", ";
    out += name;
  }
  return out;
}

std::string cited(const Citation& cite) {
  const std::string title =
      cite.edition.empty() ? cite.document : fmt::format("{}-{}", cite.document, cite.edition);
  return fmt::format("{} {}", title, cite.section);
}

}  // namespace

/// "NFPA 70-2023 314.16 (read: ...)"
std::string cited_with_basis(const Citation& cite) {
  std::string out = fmt::format("{} ({}", cited(cite), name_of(cite.basis));
  if (!cite.source.empty()) out += ": " + cite.source;
  for (const std::string& more : {cite.note, cite.inherited}) {
    if (more.empty()) continue;
    if (out.back() == '.') out.pop_back();
    out += "; " + more;
  }
  return out + ")";
}

namespace {

std::string sections_of(const Law& law, const RuleSetting& setting) {
  std::string out;
  for (const CitationId id : setting.cites) {
    if (!out.empty()) out += "; ";
    out += cited(law.citation(id));
  }
  return out;
}

std::string described(const Rule& rule, const Law* law) {
  std::string out = fmt::format("{}\n", rule.id);
  out += wrapped(std::string(rule.title) + ".", indent, "  asks");
  out += wrapped(rule.why, indent, "  why");
  out += wrapped(fmt::format("each {}", name_of(rule.subject)), indent, "  judges");
  if (!rule.unseen.empty()) out += wrapped(rule.unseen, indent, "  not seen");
  const ModuleInfo* const module = origin_of(rule);
  out += wrapped(module == nullptr
                     ? fmt::format("Raceward {}", version())
                     : fmt::format("module {} {} ({})", module->name, module->version, module->file),
                 indent, "  from");
  if (!rule.figures.empty()) out += wrapped(joined(rule.figures), indent, "  figures");
  if (!rule.parameters.empty()) out += wrapped(joined(rule.parameters), indent, "  parameters");
  if (law == nullptr) return out;
  const RuleSetting* setting = law->rule(rule.id);
  const std::string force = setting == nullptr ? "not used" : std::string(name_of(setting->force));
  out +=
      wrapped(fmt::format("{} {}", force, setting == nullptr ? "" : "under " + law->id), indent, "  force");
  if (setting != nullptr) out += wrapped(sections_of(*law, *setting), indent, "  stands on");
  return out;
}

/// Of a rule that the law brings itself, as data or in the words of conditions.
template <class Own>
std::string described_own(const Own& own, const Law& law) {
  Rule rule;
  rule.id = own.id;
  rule.title = own.title;
  rule.why = own.why;
  rule.subject = own.subject;
  std::string out = described(rule, &law);
  const std::size_t from = out.find("  from");
  out.erase(from, out.find('\n', from) + 1 - from);
  const std::string place =
      own.place.line == 0 ? own.place.file : fmt::format("{}:{}", own.place.file, own.place.line);
  return out + wrapped(fmt::format("{} at {}", law.layers[own.layer], place), indent, "  from");
}

std::string described(const Requirement& asks, const Law& law) {
  std::string out = described_own(asks, law);
  if (!asks.given_words.empty()) out += wrapped(asks.given_words, indent, "  where");
  return out + wrapped(asks.must_words, indent, "  must hold");
}

std::string described(const DataRule& data, const Law& law) {
  std::string out = described_own(data, law);
  for (const DataRule::When& when : data.whens) out += wrapped(when.test, indent, "  when");
  for (const DataRule::Assert& a : data.asserts) out += wrapped(a.test, indent, "  must hold");
  return out;
}

/// " by nec-2020": which layer it was; nothing to say where there is but one.
std::string by_layer(const Law& law, LayerId layer) {
  return law.layers.size() < 2 ? std::string{} : " by " + law.layers[layer];
}

/// "FMC, 2: use flexible, rating 20A, path-length 6ft"
std::string row_of(const Table& table, std::uint32_t row) {
  std::string keys, values;
  for (std::uint32_t i = 0; i < table.columns.size(); ++i) {
    const Column& column = table.columns[i];
    if (column.kind == Column::Kind::key) {
      keys += fmt::format("{}{}", keys.empty() ? "" : ", ", table.key(row, i));
      continue;
    }
    const std::int64_t count = table.count(row, i);
    const std::string value = column.kind == Column::Kind::text ? std::string(table.text(row, i))
                              : count == Table::blank           ? std::string{}
                                                                : text_of(Amount{count, column.unit});
    if (!value.empty()) values += fmt::format("{}{} {}", values.empty() ? ": " : ", ", column.name, value);
  }
  return keys + values;
}

/// Rows that hold under a condition only.
std::string set_rows(const Law& law, const Table& t) {
  std::string out;
  for (std::uint32_t row = 0; row < t.row_count(); ++row) {
    out += wrapped(t.name + ": " + row_of(t, row), 6);
    if (t.cite(row) != no_citation) out += wrapped(cited_with_basis(law.citation(t.cite(row))), 10);
  }
  for (const Table::Removed& r : t.removed)
    out += wrapped(fmt::format("{}: without {}", t.name, fmt::join(r.keys, ", ")), 6);
  return out;
}

/// The condition, and where it is set.
std::string head_of(const Law& law, const Scope& scope) {
  const std::string at = fmt::format("{}:{}", scope.place.file, scope.place.line);
  return wrapped("where " + scope.words, 2, "") +
         wrapped("set" + by_layer(law, scope.layer) + " at " + at, 6);
}

std::string changes_of(const Law& law, const Scope& scope) {
  std::string out = head_of(law, scope);
  if (scope.adopts) out += wrapped("adopts " + scope.adopts->id, 6);
  for (const Parameter& p : scope.parameters) {
    const Parameter* base = law.parameter(p.name);
    out += wrapped(
        fmt::format("{} = {}{}", p.name, p.text, base == nullptr ? "" : ", in place of " + base->text), 6);
    if (p.cite != no_citation) out += wrapped(cited_with_basis(law.citation(p.cite)), 10);
  }
  for (const RuleSetting& r : scope.rules)
    out += wrapped(fmt::format("rule {} {}; {}", r.rule, name_of(r.force), sections_of(law, r)), 6);
  for (const Table& t : scope.tables) out += set_rows(law, t);
  return out;
}

/// The table, and each row that stands in the place of one of the first layer, or was added or removed.
std::string described(const Law& law, const Table& table) {
  std::vector<std::uint32_t> rows(law.layers.size());
  for (std::uint32_t row = 0; row < table.row_count(); ++row) ++rows[table.layer(row)];
  std::string by;
  for (LayerId layer = 0; law.layers.size() > 1 && layer < rows.size(); ++layer) {
    if (rows[layer] != 0) by += fmt::format("{}{}{}", ", ", rows[layer], by_layer(law, layer));
  }
  std::string out =
      fmt::format("  {}: {} rows{} ({})\n", table.name, table.row_count(), by, table.place.file);
  if (law.layers.size() < 2) return out;
  for (std::uint32_t row = 0; row < table.row_count(); ++row) {
    if (table.layer(row) == 0) continue;
    out += wrapped("set" + by_layer(law, table.layer(row)) + ": " + row_of(table, row), 6);
    if (table.cite(row) != no_citation) out += wrapped(cited_with_basis(law.citation(table.cite(row))), 10);
  }
  for (const Table::Removed& removed : table.removed) {
    out +=
        wrapped(fmt::format("removed{}: {}", by_layer(law, removed.layer), fmt::join(removed.keys, ", ")), 6);
    if (removed.cite != no_citation) out += wrapped(cited_with_basis(law.citation(removed.cite)), 10);
  }
  return out;
}

/// Every row, and above the first of those that stand on the same where they have it from; then those that
/// hold under a condition.
std::string rows_of(const Law& law, const Table& table) {
  std::string out = fmt::format("{}: {} rows ({})\n", table.name, table.row_count(), table.place.file);
  for (std::uint32_t row = 0; row < table.row_count(); ++row) {
    if (row == 0 || table.cite(row) != table.cite(row - 1) || table.layer(row) != table.layer(row - 1)) {
      const std::string from =
          table.cite(row) == no_citation ? "" : cited_with_basis(law.citation(table.cite(row)));
      out += wrapped(from + by_layer(law, table.layer(row)), 2, "");
    }
    out += wrapped(row_of(table, row), 6);
  }
  for (const Scope& scope : law.scopes) {
    for (const Table& set : scope.tables) {
      if (set.name == table.name) out += head_of(law, scope) + set_rows(law, set);
    }
  }
  return out;
}

std::string place_of(const Law& law, const Place& place, LayerId layer) {
  return wrapped("set" + by_layer(law, layer) + " at " +
                     (place.line == 0 ? place.file : fmt::format("{}:{}", place.file, place.line)),
                 6);
}

template <class Own>
std::string asked(const Law& law, const Own& own) {
  return wrapped(fmt::format("of each {}: {}", name_of(own.subject), own.title), 32, "  " + own.id) +
         place_of(law, own.place, own.layer);
}

std::string expressions(const DataRule& rule) {
  std::string out;
  for (const DataRule::When& when : rule.whens) out += wrapped("where " + when.test, 6);
  for (const DataRule::Assert& a : rule.asserts) out += wrapped("must hold: " + a.test, 6);
  return out;
}

std::string expressions(const Requirement& r) {
  return (r.given_words.empty() ? std::string() : wrapped("where " + r.given_words, 6)) +
         wrapped("must hold: " + r.must_words, 6);
}

bool asks(const Condition& c, const std::string& fact) {
  return (c.kind == Condition::Kind::fact && c.name == fact) ||
         std::any_of(c.parts.begin(), c.parts.end(), [&](const Condition& part) { return asks(part, fact); });
}

/// Whether a condition, a requirement or an expression asks for a declared fact.
bool is_read(const Law& law, const std::string& fact) {
  const auto in = [&](const std::string& expression) {
    const std::string path = "stated/@" + fact;
    for (std::size_t at = expression.find(path); at != std::string::npos;
         at = expression.find(path, at + 1)) {
      const std::size_t end = at + path.size();
      if (end == expression.size() || (std::isalnum(static_cast<unsigned char>(expression[end])) == 0 &&
                                       expression[end] != '-' && expression[end] != '_'))
        return true;
    }
    return false;
  };
  return std::any_of(law.scopes.begin(), law.scopes.end(),
                     [&](const Scope& s) { return asks(s.when, fact); }) ||
         std::any_of(law.requirements.begin(), law.requirements.end(),
                     [&](const Requirement& r) { return asks(r.given, fact) || asks(r.must, fact); }) ||
         std::any_of(law.data_rules.begin(), law.data_rules.end(), [&](const DataRule& r) {
           return std::any_of(r.whens.begin(), r.whens.end(), [&](const auto& w) { return in(w.test); }) ||
                  std::any_of(r.asserts.begin(), r.asserts.end(),
                              [&](const auto& a) { return in(a.test) || in(a.measured) || in(a.limit); });
         });
}

std::string described(const Law& law) {
  std::string out = fmt::format("{}: {}\n", law.id, law.title);
  for (const LayerPeriod& p : law.periods) {
    out += fmt::format("{} is law{}{}{}{}\n", p.layer, p.from.empty() ? "" : " from ", p.from,
                       p.before.empty() ? "" : " before ", p.before);
  }
  std::string layers;
  for (const std::string& layer : law.layers) layers += (layers.empty() ? "" : " + ") + layer;
  out += fmt::format("layers: {}\n\nRules\n", layers);
  for (const RuleSetting& setting : law.rules) {
    const std::string by = by_layer(law, setting.layer);
    out += wrapped(fmt::format("{}{}; {}", name_of(setting.force), by, sections_of(law, setting)), 32,
                   "  " + setting.rule);
  }
  out += "\nParameters\n";
  for (const Parameter& p : law.parameters) {
    const std::string place =
        p.place.line == 0 ? p.place.file : fmt::format("{}:{}", p.place.file, p.place.line);
    out +=
        fmt::format("  {} = {}{}\n", p.name, p.text, p.replaces.empty() ? "" : ", in place of " + p.replaces);
    if (p.cite != no_citation) out += wrapped(cited_with_basis(law.citation(p.cite)), 6);
    if (!place.empty()) out += wrapped("set" + by_layer(law, p.layer) + " at " + place, 6);
  }
  out += "\nTables\n";
  for (const Table& table : law.tables) out += described(law, table);
  if (!law.facts.empty()) out += "\nFacts that documents are asked to state\n";
  for (const DeclaredFact& f : law.facts) {
    const std::string value =
        f.kind == DeclaredFact::Kind::yes_no ? "yes or no"
        : f.kind == DeclaredFact::Kind::date ? "a date"
        : f.kind == DeclaredFact::Kind::quantity
            ? fmt::format("a number in {}", f.unit == Unit::one ? "no unit" : symbol_of(f.unit))
        : f.words.empty() ? "a word"
                          : fmt::format("{}", fmt::join(f.words, ", "));
    const char* const unread = is_read(law, f.name) ? "" : "; nothing of this ruleset reads it";
    out += wrapped(
        fmt::format("of each {}{}: {}: {}{}", name_of(f.of), by_layer(law, f.layer), f.title, value, unread),
        32, "  " + f.name);
  }
  if (!law.requirements.empty() || !law.data_rules.empty()) out += "\nWhat it asks itself\n";
  for (const Requirement& r : law.requirements) out += asked(law, r) + expressions(r);
  for (const DataRule& r : law.data_rules) out += asked(law, r) + expressions(r);
  if (!law.scopes.empty()) out += "\nUnder conditions\n";
  for (const Scope& scope : law.scopes) out += changes_of(law, scope);
  return out;
}

std::string described(const std::vector<Remark>& remarks) {
  std::string out = remarks.empty() ? "" : "\nWithout effect, or with less than it may seem\n";
  for (const Remark& each : remarks) out += wrapped(text_of(Problem{each.place, each.message}), 6, "  ");
  return out;
}

Status show_table(const Law& law, const std::string& name, Format format) {
  if (const Table* table = law.table(name))
    return write_standard(format == Format::json ? json_of(law, {}, table) : rows_of(law, *table));
  std::vector<std::string_view> names;
  for (const Table& table : law.tables) names.push_back(table.name);
  complain(fmt::format("{} has no table {}; it has {}", law.id, name, joined(names)));
  return Status::usage;
}

/// Only the names: which documents a folder or a list of files gives.
/// Nothing where one of them is not there.
std::optional<std::vector<std::string>> documents_of(const std::vector<std::string>& named) {
  namespace fs = std::filesystem;
  std::vector<std::string> out;
  for (const std::string& name : named) {
    std::error_code error;
    if (!fs::exists(name, error)) {
      complain(name + ": there is no such file or folder");
      return std::nullopt;
    }
    if (!fs::is_directory(name, error)) {
      out.push_back(name);
      continue;
    }
    for (fs::recursive_directory_iterator at(name, error), end; !error && at != end; at.increment(error)) {
      if (at->path().extension() == ".xml") out.push_back(at->path().string());
    }
  }
  std::sort(out.begin(), out.end());
  return out;
}

Status compare(const RulesetsTask& options) {
  const std::optional<std::vector<std::string>> among = documents_of(options.among);
  if (!among) return Status::unreadable;
  Laws laws;
  const Law* from = laws.named(options.difference[0]);
  const Law* to = from == nullptr ? nullptr : laws.named(options.difference[1]);
  if (to == nullptr) return Status::unreadable;
  const std::vector<Difference> all = differences(*from, *to);
  Witnesses looked(*from, *to, *among);
  std::vector<Witness> witnesses(all.size());
  for (std::size_t i = 0; i < all.size(); ++i) {
    Witness found;
    if (looked.find(all[i], found)) witnesses[i] = std::move(found);
  }
  return write_standard(options.format == Format::json
                            ? json_of_differences(*from, *to, all, witnesses, looked.documents())
                            : text_of_differences(*from, *to, all, witnesses, looked.documents()));
}

}  // namespace

Status run(const RulesTask& options, spdlog::logger&) {
  Laws laws;
  const Law* law = nullptr;
  if (!options.under.empty()) {
    law = laws.named(options.under);
    if (law == nullptr) return Status::unreadable;
  }
  const LoadedModules& modules = load(options.modules);
  std::vector<const Rule*> rules = shipped_rules();
  for (const Rule* rule : rules_of(modules)) rules.push_back(rule);
  std::stable_sort(rules.begin(), rules.end(), [](const Rule* a, const Rule* b) { return a->id < b->id; });
  std::string text;
  for (const Rule* rule : rules) text += (text.empty() ? "" : "\n") + described(*rule, law);
  if (law != nullptr) {
    for (const Requirement& rule : law->requirements) text += "\n" + described(rule, *law);
    for (const DataRule& rule : law->data_rules) text += "\n" + described(rule, *law);
  }
  return worse(modules.problems.empty() ? Status::complies : Status::unreadable, write_standard(text));
}

Status run(const RulesetsTask& options, spdlog::logger&) {
  if (!options.difference.empty()) return compare(options);
  if (!options.show.empty()) {
    Laws laws;
    const Law* law = laws.named(options.show);
    if (law == nullptr) return Status::unreadable;
    if (!options.table.empty()) return show_table(*law, options.table, options.format);
    const std::vector<Remark>& remarks = laws.remarks(options.show);
    return write_standard(options.format == Format::json ? json_of(*law, remarks, nullptr)
                                                         : described(*law) + described(remarks));
  }
  if (options.format == Format::json) return write_standard(json_of(shipped_rulesets()));
  std::string text;
  for (const RulesetInfo& info : shipped_rulesets()) {
    text += fmt::format("{:<16}{} ({} {})\n", info.id, info.title, info.document, info.edition);
  }
  return write_standard(text);
}

}  // namespace raceward::command
