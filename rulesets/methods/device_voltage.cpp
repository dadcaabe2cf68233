// Asks whether switches, disconnects and receptacles are rated for the voltage of their circuits.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, fits };
constexpr std::string_view figures[] = {"device-voltage-asked", "device-voltage-fits"};
constexpr std::string_view messages[] = {"{where} is rated for a lower voltage than its circuit brings it"};
constexpr std::string_view reasons[] = {"it is neither switch nor receptacle"};

Verdict judge(const Context& c) { return c.provides(asked, fits); }

}  // namespace

extern const Rule device_voltage;
constexpr Rule device_voltage{
    .id = "device-voltage",
    .title = "Switches, disconnects and receptacles are rated for the voltage of their circuit",
    .why = "Contacts of too low a rating do not break the arc, and their insulation may flash over.",
    .subject = SubjectKind::device,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Put in a device that is rated for the voltage.",
    .unseen =
        "Receptacles of a higher voltage than that of their circuit; switches of one leg of a circuit with "
        "several, which are taken to switch one; overcurrent devices.",
    .judge = judge,
};

}  // namespace raceward::methods
