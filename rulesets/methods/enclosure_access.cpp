// Asks whether splices and terminals stay within reach.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, reach };
constexpr std::string_view figures[] = {"cover-asked", "within-reach"};
constexpr std::string_view messages[] = {"{where} cannot be reached without breaking the building open"};
constexpr std::string_view reasons[] = {"only boxes, conduit bodies and panels are asked"};

Verdict judge(const Context& c) { return c.provides(asked, reach); }

}  // namespace

extern const Rule enclosure_access;
constexpr Rule enclosure_access{
    .id = "enclosure-access",
    .title = "Boxes, conduit bodies and panels can be reached without removing a part of the building",
    .why = "A splice that fails behind a finished wall cannot be found or mended, and heats unseen.",
    .subject = SubjectKind::place,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Move the box to where it can be reached, or leave an access panel; or run the conductors through "
        "unbroken.",
    .unseen = "Equipment; whether something heavy stands before the box.",
    .judge = judge,
};

}  // namespace raceward::methods
