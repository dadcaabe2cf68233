// Asks whether a terminal of a receptacle or switch holds no more conductors than it is made for.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { wires, limit };
constexpr std::string_view figures[] = {"device-wires-per-terminal", "device-wires-per-terminal-limit"};
constexpr std::string_view messages[] = {
    "{where} has {measured} conductors under one terminal, which is made for {limit}"};

Verdict judge(const Context& c) { return c.at_most(wires, limit); }

}  // namespace

extern const Rule device_terminals;
constexpr Rule device_terminals{
    .id = "device-terminals",
    .title = "A terminal of a receptacle or switch holds no more conductors than it is made for",
    .why = "Under a terminal that is made for one, a second conductor is held badly, works loose and burns.",
    .subject = SubjectKind::device,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = {},
    .cure = "Join the conductors with a connector and bring one tail to the terminal.",
    .unseen =
        "Terminals for equipment grounding conductors; terminals of luminaires, disconnects and equipment; "
        "whether a device has fewer terminals than such a one usually has.",
    .judge = judge,
};

}  // namespace raceward::methods
