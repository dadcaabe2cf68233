// Asks whether wire-type bonding conductors are large enough, by rating and by ampacity.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { wires, shortfall };
constexpr std::string_view figures[] = {"grounding-conductors", "bonding-conductor-shortfall"};
constexpr std::string_view messages[] = {"{place} is {detail} of a bonding conductor of its circuit"};
constexpr std::string_view reasons[] = {
    "it has no wire-type bonding conductor, or is wiring outside any circuit"};

Verdict judge(const Context& c) {
  const Reading held = c.figure(wires);
  if (held && held.amount.count == 0) return Context::not_applicable();
  const Reading missing_sizes = c.figure(shortfall);
  if (missing_sizes && missing_sizes.amount.count > 0) return Context::violates(0, missing_sizes);
  const MissingId missing = c.both(held.missing, missing_sizes.missing);
  return missing != 0 ? Context::undetermined(missing) : Context::complies();
}

}  // namespace

extern const Rule bonding_conductor_size;
constexpr Rule bonding_conductor_size{
    .id = "bonding-conductor-size",
    .title =
        "A wire-type bonding conductor is large enough for its overcurrent device and for raised conductors",
    .why =
        "One that is too small may burn through before the overcurrent device opens, and leave metal live.",
    .subject = SubjectKind::circuit,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Pull a bonding conductor of the size that the working gives.",
    .unseen =
        "Metal raceways that bond, which the code takes instead of a wire; conductors side by side; the "
        "secondary side of transformers; conductors inside cables.",
    .judge = judge,
};

}  // namespace raceward::methods
