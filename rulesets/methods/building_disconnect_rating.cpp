// Asks whether what switches a building off is rated high enough.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, rating, least };
constexpr std::string_view figures[] = {"building-disconnect-asked", "building-disconnect-rating",
                                        "building-disconnect-rating-least"};
constexpr std::string_view messages[] = {
    "what switches {where} off in its building is rated {measured}, and the least is {limit}"};
constexpr std::string_view reasons[] = {"it is in the building of what feeds it"};

Verdict judge(const Context& c) {
  const Reading is = c.figure(asked);
  if (is && is.amount.count == 0) return Context::not_applicable();
  const Verdict v = c.at_least(rating, least);
  if (is || v.outcome == Outcome::complies) return v;
  return Context::undetermined(c.both(is.missing, v.missing));
}

}  // namespace

extern const Rule building_disconnect_rating;
constexpr Rule building_disconnect_rating{
    .id = "building-disconnect-rating",
    .title = "What switches a building off is rated high enough",
    .why = "A switch that is too small for what the building may draw overheats, or is bypassed.",
    .subject = SubjectKind::panel,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Use a disconnect of a higher rating; the feeder and its overcurrent device may stay smaller.",
    .unseen =
        "Whether the rating suits the calculated load; two-family dwellings; buildings without a panel.",
    .judge = judge,
};

}  // namespace raceward::methods
