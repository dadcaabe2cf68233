#include "coverage.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <memory>
#include <set>
#include <tuple>

#include "compare.hpp"
#include "laws.hpp"
#include "parallel.hpp"
#include "traced.hpp"
#include "without.hpp"

namespace raceward::suite {

std::vector<std::string> RuleCoverage::holes() const {
  std::vector<std::string> out;
  if (complies == 0) out.emplace_back("complies");
  if (violates == 0) out.emplace_back("violates");
  if (undetermined == 0) out.emplace_back("undetermined");
  if (compared > 0 && at_limit == 0) out.emplace_back("at its limit");
  return out;
}

namespace {

/// Files may bear one id: then each is told with its file.
class Names {
 public:
  void add(const std::string& id, const std::string& file) { files_[id].insert(file); }
  [[nodiscard]] std::string of(const std::string& id, const std::string& file) const {
    const auto at = files_.find(id);
    return at == files_.end() || at->second.size() < 2 || file.empty() ? id
                                                                       : fmt::format("{} ({})", id, file);
  }

 private:
  std::map<std::string, std::set<std::string>> files_;
};

/// A document that states figures, under one of its laws.
struct Stating {
  const Document* document = nullptr;
  std::shared_ptr<const Installation> installation;
  std::string law;
};

/// Which of these entries the documents rest on without citing them: those without which something of one
/// comes out otherwise. Documents that bear the name of a table are asked about it before the others.
std::vector<std::size_t> shown_without(const std::vector<const Stating*>& documents, const ReadyLaw& ready,
                                       const Traced& of, const std::vector<std::size_t>& untold,
                                       const std::vector<const Rule*>& extra_rules) {
  const Law& law = law_of(ready);
  std::vector<std::size_t> out;
  const auto ask = [&](const Stating& one, std::vector<std::size_t>& entries) {
    if (entries.empty()) return;
    const std::string whole = shown_of(*one.document, *one.installation, ready);
    const auto found = missed_without(law, of.entries(), entries, extra_rules, [&](const ReadyLaw& changed) {
      return shown_of(*one.document, *one.installation, changed) != whole;
    });
    out.insert(out.end(), found.begin(), found.end());
  };
  std::vector<std::size_t> left;
  for (std::vector<std::size_t>& entries : by_table(of.entries(), untold)) {
    const std::size_t table = of.entries()[entries.front()].table;
    for (const Stating* one : documents) {
      if (table != Traced::no_table && one->document->name.find(law.tables[table].name) != std::string::npos)
        ask(*one, entries);
    }
    left.insert(left.end(), entries.begin(), entries.end());
  }
  for (const Stating* one : documents) ask(*one, left);
  return out;
}

}  // namespace

Coverage coverage_of(std::vector<Document> documents, const Choice& choice) {
  Coverage out;
  Laws laws(choice.extra_rules);
  std::map<std::string, std::unique_ptr<Traced>> traced;
  std::map<std::tuple<std::string, std::string, std::string>, RuleCoverage> rules;  // ruleset, file, rule
  std::vector<const Rule*> known = shipped_rules();
  known.insert(known.end(), choice.extra_rules.begin(), choice.extra_rules.end());
  // Entries in the order of their layers, each layer's in its own order.
  using Key = std::tuple<std::string, std::string, std::string>;  // layer, its file, entry
  const auto key_of = [](const Traced::Entry& e) { return Key{e.layer, e.file, e.what}; };
  std::map<Key, std::size_t> position;
  Names layers, names;
  std::vector<Stating> stating;

  for (Document& document : documents) {
    Loaded loaded = load_moved(std::move(document.text), document.file, 1);
    if (!loaded.installation) {
      out.problems.insert(out.problems.end(), loaded.problems.begin(), loaded.problems.end());
      continue;
    }
    ++out.documents;
    std::map<Key, Traced::Verdicts> seen;  // of this document, under whatever ruleset
    const std::vector<std::string> rulesets = laws.judging(document, *loaded.installation, choice);
    if (rulesets.empty()) out.problems.push_back({{document.file, 0, 0}, names_none});
    const std::shared_ptr<const Installation> installation = std::move(loaded.installation);
    for (const std::string& name : rulesets) {
      const auto& [law, ready] = laws.at(name);
      if (!law.law) {
        out.problems.insert(out.problems.end(), law.problems.begin(), law.problems.end());
        continue;
      }
      std::unique_ptr<Traced>& of = traced[name];
      if (!of) {
        of = std::make_unique<Traced>(*law.law);
        for (const Traced::Entry& entry : of->entries()) {
          layers.add(entry.layer, entry.file);
          if (position.try_emplace(key_of(entry), out.entries.size()).second)
            out.entries.push_back({entry.layer, entry.what, entry.stands});
        }
      }
      const Report report = report_on(document, *installation, *ready);
      std::vector<Mismatch> faults;
      tell_faults(report, faults);
      for (const Mismatch& fault : faults)
        out.problems.push_back({{document.file, 0, 0}, fault.found + ": " + fault.message});
      for (const LedgerLine& line : report.ledger) {
        names.add(law.law->id, name);
        RuleCoverage& rule = rules[{law.law->id, name, line.rule}];
        rule.rule = line.rule;
        rule.complies += line.complies > 0 ? 1 : 0;
        rule.violates += line.violates > 0 ? 1 : 0;
        rule.undetermined += line.undetermined > 0 ? 1 : 0;
        rule.not_applicable += line.not_applicable > 0 ? 1 : 0;
        rule.compared += line.compared > 0 ? 1 : 0;
        rule.at_limit += line.at_limit > 0 ? 1 : 0;
      }
      for (const auto& [used, verdicts] : of->used(*installation, report, known)) {
        const Traced::Entry& entry = of->entries()[used];
        const auto [at, is_new] = seen.try_emplace(key_of(entry));
        EntryCoverage& covered = out.entries[position.at(key_of(entry))];
        covered.documents += is_new ? 1 : 0;
        const auto count = [](bool now, bool& before, std::size_t& documents) {
          documents += now && !before ? 1 : 0;
          before = before || now;
        };
        count(verdicts.complies, at->second.complies, covered.complies);
        count(verdicts.violates, at->second.violates, covered.violates);
        count(verdicts.undetermined, at->second.undetermined, covered.undetermined);
      }
      if (!document.expected.figures.empty()) stating.push_back({&document, installation, name});
    }
  }
  std::vector<std::vector<std::size_t>> shown(traced.size());
  const auto place_of = [&](const Traced::Entry& entry) { return position.at(key_of(entry)); };
  each(
      traced.size(), choice.threads,
      [&](std::size_t i) {
        const auto& [name, of] = *std::next(traced.begin(), static_cast<std::ptrdiff_t>(i));
        std::vector<const Stating*> documents_of;
        for (const Stating& one : stating) {
          if (one.law == name) documents_of.push_back(&one);
        }
        std::vector<std::size_t> untold;
        for (std::size_t entry = 0; entry < of->entries().size(); ++entry) {
          if (out.entries[place_of(of->entries()[entry])].documents == 0) untold.push_back(entry);
        }
        if (!documents_of.empty())
          shown[i] = shown_without(documents_of, *laws.at(name).ready, *of, untold, choice.extra_rules);
      },
      [](std::size_t) {});
  std::set<Key> counted;  // under whatever ruleset
  for (std::size_t i = 0; i < shown.size(); ++i) {
    for (const std::size_t entry : shown[i]) {
      const Traced::Entry& one =
          std::next(traced.begin(), static_cast<std::ptrdiff_t>(i))->second->entries()[entry];
      if (counted.insert(key_of(one)).second) ++out.entries[place_of(one)].documents;
    }
  }
  for (const auto& [key, at] : position)
    out.entries[at].layer = layers.of(std::get<0>(key), std::get<1>(key));
  for (auto& [key, rule] : rules) {
    rule.ruleset = names.of(std::get<0>(key), std::get<1>(key));
    out.rules.push_back(std::move(rule));
  }
  std::stable_sort(out.entries.begin(), out.entries.end(),
                   [](const EntryCoverage& a, const EntryCoverage& b) { return a.layer < b.layer; });
  return out;
}

}  // namespace raceward::suite
