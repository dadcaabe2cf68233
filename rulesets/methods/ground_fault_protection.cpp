// Asks whether receptacles where people may touch earth and live metal at once have ground-fault protection.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, given };
constexpr std::string_view figures[] = {"ground-fault-asked", "ground-fault-protected"};
constexpr std::string_view messages[] = {
    "{where} has no ground-fault protection for people, neither its own nor from what feeds it, and its "
    "place asks for it"};
constexpr std::string_view reasons[] = {
    "it is neither a receptacle nor a luminaire, or neither its place nor what supplies it asks for that "
    "protection"};

Verdict judge(const Context& c) { return c.provides(asked, given); }

}  // namespace

extern const Rule ground_fault_protection;
constexpr Rule ground_fault_protection{
    .id = "ground-fault-protection",
    .title =
        "A receptacle where shock is likely, and a luminaire in a crawl space, has ground-fault protection "
        "for people",
    .why =
        "On damp ground, at a sink or in a garage a faulty tool can kill before an ordinary breaker notices "
        "anything.",
    .subject = SubjectKind::device,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Put in a ground-fault circuit breaker, or a ground-fault receptacle at the first box and feed the "
        "others from its load terminals.",
    .unseen =
        "Exceptions for single appliances, such as snow melting, alarms and fans; floors above grade; sinks "
        "in the next room; receptacles that are there to service equipment where none other asks for it; "
        "agricultural buildings beyond damp and wet; whether the protection was tested.",
    .judge = judge,
};

}  // namespace raceward::methods
