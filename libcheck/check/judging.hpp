// What a rule is shown of one subject, over the figures of one check.
#pragma once

#include <string>
#include <vector>

#include "check/bound_rule.hpp"

namespace raceward::checking {

class Judging final : public Context {
 public:
  Judging(figure::Evaluation& evaluation, const BoundRule& bound) : e_(evaluation), bound_(bound) {}

  void about(Subject subject) {
    subject_ = subject;
    if (!fault_.empty()) fault_.clear();
  }
  /// From here on the arithmetic of everything that the rule reads is noted; null: not any more.
  void explain_into(figure::Working* working) {
    working_ = working;
    if (working != nullptr) read_.clear();
  }
  /// Says of each figure that was read while it explained what it is, or what it cannot be known without: for
  /// a rule whose figures have no arithmetic to show.
  void tell_figures(std::vector<std::string>& lines) const;
  /// What the rule did that it must not do, since it was last asked about a subject; empty where nothing.
  [[nodiscard]] const std::string& fault() const { return fault_; }

  [[nodiscard]] Subject subject() const override { return subject_; }
  [[nodiscard]] Reading figure(std::uint32_t position) const override;
  [[nodiscard]] Reading parameter(std::uint32_t position) const override;
  [[nodiscard]] MissingId both(MissingId a, MissingId b) const override;

 private:
  Reading refuse(std::string fault) const;

  figure::Evaluation& e_;
  const BoundRule& bound_;
  Subject subject_;
  figure::Working* working_ = nullptr;
  mutable std::string fault_;
  struct Read {
    figure::Id figure;
    std::int64_t count;
    MissingId missing;
  };
  mutable std::vector<Read> read_;  // while explaining, in the order of asking
};

}  // namespace raceward::checking
