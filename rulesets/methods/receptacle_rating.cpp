// Asks whether receptacles are rated to suit their circuits.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { receptacle, rating, fits };
constexpr std::string_view figures[] = {"is-receptacle", "receptacle-rating", "receptacle-rating-fits"};
constexpr std::string_view messages[] = {"{where} is rated {measured}, which does not suit its circuit"};
constexpr std::string_view reasons[] = {"it is no receptacle"};

Verdict judge(const Context& c) {
  const Reading is = c.figure(receptacle);
  if (is && is.amount.count == 0) return Context::not_applicable();
  const Reading suits = c.figure(fits);
  if (!suits) return Context::undetermined(suits.missing);
  return suits.amount.count != 0 ? Context::complies() : Context::violates(0, c.figure(rating));
}

}  // namespace

extern const Rule receptacle_rating;
constexpr Rule receptacle_rating{
    .id = "receptacle-rating",
    .title = "A receptacle is rated to suit its circuit",
    .why =
        "A receptacle rated too low burns before the overcurrent device opens; one rated too high invites "
        "plugs that the circuit cannot feed.",
    .subject = SubjectKind::device,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Put in a receptacle of the rating that the working gives.",
    .unseen = "Receptacles for ranges, and for welders; what is plugged in.",
    .judge = judge,
};

}  // namespace raceward::methods
