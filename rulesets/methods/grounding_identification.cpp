// Asks whether equipment grounding conductors look like ones.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { held, failing };
constexpr std::string_view figures[] = {"wires-to-ground", "misidentified-grounding"};
constexpr std::string_view messages[] = {"{place} is a grounding conductor and does not look like one"};
constexpr std::string_view reasons[] = {"it has no wire-type equipment grounding or bonding conductor"};

Verdict judge(const Context& c) {
  const Reading all = c.figure(held);
  if (all && all.amount.count == 0) return Context::not_applicable();
  const Reading bad = c.figure(failing);
  if (bad && bad.amount.count != 0) return Context::violates(0, bad);
  const MissingId missing = c.both(all.missing, bad.missing);
  return missing != 0 ? Context::undetermined(missing) : Context::complies();
}

}  // namespace

extern const Rule grounding_identification;
constexpr Rule grounding_identification{
    .id = "grounding-identification",
    .title = "An equipment grounding conductor is bare or green, or marked so at its ends where it is large",
    .why =
        "A grounding conductor that is taken for another one, or another one for it, puts voltage on metal "
        "that people touch.",
    .subject = SubjectKind::circuit,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Pull a bare or green conductor, green with yellow stripes for one; one that is large may be marked "
        "green at its ends.",
    .unseen =
        "Conductors of cords and cables that are identified by other means; whether the marking is repeated "
        "wherever the conductor is accessible.",
    .judge = judge,
};

}  // namespace raceward::methods
