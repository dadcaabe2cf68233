// Asks whether the conductors in a box are long enough to work with.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, length, needed, outside, outside_needed };
constexpr std::string_view figures[] = {"free-conductors-asked", "free-conductor", "free-conductor-needed",
                                        "free-conductor-outside", "free-conductor-outside-needed"};
constexpr std::string_view messages[] = {
    "{where} holds a conductor that is free for {measured}, and {limit} is needed",
    "{where} holds a conductor that reaches {measured} out of its opening, and {limit} is needed"};
constexpr std::string_view reasons[] = {"all conductors pass it unbroken"};

Verdict judge(const Context& c) {
  const Reading ends = c.figure(asked);
  if (ends && ends.amount.count == 0) return Context::not_applicable();
  const Verdict inside = c.at_least(length, needed, 0);
  const Reading out = c.figure(outside_needed);
  const Verdict before =
      out && out.amount.count == 0 ? Context::complies() : c.at_least(outside, outside_needed, 1);
  const bool fails = inside.outcome == Outcome::violates || before.outcome == Outcome::violates;
  if (fails && !ends) return Context::undetermined(ends.missing);
  if (inside.outcome == Outcome::violates) return inside;
  if (before.outcome == Outcome::violates) return before;
  const MissingId missing = c.both(inside.missing, before.missing);
  if (missing != 0) return Context::undetermined(ends ? missing : c.both(ends.missing, missing));
  return inside;
}

}  // namespace

extern const Rule free_conductor;
constexpr Rule free_conductor{
    .id = "free-conductor",
    .title = "Conductors that end or are spliced in a box are long enough to work with",
    .why = "Short wires are spliced in the dark of the box, badly.",
    .subject = SubjectKind::box,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Splice a piece to each conductor that is too short, within the box.",
    .unseen =
        "Conductors in panels, conduit bodies and equipment; each conductor by itself: the shortest one is "
        "stated.",
    .judge = judge,
};

}  // namespace raceward::methods
