// Asks whether what a panel is to carry is no more than it is made and protected for.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { load, limit };
constexpr std::string_view figures[] = {"panel-load", "panel-load-limit"};
constexpr std::string_view messages[] = {
    "the load of {where} is {measured}, and its busbars and its overcurrent device are good for {limit}"};

Verdict judge(const Context& c) { return c.at_most(load, limit); }

}  // namespace

extern const Rule panel_load;
constexpr Rule panel_load{
    .id = "panel-load",
    .title = "The load of a panel is no more than it is made and protected for",
    .why =
        "Its overcurrent device opens when all that it feeds is on, or its busbars run hot for as long as it "
        "is.",
    .subject = SubjectKind::panel,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = {},
    .cure =
        "Take loads off the panel, or take a larger panel, feeder and overcurrent device. Where loads are "
        "never on "
        "together, or a part of them may be left out, calculate the load and state it.",
    .unseen =
        "Of premises other than dwellings lighting by floor area; of dwellings several cooking appliances or "
        "one larger than a usual range, chargers, heat pumps and feeders to other panels, unless the load is "
        "stated; how loads are shared out between phases; whether what is stated was calculated rightly.",
    .judge = judge,
};

}  // namespace raceward::methods
