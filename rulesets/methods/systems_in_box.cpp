// Asks whether low-voltage and communications wiring is kept out of the box of power conductors.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, given };
constexpr std::string_view figures[] = {"systems-mixed-in-box", "box-divided"};
constexpr std::string_view messages[] = {
    "{where} holds conductors of power and of a low-voltage or communications system, and nothing keeps them "
    "apart"};
constexpr std::string_view reasons[] = {"it does not hold conductors of both"};

Verdict judge(const Context& c) { return c.provides(asked, given); }

}  // namespace

extern const Rule systems_in_box;
constexpr Rule systems_in_box{
    .id = "systems-in-box",
    .title = "Low-voltage and communications wiring is kept out of boxes of power conductors",
    .why = "A fault brings the voltage of power onto wires that people handle as harmless.",
    .subject = SubjectKind::box,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Give the other system a box of its own, or put a barrier in.",
    .unseen =
        "Conductors of several voltages of power together, which asks for their insulation; class 1 "
        "circuits; cables that are made for both; places where the other system ends at the same device; "
        "panels and equipment; raceways, which systems-in-raceway judges.",
    .judge = judge,
};

}  // namespace raceward::methods
