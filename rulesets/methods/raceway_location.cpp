// Asks whether a raceway is of a type that may lie where it does.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { permitted };
constexpr std::string_view figures[] = {"location-permitted"};
constexpr std::string_view messages[] = {"{where} is of a type that is not allowed where it lies"};

Verdict judge(const Context& c) { return c.holds(permitted); }

}  // namespace

extern const Rule raceway_location;
constexpr Rule raceway_location{
    .id = "raceway-location",
    .title = "A raceway is of a type that the code allows where it lies",
    .why =
        "Water, vapours, earth and blows ruin a raceway that is not made for them, and with it the wires and "
        "the grounding path.",
    .subject = SubjectKind::raceway,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = {},
    .cure = "Use a type that is made for the place, protect it, or lay it elsewhere.",
    .unseen =
        "Concrete, sunlight, hazardous locations, high or public buildings; a raceway that passes "
        "through more than one area; whether straps and screws resist corrosion.",
    .judge = judge,
};

}  // namespace raceward::methods
