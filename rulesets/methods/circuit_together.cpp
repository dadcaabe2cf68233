// Asks whether all conductors of a circuit go through the same raceways.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { held, failing, bare_sets, split, bare };
constexpr std::string_view figures[] = {"raceways-of-circuit", "conductors-apart", "sets-without-grounding",
                                        "conductors-split", "raceways-without-grounding"};
constexpr std::string_view messages[] = {
    "{place} holds a conductor of {where} that the others do not go with",
    "{place} holds conductors of {where} in parallel with others, and not the equipment grounding conductor "
    "that "
    "these have",
    "{place} holds a part of the conductors of {where}, and others of them go another way between the same "
    "two places",
    "{place} holds conductors of {where} and no equipment grounding conductor: what it leads to is grounded "
    "by another way{detail}"};
constexpr std::string_view reasons[] = {"it is wiring outside any circuit, or passes no raceway"};

Verdict judge(const Context& c) {
  const Reading all = c.figure(held);
  if (all && all.amount.count == 0) return Context::not_applicable();
  const Reading bad = c.figure(failing);
  if (bad && bad.amount.count != 0) return Context::violates(0, bad);
  MissingId missing = c.both(all.missing, bad.missing);
  for (const std::uint32_t figure : {bare_sets, split, bare}) {
    const Reading found = c.figure(figure);
    if (found && found.amount.count != 0) return Context::violates(figure - failing, found);
    missing = c.both(missing, found.missing);
  }
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
    .cure =
        "Pull the conductors of the circuit through one raceway, there and back, an equipment grounding "
        "conductor "
        "with them; of sets in parallel each with one of full size, where one of them has such a wire.",
    .unseen =
        "Nonferrous raceways with single conductors; conductors outside raceways; metal raceways that may "
        "not be the grounding conductor; parts of a way that others share.",
    .judge = judge,
};

}  // namespace raceward::methods
