// Asks whether switches and disconnects are rated for the horsepower of the motors that they carry.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, fits };
constexpr std::string_view figures[] = {"switch-horsepower-asked", "switch-horsepower-fits"};
constexpr std::string_view messages[] = {
    "{where} is rated for less horsepower than the motors that it switches have"};
constexpr std::string_view reasons[] = {"it is no switch"};

Verdict judge(const Context& c) { return c.provides(asked, fits); }

}  // namespace

extern const Rule switch_horsepower;
constexpr Rule switch_horsepower{
    .id = "switch-horsepower",
    .title = "Switches and disconnects of motors are rated for their horsepower",
    .why =
        "A motor that is switched off as it starts or stalls draws several times its current, which a switch "
        "that is not made for it does not break.",
    .subject = SubjectKind::device,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Put in a switch that is rated for the horsepower of the motor, or of all of them together.",
    .unseen =
        "Whether a disconnect that is said to need no horsepower is of such a kind; dimmers; plugs; motors "
        "of "
        "direct current; motors behind panels; heating and other load that is switched with motors.",
    .judge = judge,
};

}  // namespace raceward::methods
