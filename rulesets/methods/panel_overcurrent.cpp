// Asks whether a panel is protected at no more than its rating.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { protection, rating };
constexpr std::string_view figures[] = {"panel-protection", "panel-rating"};
constexpr std::string_view messages[] = {
    "{where} is protected at {measured}, and its busbars are rated {limit}"};

Verdict judge(const Context& c) { return c.at_most(protection, rating); }

}  // namespace

extern const Rule panel_overcurrent;
constexpr Rule panel_overcurrent{
    .id = "panel-overcurrent",
    .title = "A panel is protected at no more than the rating of its busbars",
    .why = "Busbars that carry more than they are made for overheat, and nothing opens.",
    .subject = SubjectKind::panel,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = {},
    .cure =
        "Put in a smaller main, feed the panel through a smaller overcurrent device, or take a panel of a "
        "larger rating.",
    .unseen = "Service panels with several mains; the load of the panel.",
    .judge = judge,
};

}  // namespace raceward::methods
