// Whether a condition of the law holds of a subject: yes, no, or not known because facts are missing.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "check/relatives.hpp"
#include "facts/stated.hpp"

namespace raceward::checking {

struct Holds {
  /// `not_asked`: it is about what such an element never has, as the voltage of wiring outside any circuit.
  enum class Answer : std::uint8_t { no, yes, unknown, not_asked } answer = Answer::no;
  MissingId missing = 0;  ///< of unknown; in the evaluation's pool

  [[nodiscard]] bool unknown() const { return answer == Answer::unknown; }
  [[nodiscard]] bool yes() const { return answer == Answer::yes; }
  [[nodiscard]] bool not_asked() const { return answer == Answer::not_asked; }
};

class Conditions {
 public:
  Conditions(figure::Evaluation& e, const Law& law);

  /// Of several elements that the subject has to do with one is enough. With `of_all` not: where some meet it
  /// and others do not, it is not known which the law wants, and the others are named.
  Holds holds(const Condition& condition, Subject subject, bool of_all = false);

 private:
  Holds counted(const Condition& c, Subject subject);
  MissingId unlike(const Condition& c, Subject related);
  Holds one_related(const Condition& c, Subject related);
  Holds attribute(const Condition& c, Subject related);
  Holds fact(const Condition& c, const DeclaredFact& declared, Subject related);
  Holds figure(const Condition& c, Subject related);
  Holds attested(const Condition& c, Subject related);
  Holds compare(const Condition& c, std::string_view value, Subject related);
  [[nodiscard]] bool can_state(const Condition& c, Subject related) const;
  [[nodiscard]] std::int64_t weight(Subject related) const;
  Holds within(const Condition& c, std::int64_t count) const;
  Holds missing(const Condition& c, Subject related, std::string why = {});
  [[nodiscard]] std::optional<std::string> written(Subject related, std::string_view attribute) const;

  figure::Evaluation& e_;
  const Law& law_;
  Relatives relatives_;
  facts::Stated& stated_;
  std::map<std::pair<std::string_view, std::string_view>, bool> attested_;
  std::map<const Condition*, std::string> expects_;  // kept: facts that are missing point here
};

}  // namespace raceward::checking
