// What is found out about one raceway of the fault current path, and for whom.
#pragma once

#include <string>
#include <utility>

#include "figure/grounding_raceway.hpp"

namespace raceward::figure::grounding {

/// One raceway under question. "No" settles it; until then, unknown facts are collected where there is an
/// account.
class Asking {
 public:
  Asking(Evaluation& evaluation, installation::Index raceway_index, Account* account)
      : e(evaluation),
        law(egc_law(evaluation)),
        raceway(evaluation.model.raceways[raceway_index]),
        index(raceway_index),
        account_(account) {}

  Evaluation& e;
  const EgcLaw& law;
  const installation::Raceway& raceway;
  const installation::Index index;
  Link link;

  [[nodiscard]] Subject subject() const { return {SubjectKind::raceway, index}; }
  [[nodiscard]] bool settled() const { return link.carries == Carries::no; }

  /// A fact is missing. `why`, where given, makes the text of a contradiction when somebody asks.
  template <class Why>
  void lack(Subject element, std::string_view name, std::string_view expects, std::string_view who, Why why,
            installation::Offset source = 0) {
    if (settled()) return;
    link.carries = Carries::unknown;
    if (account_ == nullptr) return;
    const Value lack = e.lacks(element, name, expects, who, why(), source);
    account_->missing = e.missing.both(account_->missing, lack.missing);
  }
  void lack(Subject element, std::string_view name, std::string_view expects, std::string_view who,
            installation::Offset source = 0) {
    lack(
        element, name, expects, who, [] { return std::string(); }, source);
  }

  /// It carries no fault current. `why` makes the reason when somebody asks.
  template <class Why>
  void fail(CitationId cite, Why why) {
    if (settled()) return;
    link.carries = Carries::no;
    if (account_ == nullptr) return;
    account_->missing = 0;
    account_->broken = why();
    account_->cite = cite;
  }

  void allowed_by(CitationId cite) {
    if (account_ != nullptr && account_->cite == no_citation) account_->cite = cite;
  }

 private:
  Account* account_;
};

/// Flexible raceways: movement, listing, and the overcurrent devices of the circuits in it.
void ask_flexible(Asking& a, const EgcRaceway& row);
/// Ringed knockouts with circuits of a higher voltage to ground.
void ask_knockout(Asking& a, const installation::RacewayEnd& end);

}  // namespace raceward::figure::grounding
