// Facts that a ruleset declares, as the installation states them.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "figure/figure.hpp"

namespace raceward::facts {

/// Before the name of a fact that the law declares, where it is missing.
inline constexpr std::string_view stated_fact = "fact@";

class Stated {
 public:
  explicit Stated(figure::Evaluation& e);

  struct Value {
    std::string_view text;   ///< as written, and what the fact can be; empty where it is not known
    std::int64_t count = 0;  ///< of a quantity
    bool absent = false;     ///< nothing states it
    std::string why;         ///< why it is not known
  };
  [[nodiscard]] Value of(const DeclaredFact& fact, Subject subject) const;
  /// That it is not known, and why.
  MissingId missing(const DeclaredFact& fact, Subject subject, std::string why);

 private:
  figure::Evaluation& e_;
  std::map<std::pair<std::string_view, std::string_view>, std::vector<const installation::StatedFact*>>
      stated_;
  struct Asked {
    std::string name;  // "fact@storeys"
    std::string expects;
  };
  std::map<const DeclaredFact*, Asked> asked_;  // kept: facts that are missing point here
};

/// One for each evaluation.
Stated& stated_in(figure::Evaluation& e);

/// Without blanks around.
std::string_view trimmed(std::string_view text);

}  // namespace raceward::facts
