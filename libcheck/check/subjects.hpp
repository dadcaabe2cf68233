// The subjects that rules and figures are about, each with its own kind.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "installation/derived.hpp"

namespace raceward::checking {

/// All subjects of a kind in document order. A place is given as what it is: panel, box, ...
std::vector<Subject> subjects_of(const Installation& in, SubjectKind kind);

/// Whether the installation has such a subject; a place of any kind where a place is meant.
bool has(const Installation& in, Subject subject);

/// The same, each list made once.
class Subjects {
 public:
  explicit Subjects(const Installation& in) : in_(in) {}
  const std::vector<Subject>& of(SubjectKind kind);

 private:
  const Installation& in_;
  std::array<std::optional<std::vector<Subject>>, subject_kind_count> lists_;
};

}  // namespace raceward::checking
