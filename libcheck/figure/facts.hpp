// Facts that a document states, as figures: 1 where one holds, 0 where it does not.
#pragma once

#include "figure/logic.hpp"

namespace raceward::figure {

/// A place as a subject of its kind.
inline Subject place_at(const Evaluation& e, installation::Index place) {
  return {installation::subject_kind(e.model.places[place].kind), place};
}

/// Of an attribute that says yes or no. Where it says nothing, it is asked for.
inline Value stated(Evaluation& e, Subject subject, installation::YesNo fact, std::string_view attribute,
                    std::string_view who) {
  if (fact == installation::YesNo::unstated) return e.lacks(subject, attribute, "yes or no", who);
  const bool yes = fact == installation::YesNo::yes;
  if (e.noting()) e.note(FMT_COMPILE("stated: {} is {}"), attribute, yes ? "yes" : "no");
  return answer(yes);
}

/// Of an attribute that gives a quantity. Where it gives none, it is asked for.
template <class Q>
Value given(Evaluation& e, Subject subject, const installation::Maybe<Q>& quantity, Unit unit,
            std::string_view attribute, std::string_view expects, std::string_view who) {
  if (!quantity.known()) return e.lacks(subject, attribute, expects, who);
  if (e.noting())
    e.note(FMT_COMPILE("stated: {} is {}"), attribute,
           e.law.metric ? text_of(show(*quantity, unit)) : e.text_of(show(*quantity, unit)));
  return Evaluation::value((*quantity).count());
}

/// The unit for what the law tells in feet.
inline Unit in_feet(const Evaluation& e) { return e.law.metric ? Unit::inch : Unit::foot; }

/// Conductors of a circuit that do not say what they are for.
inline MissingId roles_missing(Evaluation& e, const installation::Circuit& circuit) {
  MissingId missing = 0;
  for (Index c = circuit.conductors.first; c < circuit.conductors.end(); ++c) {
    const installation::Conductor& conductor = e.model.conductors[c];
    const bool said = conductor.role != installation::Role::unstated;
    if (said || e.model.conductor_kinds[conductor.kind].cable) continue;
    const Value lack = e.lacks({SubjectKind::conductor, c}, "role",
                               "what the conductor is for, such as grounded", designer, {}, conductor.source);
    missing = e.missing.both(missing, lack.missing);
  }
  return missing;
}

/// A number of the law by itself.
inline Value set_by_law(Evaluation& e, std::string_view parameter, Dimension dimension) {
  const Parameter* found = e.law.parameter(parameter, dimension);
  if (found == nullptr) return e.lacks_law(parameter);
  e.used(found->cite);
  return Evaluation::value(found->value.count, found->cite);
}

}  // namespace raceward::figure
