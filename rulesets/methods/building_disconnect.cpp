// Asks whether a building apart can be switched off where its feeder enters.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, given };
constexpr std::string_view figures[] = {"building-disconnect-asked", "building-disconnect"};
constexpr std::string_view messages[] = {
    "{where} is in another building than what feeds it, and nothing there switches all of it off"};
constexpr std::string_view reasons[] = {"it is in the building of what feeds it"};

Verdict judge(const Context& c) { return c.provides(asked, given); }

}  // namespace

extern const Rule building_disconnect;
constexpr Rule building_disconnect{
    .id = "building-disconnect",
    .title = "A building apart from what feeds it can be switched off there",
    .why = "In a fire or an accident nobody runs to another building to switch off.",
    .subject = SubjectKind::panel,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Set a main circuit breaker, or a disconnect where the feeder enters.",
    .unseen =
        "How near to where the feeder enters the disconnecting means is, and whether it is within reach and "
        "marked; buildings without a panel.",
    .judge = judge,
};

}  // namespace raceward::methods
