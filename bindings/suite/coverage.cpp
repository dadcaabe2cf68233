#include "coverage.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <memory>
#include <set>
#include <tuple>

#include "laws.hpp"

namespace raceward::suite {

namespace {

constexpr const char* traced_by = "traced";

/// A law whose every number cites itself: what a figure cites tells what it rests on.
class Traced {
 public:
  explicit Traced(const Law& law) : law_(law) {
    for (Parameter& p : law_.parameters)
      p.cite = add(law, p.cite, p.layer, "parameter " + p.name, parameters_[p.name]);
    for (Table& t : law_.tables) {
      for (std::uint32_t row = 0; row < t.row_count(); ++row) {
        std::size_t ignored = 0;
        std::string what = fmt::format("table {}: {}", t.name, fmt::join(t.keys(row), ", "));
        t.set_cite(row, add(law, t.cite(row), t.layer(row), std::move(what), ignored));
      }
    }
  }
  struct Entry {
    std::string layer, what, stands;
  };
  [[nodiscard]] const Law& law() const { return law_; }
  [[nodiscard]] const std::vector<Entry>& entries() const { return entries_; }

  /// Positions of the entries that the installation's figures and verdicts rest on.
  [[nodiscard]] std::set<std::size_t> used(const Installation& installation, const Report& report,
                                           const std::vector<const Rule*>& rules) const {
    std::set<std::size_t> out;
    for (const FigureLine& line : figures(installation, law_)) {
      for (const Citation& c : line.sources) {
        if (c.document == traced_by) out.insert(std::stoull(c.section));
      }
    }
    for (const LedgerLine& line : report.ledger) {
      if (line.complies + line.violates == 0) continue;
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

 private:
  CitationId add(const Law& law, CitationId old, LayerId layer, std::string what, std::size_t& position) {
    const std::string stands = old < law.citations.size() ? law.citation(old).section : "";
    position = entries_.size();
    entries_.push_back({layer < law.layers.size() ? law.layers[layer] : law.id, std::move(what), stands});
    law_.citations.push_back({traced_by, {}, std::to_string(position), Basis::memory, {}});
    return static_cast<CitationId>(law_.citations.size() - 1);
  }

  Law law_;
  std::vector<Entry> entries_;
  std::map<std::string, std::size_t> parameters_;
};

}  // namespace

std::vector<std::string> RuleCoverage::holes() const {
  std::vector<std::string> out;
  if (complies == 0) out.emplace_back("complies");
  if (violates == 0) out.emplace_back("violates");
  if (undetermined == 0) out.emplace_back("undetermined");
  return out;
}

Coverage coverage_of(std::vector<Document> documents, const Choice& choice) {
  Coverage out;
  Laws laws;
  std::map<std::string, std::unique_ptr<Traced>> traced;
  std::map<std::pair<std::string, std::string>, RuleCoverage> rules;
  std::vector<const Rule*> known = shipped_rules();
  known.insert(known.end(), choice.extra_rules.begin(), choice.extra_rules.end());
  // Entries in the order of their layers, each layer's in its own order.
  std::map<std::pair<std::string, std::string>, std::size_t> position;

  for (Document& document : chosen(std::move(documents), choice)) {
    const Loaded loaded = load_moved(std::move(document.text), document.file, 1);
    if (!loaded.installation) {
      out.problems.insert(out.problems.end(), loaded.problems.begin(), loaded.problems.end());
      continue;
    }
    ++out.documents;
    std::set<std::pair<std::string, std::string>> seen;  // of this document, under whatever ruleset
    for (const std::string& name : rulesets_of(document, *loaded.installation, choice)) {
      const LoadedLaw& law = laws.at(name);
      if (!law.law) {
        out.problems.insert(out.problems.end(), law.problems.begin(), law.problems.end());
        continue;
      }
      std::unique_ptr<Traced>& of = traced[name];
      if (!of) {
        of = std::make_unique<Traced>(*law.law);
        for (const Traced::Entry& entry : of->entries()) {
          if (position.try_emplace({entry.layer, entry.what}, out.entries.size()).second)
            out.entries.push_back({entry.layer, entry.what, entry.stands, 0});
        }
      }
      CheckOptions how;
      how.threads = 1;
      how.findings = false;
      how.extra_rules = choice.extra_rules;
      const Report report = check(*loaded.installation, *law.law, how);
      for (const LedgerLine& line : report.ledger) {
        RuleCoverage& rule = rules[{law.law->id, line.rule}];
        rule.ruleset = law.law->id;
        rule.rule = line.rule;
        rule.complies += line.complies > 0 ? 1 : 0;
        rule.violates += line.violates > 0 ? 1 : 0;
        rule.undetermined += line.undetermined > 0 ? 1 : 0;
        rule.not_applicable += line.not_applicable > 0 ? 1 : 0;
      }
      for (const std::size_t used : of->used(*loaded.installation, report, known)) {
        const Traced::Entry& entry = of->entries()[used];
        if (seen.emplace(entry.layer, entry.what).second)
          ++out.entries[position.at({entry.layer, entry.what})].documents;
      }
    }
  }
  for (auto& [key, rule] : rules) out.rules.push_back(std::move(rule));
  std::stable_sort(out.entries.begin(), out.entries.end(),
                   [](const EntryCoverage& a, const EntryCoverage& b) { return a.layer < b.layer; });
  return out;
}

}  // namespace raceward::suite
