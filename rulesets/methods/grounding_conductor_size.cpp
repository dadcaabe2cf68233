// Asks whether wire-type equipment grounding conductors are large enough for their overcurrent device.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { wires, shortfall };
constexpr std::string_view figures[] = {"grounding-conductors", "grounding-conductor-shortfall"};
constexpr std::string_view messages[] = {
    "{place} is smaller than its circuit asks of an equipment grounding conductor; in the order of standard "
    "sizes it is {measured} too low"};
constexpr std::string_view reasons[] = {
    "it has no wire-type equipment grounding conductor, or is wiring outside any circuit"};

Verdict judge(const Context& c) {
  const Reading held = c.figure(wires);
  if (held && held.amount.count == 0) return Context::not_applicable();
  const Reading missing_sizes = c.figure(shortfall);
  if (missing_sizes && missing_sizes.amount.count > 0) return Context::violates(0, missing_sizes);
  const MissingId missing = c.both(held.missing, missing_sizes.missing);
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
    .cure = "Pull an equipment grounding conductor of the size that the working gives.",
    .unseen =
        "Several circuits that share one conductor; taps; "
        "conductors inside cables.",
    .judge = judge,
};

}  // namespace raceward::methods
