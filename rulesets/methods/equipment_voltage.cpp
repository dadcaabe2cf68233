// Asks whether equipment is made for the voltage of its circuit.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { fed, fits };
constexpr std::string_view figures[] = {"equipment-on-circuits", "equipment-voltage-fits"};
constexpr std::string_view messages[] = {"{where} is made for another voltage than that of its circuit"};
constexpr std::string_view reasons[] = {"no circuit of the document ends at it"};

Verdict judge(const Context& c) { return c.provides(fed, fits); }

}  // namespace

extern const Rule equipment_voltage;
constexpr Rule equipment_voltage{
    .id = "equipment-voltage",
    .title = "Equipment is made for the voltage of its circuit",
    .why = "At too high a voltage heaters and motors burn; at too low a voltage motors stall and burn too.",
    .subject = SubjectKind::equipment,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Connect it to a circuit of its voltage, or set it for the one that it has.",
    .unseen = "Voltage drop; what each of several circuits does there; what is plugged in and not written.",
    .judge = judge,
};

}  // namespace raceward::methods
