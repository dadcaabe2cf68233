// Asks whether the conductors of a multiwire circuit are grouped in the panel.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, given };
constexpr std::string_view figures[] = {"grouping-asked", "multiwire-grouped"};
constexpr std::string_view messages[] = {"the conductors of {where} are not grouped in the panel"};
constexpr std::string_view reasons[] = {
    "it is no multiwire circuit, or leaves the panel by a raceway of its own"};

Verdict judge(const Context& c) { return c.provides(asked, given); }

}  // namespace

extern const Rule multiwire_grouping;
constexpr Rule multiwire_grouping{
    .id = "multiwire-grouping",
    .title = "The conductors of a multiwire circuit are grouped in the panel",
    .why =
        "Who cannot see which grounded conductor belongs to which breakers opens the wrong one under load.",
    .subject = SubjectKind::circuit,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Tie the ungrounded and the grounded conductor together with a cable tie in the panel.",
    .unseen = "Grouping elsewhere than where the circuit begins.",
    .judge = judge,
};

}  // namespace raceward::methods
