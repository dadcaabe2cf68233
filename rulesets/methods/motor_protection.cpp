// Asks whether the overcurrent device of a circuit is small enough for the motors on it.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { found, rating, allowed };
constexpr std::string_view figures[] = {"motors-on-circuit", "circuit-device-rating", "motor-device-limit"};
constexpr std::string_view messages[] = {
    "the overcurrent device of {where} is of {measured}, and its motors allow {limit}{detail}"};
constexpr std::string_view reasons[] = {"it feeds no motor"};

Verdict judge(const Context& c) {
  const Reading on = c.figure(found);
  if (!on) return Context::undetermined(on.missing);
  if (on.amount.count == 0) return Context::not_applicable();
  return c.at_most(rating, allowed);
}

}  // namespace

extern const Rule motor_protection;
constexpr Rule motor_protection{
    .id = "motor-protection",
    .title = "The overcurrent device of a motor circuit opens at a short circuit or ground fault in it",
    .why =
        "It must let the motor start, and so may be larger than the conductors carry; one that is larger "
        "still lets a fault in the motor burn.",
    .subject = SubjectKind::circuit,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Put in a smaller overcurrent device, or a time-delay fuse.",
    .unseen =
        "Instantaneous-trip circuit breakers in combination controllers; wound-rotor and direct-current "
        "motors; drives; feeders of several motors; whether the motor starts.",
    .judge = judge,
};

}  // namespace raceward::methods
