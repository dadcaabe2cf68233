// Which conditions of a law hold of each subject, and all ways that it can be where that is not known.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <vector>

#include "check/conditions.hpp"

namespace raceward::checking {

/// Which conditions hold: bit n is scope n of the law.
using Mask = std::uint64_t;

constexpr Mask bit(std::size_t scope) { return Mask{1} << scope; }

class ScopeStates {
 public:
  struct State {
    Mask holds = 0, unknown = 0;
    Mask follows = 0;                // unknown only because nobody knows whether what is around them holds
    std::vector<MissingId> missing;  // by scope; in the evaluation's pool
  };

  ScopeStates(figure::Evaluation& e, const Law& law);

  const State& of(Subject subject);
  /// What is missing to know which of these hold; REQUIRES: some are unknown.
  MissingId missing(const State& state, Mask of) const;
  /// All sets of them that can hold at once; nothing where there are too many to try.
  [[nodiscard]] std::optional<std::vector<Mask>> ways(const State& state, Mask of) const;
  /// Gives up what is remembered of single subjects.
  void forget() { states_.clear(); }

 private:
  figure::Evaluation& e_;
  const Law& law_;
  Conditions conditions_;
  std::vector<std::size_t> first_alike_;  // by scope: the first that asks the same
  std::vector<std::size_t> around_;  // by scope: the adoption that it is a condition of; else their number
  std::map<Subject, State> states_;
};

}  // namespace raceward::checking
