// Figures of each subject under the law that holds of it: as rules about it are asked.
#pragma once

#include <map>
#include <memory>

#include "check/scope_states.hpp"
#include "facts/writer.hpp"

namespace raceward::checking {

class ScopedFigures final : public facts::FiguresUnder {
 public:
  /// `plain` is under the law without its conditions.
  ScopedFigures(const Installation& installation, const Law& law, figure::Evaluation& plain);

  /// A figure of a subject under the law that holds of `about`. Where it is not known which that is, and they
  /// differ in it, it is missing.
  Told of(figure::Id id, Subject subject, Subject about) override;
  /// In words, the conditions that hold of a subject and change what figures read; empty where none does.
  std::vector<std::string> conditions_of(Subject subject);

 private:
  struct Under {
    Under(const Installation& installation, const Law& law, Mask mask);
    Law law;
    figure::Evaluation evaluation;
  };
  figure::Evaluation& under(Mask mask);

  const Installation& in_;
  const Law& law_;
  figure::Evaluation& plain_;
  ScopeStates states_;
  Mask relevant_ = 0;  // those that change what figures read
  std::map<Mask, std::unique_ptr<Under>> under_;
};

}  // namespace raceward::checking
