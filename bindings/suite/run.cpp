// Judges the cases of a suite, several at once, and compares.
#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <filesystem>
#include <iterator>
#include <limits>
#include <set>

#include "compare.hpp"
#include "laws.hpp"
#include "parallel.hpp"
#include "suite.hpp"

namespace raceward::suite {

namespace {

/// Findings of a that b has not, or has with other values; and of a rule of which it is expected what it
/// cites, with other sections.
std::vector<const Finding*> only(const std::vector<Finding>& a, const std::vector<Finding>& b,
                                 const Expectations& expected) {
  std::set<std::string> cited;
  for (const Expectation& e : expected.findings) {
    if (!e.cites.empty()) cited.insert(e.rule);
  }
  const auto told = [&](const Finding& f) {
    std::string out = sentence_of(f, {});
    if (cited.contains(f.rule)) {
      for (const Citation& c : f.cites) out += fmt::format("\n{} {}", c.document, c.section);
    }
    return out;
  };
  std::vector<std::string> there;
  for (const Finding& f : b) there.push_back(told(f));
  std::sort(there.begin(), there.end());
  std::vector<const Finding*> out;
  for (const Finding& f : a) {
    if (!std::binary_search(there.begin(), there.end(), told(f))) out.push_back(&f);
  }
  return out;
}

Found found(const Finding& f, std::string_view named) {
  Found out{sentence_of(f, named), {}};
  for (const Citation& c : f.cites) out.cites.push_back(text_of(c));
  return out;
}

/// Of a finding that was expected of one of two rulesets only and missed: what became of it.
void explain_missed(const std::vector<std::string>& names, const Report& one, const Report& other,
                    std::vector<Mismatch>& all) {
  const auto finds = [](const Report& report, const Mismatch& m) {
    return std::any_of(report.findings.begin(), report.findings.end(),
                       [&](const Finding& f) { return key_of(f) == m.expected; });
  };
  for (Mismatch& m : all) {
    if (m.kind != Mismatch::Kind::missed) continue;
    const bool first = finds(one, m), second = finds(other, m);
    m.message = first && second ? fmt::format("{} and {} find it alike", names[0], names[1])
                : first         ? fmt::format("{} finds it, and {} does not", names[0], names[1])
                : second        ? fmt::format("{} finds it, and {} does not", names[1], names[0])
                                : fmt::format("neither {} nor {} finds it", names[0], names[1]);
  }
}

void find_waivers(const Report& report, std::string_view named, std::vector<Found>& out) {
  for (const WaiverLine& w : report.waivers) {
    if (w.state != WaiverLine::State::holds) out.push_back({sentence_of(w, named), {}});
  }
}

class Runner {
 public:
  Runner(const Choice& choice, Laws& laws) : choice_(choice), laws_(laws) {}

  std::vector<Case> judge(Document& document) const {
    std::vector<Case> cases;
    // Names of rulesets: what a document says, unless another is asked for.
    std::vector<std::string> rulesets = document.expected.under;
    const bool between = document.expected.between && choice_.under.empty();
    const Loaded loaded = load_moved(std::move(document.text), document.file, 1);
    if (!choice_.under.empty()) rulesets = {laws_.spelt_in(document, choice_.under)};
    if (rulesets.empty() && loaded.installation) rulesets.emplace_back(adopted_ruleset(*loaded.installation));
    const bool adopted = document.expected.under.empty() && choice_.under.empty();
    if (between) rulesets = {rulesets[0] + " and " + rulesets[1]};
    if (rulesets.empty()) rulesets.emplace_back();
    for (const std::string& ruleset : rulesets) {
      Case& c = cases.emplace_back(Case{document.name, document.file, ruleset, {}, {}, {}});
      c.problems = document.expected.problems;
      if (!loaded.installation) {
        c.problems.insert(c.problems.end(), loaded.problems.begin(), loaded.problems.end());
      } else if (adopted && !ruleset.empty() &&
                 laws_.judging(document, *loaded.installation, choice_).empty()) {
        c.problems.push_back(
            {where_ruleset_is_adopted(*loaded.installation),
             "ruleset \"" + ruleset + "\" is not shipped; name a file in a sentence \"under: ...\""});
      } else if (between) {
        judge_between(document, *loaded.installation, c);
      } else {
        judge_under(document, *loaded.installation, ruleset, c);
      }
    }
    return cases;
  }

 private:
  const ReadyLaw* law(const std::string& name, const Document& document, Case& c) const {
    if (name.empty()) {
      c.problems.push_back({{document.file, 0, 0},
                            "the document names no ruleset; write one in its ruleset attribute, or in a "
                            "sentence \"under: ...\""});
      return nullptr;
    }
    const bool asked = !choice_.under.empty() && name == choice_.under;
    const auto& [loaded, ready] = laws_.at(asked ? name : laws_.named(name, document.file));
    if (!loaded.law)
      for (const Problem& p : loaded.problems)
        c.problems.push_back(
            p.place.line > 0 || asked || document.expected.under_at.file.empty()
                ? p
                : Problem{document.expected.under_at, fmt::format("{}: {}", name, p.message)});
    const auto known = [&, &loaded = loaded](const auto& all) {
      for (const auto& e : all) {
        if (loaded.law && e.rule != "*" && holds_under(e, name) && loaded.law->rule(e.rule) == nullptr)
          c.problems.push_back(
              {e.place, fmt::format("ruleset {} has no rule {}; raceward rulesets {} tells "
                                    "those that it has",
                                    loaded.law->id, e.rule, laws_.named(name, document.file))});
      }
    };
    known(document.expected.disregarded);
    // Who tries a document under another ruleset is told what is missed there.
    if (choice_.under.empty()) {
      known(document.expected.findings);
      known(document.expected.ledger);
    }
    return ready.get();
  }

