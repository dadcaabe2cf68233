// Asks whether low-voltage and communications wiring is kept out of the raceway of power conductors.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, given };
constexpr std::string_view figures[] = {"systems-mixed", "raceway-divided"};
constexpr std::string_view messages[] = {
    "{where} holds conductors of power and of a low-voltage or communications system, and nothing keeps them "
    "apart"};
constexpr std::string_view reasons[] = {"it does not hold conductors of both"};

Verdict judge(const Context& c) { return c.provides(asked, given); }

}  // namespace

extern const Rule systems_in_raceway;
constexpr Rule systems_in_raceway{
    .id = "systems-in-raceway",
    .title = "Low-voltage and communications wiring is kept out of raceways of power conductors",
    .why = "A fault brings the voltage of power onto wires that people handle as harmless.",
    .subject = SubjectKind::raceway,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Give the other system a raceway of its own, or use one with a barrier.",
    .unseen =
        "Conductors of several voltages of power together, which asks for their insulation; class 1 "
        "circuits; cables that are made for both; boxes, which systems-in-box judges.",
    .judge = judge,
};

}  // namespace raceward::methods
