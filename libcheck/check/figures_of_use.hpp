// Which figures of a subject say something about it under a law.
#pragma once

#include <deque>
#include <memory>
#include <vector>

#include "check/asking.hpp"
#include "check/bound_rule.hpp"

namespace raceward::checking {

/// A figure that rules compare is of use where a rule in force applies that does; one that none compares,
/// where another that reads it is of use. Where the law has conditions, every rule may apply.
class FiguresOfUse {
 public:
  /// They must outlive it.
  FiguresOfUse(figure::Evaluation& e, const std::vector<BoundRule>& rules);

  /// Of a subject, by figure::Id.
  const std::vector<bool>& of(Subject subject);

 private:
  struct Asked {
    const BoundRule* bound;
    std::vector<figure::Id> figures;
    std::unique_ptr<Asking> asking;  // none: it may always apply
  };

  CitedLists cited_;
  std::vector<Asked> rules_;
  std::vector<bool> compared_;                    // by figure: by some rule of any law
  std::vector<std::vector<figure::Id>> readers_;  // by figure: of those that no rule compares
  std::vector<bool> of_use_;
};

}  // namespace raceward::checking
