// Asks whether a panel is in a place where overcurrent devices may be.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { allowed };
constexpr std::string_view figures[] = {"panel-place-allowed"};
constexpr std::string_view messages[] = {"{where} is in a room where no overcurrent device may be"};

Verdict judge(const Context& c) { return c.holds(allowed); }

}  // namespace

extern const Rule panel_location;
constexpr Rule panel_location{
    .id = "panel-location",
    .title = "A panel is not in a bathroom",
    .why =
        "Wet hands and wet floors make the panel itself the danger, and damp spoils what must open in a "
        "fault.",
    .subject = SubjectKind::panel,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = {},
    .cure = "Move the panel to another room.",
    .unseen =
        "Steps beneath the panel; clothes and other things near it that catch fire easily; whether it is in "
        "the way of damage or behind a locked door; showers and locker rooms that the document calls "
        "otherwise.",
    .judge = judge,
};

}  // namespace raceward::methods
