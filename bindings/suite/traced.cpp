#include "traced.hpp"

#include <fmt/format.h>

namespace raceward::suite {

namespace {

constexpr const char* traced_by = "traced";

/// Of each layer; a place tells it.
std::vector<std::string> files_of(const Law& law) {
  std::vector<std::string> out(law.layers.size());
  const auto look = [&](const auto& all) {
    for (const auto& one : all) {
      if (one.layer < out.size()) out[one.layer] = one.place.file;
    }
  };
  look(law.parameters);
  look(law.rules);
  return out;
}

/// Names that stand behind a mark in the expressions of a rule.
std::set<std::string> names_behind(std::string_view mark, const DataRule& rule) {
  std::set<std::string> out;
  const auto look = [&](const std::string& expression) {
    constexpr const char* of_names = "abcdefghijklmnopqrstuvwxyz0123456789-";
    for (std::size_t at = expression.find(mark); at != std::string::npos;
         at = expression.find(mark, at + mark.size())) {
      const std::size_t begin = at + mark.size();
      out.insert(expression.substr(begin, expression.find_first_not_of(of_names, begin) - begin));
    }
  };
  for (const DataRule::When& when : rule.whens) look(when.test);
  for (const DataRule::Assert& a : rule.asserts) {
    for (const std::string* expression : {&a.test, &a.measured, &a.limit}) look(*expression);
  }
  return out;
}

void merge(Traced::Use& to, const Traced::Use& more) {
  to.complies = to.complies || more.complies;
  to.violates = to.violates || more.violates;
  to.rules.insert(more.rules.begin(), more.rules.end());
}

}  // namespace

Traced::Traced(const Law& law) : files_(files_of(law)), law_(law) {
  for (std::size_t i = 0; i < law_.parameters.size(); ++i) {
    Parameter& p = law_.parameters[i];
    parameters_[p.name] = entries_.size();
    p.cite = add(law, p.cite, p.layer, {{}, {}, "parameter " + p.name, {}, no_table, i});
  }
  for (std::size_t i = 0; i < law_.tables.size(); ++i) {
    Table& t = law_.tables[i];
    for (std::uint32_t row = 0; row < t.row_count(); ++row) {
      std::string what = fmt::format("table {}: {}", t.name, fmt::join(t.keys(row), ", "));
      t.set_cite(row, add(law, t.cite(row), t.layer(row), {{}, {}, std::move(what), {}, i, row}));
    }
  }
}

CitationId Traced::add(const Law& law, CitationId old, LayerId layer, Entry entry) {
  entry.stands = old < law.citations.size() ? law.citation(old).section : "";
  entry.layer = layer < law.layers.size() ? law.layers[layer] : law.id;
  entry.file = layer < files_.size() ? files_[layer] : "";
  law_.citations.push_back({traced_by, {}, std::to_string(entries_.size()), Basis::memory, {}});
  entries_.push_back(std::move(entry));
  return static_cast<CitationId>(law_.citations.size() - 1);
}

std::set<std::size_t> Traced::named_by(const DataRule& rule) const {
  std::set<std::size_t> out;
  for (const std::string& name : names_behind("$", rule)) {
    const auto found = parameters_.find(name);
    if (found != parameters_.end()) out.insert(found->second);
  }
  return out;
}

std::map<std::string, std::vector<const LedgerLine*>> Traced::readers(
    const Report& report, const std::vector<const Rule*>& rules) const {
  std::map<std::string, std::vector<const LedgerLine*>> out;
  for (const LedgerLine& line : report.ledger) {
    for (const Rule* rule : rules) {
      if (rule->id != line.rule) continue;
      for (const std::string_view figure : rule->figures) out[std::string(figure)].push_back(&line);
    }
    for (const DataRule& rule : law_.data_rules) {
      if (rule.id != line.rule) continue;
      for (const std::string& figure : names_behind("figures/@", rule)) out[figure].push_back(&line);
    }
  }
  return out;
}

std::map<std::size_t, Traced::Use> Traced::used(const Installation& installation, const Report& report,
                                                const std::vector<const Rule*>& rules) const {
  std::map<std::size_t, Use> out;
  std::map<std::pair<std::string_view, std::string_view>, Finding::Kind> found;
  for (const Finding& f : report.findings) found[{f.rule, f.subject}] = f.kind;
  const auto by_figure = readers(report, rules);
  for (const FigureLine& line : figures(installation, law_)) {
    Use use;
    const auto read_by = by_figure.find(line.figure);
    if (read_by != by_figure.end()) {
      for (const LedgerLine* rule : read_by->second) {
        // What is no finding complies, where the rule does so anywhere; or it does not apply.
        const auto at = found.find({rule->rule, line.subject});
        const bool complies = at == found.end() && rule->complies > 0;
        if (at == found.end() && !complies) continue;
        use.complies = use.complies || complies;
        use.violates = use.violates || (!complies && at->second != Finding::Kind::undetermined);
        use.rules.insert(static_cast<std::size_t>(rule - report.ledger.data()));
      }
    }
    for (const Citation& c : line.sources) {
      if (c.document == traced_by) merge(out[std::stoull(c.section)], use);
    }
  }
  for (std::size_t number = 0; number < report.ledger.size(); ++number) {
    const LedgerLine& line = report.ledger[number];
    if (line.complies + line.violates == 0) continue;
    const Use use{line.complies > 0, line.violates > 0, {number}};
    for (const DataRule& rule : law_.data_rules) {
      if (rule.id != line.rule) continue;
      for (const std::size_t named : named_by(rule)) merge(out[named], use);
    }
    for (const Rule* rule : rules) {
      if (rule->id != line.rule) continue;
      for (const std::string_view name : rule->parameters) {
        const auto at = parameters_.find(std::string(name));
        if (at != parameters_.end()) merge(out[at->second], use);
      }
    }
  }
  return out;
}

}  // namespace raceward::suite
