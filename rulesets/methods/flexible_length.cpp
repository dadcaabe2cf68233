// Asks whether a flexible raceway is no longer than its type may be.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, length, limit };
constexpr std::string_view figures[] = {"flexible-length-asked", "raceway-length", "flexible-length-limit"};
constexpr std::string_view messages[] = {"{where} is {measured} long, and its type may be {limit}"};
constexpr std::string_view reasons[] = {"the code sets no length for its type"};

Verdict judge(const Context& c) {
  const Reading needed = c.figure(asked);
  if (!needed) return Context::undetermined(needed.missing);
  if (needed.amount.count == 0) return Context::not_applicable();
  return c.at_most(length, limit);
}

}  // namespace

extern const Rule flexible_length;
constexpr Rule flexible_length{
    .id = "flexible-length",
    .title = "A flexible raceway is no longer than its type may be",
    .why = "A long piece that hangs loose is pulled, kinked and trodden on.",
    .subject = SubjectKind::raceway,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Shorten it: bring a fixed raceway nearer to what it serves.",
    .unseen = "Cords; the length of flexible pieces in a grounding path, which the rule on that path judges.",
    .judge = judge,
};

}  // namespace raceward::methods
