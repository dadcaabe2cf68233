// The host's side of the border to compiled modules: many subjects judged in one call, and every answer
// looked over before anything believes it.
#pragma once

#include <exception>
#include <span>
#include <string>
#include <vector>

#include "check/judging.hpp"
#include "raceward/module.h"
#include "rule/child.hpp"
#include "rule/compiled_module.hpp"

namespace raceward::checking {

/// What a compiled rule says of one subject, or what is wrong with that.
struct Answer {
  Verdict verdict;
  std::string fault;
};

class Batch {
 public:
  /// Subjects in one call, at most. docs/modules.md promises it.
  static constexpr std::size_t largest = 256;
  /// Readings that a rule may ask for, a subject. A rule that wants more of them goes round in circles.
  static constexpr std::uint64_t most_calls = 4096;

  /// REQUIRES: bound.rule is of a compiled module. `progress` may be null.
  Batch(figure::Evaluation& evaluation, const BoundRule& bound, Judging& context, rule::Progress* progress)
      : e_(evaluation), bound_(bound), context_(context), progress_(progress) {}

  /// Judges them; an answer each, in order. REQUIRES: no more than `largest`.
  void ask(std::span<const Subject> subjects, std::vector<Answer>& answers);

 private:
  struct Calls;
  bool alive();
  void turn_to(std::uint32_t subject);
  void blame(std::uint32_t subject, std::string fault);
  Answer answer_of(const raceward_verdict& theirs, std::uint32_t subject) const;
  const char* nonsense_of(const raceward_reading& reading) const;
  void call(std::span<const Subject> subjects);

  figure::Evaluation& e_;
  const BoundRule& bound_;
  Judging& context_;
  rule::Progress* progress_;

  std::vector<raceward_subject> subjects_;
  std::vector<raceward_verdict> verdicts_;  // and one that is nobody's, behind the last
  std::vector<std::string> faults_;
  std::uint32_t turned_to_ = 0;
  std::uint64_t calls_ = 0;
  std::string fault_of_all_;
  std::exception_ptr thrown_;  // of ours, while theirs was on the way
};

}  // namespace raceward::checking
