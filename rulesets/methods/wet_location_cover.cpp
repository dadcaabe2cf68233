// Asks whether receptacles in damp and wet places are covered against weather.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, given };
constexpr std::string_view figures[] = {"weather-cover-asked", "weather-cover"};
constexpr std::string_view messages[] = {
    "{where} is in a damp or wet place, and no cover of its box keeps weather from it as it must"};
constexpr std::string_view reasons[] = {"it is no receptacle in a box, or its place is dry"};

Verdict judge(const Context& c) { return c.provides(asked, given); }

}  // namespace

extern const Rule wet_location_cover;
constexpr Rule wet_location_cover{
    .id = "wet-location-cover",
    .title = "A receptacle in a damp place is covered against weather, in a wet place also while in use",
    .why = "Rain and splashes that run into a receptacle make it leak current, corrode and fail.",
    .subject = SubjectKind::device,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Put on a weatherproof cover; in a wet place a hood that closes over the plug.",
    .unseen =
        "Whether a hood is of the extra-duty kind; whether its seal was fitted to the wall; receptacles in "
        "panels and equipment.",
    .judge = judge,
};

}  // namespace raceward::methods
