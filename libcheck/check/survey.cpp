#include "check/survey.hpp"

#include <algorithm>
#include <atomic>
#include <deque>
#include <memory>
#include <mutex>
#include <optional>
#include <span>
#include <tuple>
#include <utility>

#include "check/asking.hpp"
#include "check/variants.hpp"
#include "document/parallel.hpp"

namespace raceward::checking {

namespace {

/// Subjects of a kind in one slice: few enough that what belongs to them stays in the processor's cache from
/// rule to rule, and many enough that going from slice to slice costs nothing.
constexpr std::size_t slice_size = 256;
/// Slices that make it worth starting one more thread.
constexpr std::size_t slices_a_thread = 8;
/// More threads than any machine of today makes use of: a slip of the pen must not start a million.
constexpr unsigned most_threads = 256;

/// Where a finding stands in the order of a report.
struct Key {
  std::uint32_t line = 0, column = 0;
  std::uint32_t rule = 0;      // sorted by id
  std::uint32_t position = 0;  // in its slice
  std::size_t slice = 0;
};

/// The i-th of so many equal parts of a list.
std::span<const Subject> part(std::span<const Subject> all, std::size_t i, std::size_t parts) {
  const std::size_t first = all.size() * i / parts, end = all.size() * (i + 1) / parts;
  return all.subspan(first, end - first);
}

/// Rules asked on one thread, under the conditions of the law where it has some.
class Questions {
 public:
  Questions(const Installation& installation, const ReadyLaw& ready,
            const std::vector<const BoundRule*>& rules, Variants& variants, Detail detail,
            rule::Progress* progress)
      : evaluation_(installation, *ready.law, ready.notes) {
    for (const BoundRule* bound : rules) askings_.emplace_back(evaluation_, *bound, cited_, detail, progress);
    if (!ready.law->scopes.empty()) scoped_.emplace(installation, variants, evaluation_, askings_, detail);
  }

  void ask(std::size_t rule, std::span<const Subject> subjects, std::size_t first,
           std::vector<Finding>* findings) {
    if (!scoped_ || !scoped_->matters_to(rule)) return askings_[rule].ask(subjects, first, findings);
    for (std::size_t i = 0; i < subjects.size(); ++i) scoped_->ask(rule, subjects[i], first + i, findings);
  }
  /// From here on findings are told in words.
  void use_words() {
    for (Asking& asking : askings_) asking.use_words();
    if (scoped_) scoped_->use_words();
  }
  /// What is remembered of single subjects.
  void forget() {
    evaluation_.forget();
    if (scoped_) scoped_->forget();
  }
  void add_to(std::vector<Tally>& tallies) {
    if (scoped_) scoped_->add_to(tallies);
    for (std::size_t rule = 0; rule < askings_.size(); ++rule) tallies[rule].add(askings_[rule].take_tally());
  }

 private:
  figure::Evaluation evaluation_;
  CitedLists cited_;
  std::deque<Asking> askings_;
  std::optional<ScopedAsking> scoped_;
};

/// Asks again what each finding says, and makes it one with words.
void put_into_words(const Installation& installation, const std::vector<const BoundRule*>& rules,
                    Questions& questions, std::span<Finding> findings) {
  std::vector<Finding> told;
  for (Finding& f : findings) {
    const auto at =
        std::lower_bound(rules.begin(), rules.end(), f.rule,
                         [](const BoundRule* bound, const std::string& id) { return bound->id() < id; });
    if (at == rules.end() || (*at)->id() != f.rule) continue;
    const SubjectKind asked = (*at)->rule->subject;
    const bool of_kind = asked == f.at.kind || (asked == SubjectKind::place && is_place(f.at.kind));
    if (!of_kind || !has(installation, f.at) ||
        f.subject != installation::id_of(installation.model, installation.sections, f.at)) {
      continue;
    }
    told.clear();
    questions.ask(static_cast<std::size_t>(at - rules.begin()), {&f.at, 1}, 0, &told);
    if (told.size() != 1 || told.front().kind != f.kind) continue;
    told.front().waiver = f.waiver;
    told.front().cause = f.cause;
    told.front().subject_place = std::move(f.subject_place);
    f = std::move(told.front());
  }
}

/// Every kind of subject is cut into the same number of slices, in document order: what stands together in a
/// file is mostly read by the same figures.
class Survey {
 public:
  Survey(const Installation& installation, const ReadyLaw& ready, const std::vector<const BoundRule*>& rules,
         Subjects& subjects, Manner manner)
      : in_(installation), ready_(ready), rules_(rules), manner_(manner), variants_(*ready.law, rules) {
    std::size_t longest = 0;
    answers_.tallies.resize(rules.size());
    lists_.reserve(rules.size());
    for (const BoundRule* bound : rules) {
      lists_.emplace_back(subjects.of(bound->rule->subject));
      longest = std::max(longest, lists_.back().size());
    }
    slices_ = std::max<std::size_t>(1, longest / slice_size);
    threads_ = static_cast<unsigned>(std::min<std::size_t>(most_threads, manner.threads));
    if (threads_ == 0) {
      // The machine is not even asked for a small installation.
      const std::size_t worth = slices_ / slices_a_thread;
      threads_ =
          worth < 2 ? 1 : static_cast<unsigned>(std::min<std::size_t>(document::machine_threads(), worth));
    } else {
      slices_ = std::max(slices_, std::min<std::size_t>(longest, threads_));
    }
    found_.resize(slices_);
  }

