// How verdicts are made, for every rule alike.
#include "raceward/rule.hpp"

namespace raceward {

namespace {

/// Undetermined without a missing fact: the checker reads it as a fault of the rule.
Verdict no_sense() { return Verdict{}; }

Verdict compared(bool holds, std::uint32_t message, const Reading& measured, const Reading& limit) {
  return holds ? Context::complies(measured, limit) : Context::violates(message, measured, limit);
}

bool comparable(const Reading& a, const Reading& b) {
  return a.amount.unit == b.amount.unit || dimension_of(a.amount.unit) == dimension_of(b.amount.unit);
}

}  // namespace

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

Verdict Context::at_most(const Reading& measured, const Reading& limit, std::uint32_t message) const {
  if (!measured || !limit) return undetermined(both(measured.missing, limit.missing));
  if (!comparable(measured, limit)) return no_sense();
  return compared(measured.amount.count <= limit.amount.count, message, measured, limit);
}

Verdict Context::at_least(const Reading& measured, const Reading& limit, std::uint32_t message) const {
  if (!measured || !limit) return undetermined(both(measured.missing, limit.missing));
  if (!comparable(measured, limit)) return no_sense();
  return compared(measured.amount.count >= limit.amount.count, message, measured, limit);
}

Verdict Context::at_most(std::uint32_t measured, std::uint32_t limit, std::uint32_t message) const {
  // One after the other: the working is told in this order, whatever the compiler.
  const Reading first = figure(measured);
  return at_most(first, figure(limit), message);
}

Verdict Context::at_least(std::uint32_t measured, std::uint32_t limit, std::uint32_t message) const {
  // One after the other: the working is told in this order, whatever the compiler.
  const Reading first = figure(measured);
  return at_least(first, figure(limit), message);
}

Verdict Context::holds(std::uint32_t position, std::uint32_t message) const {
  const Reading fact = figure(position);
  if (!fact) return undetermined(fact.missing);
  return fact.amount.count != 0 ? complies() : violates(message, fact);
}

Verdict Context::provides(std::uint32_t asked, std::uint32_t given, std::uint32_t message) const {
  const Reading wanted = figure(asked);
  if (wanted && wanted.amount.count == 0) return not_applicable();
  const Reading fact = figure(given);
  if (fact && fact.amount.count != 0) return complies();
  if (!wanted || !fact) return undetermined(both(wanted.missing, fact.missing));
  return violates(message, fact);
}

Verdict Context::complies() {
  Verdict v;
  v.outcome = Outcome::complies;
  return v;
}

Verdict Context::complies(const Reading& measured, const Reading& limit) {
  Verdict v;
  v.outcome = Outcome::complies;
  v.has_measured = v.has_limit = true;
  v.measured = measured;
  v.limit = limit;
  return v;
}

Verdict Context::violates(std::uint32_t message, const Reading& measured, const Reading& limit) {
  Verdict v = complies(measured, limit);
  v.outcome = Outcome::violates;
  v.message = message;
  return v;
}

Verdict Context::violates(std::uint32_t message, const Reading& measured) {
  Verdict v;
  v.outcome = Outcome::violates;
  v.message = message;
  v.has_measured = true;
  v.measured = measured;
  return v;
}

Verdict Context::undetermined(MissingId missing) {
  Verdict v;
  v.outcome = Outcome::undetermined;
  v.missing = missing;
  return v;
}

Verdict Context::not_applicable(std::uint32_t reason) {
  Verdict v;
  v.outcome = Outcome::not_applicable;
  v.message = reason;
  return v;
}

}  // namespace raceward
