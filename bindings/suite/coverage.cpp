#include "coverage.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <memory>
#include <mutex>
#include <set>
#include <tuple>

#include "compare.hpp"
#include "laws.hpp"
#include "parallel.hpp"
#include "traced.hpp"
#include "without.hpp"

namespace raceward::suite {

namespace {

/// What a rule, or a number that rules judge by, should show once.
std::vector<std::string> never(std::size_t complies, std::size_t violates, std::size_t undetermined,
                               bool compares, std::size_t at_limit) {
  std::vector<std::string> out;
  if (complies == 0) out.emplace_back("complies");
  if (violates == 0) out.emplace_back("violates");
  if (undetermined == 0) out.emplace_back("undetermined");
  if (compares && at_limit == 0) out.emplace_back("at its limit");
  return out;
}

}  // namespace

std::vector<std::string> RuleCoverage::holes() const {
  return never(complies, violates, undetermined, compared > 0, at_limit);
}

std::vector<std::string> EntryCoverage::holes() const {
  if (rules.empty()) return {};
  return never(complies, violates, undetermined, compared > 0, at_limit);
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

/// A document that states figures.
struct Stating {
  const Document* document = nullptr;
  std::shared_ptr<const Installation> installation;
};

/// Which of these entries the documents rest on without citing them: those without which something of one
/// comes out otherwise. Documents that bear the name of a table are asked about it before the others.
std::vector<std::size_t> shown_without(const std::vector<Stating>& documents, const ReadyLaw& ready,
                                       const Traced& of, const std::vector<std::size_t>& untold,
                                       const std::vector<const Rule*>& extra_rules) {
  const Law& law = law_of(ready);
  std::vector<std::size_t> out;
  const auto ask = [&](const Stating& one, std::vector<std::size_t>& entries) {
    if (entries.empty()) return;
    const std::string whole = shown_of(*one.document, *one.installation, ready);
    const auto found = missed_without(entries, [&](const std::vector<std::size_t>& some) {
      return shown_of(*one.document, *one.installation, *without(law, of.entries(), some, extra_rules)) !=
             whole;
    });
    out.insert(out.end(), found.begin(), found.end());
  };
  std::vector<std::size_t> left;
  for (std::vector<std::size_t>& entries : by_table(of.entries(), untold)) {
    const std::size_t table = of.entries()[entries.front()].table;
    for (const Stating& one : documents) {
      if (table != Traced::no_table && one.document->name.find(law.tables[table].name) != std::string::npos)
        ask(one, entries);
    }
    left.insert(left.end(), entries.begin(), entries.end());
  }
  for (const Stating& one : documents) ask(one, left);
  return out;
}

/// A document under one of its laws.
struct Judged {
  std::string law;  ///< as Laws knows it
  std::vector<LedgerLine> ledger;
  std::map<std::size_t, Traced::Use> used;  ///< by entry
};

/// A document under all of its laws.
struct Seen {
  std::vector<Problem> problems;
  std::shared_ptr<const Installation> installation;  ///< null where it could not be read
  std::vector<Judged> judged;
};

/// What is kept of it until all are seen.
struct Kept {
  std::vector<Problem> problems;
  std::shared_ptr<const Installation> installation;
  std::vector<std::pair<std::string, std::vector<std::string>>> open;  ///< by law, rules that could not judge
};

/// What of the verdicts of one report another one does not have.
Traced::Use unlike(const Report& whole, const Report& other) {
  using Key = std::pair<std::string_view, std::string_view>;
  const auto told = [](const Report& report) {
    std::map<Key, std::string> out;
    for (const Finding& f : report.findings) out[{f.rule, f.subject}] = sentence_of(f, {});
    return out;
  };
  const std::map<Key, std::string> ours = told(whole), theirs = told(other);
  Traced::Use out;
  for (std::size_t i = 0; i < whole.ledger.size() && i < other.ledger.size(); ++i) {
    const LedgerLine &a = whole.ledger[i], &b = other.ledger[i];
    bool complies = a.complies > b.complies, violates = false, open = a.undetermined != b.undetermined;
    for (auto at = theirs.lower_bound({a.rule, {}}); at != theirs.end() && at->first.first == a.rule; ++at)
      complies = complies || (a.complies > 0 && !ours.contains(at->first));
    for (auto at = ours.lower_bound({a.rule, {}}); at != ours.end() && at->first.first == a.rule; ++at) {
      const auto same = theirs.find(at->first);
      if (same != theirs.end() && same->second == at->second) continue;
      (at->second.starts_with("expect: undetermined") ? open : violates) = true;
    }
    if (!complies && !violates && !open) continue;
    out.complies = out.complies || complies;
    out.violates = out.violates || violates;
    out.rules.insert(i);
  }
  return out;
}

class Judge {
 public:
  explicit Judge(const Choice& choice) : choice_(choice), laws_(choice.extra_rules), known_(shipped_rules()) {
    known_.insert(known_.end(), choice.extra_rules.begin(), choice.extra_rules.end());
  }

  Seen judge(Document& document) {
    Seen out;
    Loaded loaded = load_moved(std::move(document.text), document.file, 1);
    out.problems = std::move(loaded.problems);
    out.installation = std::move(loaded.installation);
    if (!out.installation) return out;
    const std::vector<std::string> names = laws_.judging(document, *out.installation, choice_);
    if (names.empty()) out.problems.push_back({{document.file, 0, 0}, names_none});
    for (const std::string& name : names) {
      const auto& [law, ready] = laws_.at(name);
      if (!law.law) {
        out.problems.insert(out.problems.end(), law.problems.begin(), law.problems.end());
        continue;
      }
      Judged& one = out.judged.emplace_back();
      one.law = name;
      Report report = report_on(document, *out.installation, *ready);
      one.used = traced(name).used(*out.installation, report, known_);
      std::vector<Mismatch> faults;
      tell_faults(report, faults);
      one.ledger = std::move(report.ledger);
      for (const Mismatch& fault : faults)
        out.problems.push_back({{document.file, 0, 0}, fault.found + ": " + fault.message});
    }
    return out;
  }

  /// By which of these entries the document's verdicts are otherwise than without them, each taken alone.
  Judged judge_without(const Document& document, const Installation& installation, const std::string& name,
                       std::vector<std::size_t> entries) {
    Report whole = report_on(document, installation, *laws_.at(name).ready);
    Judged out{name, {}, {}};
    missed_without(entries, [&](const std::vector<std::size_t>& some) {
      Traced::Use use = unlike(whole, report_on(document, installation, *law_without(name, some)));
      if (use.rules.empty()) return false;
      if (some.size() == 1) out.used[some.front()] = std::move(use);
      return true;
    });
    out.ledger = std::move(whole.ledger);
    return out;
  }

  const Traced& traced(const std::string& name) {
    const std::shared_ptr<const Law> law = laws_.at(name).loaded.law;
    const std::lock_guard guard(mutex_);
    std::unique_ptr<Traced>& of = traced_[name];
    if (!of) of = std::make_unique<Traced>(*law);
    return *of;
  }

  Laws& laws() { return laws_; }

 private:
  /// Made once: all documents are asked about the same ones.
  std::shared_ptr<const ReadyLaw> law_without(const std::string& name,
                                              const std::vector<std::size_t>& entries) {
    const std::vector<Traced::Entry>& all = traced(name).entries();
    const std::lock_guard guard(mutex_);
    std::shared_ptr<const ReadyLaw>& law = without_[{name, entries}];
    if (!law) law = without(law_of(*laws_.at(name).ready), all, entries, choice_.extra_rules);
    return law;
  }

  const Choice& choice_;
  Laws laws_;
  std::vector<const Rule*> known_;
  std::mutex mutex_;
  std::map<std::string, std::unique_ptr<Traced>> traced_;
  std::map<std::pair<std::string, std::vector<std::size_t>>, std::shared_ptr<const ReadyLaw>> without_;
};

/// Adds up what is seen of documents, in whatever order.
class Sum {
 public:
  explicit Sum(Judge& judge) : judge_(judge) {}

  void add(const std::vector<Judged>& judged) {
    for (const Judged& one : judged) {
      know(one.law);
      count_rules(one);
    }
    add_numbers(judged);
  }

  /// Of a document under all its laws: it counts once, under whatever ruleset.
  void add_numbers(const std::vector<Judged>& judged) {
    struct Of {
      bool complies = false, violates = false, compared = false, at_limit = false;
    };
    std::map<std::size_t, Of> of_places;
    for (const Judged& one : judged) {
      for (const auto& [position, use] : one.used) {
        const std::size_t place = places_.at(one.law)[position];
        Of& of = of_places[place];
        of.complies = of.complies || use.complies;
        of.violates = of.violates || use.violates;
        for (const std::size_t number : use.rules) {
          const LedgerLine& rule = one.ledger[number];
          of.compared = of.compared || rule.compared > 0;
          of.at_limit = of.at_limit || rule.at_limit > 0;
          if (entries_[place].rules.insert(rule.rule).second) judged_by_[rule.rule].push_back(place);
        }
      }
    }
    for (const auto& [place, of] : of_places) {
      EntryCoverage& entry = entries_[place];
      ++documents_[place];
      entry.complies += of.complies ? 1 : 0;
      entry.violates += of.violates ? 1 : 0;
      entry.compared += of.compared ? 1 : 0;
      entry.at_limit += of.at_limit ? 1 : 0;
    }
  }

  /// Once all documents are seen. What nothing judges by where it is cited is looked for once more without
  /// it: the way that finds more counts.
  void settle() {
    for (const auto& [place, documents] : documents_)
      entries_[place].documents = std::max(entries_[place].documents, documents);
    documents_.clear();
  }

  /// Once all of them know who judges by them: numbers of which a rule could not judge.
  void add_open(const Kept& kept) {
    std::set<std::size_t> open;
    for (const auto& [law, rules] : kept.open) {
      const std::set<std::size_t> of_law(places_.at(law).begin(), places_.at(law).end());
      for (const std::string& rule : rules) {
        for (const std::size_t place : judged_by_[rule]) {
          if (of_law.contains(place)) open.insert(place);
        }
      }
    }
    for (const std::size_t place : open) ++entries_[place].undetermined;
  }

  /// A number of a law, by its position there.
  EntryCoverage& entry(const std::string& law, std::size_t position) {
    return entries_[places_.at(law)[position]];
  }

  /// `laws` in the order in which documents name them: numbers come in the order of their layers, those of a
  /// layer in its own.
  void tell(const std::vector<std::string>& laws, Coverage& out) {
    for (const auto& [key, place] : known_)
      entries_[place].layer = layers_.of(std::get<0>(key), std::get<1>(key));
    std::set<std::size_t> told;
    for (const std::string& law : laws) {
      for (const std::size_t place : places_.at(law)) {
        if (told.insert(place).second) out.entries.push_back(entries_[place]);
      }
    }
    std::stable_sort(out.entries.begin(), out.entries.end(),
                     [](const EntryCoverage& a, const EntryCoverage& b) { return a.layer < b.layer; });
    for (auto& [key, rule] : rules_) {
      rule.ruleset = names_.of(std::get<0>(key), std::get<1>(key));
      out.rules.push_back(std::move(rule));
    }
  }

 private:
  void know(const std::string& law) {
    const auto [places, is_new] = places_.try_emplace(law);
    if (!is_new) return;
    for (const Traced::Entry& entry : judge_.traced(law).entries()) {
      layers_.add(entry.layer, entry.file);
      const auto [at, is_first] = known_.try_emplace({entry.layer, entry.file, entry.what}, entries_.size());
      if (is_first) entries_.push_back({entry.layer, entry.what, entry.stands});
      places->second.push_back(at->second);
    }
  }

  void count_rules(const Judged& one) {
    const std::string& id = law_of(*judge_.laws().at(one.law).ready).id;
    names_.add(id, one.law);
    for (const LedgerLine& line : one.ledger) {
      RuleCoverage& rule = rules_[{id, one.law, line.rule}];
      rule.rule = line.rule;
      rule.complies += line.complies > 0 ? 1 : 0;
      rule.violates += line.violates > 0 ? 1 : 0;
      rule.undetermined += line.undetermined > 0 ? 1 : 0;
      rule.not_applicable += line.not_applicable > 0 ? 1 : 0;
      rule.compared += line.compared > 0 ? 1 : 0;
      rule.at_limit += line.at_limit > 0 ? 1 : 0;
    }
  }

  Judge& judge_;
  std::vector<EntryCoverage> entries_;
  std::map<std::size_t, std::size_t> documents_;  // of entries, until they settle
  std::map<std::tuple<std::string, std::string, std::string>, std::size_t> known_;  // layer, its file, entry
  std::map<std::string, std::vector<std::size_t>> places_;     // by law: those of its numbers in entries_
  std::map<std::string, std::vector<std::size_t>> judged_by_;  // by rule: likewise
  std::map<std::tuple<std::string, std::string, std::string>, RuleCoverage> rules_;  // ruleset, file, rule
  Names layers_, names_;
};

Kept kept_of(Seen seen) {
  Kept out;
  out.problems = std::move(seen.problems);
  out.installation = std::move(seen.installation);
  for (const Judged& one : seen.judged) {
    std::vector<std::string>& open = out.open.emplace_back(one.law, std::vector<std::string>{}).second;
    for (const LedgerLine& line : one.ledger) {
      if (line.undetermined > 0) open.push_back(line.rule);
    }
  }
  return out;
}

}  // namespace

Coverage coverage_of(std::vector<Document> documents, const Choice& choice, const Told& told) {
  Judge judge(choice);
  Sum sum(judge);
  std::mutex adding;
  const auto each_document = [&](const char* what, const std::function<void(std::size_t)>& work) {
    each(documents.size(), choice.threads, work, [&](std::size_t done) {
      if (told) told(done, documents.size(), what);
    });
  };
  std::vector<Kept> kept(documents.size());
  each_document("documents", [&](std::size_t i) {
    Seen seen = judge.judge(documents[i]);
    {
      const std::lock_guard guard(adding);
      sum.add(seen.judged);
    }
    kept[i] = kept_of(std::move(seen));
  });

  Coverage out;
  std::vector<std::string> laws;  // in the order in which documents name them
  std::map<std::string, std::vector<Stating>> stating;
  for (std::size_t i = 0; i < kept.size(); ++i) {
    Kept& one = kept[i];
    out.documents += one.installation ? 1 : 0;
    out.problems.insert(out.problems.end(), one.problems.begin(), one.problems.end());
    for (const auto& [law, open] : one.open) {
      const auto [of_law, is_new] = stating.try_emplace(law);
      if (is_new) laws.push_back(law);
      if (!documents[i].expected.figures.empty()) of_law->second.push_back({&documents[i], one.installation});
    }
  }
  sum.settle();
  const auto entries_where = [&](const std::string& law, const auto& holds) {
    std::vector<std::size_t> out_of_law;
    const std::vector<Traced::Entry>& all = judge.traced(law).entries();
    for (std::size_t i = 0; i < all.size(); ++i) {
      if (holds(all[i], sum.entry(law, i))) out_of_law.push_back(i);
    }
    return out_of_law;
  };

  // What figures and rules rest on they mostly cite. Of a parameter that nothing judges by where it is cited
  // those verdicts count that are otherwise without it.
  std::map<std::string, std::vector<std::size_t>> parameters;
  for (const std::string& law : laws) {
    parameters[law] = entries_where(law, [](const Traced::Entry& entry, const EntryCoverage& covered) {
      return entry.table == Traced::no_table && covered.rules.empty();
    });
  }
  each_document("documents without numbers", [&](std::size_t i) {
    std::vector<Judged> judged;
    for (const auto& [law, open] : kept[i].open) {
      if (!parameters.at(law).empty())
        judged.push_back(judge.judge_without(documents[i], *kept[i].installation, law, parameters.at(law)));
    }
    const std::lock_guard guard(adding);
    sum.add_numbers(judged);
  });
  sum.settle();
  for (const Kept& one : kept) sum.add_open(one);

  std::vector<std::vector<std::size_t>> shown(laws.size());
  each(
      laws.size(), choice.threads,
      [&](std::size_t i) {
        const std::vector<Stating>& documents_of = stating.at(laws[i]);
        if (documents_of.empty()) return;
        shown[i] = shown_without(
            documents_of, *judge.laws().at(laws[i]).ready, judge.traced(laws[i]),
            entries_where(laws[i], [](const Traced::Entry&,
                                      const EntryCoverage& covered) { return covered.documents == 0; }),
            choice.extra_rules);
      },
      [&](std::size_t done) {
        if (told) told(done, laws.size(), "rulesets without numbers");
      });
  std::set<const EntryCoverage*> shown_once;  // under whatever ruleset
  for (std::size_t i = 0; i < laws.size(); ++i) {
    for (const std::size_t position : shown[i]) {
      EntryCoverage& entry = sum.entry(laws[i], position);
      if (shown_once.insert(&entry).second) ++entry.documents;
    }
  }
  sum.tell(laws, out);
  return out;
}

}  // namespace raceward::suite
