// Outcomes as reports name them.
#include "raceward/rule.hpp"

namespace raceward {

std::string_view name_of(Outcome outcome) {
  switch (outcome) {
    case Outcome::complies:
      return "complies";
    case Outcome::violates:
      return "violates";
    case Outcome::undetermined:
      return "undetermined";
    case Outcome::not_applicable:
      return "not applicable";
  }
  return "undetermined";
}

}  // namespace raceward
