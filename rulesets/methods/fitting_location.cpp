// Asks whether the connectors and couplings of a raceway suit wet places.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { suited };
constexpr std::string_view figures[] = {"fittings-suited"};
constexpr std::string_view messages[] = {
    "{where} has a connector or coupling that is not made for the wet place where it is"};

Verdict judge(const Context& c) { return c.holds(suited); }

}  // namespace

extern const Rule fitting_location;
constexpr Rule fitting_location{
    .id = "fitting-location",
    .title = "Connectors and couplings in wet places keep water out",
    .why = "Water that runs in by a connector stands in the box and rots splices and devices.",
    .subject = SubjectKind::raceway,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = {},
    .cure = "Use fittings that are marked raintight, or threaded hubs and couplings.",
    .unseen =
        "Damp places, where a fitting must sit so that moisture stays out; concrete; whether a fitting is "
        "put on as its maker tells.",
    .judge = judge,
};

}  // namespace raceward::methods
