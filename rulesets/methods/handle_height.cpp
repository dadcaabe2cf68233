// Asks whether the handles of a panel can be reached.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { height, limit };
constexpr std::string_view figures[] = {"highest-handle", "highest-handle-limit"};
constexpr std::string_view messages[] = {
    "the highest handle of {where} is {measured} above the floor, and at most {limit} is allowed"};

Verdict judge(const Context& c) {
  const Reading is = in_feet(c.figure(height));
  return c.at_most(is, in_feet(c.figure(limit)));
}

}  // namespace

extern const Rule handle_height;
constexpr Rule handle_height{
    .id = "handle-height",
    .title = "The handles of overcurrent devices are low enough to reach",
    .why = "A handle that needs a ladder is not thrown in time.",
    .subject = SubjectKind::panel,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = {},
    .cure = "Mount the panel lower, or provide a platform for working at it.",
    .unseen = "Switches and circuit breakers that are not in a panel; things standing in the way.",
    .judge = judge,
};

}  // namespace raceward::methods