  void judge_under(const Document& document, const Installation& installation, const std::string& ruleset,
                   Case& c) const {
    const ReadyLaw* in_force = law(ruleset, document, c);
    if (in_force == nullptr) return;
    const Report report = report_on(document, installation, *in_force);
    c.mismatches = mismatches_of(document.expected, report, ruleset);
    compare_figures(document.expected, installation, law_of(*in_force), ruleset, c.mismatches);
    explain_missed(document.expected, installation, law_of(*in_force), choice_.extra_rules, c.mismatches);
    const std::string_view named = document.expected.under.empty() ? std::string_view() : ruleset;
    for (const Finding& f : report.findings) {
      if (!disregards(document.expected, f, ruleset)) c.found.push_back(found(f, named));
    }
    find_waivers(report, named, c.found);
  }

  void judge_between(const Document& document, const Installation& installation, Case& c) const {
    const std::vector<std::string>& names = document.expected.under;
    const ReadyLaw* first = law(names[0], document, c);
    const ReadyLaw* second = law(names[1], document, c);
    if (first == nullptr || second == nullptr) return;
    Between between = suite::judge_between(document, installation, *first, *second);
    c.between = true;
    c.mismatches = std::move(between.mismatches);
    c.found = std::move(between.found);
  }

  const Choice& choice_;
  Laws& laws_;
};

/// Faults of a file that is for all documents of a folder are the suite's, each told once.
void take_shared(Case& c, std::set<std::string>& told, std::vector<Problem>& out) {
  const auto is_shared = [](const Problem& p) {
    return std::filesystem::path(p.place.file).filename() == for_all;
  };
  for (Problem& p : c.problems) {
    if (!is_shared(p)) continue;
    c.doubtful = true;
    if (told.insert(text_of(p)).second) out.push_back(p);
  }
  std::erase_if(c.problems, is_shared);
}

}  // namespace

bool Case::alike() const {
  return between && found.empty() && std::any_of(mismatches.begin(), mismatches.end(), [](const Mismatch& m) {
           return m.kind == Mismatch::Kind::missed;
         });
}

std::size_t Result::failed() const {
  return static_cast<std::size_t>(
      std::count_if(cases.begin(), cases.end(), [](const Case& c) { return !c.passed(); }));
}

bool Result::readable() const {
  return problems.empty() &&
         std::all_of(cases.begin(), cases.end(), [](const Case& c) { return c.problems.empty(); });
}

Report report_on(const Document& document, const Installation& installation, const ReadyLaw& law) {
  CheckOptions how;
  // What was not checked is nobody's expectation.
  how.detail = Detail::verdicts;
  how.worded = std::numeric_limits<std::size_t>::max();
  how.threads = 1;
  how.trial = usual_trial;  // costs nothing where no module has a rule in force
  how.on = document.expected.on;
  return check(installation, law, how);
}

Between judge_between(const Document& document, const Installation& installation, const ReadyLaw& first,
                      const ReadyLaw& second) {
  const std::vector<std::string>& names = document.expected.under;
  const Report one = report_on(document, installation, first),
               other = report_on(document, installation, second);
  const auto only_first = only(one.findings, other.findings, document.expected),
             only_second = only(other.findings, one.findings, document.expected);
  Between out;
  for (const bool of_first : {true, false}) {
    const std::string& name = names[of_first ? 0 : 1];
    const std::size_t before = out.mismatches.size();
    std::vector<Mismatch> of_findings;
    compare(document.expected, of_first ? only_first : only_second, name, of_findings);
    explain_missed(names, one, other, of_findings);
    std::move(of_findings.begin(), of_findings.end(), std::back_inserter(out.mismatches));
    compare_figures(document.expected, installation, law_of(of_first ? first : second), name, out.mismatches);
    compare_waivers(document.expected, of_first ? one : other, name, out.mismatches);
    compare_ledger(document.expected, of_first ? one : other, name, out.mismatches);
    tell_faults(of_first ? one : other, out.mismatches);
    for (std::size_t i = before; i < out.mismatches.size(); ++i) out.mismatches[i].ruleset = name;
  }
  for (const Finding* f : only_first) out.found.push_back(found(*f, names[0]));
  for (const Finding* f : only_second) out.found.push_back(found(*f, names[1]));
  find_waivers(one, names[0], out.found);
  find_waivers(other, names[1], out.found);
  return out;
}

Result run(std::vector<Document> mine, const Choice& choice,
           const std::function<void(std::size_t, std::size_t, std::size_t)>& told) {
  Laws laws(choice.extra_rules);
  const Runner runner(choice, laws);
  std::vector<std::vector<Case>> cases(mine.size());
  std::atomic<std::size_t> failed{0};
  each(
      mine.size(), choice.threads,
      [&](std::size_t i) {
        cases[i] = runner.judge(mine[i]);
        for (const Case& c : cases[i]) failed += c.passed() ? 0 : 1;
      },
      [&](std::size_t done) {
        if (told) told(done, mine.size(), failed);
      });

  Result out;
  std::set<std::string> told_once;
  for (std::vector<Case>& of : cases) {
    for (Case& c : of) {
      take_shared(c, told_once, out.problems);
      out.cases.push_back(std::move(c));
    }
  }
  return out;
}

}  // namespace raceward::suite
