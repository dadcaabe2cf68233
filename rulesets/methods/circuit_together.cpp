// Asks whether all conductors of a circuit go through the same raceways.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { held, failing, bare_sets };
constexpr std::string_view figures[] = {"raceways-of-circuit", "conductors-apart", "sets-without-grounding"};
constexpr std::string_view messages[] = {
    "{place} holds a conductor of {where} that the others do not go with",
    "{place} holds conductors of {where} in parallel with others, and not the equipment grounding conductor "
    "that "
    "these have"};
constexpr std::string_view reasons[] = {"it is wiring outside any circuit, or passes no raceway"};

Verdict judge(const Context& c) {
  const Reading all = c.figure(held);
  if (all && all.amount.count == 0) return Context::not_applicable();
  const Reading bad = c.figure(failing);
  if (bad && bad.amount.count != 0) return Context::violates(0, bad);
  const Reading bare = c.figure(bare_sets);
  if (bare && bare.amount.count != 0) return Context::violates(1, bare);
  const MissingId missing = c.both(c.both(all.missing, bad.missing), bare.missing);
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
        "Pull the conductors of the circuit through one raceway, there and back; of sets in parallel each "
        "with an "
        "equipment grounding conductor of full size, where one of them has such a wire.",
    .unseen = "Nonferrous raceways with single conductors; conductors outside raceways.",
    .judge = judge,
};

}  // namespace raceward::methods
