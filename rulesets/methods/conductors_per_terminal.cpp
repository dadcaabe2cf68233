// Asks whether a terminal of an overcurrent device holds no more conductors than it is made for.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { wires, limit };
constexpr std::string_view figures[] = {"wires-per-terminal", "wires-per-terminal-limit"};
constexpr std::string_view messages[] = {
    "{where} has {measured} conductors under one terminal, which is made for {limit}"};

constexpr std::string_view reasons[] = {"no conductor is written that ends at it"};

Verdict judge(const Context& c) {
  const Reading held = c.figure(wires);
  if (held && held.amount.count == 0) return Context::not_applicable();
  return c.at_most(wires, limit);
}

}  // namespace

extern const Rule conductors_per_terminal;
constexpr Rule conductors_per_terminal{
    .id = "conductors-per-terminal",
    .title = "A terminal of an overcurrent device holds no more conductors than it is made for",
    .why = "Under a terminal that is made for one, a second conductor is held badly, works loose and burns.",
    .subject = SubjectKind::overcurrent_device,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Join the conductors with a connector and bring one tail to the terminal.",
    .unseen =
        "Terminals of equipment; whether sizes and metals may share a terminal that is marked for several.",
    .judge = judge,
};

}  // namespace raceward::methods
