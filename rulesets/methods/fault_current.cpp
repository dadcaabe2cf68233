// Asks whether a fault at the far end of a circuit draws enough current to open its overcurrent device soon.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, loop, least, most, needed };
constexpr std::string_view figures[] = {"fault-current-asked", "fault-loop", "fault-current-at-least",
                                        "fault-current-at-most", "fault-current-needed"};
constexpr std::string_view messages[] = {
    "a fault to ground at {place} draws {measured} through the overcurrent device of {where}; from {limit} "
    "on "
    "it is sure to open soon"};
constexpr std::string_view reasons[] = {
    "it is wiring outside any circuit, its voltage to ground is no more than an arc keeps for itself, or its "
    "grounding path is broken, which another rule judges"};

Verdict judge(const Context& c) {
  const Reading is = c.figure(asked);
  if (is && is.amount.count == 0) return Context::not_applicable();
  if (!is) return Context::undetermined(is.missing);
  const Verdict worst = c.at_least(least, needed);
  if (worst.outcome == Outcome::complies) return worst;
  const Verdict best = c.at_least(most, needed);
  if (best.outcome != Outcome::complies) return best;
  const Reading exact = c.figure(loop);
  return exact ? worst : Context::undetermined(exact.missing);
}

}  // namespace

extern const Rule fault_current;
constexpr Rule fault_current{
    .id = "fault-current",
    .title =
        "A fault to ground at the far end of a circuit draws enough current to open its overcurrent device",
    .why =
        "Through a long path too little current flows: the overcurrent device opens late or not at all, and "
        "metal stays live meanwhile.",
    .subject = SubjectKind::circuit,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Pull larger conductors, with an equipment grounding conductor that grows with them; or protect by "
        "ground-fault protection as well.",
    .unseen =
        "The impedance of the supply and of feeders outside the document; curves of single overcurrent "
        "devices; paths side by side, which let more through; conductors cooler than 75 C; bad joints.",
    .judge = judge,
};

}  // namespace raceward::methods
