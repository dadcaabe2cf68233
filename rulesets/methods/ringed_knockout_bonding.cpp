// Asks whether raceways at higher voltages are bonded around knockouts with rings left.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { metal, voltage, limit, bonded };
constexpr std::string_view figures[] = {"raceway-is-metal", "raceway-voltage", "ringed-knockout-voltage",
                                        "knockouts-bonded"};
constexpr std::string_view messages[] = {
    "{where} holds a circuit above the voltage to ground that asks for bonding, and enters by a ringed or "
    "oversized knockout without it"};
enum : std::uint32_t { not_metal, no_circuit };
constexpr std::string_view reasons[] = {"it is not metal",
                                        "no circuit of stated voltage is written that lies in it"};

Verdict judge(const Context& c) {
  const Reading conducts = c.figure(metal);
  if (conducts && conducts.amount.count == 0) return Context::not_applicable(not_metal);
  const Reading highest = c.figure(voltage), above = c.figure(limit);
  if (!above) return Context::undetermined(above.missing);
  if (highest && highest.amount.count == 0) return Context::not_applicable(no_circuit);
  if (highest && highest.amount.count <= above.amount.count) return Context::complies(highest, above);
  const Reading around = c.figure(bonded);
  if (around && around.amount.count != 0) return Context::complies();
  if (!conducts || !highest || !around)
    return Context::undetermined(c.both(conducts.missing, c.both(highest.missing, around.missing)));
  return Context::violates(0, highest, above);
}

}  // namespace

extern const Rule ringed_knockout_bonding;
constexpr Rule ringed_knockout_bonding{
    .id = "ringed-knockout-bonding",
    .title =
        "Above the voltage to ground that the code names, a metal raceway is bonded around ringed or "
        "oversized knockouts",
    .why =
        "A ring that is left in the wall carries fault current only by its thin bridges, which burn off "
        "before a breaker trips.",
    .subject = SubjectKind::raceway,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Put a bonding jumper with a grounding bushing around it, or use a box that is listed for it.",
    .unseen = "The size of the jumper; fittings without rings that are listed to bond by themselves.",
    .judge = judge,
};

}  // namespace raceward::methods
