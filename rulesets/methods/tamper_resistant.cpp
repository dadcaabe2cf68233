// Asks whether receptacles within reach of children are tamper-resistant.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, given };
constexpr std::string_view figures[] = {"tamper-resistant-asked", "tamper-resistant"};
constexpr std::string_view messages[] = {"{where} is not tamper-resistant, and its place asks for that"};
constexpr std::string_view reasons[] = {
    "it is no receptacle, or its place, its height or what it serves asks for no such type"};

Verdict judge(const Context& c) { return c.provides(asked, given); }

}  // namespace

extern const Rule tamper_resistant;
constexpr Rule tamper_resistant{
    .id = "tamper-resistant",
    .title = "Receptacles within reach of children are tamper-resistant",
    .why = "Shutters inside keep a child from pushing a nail or a hairpin into one live slot.",
    .subject = SubjectKind::device,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Replace the receptacle by a tamper-resistant one; TR is marked on its face.",
    .unseen =
        "Locking receptacles, which need not be; receptacles within a luminaire or an appliance; guest "
        "rooms, child care and waiting rooms outside dwellings.",
    .judge = judge,
};

}  // namespace raceward::methods
