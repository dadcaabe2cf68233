// Asks whether all conductors of a circuit go through the same raceways.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { held, failing };
constexpr std::string_view figures[] = {"raceways-of-circuit", "conductors-apart"};
constexpr std::string_view messages[] = {
    "{place} holds a conductor of {where} that the others do not go with"};
constexpr std::string_view reasons[] = {"it is wiring outside any circuit, or passes no raceway"};

Verdict judge(const Context& c) {
  const Reading all = c.figure(held);
  if (all && all.amount.count == 0) return Context::not_applicable();
  const Reading bad = c.figure(failing);
  if (bad && bad.amount.count != 0) return Context::violates(0, bad);
  const MissingId missing = c.both(all.missing, bad.missing);
  return missing != 0 ? Context::undetermined(missing) : Context::complies();
}

}  // namespace

extern const Rule circuit_together;
constexpr Rule circuit_together{
    .id = "circuit-together",
    .title =
        "All conductors of a circuit, the grounded and grounding ones with them, go through the same raceway",
    .why =
        "Apart, their fields no longer cancel: metal around them heats, and the fault current finds more "
        "impedance, so that the overcurrent device opens late.",
    .subject = SubjectKind::circuit,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Pull the conductors of the circuit through one raceway, there and back.",
    .unseen =
        "Grounding conductors of sets in parallel; nonferrous raceways with single conductors; conductors "
        "outside raceways.",
    .judge = judge,
};

}  // namespace raceward::methods
