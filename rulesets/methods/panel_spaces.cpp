// Asks whether the overcurrent devices of a panel find room in it.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { taken, spaces };
constexpr std::string_view figures[] = {"panel-spaces-taken", "panel-spaces"};
constexpr std::string_view messages[] = {
    "the overcurrent devices of {where} take {measured} spaces, and it has {limit}"};

Verdict judge(const Context& c) { return c.at_most(taken, spaces); }

}  // namespace

extern const Rule panel_spaces;
constexpr Rule panel_spaces{
    .id = "panel-spaces",
    .title = "A panel holds no more overcurrent devices than it has spaces",
    .why =
        "Doubled breakers in a panel not made for them overload its buses and leave no room for the wires.",
    .subject = SubjectKind::panel,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = {},
    .cure = "Take a larger panel, or feed a second one from it.",
    .unseen =
        "How many poles the panel is listed for, where it takes breakers of half width: say the spaces that "
        "each takes.",
    .judge = judge,
};

}  // namespace raceward::methods
