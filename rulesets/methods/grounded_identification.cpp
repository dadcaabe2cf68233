// Asks whether grounded conductors look like ones.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { held, failing };
constexpr std::string_view figures[] = {"grounded-conductors", "misidentified-grounded"};
constexpr std::string_view messages[] = {"{place} is a grounded conductor and does not look like one"};
constexpr std::string_view reasons[] = {"it has no grounded conductor"};

Verdict judge(const Context& c) {
  const Reading all = c.figure(held);
  if (all && all.amount.count == 0) return Context::not_applicable();
  const Reading bad = c.figure(failing);
  if (bad && bad.amount.count != 0) return Context::violates(0, bad);
  const MissingId missing = c.both(all.missing, bad.missing);
  return missing != 0 ? Context::undetermined(missing) : Context::complies();
}

}  // namespace

extern const Rule grounded_identification;
constexpr Rule grounded_identification{
    .id = "grounded-identification",
    .title = "A grounded conductor is white or gray, or marked so at its ends where it is large",
    .why =
        "Whoever works on the circuit later trusts the colour: a hot conductor taken for the neutral kills.",
    .subject = SubjectKind::circuit,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Pull a white or gray conductor; one that is large may be marked white or gray at its ends.",
    .unseen =
        "Stripes and tracers of other kinds; whether two systems in one raceway have neutrals that can be "
        "told apart.",
    .judge = judge,
};

}  // namespace raceward::methods
