// A law with conditions as the laws that it is, each for the subjects of which the same conditions hold.
#pragma once

#include <cstdint>
#include <deque>
#include <map>
#include <memory>
#include <mutex>
#include <vector>

#include "check/asking.hpp"
#include "check/scope_states.hpp"

namespace raceward::checking {

/// What the law is where these conditions hold, and no others.
Law law_under(const Law& law, Mask holding);

struct Variant {
  Law law;
  std::vector<BoundRule> rules;  ///< as those of the check, by position; not in force where switched off
  std::shared_ptr<figure::LawNotes> notes;
};

/// All variants that a check came across; shared between threads.
class Variants {
 public:
  Variants(const Law& law, const std::vector<const BoundRule*>& rules) : law_(law), rules_(rules) {}

  const Variant& of(Mask mask);
  /// The scopes that can make a difference to the rule at that position.
  [[nodiscard]] Mask relevant(std::size_t rule) const;
  [[nodiscard]] const Law& law() const { return law_; }
  [[nodiscard]] const std::vector<const BoundRule*>& rules() const { return rules_; }

 private:
  const Law& law_;
  const std::vector<const BoundRule*>& rules_;
  std::mutex guard_;
  std::map<Mask, std::unique_ptr<Variant>> made_;
};

/// Asks rules under the conditions of each subject, on one thread.
class ScopedAsking {
 public:
  /// `plain` asks the rules under the law without its conditions.
  ScopedAsking(const Installation& installation, Variants& variants, figure::Evaluation& e,
               std::deque<Asking>& plain, Detail detail);

  void ask(std::size_t rule, Subject subject, std::size_t position, std::vector<Finding>* findings);
  /// False where no condition makes a difference to the rule.
  [[nodiscard]] bool matters_to(std::size_t rule) const { return relevant_[rule] != 0; }
  /// From here on findings are told in words.
  void use_words();
  /// Gives up what is remembered of single subjects.
  void forget();
  /// Adds what was counted under conditions.
  void add_to(std::vector<Tally>& tallies);

 private:
  struct Under {
    Under(const Installation& installation, const Variant& variant,
          const std::vector<const BoundRule*>& rules, Detail detail);
    const Variant& variant;
    figure::Evaluation evaluation;
    CitedLists cited;
    std::deque<Asking> askings;
  };
  Under& under(Mask mask);
  void ask_under(Mask mask, std::size_t rule, Subject subject, std::size_t position,
                 std::vector<Finding>* findings);
  Outcome outcome_under(Mask mask, std::size_t rule, Subject subject);
  bool advised_under(Mask mask, std::size_t rule);

  const Installation& in_;
  Variants& variants_;
  figure::Evaluation& e_;
  std::deque<Asking>& plain_;
  Detail detail_;
  ScopeStates states_;
  std::vector<Mask> relevant_;  // by rule
  std::map<Mask, std::unique_ptr<Under>> under_;
};

}  // namespace raceward::checking
