// Asks whether a dwelling apart from what feeds it has a marked disconnect outdoors.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, given, marked };
constexpr std::string_view figures[] = {"emergency-disconnect-asked", "emergency-disconnect",
                                        "emergency-disconnect-marked"};
enum : std::uint32_t { none, unmarked };
constexpr std::string_view messages[] = {
    "{where} is in a dwelling that another building feeds, and no disconnect outdoors switches all of it off",
    "the disconnect outdoors that switches off the dwelling of {where} is not marked as the emergency "
    "disconnect"};
constexpr std::string_view reasons[] = {"it is not in a dwelling that another building feeds"};

Verdict judge(const Context& c) {
  const Reading wanted = c.figure(asked);
  if (wanted && wanted.amount.count == 0) return Context::not_applicable();
  const Verdict outdoors = c.holds(given, none), sign = c.holds(marked, unmarked);
  if (outdoors.outcome == Outcome::complies && sign.outcome == Outcome::complies) return sign;
  // Of most buildings the rest need not be said.
  if (!wanted) return Context::undetermined(wanted.missing);
  if (outdoors.outcome == Outcome::violates) return outdoors;
  if (outdoors.outcome == Outcome::complies) return sign;
  return Context::undetermined(sign.outcome == Outcome::complies ? outdoors.missing
                                                                 : c.both(outdoors.missing, sign.missing));
}

}  // namespace

extern const Rule emergency_disconnect;
constexpr Rule emergency_disconnect{
    .id = "emergency-disconnect",
    .title = "A dwelling that another building feeds has a marked emergency disconnect outdoors",
    .why = "Who comes to a burning dwelling must be able to switch it off without going in.",
    .subject = SubjectKind::panel,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Set a disconnect outdoors at the dwelling, within reach, and mark it as the emergency disconnect.",
    .unseen =
        "The emergency disconnect of services; what the marking says and how large it is; how high the "
        "disconnect is, what fault current it bears, and whether several of them are together; dwellings of "
        "more than two families, which need none.",
    .judge = judge,
};

}  // namespace raceward::methods
