// Asks whether equipment can be switched off by whoever works on it.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, provided };
constexpr std::string_view figures[] = {"disconnect-asked", "disconnect-provided"};
constexpr std::string_view messages[] = {
    "no disconnecting means is in sight of {where}, and no other that is enough for it{detail}"};
constexpr std::string_view reasons[] = {
    "the overcurrent device of its circuit is enough, or it is wiring equipment"};

Verdict judge(const Context& c) { return c.provides(asked, provided); }

}  // namespace

extern const Rule equipment_disconnect;
constexpr Rule equipment_disconnect{
    .id = "equipment-disconnect",
    .title = "Equipment has a disconnecting means that whoever works on it can see or lock",
    .why = "Somebody far away switches on what another one has open.",
    .subject = SubjectKind::equipment,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Mount a disconnect switch in sight of it, or, where that is enough, a circuit breaker that can be "
        "locked open.",
    .unseen =
        "The rating of the disconnecting means; disconnects at controllers; unit switches; whether what is "
        "in a compartment opens all ungrounded conductors; "
        "whether what is said to be in sight is.",
    .judge = judge,
};

}  // namespace raceward::methods
