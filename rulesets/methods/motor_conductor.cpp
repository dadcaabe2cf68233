// Asks whether the conductors of a circuit carry what the motors on it take.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { found, counted, laid, least, most, terminals, best, marking };
constexpr std::string_view figures[] = {"motors-on-circuit",          "motor-current-counted",
                                        "ampacity-as-laid",           "ampacity-as-laid-at-least",
                                        "ampacity-as-laid-at-most",   "ampacity-at-terminals",
                                        "ampacity-at-best-terminals", "terminal-temperature"};
enum : std::uint32_t { too_small_laid, too_small_terminals };
constexpr std::string_view messages[] = {
    "{place} carries {measured} where it lies, and the motors on {where} need {limit}",
    "{place} carries {measured} at its terminals, and the motors on {where} need {limit}"};
constexpr std::string_view reasons[] = {"it feeds no motor"};

/// What is open of where they lie need not be known where they carry it either way, or neither.
Verdict where_they_lie(const Context& c) {
  const Verdict verdict = c.at_least(laid, counted, too_small_laid);
  if (verdict.outcome != Outcome::undetermined) return verdict;
  const Verdict at_least = c.at_least(least, counted, too_small_laid);
  if (at_least.outcome == Outcome::complies) return at_least;
  const Verdict at_most = c.at_least(most, counted, too_small_laid);
  return at_most.outcome == Outcome::violates ? at_most : verdict;
}

Verdict judge(const Context& c) {
  const Reading on = c.figure(found);
  if (!on) return Context::undetermined(on.missing);
  if (on.amount.count == 0) return Context::not_applicable();
  const Verdict as_laid = where_they_lie(c);
  Verdict ends = c.at_least(terminals, counted, too_small_terminals);
  const bool fails_as_laid = as_laid.outcome == Outcome::violates;
  if (ends.outcome == Outcome::violates) {
    // A marking that is not stated could raise it.
    const Reading marked = c.figure(marking);
    if (marked || c.at_least(best, counted).outcome != Outcome::complies) {
      const bool is_less = ends.measured.amount.count < as_laid.measured.amount.count;
      return fails_as_laid && !is_less ? as_laid : ends;
    }
    ends = Context::undetermined(marked.missing);
  }
  if (fails_as_laid) return as_laid;
  if (as_laid.outcome == Outcome::complies) return ends;
  return Context::undetermined(c.both(as_laid.missing, ends.missing));
}

}  // namespace

extern const Rule motor_conductor;
constexpr Rule motor_conductor{
    .id = "motor-conductor",
    .title = "The conductors of a circuit carry more than the full-load current of its motors",
    .why =
        "A motor takes more than its nameplate says when it is loaded hard or its voltage is low, and its "
        "overcurrent device is too large to notice.",
    .subject = SubjectKind::circuit,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Pull larger conductors; or, where equipment is marked with a minimum circuit ampacity, state it.",
    .unseen =
        "Motors that run for a short time or in cycles; motors of low speed, high torque or several speeds, "
        "which go by their nameplates; direct current; drives; feeders of several motors.",
    .judge = judge,
};

}  // namespace raceward::methods
