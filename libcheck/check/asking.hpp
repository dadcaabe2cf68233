// One rule asked of its subjects.
#pragma once

#include <memory>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "check/batch.hpp"
#include "check/conditions.hpp"
#include "check/finding_of.hpp"
#include "check/judging.hpp"
#include "check/tally.hpp"
#include "raceward/engine.hpp"

namespace raceward::checking {

/// One rule and what it said so far. A rule that throws, or answers what makes no sense, costs that subject
/// an undetermined entry and nothing else.
class Asking {
 public:
  /// REQUIRES: bound.fault is empty.
  Asking(figure::Evaluation& e, const BoundRule& bound, CitedLists& lists, Detail detail,
         rule::Progress* progress = nullptr)
      : e_(e),
        bound_(bound),
        rule_(*bound.rule),
        lists_(lists),
        worded_(detail == Detail::all),
        context_(e, bound) {
    if (rule_.compiled != nullptr) batch_ = std::make_unique<Batch>(e, bound, context_, progress);
    if (bound.requirement != nullptr) conditions_ = std::make_unique<Conditions>(e, e.law);
    if (bound.program != nullptr) data_ = std::make_unique<ruleset::DataAsking>(e, *bound.program);
  }
  Asking(const Asking&) = delete;
  Asking& operator=(const Asking&) = delete;

  /// Asks the rule of each, in order. Findings are added where `findings` is not null. `first` is the
  /// position of the first of them in the list of all.
  void ask(std::span<const Subject> subjects, std::size_t first, std::vector<Finding>* findings);

  /// From here on findings are told in words.
  void use_words() { worded_ = true; }
  /// What it says of a subject, counted nowhere. A fault of the rule is undetermined.
  [[nodiscard]] Outcome outcome_of(Subject subject);
  /// A condition of the law switches it off there.
  void off_here();
  /// Whether it holds there, and how, depends on facts that are missing.
  void depends_on(Subject subject, MissingId missing, std::vector<Finding>* findings);

  /// What was counted since it was last taken.
  [[nodiscard]] Tally take_tally() { return std::exchange(tally_, {}); }

 private:
  void ask_compiled(std::span<const Subject> subjects, std::vector<Finding>* findings);
  void count(Subject subject, const Verdict& verdict, std::vector<Finding>* findings);
  Verdict answer(Subject subject);
  Verdict answered(Subject subject);
  void make_sense(Verdict& verdict);
  Verdict required();
  void settle(Verdict& verdict) const;
  [[nodiscard]] const char* nonsense_of(const Verdict& verdict) const;
  void tell(Subject subject, const Verdict& verdict, std::vector<Finding>& findings);
  void explain(Subject subject, const Verdict& first, std::vector<Finding>& findings);
  void blame(Subject subject);

  figure::Evaluation& e_;
  const BoundRule& bound_;
  const Rule& rule_;
  CitedLists& lists_;
  bool worded_;  // findings have words
  Judging context_;
  // Apart: most rules have none of these, and a small installation is asked in the time of making them.
  std::unique_ptr<Batch> batch_;               // of a compiled rule
  std::unique_ptr<Conditions> conditions_;     // of a requirement of the law's own
  std::unique_ptr<ruleset::DataAsking> data_;  // of a rule that the law brings as data
  std::vector<Answer> answers_, again_;
  Tally tally_;
  figure::Working working_;
  bool noting_ = false;
  std::string fault_;
  std::size_t position_ = 0;  // of the subject in the list of all
  std::size_t first_ = 0;     // of the list that is asked
};

}  // namespace raceward::checking
