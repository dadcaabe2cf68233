// Asks whether equipment grounding conductors of circuits that are spliced or end in a metal box are
// connected to it.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, given };
constexpr std::string_view figures[] = {"ground-wires-asked", "ground-wires-connected"};
constexpr std::string_view messages[] = {
    "conductors of {place} are spliced or end in metal {where}, and its equipment grounding conductor is not "
    "connected to the box"};
constexpr std::string_view reasons[] = {
    "it is not of metal, or no circuit with a wire-type equipment grounding conductor is spliced or ends in "
    "it"};

Verdict judge(const Context& c) { return c.provides(asked, given); }

}  // namespace

extern const Rule grounding_wires_in_box;
constexpr Rule grounding_wires_in_box{
    .id = "grounding-wires-in-box",
    .title = "Equipment grounding conductors are connected to the metal box where their circuit is spliced",
    .why =
        "Where a metal raceway comes loose, the wire alone keeps the box from becoming live; it cannot where "
        "nothing joins it to the box.",
    .subject = SubjectKind::box,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Connect the equipment grounding conductors to the box with a screw that serves nothing else, or a "
        "listed clip.",
    .unseen =
        "What the connection is made with; whether taking a device out opens it; isolated equipment "
        "grounding "
        "conductors, which may pass; panels, conduit bodies and equipment; what grounding-path judges: "
        "whether "
        "fault current reaches the box at all.",
    .judge = judge,
};

}  // namespace raceward::methods
