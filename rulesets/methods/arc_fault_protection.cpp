// Asks whether outlets in the rooms of dwellings have arc-fault protection.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, given };
constexpr std::string_view figures[] = {"arc-fault-asked", "arc-fault-protected"};
constexpr std::string_view messages[] = {
    "{where} has no arc-fault protection, neither its own nor from what feeds it, and its room asks for it"};
constexpr std::string_view reasons[] = {
    "it is no outlet, or neither its place nor its circuit asks for that protection"};

Verdict judge(const Context& c) { return c.provides(asked, given); }

}  // namespace

extern const Rule arc_fault_protection;
constexpr Rule arc_fault_protection{
    .id = "arc-fault-protection",
    .title = "Outlets and switches in the rooms of a dwelling have arc-fault protection",
    .why =
        "A loose or damaged wire can arc for hours and set a house on fire at a current that no ordinary "
        "breaker opens at.",
    .subject = SubjectKind::device,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Put in an arc-fault circuit breaker; where tubing or conduit leads to the first outlet, an "
        "arc-fault receptacle there may serve.",
    .unseen =
        "Whether an arc-fault receptacle may stand in for a breaker, by the wiring that leads to it; guest "
        "rooms and dormitories; short extensions of old circuits.",
    .judge = judge,
};

}  // namespace raceward::methods
