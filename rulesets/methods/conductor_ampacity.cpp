// Asks whether the ungrounded conductors of a circuit carry its load where they lie and at their terminals.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t {
  load,
  counted,
  most,
  terminals,
  best,
  marking,
  laid,
  least,
  top,
  welders,
  behind,
  dwelling,
  stated
};
constexpr std::string_view figures[] = {
    "circuit-load",          "circuit-load-counted",       "circuit-load-at-most",
    "ampacity-at-terminals", "ampacity-at-best-terminals", "terminal-temperature",
    "ampacity-as-laid",      "ampacity-as-laid-at-least",  "ampacity-as-laid-at-most",
    "welders-on-circuit",    "circuit-load-behind",        "sized-for-dwelling",
    "circuit-load-at-least"};
enum : std::uint32_t { too_small_laid, too_small_terminals };
constexpr std::string_view messages[] = {
    "{place} carries {measured} where it lies, and the load of {where} is {limit}",
    "{place} carries {measured} at its terminals, and the load of {where} counts as {limit}"};
enum : std::uint32_t { no_load, own_rules, by_share };
constexpr std::string_view reasons[] = {
    "it is wiring outside any circuit, or has no load",
    "it feeds a welder, whose conductors may be smaller than its current: welder-conductor judges them",
    "it carries all of a dwelling unit, and its conductors need carry a share of its rating: "
    "conductor-protection "
    "judges them"};

/// Whether it carries the load at the terminals, a continuous load with the part that the law adds.
Verdict at_terminals(const Context& c) {
  const Reading held = c.figure(terminals), whole = c.figure(counted);
  // Whether the load is continuous need not be known where the conductor carries it either way, or neither.
  const Reading needed = whole ? whole : c.figure(most);
  Verdict verdict = c.at_least(held, needed, too_small_terminals);
  if (!whole && verdict.outcome == Outcome::violates) {
    verdict = c.at_least(terminals, load, too_small_terminals);
    if (verdict.outcome == Outcome::complies) return Context::undetermined(whole.missing);
  }
  if (verdict.outcome != Outcome::violates) return verdict;
  // A marking that is not stated could raise it.
  const Reading marked = c.figure(marking);
  if (marked) return verdict;
  const Verdict at_best = c.at_least(c.figure(best), verdict.limit, too_small_terminals);
  return at_best.outcome == Outcome::complies ? Context::undetermined(marked.missing) : verdict;
}

/// Whether it carries a load where it lies. What is open of that need not be known where it carries it either
/// way, or neither.
Verdict where_it_lies(const Context& c, std::uint32_t needed) {
  const Verdict verdict = c.at_least(laid, needed, too_small_laid);
  if (verdict.outcome != Outcome::undetermined) return verdict;
  const Verdict at_least = c.at_least(least, needed, too_small_laid);
  if (at_least.outcome == Outcome::complies) return at_least;
  const Verdict at_most = c.at_least(top, needed, too_small_laid);
  return at_most.outcome == Outcome::violates ? at_most : verdict;
}

Verdict carries(const Context& c) {
  Verdict as_laid = where_it_lies(c, load);
  if (as_laid.outcome == Outcome::violates) return as_laid;
  // Where more was calculated for what it feeds, one of the two is wrong.
  if (as_laid.outcome == Outcome::complies && where_it_lies(c, behind).outcome != Outcome::complies)
    as_laid = Context::undetermined(c.figure(counted).missing);
  const Verdict ends = at_terminals(c);
  if (ends.outcome == Outcome::violates || as_laid.outcome == Outcome::complies) return ends;
  return ends.outcome == Outcome::undetermined ? Context::undetermined(c.both(as_laid.missing, ends.missing))
                                               : as_laid;
}

/// Where what is on it is said to take more than its load, it may carry too little even for that.
Verdict carries_less_than_stated(const Context& c) {
  const Reading whole = c.figure(load);
  const Verdict as_laid = where_it_lies(c, stated);
  if (as_laid.outcome == Outcome::violates) return as_laid;
  const Verdict ends = c.at_least(c.figure(marking) ? terminals : best, stated, too_small_terminals);
  return ends.outcome == Outcome::violates ? ends : Context::undetermined(whole.missing);
}

Verdict judge(const Context& c) {
  const Reading whole = c.figure(load);
  if (whole && whole.amount.count == 0) return Context::not_applicable(no_load);
  const Verdict verdict = whole ? carries(c) : carries_less_than_stated(c);
  if (!whole && verdict.outcome != Outcome::violates) return verdict;
  if (verdict.outcome == Outcome::complies) return verdict;
  const Reading own = c.figure(welders);
  if (!own) return Context::undetermined(c.both(own.missing, verdict.missing));
  if (own.amount.count != 0) return Context::not_applicable(own_rules);
  if (verdict.outcome != Outcome::violates) return verdict;
  const Reading share = c.figure(dwelling);
  if (!share) return Context::undetermined(share.missing);
  return share.amount.count != 0 ? Context::not_applicable(by_share) : verdict;
}

}  // namespace

extern const Rule conductor_ampacity;
constexpr Rule conductor_ampacity{
    .id = "conductor-ampacity",
    .title = "The conductors of a circuit carry its load where they lie and at their terminals",
    .why =
        "A conductor that carries more than it may grows hot: its insulation and the terminals age, and in "
        "the end "
        "they fail or burn.",
    .subject = SubjectKind::circuit,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Pull a larger conductor, or one with a better insulation where the heat decides; or lay fewer "
        "circuits in one "
        "raceway.",
    .unseen =
        "A cooler part of the way that may lift the limit of a short hot part; heat that roofs give "
        "off where no sun is said to shine; cables with ampacities of their own; the part that "
        "motors add to their load. Control conductors and spares count as current-carrying.",
    .judge = judge,
};

}  // namespace raceward::methods
