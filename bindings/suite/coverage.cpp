#include "coverage.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <memory>
#include <set>
#include <tuple>

#include "compare.hpp"
#include "laws.hpp"
#include "traced.hpp"

namespace raceward::suite {

std::vector<std::string> RuleCoverage::holes() const {
  std::vector<std::string> out;
  if (complies == 0) out.emplace_back("complies");
  if (violates == 0) out.emplace_back("violates");
  if (undetermined == 0) out.emplace_back("undetermined");
  return out;
}

Coverage coverage_of(std::vector<Document> documents, const Choice& choice) {
  Coverage out;
  Laws laws(choice.extra_rules);
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
    const std::vector<std::string> rulesets = laws.judging(document, *loaded.installation, choice);
    if (rulesets.empty()) out.problems.push_back({{document.file, 0, 0}, names_none});
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
          if (position.try_emplace({entry.layer, entry.what}, out.entries.size()).second)
            out.entries.push_back({entry.layer, entry.what, entry.stands, 0});
        }
      }
      const Report report = report_on(document, *loaded.installation, *ready);
      std::vector<Mismatch> faults;
      tell_faults(report, faults);
      for (const Mismatch& fault : faults)
        out.problems.push_back({{document.file, 0, 0}, fault.found + ": " + fault.message});
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
