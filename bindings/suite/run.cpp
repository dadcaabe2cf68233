// Judges the cases of a suite, several at once, and compares.
#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <condition_variable>
#include <exception>
#include <mutex>
#include <thread>

#include "compare.hpp"
#include "laws.hpp"
#include "suite.hpp"

namespace raceward::suite {

namespace {

/// Findings of a that b has not.
std::vector<const Finding*> only(const std::vector<Finding>& a, const std::vector<Finding>& b) {
  std::vector<std::string> keys;
  for (const Finding& f : b) keys.push_back(key_of(f));
  std::sort(keys.begin(), keys.end());
  std::vector<const Finding*> out;
  for (const Finding& f : a) {
    if (!std::binary_search(keys.begin(), keys.end(), key_of(f))) out.push_back(&f);
  }
  return out;
}

class Runner {
 public:
  Runner(const Choice& choice, Laws& laws) : choice_(choice), laws_(laws) {}

  std::vector<Case> judge(Document& document) const {
    const auto began = std::chrono::steady_clock::now();
    std::vector<Case> cases;
    // Names of rulesets: what a document says, unless another is asked for.
    std::vector<std::string> rulesets = document.expected.under;
    const bool between = document.expected.between && choice_.under.empty();
    const Loaded loaded = load_moved(std::move(document.text), document.file, 1);
    if (!choice_.under.empty()) rulesets = {choice_.under};
    if (rulesets.empty() && loaded.installation) rulesets.emplace_back(adopted_ruleset(*loaded.installation));
    const bool adopted = document.expected.under.empty() && choice_.under.empty();
    if (between) rulesets = {rulesets[0] + " and " + rulesets[1]};
    if (rulesets.empty()) rulesets.emplace_back();
    for (const std::string& ruleset : rulesets) {
      Case& c = cases.emplace_back(Case{document.name, document.file, ruleset, {}, {}, {}, 0});
      c.problems = document.expected.problems;
      if (!loaded.installation) {
        c.problems.insert(c.problems.end(), loaded.problems.begin(), loaded.problems.end());
      } else if (adopted && ruleset.find_first_of("./") != std::string::npos) {
        c.problems.push_back(
            {{document.file, 0, 0},
             "a document names shipped rulesets only; name a file in a sentence \"under: ...\""});
      } else if (between) {
        judge_between(document, *loaded.installation, c);
      } else {
        judge_under(document, *loaded.installation, ruleset, c);
      }
    }
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - began;
    for (Case& c : cases) c.seconds = took.count() / static_cast<double>(cases.size());
    return cases;
  }

 private:
  const Law* law(const std::string& name, const Document& document, Case& c) const {
    if (name.empty()) {
      c.problems.push_back({{document.file, 0, 0},
                            "the document names no ruleset; write one in its ruleset attribute, or in a "
                            "sentence \"under: ...\""});
      return nullptr;
    }
    const bool asked = name == choice_.under;
    const LoadedLaw& loaded = laws_.at(asked ? name : law_named(name, document.file));
    if (!loaded.law) c.problems.insert(c.problems.end(), loaded.problems.begin(), loaded.problems.end());
    return loaded.law.get();
  }

  Report report_on(const Installation& installation, const Law& law) const {
    CheckOptions how;
    how.threads = 1;
    how.extra_rules = choice_.extra_rules;
    return check(installation, law, how);
  }

  void judge_under(const Document& document, const Installation& installation, const std::string& ruleset,
                   Case& c) const {
    const Law* in_force = law(ruleset, document, c);
    if (in_force == nullptr) return;
    const Report report = report_on(installation, *in_force);
    c.mismatches = mismatches_of(document.expected, report, ruleset);
    compare_figures(document.expected, installation, *in_force, ruleset, c.mismatches);
    const std::string_view named = document.expected.under.empty() ? std::string_view() : ruleset;
    for (const Finding& f : report.findings) {
      if (!disregards(document.expected, f, ruleset)) c.found.push_back(sentence_of(f, named));
    }
  }

  void judge_between(const Document& document, const Installation& installation, Case& c) const {
    const std::vector<std::string>& names = document.expected.under;
    const Law* first = law(names[0], document, c);
    const Law* second = law(names[1], document, c);
    if (first == nullptr || second == nullptr) return;
    const Report one = report_on(installation, *first), other = report_on(installation, *second);
    const auto only_first = only(one.findings, other.findings),
               only_second = only(other.findings, one.findings);
    compare(document.expected, only_first, names[0], c.mismatches);
    compare(document.expected, only_second, names[1], c.mismatches);
    compare_figures(document.expected, installation, *first, names[0], c.mismatches);
    compare_figures(document.expected, installation, *second, names[1], c.mismatches);
    compare_ledger(document.expected, one, names[0], c.mismatches);
    compare_ledger(document.expected, other, names[1], c.mismatches);
    tell_faults(one, c.mismatches);
    tell_faults(other, c.mismatches);
    for (const Finding* f : only_first) c.found.push_back(sentence_of(*f, names[0]));
    for (const Finding* f : only_second) c.found.push_back(sentence_of(*f, names[1]));
  }

  const Choice& choice_;
  Laws& laws_;
};

}  // namespace

std::size_t Result::failed() const {
  return static_cast<std::size_t>(
      std::count_if(cases.begin(), cases.end(), [](const Case& c) { return !c.passed(); }));
}

bool Result::readable() const {
  return problems.empty() &&
         std::all_of(cases.begin(), cases.end(), [](const Case& c) { return c.problems.empty(); });
}

Result run(std::vector<Document> documents, const Choice& choice,
           const std::function<void(std::size_t, std::size_t, std::size_t)>& told) {
  std::vector<Document> mine = chosen(std::move(documents), choice);
  Laws laws;
  const Runner runner(choice, laws);
  std::vector<std::vector<Case>> cases(mine.size());
  std::atomic<std::size_t> next{0};
  std::mutex mutex;
  std::condition_variable moved;
  std::size_t done = 0, failed = 0, idle = 0;
  std::exception_ptr thrown;
  const auto work = [&] {
    try {
      for (std::size_t i = next++; i < mine.size(); i = next++) {
        cases[i] = runner.judge(mine[i]);
        const std::lock_guard guard(mutex);
        ++done;
        for (const Case& c : cases[i]) failed += c.passed() ? 0 : 1;
        moved.notify_one();
      }
    } catch (...) {
      const std::lock_guard guard(mutex);
      thrown = std::current_exception();
      next = mine.size();
    }
    const std::lock_guard guard(mutex);
    ++idle;
    moved.notify_one();
  };
  const std::size_t machine = std::max(1u, std::thread::hardware_concurrency());
  const std::size_t threads =
      std::max<std::size_t>(1, std::min(choice.threads == 0 ? machine : choice.threads, mine.size()));
  std::vector<std::jthread> workers;
  for (std::size_t i = 0; i < threads; ++i) workers.emplace_back(work);
  {
    std::unique_lock lock(mutex);
    while (idle < threads) {
      moved.wait(lock);
      if (told) told(done, mine.size(), failed);
    }
  }
  workers.clear();
  if (thrown) std::rethrow_exception(thrown);

  Result out;
  for (std::vector<Case>& of : cases) {
    for (Case& c : of) out.cases.push_back(std::move(c));
  }
  return out;
}

}  // namespace raceward::suite
