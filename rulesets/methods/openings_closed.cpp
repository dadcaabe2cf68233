// Asks whether the openings of a box or panel that nothing uses are closed.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, closed };
constexpr std::string_view figures[] = {"openings-asked", "openings-closed"};
constexpr std::string_view messages[] = {"{where} has an opening that nothing uses and nothing closes"};
constexpr std::string_view reasons[] = {"openings are asked of boxes and panels"};

Verdict judge(const Context& c) { return c.provides(asked, closed); }

}  // namespace

extern const Rule openings_closed;
constexpr Rule openings_closed{
    .id = "openings-closed",
    .title = "Openings of a box or panel that are not in use are closed",
    .why =
        "Through an open knockout fingers, vermin and clay dust reach live parts, and a fault can throw "
        "sparks out.",
    .subject = SubjectKind::place,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Close the opening with a seal as good as the wall; a free space in the front of a panel with a "
        "filler plate.",
    .unseen = "Openings of conduit bodies and equipment; whether a seal is made for its opening.",
    .judge = judge,
};

}  // namespace raceward::methods
