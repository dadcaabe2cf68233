// Asks whether the conductors of a circuit carry what the welders on it take.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { found, counted, laid, terminals, best, marking };
constexpr std::string_view figures[] = {"welders-on-circuit",         "welder-current-counted",
                                        "ampacity-as-laid",           "ampacity-at-terminals",
                                        "ampacity-at-best-terminals", "terminal-temperature"};
enum : std::uint32_t { too_small_laid, too_small_terminals };
constexpr std::string_view messages[] = {
    "{place} carries {measured} where it lies, and the welders on {where} need {limit}",
    "{place} carries {measured} at its terminals, and the welders on {where} need {limit}"};
constexpr std::string_view reasons[] = {"it feeds no welder"};

Verdict judge(const Context& c) {
  const Reading on = c.figure(found);
  if (!on) return Context::undetermined(on.missing);
  if (on.amount.count == 0) return Context::not_applicable();
  const Verdict as_laid = c.at_least(laid, counted, too_small_laid);
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

extern const Rule welder_conductor;
constexpr Rule welder_conductor{
    .id = "welder-conductor",
    .title = "The conductors of a circuit carry what its welders take in the long run",
    .why =
        "A welder rests between welds, so its conductors may be smaller than its current; smaller than its "
        "duty cycle allows they overheat.",
    .subject = SubjectKind::circuit,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Pull larger conductors.",
    .unseen =
        "Resistance welders; work that keeps a welder busy for longer than its duty cycle; feeders of "
        "several welders.",
    .judge = judge,
};

}  // namespace raceward::methods
