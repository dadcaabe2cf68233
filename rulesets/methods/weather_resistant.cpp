// Asks whether receptacles in damp and wet places are of the weather-resistant type.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, given };
constexpr std::string_view figures[] = {"weather-resistant-asked", "weather-resistant"};
constexpr std::string_view messages[] = {
    "{where} is in a damp or wet place and not of the weather-resistant type"};
constexpr std::string_view reasons[] = {"it is no receptacle of that size, or its place is dry"};

Verdict judge(const Context& c) { return c.provides(asked, given); }

}  // namespace

extern const Rule weather_resistant;
constexpr Rule weather_resistant{
    .id = "weather-resistant",
    .title = "A receptacle in a damp or wet place is weather-resistant",
    .why = "Contacts of the ordinary type corrode outdoors, grow hot, and lose their grounding.",
    .subject = SubjectKind::device,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Replace the receptacle by a weather-resistant one; WR is marked on its face.",
    .unseen = "Locking receptacles, which need not be.",
    .judge = judge,
};

}  // namespace raceward::methods
