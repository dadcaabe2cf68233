// Asks whether the overcurrent device of a circuit is large enough for its load.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { wiring, load, rating };
constexpr std::string_view figures[] = {"circuit-is-wiring", "load-counted", "circuit-device-rating"};
constexpr std::string_view messages[] = {
    "the load of {where} counts as {measured}, and its overcurrent device is rated {limit}"};
constexpr std::string_view reasons[] = {"it is wiring outside any circuit"};

Verdict judge(const Context& c) {
  const Reading outside = c.figure(wiring);
  if (outside && outside.amount.count != 0) return Context::not_applicable();
  return c.at_most(load, rating);
}

}  // namespace

extern const Rule continuous_load;
constexpr Rule continuous_load{
    .id = "continuous-load",
    .title = "The overcurrent device is large enough for the load, with reserve for what is continuous",
    .why =
        "A breaker that carries its full rating for hours grows hot, ages, and trips when nothing is wrong.",
    .subject = SubjectKind::circuit,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Divide the load among circuits, or use a larger overcurrent device with conductors to suit.",
    .unseen =
        "Overcurrent devices listed for all of their rating; circuits of motors and welders, whose devices "
        "are chosen by other rules; whether loads were measured.",
    .judge = judge,
};

}  // namespace raceward::methods
