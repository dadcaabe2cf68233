// Asks whether the openings of a box that nothing uses are closed.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { closed };
constexpr std::string_view figures[] = {"openings-closed"};
constexpr std::string_view messages[] = {"{where} has an opening that nothing uses and nothing closes"};

Verdict judge(const Context& c) { return c.holds(closed); }

}  // namespace

extern const Rule openings_closed;
constexpr Rule openings_closed{
    .id = "openings-closed",
    .title = "Openings of a box that are not in use are closed",
    .why =
        "Through an open knockout fingers, vermin and clay dust reach live parts, and a fault can throw "
        "sparks out.",
    .subject = SubjectKind::box,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = {},
    .cure = "Close the opening with a knockout seal as good as the wall of the box.",
    .unseen = "Openings of panels, conduit bodies and equipment; whether a seal is made for its opening.",
    .judge = judge,
};

}  // namespace raceward::methods
