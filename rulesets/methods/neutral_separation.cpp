// Asks whether neutral and ground are kept apart behind the service.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { fed, separate };
constexpr std::string_view figures[] = {"panel-is-fed", "neutral-separate"};
constexpr std::string_view messages[] = {
    "in {where} grounded conductors are connected to the enclosure or to equipment grounding conductors, "
    "though it is fed from another panel"};
constexpr std::string_view reasons[] = {"it is bonded as service equipment or at its source"};

Verdict judge(const Context& c) { return c.provides(fed, separate); }

}  // namespace

extern const Rule neutral_separation;
constexpr Rule neutral_separation{
    .id = "neutral-separation",
    .title = "Grounded conductors are kept apart from equipment grounding behind the service",
    .why =
        "Where they meet again, neutral current flows in raceways, boxes and metal tools, and a broken "
        "neutral makes them live.",
    .subject = SubjectKind::panel,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Take out the bonding screw or strap, and land grounded conductors on an isolated bar and grounding "
        "conductors on the bar bonded to the enclosure.",
    .unseen =
        "Connections elsewhere than in panels: in boxes, receptacles or equipment; whether a service is "
        "bonded as it must be.",
    .judge = judge,
};

}  // namespace raceward::methods
