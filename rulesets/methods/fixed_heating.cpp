// Asks whether the overcurrent device is large enough for fixed heating equipment.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, load, rating };
constexpr std::string_view figures[] = {"heating-asked", "heating-load-counted", "equipment-device-rating"};
constexpr std::string_view messages[] = {
    "the load of {where} counts as {measured}, and the overcurrent device of its circuit is rated {limit}"};
constexpr std::string_view reasons[] = {"it is no fixed heating equipment"};

Verdict judge(const Context& c) {
  const Reading is = c.figure(asked);
  if (is && is.amount.count == 0) return Context::not_applicable();
  const Verdict large = c.at_most(load, rating);
  if (is || large.outcome == Outcome::complies) return large;
  return Context::undetermined(c.both(is.missing, large.missing));
}

}  // namespace

extern const Rule fixed_heating;
constexpr Rule fixed_heating{
    .id = "fixed-heating",
    .title = "The circuit of fixed heating equipment has reserve beyond its load",
    .why = "Heaters run for hours at their full current, whatever was said of how long they would.",
    .subject = SubjectKind::equipment,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Use a larger overcurrent device with conductors to suit.",
    .unseen =
        "Motors within the equipment; equipment with a plug; equipment with overcurrent devices of its own.",
    .judge = judge,
};

}  // namespace raceward::methods