  Answers run() {
    document::on_threads(threads_, [this] { work(); });
    gather();
    if (manner_.detail == Detail::verdicts && manner_.worded > 0) {
      last_->use_words();
      const std::size_t shown = std::min(manner_.worded, answers_.findings.size());
      put_into_words(in_, rules_, *last_, std::span(answers_.findings).first(shown));
    }
    return std::move(answers_);
  }

 private:
  /// Takes slices as long as there are any.
  void work() {
    auto questions =
        std::make_unique<Questions>(in_, ready_, rules_, variants_, manner_.detail, manner_.progress);
    std::vector<Key> keys;
    std::size_t found = 0;  // in the slice before: much like what the next one holds
    bool first = true;
    for (std::size_t slice; (slice = next_++) < slices_;) {
      if (!std::exchange(first, false)) questions->forget();
      found_[slice].reserve(found);
      ask(*questions, slice, keys);
      found = found_[slice].size();
    }
    std::sort(keys.begin(), keys.end(), [this](const Key& a, const Key& b) { return before(a, b); });
    const std::lock_guard lock(guard_);
    questions->add_to(answers_.tallies);
    last_ = std::move(questions);
    runs_.push_back(keys_.size());
    keys_.insert(keys_.end(), keys.begin(), keys.end());
  }

  void ask(Questions& questions, std::size_t slice, std::vector<Key>& keys) {
    std::vector<Finding>& findings = found_[slice];
    for (std::size_t rule = 0; rule < rules_.size(); ++rule) {
      const auto subjects = part(lists_[rule], slice, slices_);
      if (subjects.empty()) continue;
      const std::size_t before = findings.size();
      if (manner_.progress != nullptr) manner_.progress->at = static_cast<std::uint32_t>(rule);
      const auto first = static_cast<std::size_t>(subjects.data() - lists_[rule].data());
      questions.ask(rule, subjects, first, manner_.detail != Detail::counts ? &findings : nullptr);
      for (std::size_t i = before; i < findings.size(); ++i) {
        const Place& place = findings[i].place;
        keys.push_back({place.line, place.column, static_cast<std::uint32_t>(rule),
                        static_cast<std::uint32_t>(i), slice});
      }
    }
  }

  bool before(const Key& a, const Key& b) const {
    const auto place = std::tie(a.line, a.column, a.rule) <=> std::tie(b.line, b.column, b.rule);
    if (place != 0) return place < 0;
    const int subject = found_[a.slice][a.position].subject.compare(found_[b.slice][b.position].subject);
    if (subject != 0) return subject < 0;
    return std::tie(a.slice, a.position) < std::tie(b.slice, b.position);
  }

  /// Findings are large: each is moved once.
  void gather() {
    const auto at = [this](std::size_t i) { return keys_.begin() + static_cast<std::ptrdiff_t>(i); };
    for (std::size_t run = 1; run < runs_.size(); ++run) {
      const std::size_t end = run + 1 < runs_.size() ? runs_[run + 1] : keys_.size();
      std::inplace_merge(keys_.begin(), at(runs_[run]), at(end),
                         [this](const Key& a, const Key& b) { return before(a, b); });
    }
    answers_.findings.reserve(keys_.size());
    for (const Key& key : keys_) answers_.findings.push_back(std::move(found_[key.slice][key.position]));
  }

  const Installation& in_;
  const ReadyLaw& ready_;
  const std::vector<const BoundRule*>& rules_;
  const Manner manner_;
  Variants variants_;
  std::vector<std::span<const Subject>> lists_;  // by rule
  std::size_t slices_ = 1;
  unsigned threads_ = 1;

  std::atomic<std::size_t> next_ = 0;
  std::vector<std::vector<Finding>> found_;  // by slice; each touched by one thread
  std::mutex guard_;                         // of what follows
  std::vector<Key> keys_;
  std::vector<std::size_t> runs_;  // where what one thread sorted begins
  std::unique_ptr<Questions> last_;
  Answers answers_;
};

}  // namespace

Answers ask_all(const Installation& installation, const ReadyLaw& ready,
                const std::vector<const BoundRule*>& rules, Subjects& subjects, Manner manner) {
  return Survey(installation, ready, rules, subjects, manner).run();
}

void ask_again(const Installation& installation, const ReadyLaw& ready,
               const std::vector<const BoundRule*>& rules, std::span<Finding> findings) {
  Variants variants(*ready.law, rules);
  Questions questions(installation, ready, rules, variants, Detail::all, nullptr);
  put_into_words(installation, rules, questions, findings);
}

}  // namespace raceward::checking
