// Asks whether wire-type equipment grounding conductors are large enough for their overcurrent device.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { wires, shortfall, sharing, shared_shortfall };
constexpr std::string_view figures[] = {"grounding-conductors", "grounding-conductor-shortfall",
                                        "shared-grounding-raceways", "shared-grounding-shortfall"};
enum : std::uint32_t { own, of_others };
constexpr std::string_view messages[] = {
    "{place} is {detail} of an equipment grounding conductor behind that overcurrent device",
    "{place} also serves {where}, which has none of its own there: it is {detail} behind its overcurrent "
    "device"};
constexpr std::string_view reasons[] = {
    "it has no wire-type equipment grounding conductor and shares none, or is class 2 or communications "
    "wiring"};

Verdict judge(const Context& c) {
  const Reading held = c.figure(wires), shared = c.figure(sharing);
  const bool none = held && held.amount.count == 0, alone = shared && shared.amount.count == 0;
  if (none && alone) return Context::not_applicable();
  const Reading of_own = c.figure(shortfall);
  if (!none && of_own && of_own.amount.count > 0) return Context::violates(own, of_own);
  const Reading beside = c.figure(shared_shortfall);
  if (beside && beside.amount.count > 0) return Context::violates(of_others, beside);
  MissingId missing = c.both(held.missing, alone ? MissingId{0} : beside.missing);
  if (!none) missing = c.both(missing, of_own.missing);
  return missing != 0 ? Context::undetermined(missing) : Context::complies();
}

}  // namespace

extern const Rule grounding_conductor_size;
constexpr Rule grounding_conductor_size{
    .id = "grounding-conductor-size",
    .title = "A wire-type equipment grounding conductor is large enough for its overcurrent device",
    .why =
        "One that is too small may burn through before the overcurrent device opens, and leave metal live.",
    .subject = SubjectKind::circuit,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Pull an equipment grounding conductor of the size that the working gives; or, where only its "
        "growing "
        "with raised conductors is short and a qualified person has sized it, attest "
        "grounding-sized-by-qualified-person, where the edition in force lets that count.",
    .unseen =
        "Taps; conductors inside cables; those of wiring outside any circuit that is class 2 or "
        "communications.",
    .judge = judge,
};

}  // namespace raceward::methods
