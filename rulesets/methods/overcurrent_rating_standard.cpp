// Asks whether overcurrent devices have standard ratings.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { rating, standard };
constexpr std::string_view figures[] = {"overcurrent-rating", "overcurrent-standard"};
constexpr std::string_view messages[] = {"{where} is rated {measured}, which is no standard rating"};

Verdict judge(const Context& c) {
  const Reading is = c.figure(standard);
  if (!is) return Context::undetermined(is.missing);
  return is.amount.count != 0 ? Context::complies() : Context::violates(0, c.figure(rating));
}

}  // namespace

extern const Rule overcurrent_rating_standard;
constexpr Rule overcurrent_rating_standard{
    .id = "overcurrent-rating-standard",
    .title = "An overcurrent device has a standard rating",
    .why =
        "A rating that is not in the list is mostly one written down wrongly, and all that is judged by it "
        "is wrong too.",
    .subject = SubjectKind::overcurrent_device,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = {},
    .cure = "Read the rating from the handle or the fuse again.",
    .unseen =
        "Adjustable devices, whose rating is their setting; fuses and breakers of other ratings are allowed, "
        "so that this is advice.",
    .judge = judge,
};

}  // namespace raceward::methods
