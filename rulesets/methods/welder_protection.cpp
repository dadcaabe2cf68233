// Asks whether the overcurrent device of a circuit is small enough for the welders on it.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { found, rating, allowed };
constexpr std::string_view figures[] = {"welders-on-circuit", "circuit-device-rating", "welder-device-limit"};
constexpr std::string_view messages[] = {
    "the overcurrent device of {where} is of {measured}, and its welders allow {limit}{detail}"};
constexpr std::string_view reasons[] = {"it feeds no welder"};

Verdict judge(const Context& c) {
  const Reading on = c.figure(found);
  if (!on) return Context::undetermined(on.missing);
  if (on.amount.count == 0) return Context::not_applicable();
  return c.at_most(rating, allowed);
}

}  // namespace

extern const Rule welder_protection;
constexpr Rule welder_protection{
    .id = "welder-protection",
    .title = "The overcurrent device of a welder circuit is at most a multiple of its rated current",
    .why =
        "It must not open at each weld, and so may be larger than the conductors carry; one that is larger "
        "still does not protect them.",
    .subject = SubjectKind::circuit,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Put in a smaller overcurrent device, or larger conductors where they decide.",
    .unseen = "Resistance welders; a next larger device where one of a standard rating opens at each weld.",
    .judge = judge,
};

}  // namespace raceward::methods
