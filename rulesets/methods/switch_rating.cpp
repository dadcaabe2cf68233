// Asks whether switches and disconnects are rated for the current that they carry.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, rating, least };
constexpr std::string_view figures[] = {"switch-rating-asked", "switch-rating", "switch-rating-least"};
constexpr std::string_view messages[] = {"{where} is rated {measured}, and what it carries asks for {limit}"};
constexpr std::string_view reasons[] = {"it is no switch"};

Verdict judge(const Context& c) {
  const Reading is = c.figure(asked);
  if (is && is.amount.count == 0) return Context::not_applicable();
  return c.at_least(rating, least);
}

}  // namespace

extern const Rule switch_rating;
constexpr Rule switch_rating{
    .id = "switch-rating",
    .title = "Switches and disconnects are rated for the current that they carry",
    .why = "Contacts that carry too much overheat, and may weld instead of opening.",
    .subject = SubjectKind::device,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Put in a switch of a higher rating, or one that is rated for the horsepower of the motor.",
    .unseen =
        "Whether a motor's disconnect is of a kind that may be one; switches that are marked for tungsten "
        "lamps "
        "or direct current only; fuses in a disconnect; motors on a dimmer; disconnects that are no device "
        "of "
        "the document; feeders with motors, whose load is taken as stated.",
    .judge = judge,
};

}  // namespace raceward::methods
