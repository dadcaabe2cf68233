// Asks whether the factors of the cables add up to more than that of their conduit or trunking.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { cables, factors, factor };
constexpr std::string_view figures[] = {"conductors-in-raceway", "cable-factors", "conduit-factor"};
constexpr std::string_view messages[] = {
    "the factors of the cables in {where} add up to {measured}, and its own is {limit}"};
constexpr std::string_view reasons[] = {"no cable lies in it"};

Verdict judge(const Context& c) {
  const Reading held = c.figure(cables);
  if (held && held.amount.count == 0) return Context::not_applicable();
  return c.at_most(factors, factor);
}

}  // namespace

extern const Rule cable_factors;
constexpr Rule cable_factors{
    .id = "cable-factors",
    .title = "Cables fit in their conduit or trunking by their factors",
    .why =
        "In a conduit that is too full, or too long and crooked for what it holds, cables are damaged when "
        "they "
        "are drawn in, and grow hot.",
    .subject = SubjectKind::raceway,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Use a larger conduit or several, fewer cables in one, or a draw-in box between its bends.",
    .unseen =
        "Sheathed and multicore cables; conduit and trunking that the tables do not hold, to be judged by "
        "the "
        "space that cables may take; the order in which cables are drawn in.",
    .judge = judge,
};

}  // namespace raceward::methods
