// Asks whether ungrounded conductors can be told from others and, with several voltages, from each other.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { held, failing, shared, high_leg };
constexpr std::string_view figures[] = {"ungrounded-or-switched", "misidentified-ungrounded", "shared-colors",
                                        "high-leg-unmarked"};
enum : std::uint32_t { reserved, several, unmarked };
constexpr std::string_view messages[] = {
    "{place} is an ungrounded conductor and has a colour that says otherwise",
    "{place} has a colour that ungrounded conductors of another voltage to ground have too",
    "{where} has a leg of more volts to ground than the others, and no conductor of the colour for that"
    "{detail}"};
constexpr std::string_view reasons[] = {"it has no ungrounded conductor"};

Verdict judge(const Context& c) {
  const Reading all = c.figure(held);
  if (all && all.amount.count == 0) return Context::not_applicable();
  const Reading bad = c.figure(failing);
  if (bad && bad.amount.count != 0) return Context::violates(reserved, bad);
  const Reading same = c.figure(shared);
  if (same && same.amount.count != 0) return Context::violates(several, same);
  const Reading leg = c.figure(high_leg);
  if (leg && leg.amount.count != 0) return Context::violates(unmarked, leg);
  const MissingId missing = c.both(c.both(all.missing, leg.missing), c.both(bad.missing, same.missing));
  return missing != 0 ? Context::undetermined(missing) : Context::complies();
}

}  // namespace

extern const Rule ungrounded_identification;
constexpr Rule ungrounded_identification{
    .id = "ungrounded-identification",
    .title =
        "Ungrounded conductors are not white, gray or green, and those of different voltages differ in "
        "colour",
    .why = "A colour that says grounded or grounding invites somebody to touch a live conductor.",
    .subject = SubjectKind::circuit,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Pull conductors of another colour, such as black or red; with several voltages keep a set of "
        "colours for "
        "each, and post it at the panels.",
    .unseen =
        "Systems of the same voltage to ground; a high leg; whether the colours are posted; other ways of "
        "identification than colour.",
    .judge = judge,
};

}  // namespace raceward::methods
