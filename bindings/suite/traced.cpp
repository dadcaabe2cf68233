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
  const auto look = [&](const std::string& expression) {
    constexpr const char* of_names = "abcdefghijklmnopqrstuvwxyz0123456789-";
    for (std::size_t at = expression.find('$'); at != std::string::npos; at = expression.find('$', at + 1)) {
      const std::size_t end = expression.find_first_not_of(of_names, at + 1);
      const auto found = parameters_.find(expression.substr(at + 1, end - at - 1));
      if (found != parameters_.end()) out.insert(found->second);
    }
  };
  for (const DataRule::When& when : rule.whens) look(when.test);
  for (const DataRule::Assert& a : rule.asserts) {
    for (const std::string* expression : {&a.test, &a.measured, &a.limit}) look(*expression);
  }
  return out;
}

std::set<std::size_t> Traced::used(const Installation& installation, const Report& report,
                                   const std::vector<const Rule*>& rules) const {
  std::set<std::size_t> out;
  for (const FigureLine& line : figures(installation, law_)) {
    for (const Citation& c : line.sources) {
      if (c.document == traced_by) out.insert(std::stoull(c.section));
    }
  }
  for (const LedgerLine& line : report.ledger) {
    if (line.complies + line.violates == 0) continue;
    for (const DataRule& rule : law_.data_rules) {
      if (rule.id == line.rule) out.merge(named_by(rule));
    }
    for (const Rule* rule : rules) {
      if (rule->id != line.rule) continue;
      for (const std::string_view name : rule->parameters) {
        const auto at = parameters_.find(std::string(name));
        if (at != parameters_.end()) out.insert(at->second);
      }
    }
  }
  return out;
}

}  // namespace raceward::suite
