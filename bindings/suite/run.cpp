// Judges the cases of a suite, several at once, and compares.
#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <condition_variable>
#include <exception>
#include <mutex>
#include <thread>

#include "laws.hpp"
#include "suite.hpp"

namespace raceward::suite {

namespace {

Mismatch mismatch(Mismatch::Kind kind, const Finding& found) {
  Mismatch out{kind, {}, key_of(found), found.place, found.message, found.working};
  for (const Need& need : found.needs)
    out.working.push_back(fmt::format("needs {} of {}{}", need.datum.empty() ? need.fact : need.datum,
                                      need.element, need.why.empty() ? "" : ": " + need.why));
  return out;
}

/// The finding that an expectation speaks of: that of its rule and subject.
template <class Findings>
auto spoken_of(const Expectation& e, const Findings& waiting) {
  return std::find_if(waiting.begin(), waiting.end(),
                      [&](const Finding* f) { return f->rule == e.rule && f->subject == e.subject; });
}

/// What is found under one ruleset against what is expected there.
void compare(const Expectations& expected, const std::vector<const Finding*>& found,
             const std::string& ruleset, std::vector<Mismatch>& out) {
  std::vector<const Finding*> waiting = found;
  for (const Expectation& e : expected.findings) {
    if (!holds_under(e, ruleset)) continue;
    const auto at = spoken_of(e, waiting);
    if (at == waiting.end()) {
      out.push_back({Mismatch::Kind::missed, key_of(e), {}, e.place, {}, {}});
      continue;
    }
    const std::string unlike = difference(e, **at);
    if (!unlike.empty()) {
      Mismatch moved = mismatch(Mismatch::Kind::moved, **at);
      moved.expected = key_of(e);
      moved.found = unlike;
      out.push_back(std::move(moved));
    }
    waiting.erase(at);
  }
  for (const Finding* f : waiting) {
    if (!disregards(expected, *f, ruleset)) out.push_back(mismatch(Mismatch::Kind::unexpected, *f));
  }
}

void compare_ledger(const Expectations& expected, const Report& report, const std::string& ruleset,
                    std::vector<Mismatch>& out) {
  for (const LedgerExpectation& e : expected.ledger) {
    if (!holds_under(e, ruleset)) continue;
    std::string want = e.rule, is;
    bool same = true;
    const auto line = std::find_if(report.ledger.begin(), report.ledger.end(),
                                   [&](const LedgerLine& l) { return l.rule == e.rule; });
    for (const auto& [name, count] : e.counts) {
      want += fmt::format(" {}={}", name, count);
      if (line == report.ledger.end()) continue;
      const std::uint64_t has = name == "complies"       ? line->complies
                                : name == "violates"     ? line->violates
                                : name == "undetermined" ? line->undetermined
                                                         : line->not_applicable;
      is += fmt::format("{}{}={}", is.empty() ? "" : " ", name, has);
      same = same && has == count;
    }
    if (line == report.ledger.end()) is = "the ledger has no such rule";
    if (!same || line == report.ledger.end())
      out.push_back({Mismatch::Kind::counts, std::move(want), std::move(is), e.place, {}, {}});
  }
}

/// A rule that went wrong has no findings: only the ledger counts what it left open. No expectation covers
/// it.
void tell_faults(const Report& report, std::vector<Mismatch>& out) {
  for (const LedgerLine& line : report.ledger) {
    const auto told = std::count_if(report.findings.begin(), report.findings.end(), [&](const Finding& f) {
      return f.kind == Finding::Kind::undetermined && f.rule == line.rule;
    });
    if (static_cast<std::uint64_t>(told) >= line.undetermined) continue;
    Mismatch fault{Mismatch::Kind::faulty, {}, "rule " + line.rule, {report.file, 0, 0}, {}, {}};
    for (const NotChecked& n : report.not_checked) {
      if (n.what == fault.found || n.what.starts_with(fault.found + " ")) fault.message = n.why;
    }
    out.push_back(std::move(fault));
  }
}

std::vector<const Finding*> pointers(const std::vector<Finding>& findings) {
  std::vector<const Finding*> out;
  for (const Finding& f : findings) out.push_back(&f);
  return out;
}

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
    compare(document.expected, pointers(report.findings), ruleset, c.mismatches);
    compare_ledger(document.expected, report, ruleset, c.mismatches);
    tell_faults(report, c.mismatches);
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
