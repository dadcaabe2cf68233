// Asks whether outlets that equipment is wired to outdoors have ground-fault protection.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, given };
constexpr std::string_view figures[] = {"equipment-outlet-asked", "equipment-outlet-protected"};
constexpr std::string_view messages[] = {
    "the outlet of {where} has no ground-fault protection for people, and its place or its kind asks for it"};
constexpr std::string_view reasons[] = {
    "neither its kind nor its place and what supplies it asks for that protection"};

Verdict judge(const Context& c) { return c.provides(asked, given); }

}  // namespace

extern const Rule equipment_outlet_protection;
constexpr Rule equipment_outlet_protection{
    .id = "equipment-outlet-protection",
    .title =
        "Dishwashers, and equipment wired outdoors at a dwelling, have ground-fault protection for people",
    .why = "A faulty machine on wet ground is live from top to bottom for whoever leans on it.",
    .subject = SubjectKind::equipment,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Put in a ground-fault circuit breaker.",
    .unseen =
        "Outlets of luminaires; other appliances that the code names, such as ranges, dryers and vending "
        "machines; "
        "boathouses; equipment with a plug, which is judged by its receptacle; "
        "whether equipment was replaced.",
    .judge = judge,
};

}  // namespace raceward::methods
