// Asks whether switches can be reached.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { a_switch, height, limit };
constexpr std::string_view figures[] = {"is-switch", "switch-height", "switch-height-limit"};
constexpr std::string_view messages[] = {
    "{where} is {measured} above the floor, and at most {limit} is allowed"};
constexpr std::string_view reasons[] = {"it is no switch, dimmer or disconnect"};

Verdict judge(const Context& c) {
  const Reading is = c.figure(a_switch);
  if (is && is.amount.count == 0) return Context::not_applicable();
  const Reading up = in_feet(c.figure(height));
  return c.at_most(up, in_feet(c.figure(limit)));
}

}  // namespace

extern const Rule switch_height;
constexpr Rule switch_height{
    .id = "switch-height",
    .title = "Switches are low enough to be reached",
    .why = "What must be switched off in a hurry must not need a ladder.",
    .subject = SubjectKind::device,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Set the switch lower, or another one with it.",
    .unseen =
        "Switches worked with a hook, and those of busways, which may be higher; the centre of the switch "
        "stands "
        "for its handle.",
    .judge = judge,
};

}  // namespace raceward::methods
