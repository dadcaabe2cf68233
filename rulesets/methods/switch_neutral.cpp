// Asks whether a grounded conductor is, or can be brought, where a switch controls lighting.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, there };
constexpr std::string_view figures[] = {"neutral-at-switch-asked", "neutral-at-switch"};
constexpr std::string_view messages[] = {
    "no grounded conductor comes to {where}, and no raceway has room to bring one there, unless "
    "neutral-not-needed-at-switch is attested of it"};
constexpr std::string_view reasons[] = {"it is no switch of lighting in a room that the law speaks of"};

Verdict judge(const Context& c) { return c.provides(asked, there); }

}  // namespace

extern const Rule switch_neutral;
constexpr Rule switch_neutral{
    .id = "switch-neutral",
    .title = "A grounded conductor is where a switch controls lighting, or can be brought there",
    .why =
        "Switches that sense or count need one; without it they are made to return their current by the "
        "grounding conductor.",
    .subject = SubjectKind::device,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Bring the grounded conductor of the lighting circuit to the box, or fit a larger raceway. Where an "
        "exception holds, say so by an attest of the fact neutral-not-needed-at-switch.",
    .unseen =
        "Which luminaires a switch controls: those of its circuit are taken for them; lighting switched by "
        "itself; switches of receptacles on a circuit with luminaires; whether a switch that needs a "
        "grounded "
        "conductor is connected to it.",
    .judge = judge,
};

}  // namespace raceward::methods
