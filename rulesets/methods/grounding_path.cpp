// Asks whether fault current finds a way back from every metal place.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, breaks };
constexpr std::string_view figures[] = {"ground-path-asked", "ground-path-breaks"};
constexpr std::string_view messages[] = {
    "{where} has no continuous path for fault current back to its source; seen from the panel, the first "
    "break is at {place}"};
constexpr std::string_view reasons[] = {
    "it is nonmetallic and needs no connection of its own, or is a grounding electrode, or a joint, which is "
    "judged with its raceways"};

Verdict judge(const Context& c) {
  const Reading needed = c.figure(asked);
  if (needed && needed.amount.count == 0) return Context::not_applicable();
  const Reading broken = c.figure(breaks);
  if (broken && broken.amount.count == 0) return Context::complies();
  // A place that may be nonmetallic need not be connected.
  if (!needed || !broken) return Context::undetermined(c.both(needed.missing, broken.missing));
  return Context::violates(0, broken);
}

}  // namespace

extern const Rule grounding_path;
constexpr Rule grounding_path{
    .id = "grounding-path",
    .title =
        "Every metal box, conduit body, panel and piece of equipment has a continuous path for fault "
        "current back to its source",
    .why = "Without it a fault does not open the overcurrent device, and metal that people touch stays live.",
    .subject = SubjectKind::place,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Close the break: a metal raceway with suited fittings, an equipment grounding conductor that is "
        "joined and connected at each metal box, or a bonding jumper.",
    .unseen =
        "The impedance of the path; the size of bonding jumpers; whether the path lies beside the conductors "
        "of its circuit; paint and corrosion; what lies before the panel; cables that lie in no raceway.",
    .judge = judge,
};

}  // namespace raceward::methods
