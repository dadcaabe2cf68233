// Asks whether bonding jumpers are large enough for the overcurrent device or the supply ahead of them.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, shortfall };
constexpr std::string_view figures[] = {"bonding-jumper-asked", "bonding-jumper-shortfall"};
constexpr std::string_view messages[] = {"{where} is {detail} by what is ahead of it"};
constexpr std::string_view reasons[] = {"it goes to a grounding electrode"};

Verdict judge(const Context& c) {
  const Reading is = c.figure(asked);
  if (is && is.amount.count == 0) return Context::not_applicable();
  const Reading by = c.figure(shortfall);
  if (is && by && by.amount.count > 0) return Context::violates(0, by);
  const MissingId missing = c.both(is.missing, by.missing);
  return missing != 0 ? Context::undetermined(missing) : Context::complies();
}

}  // namespace

extern const Rule bonding_jumper_size;
constexpr Rule bonding_jumper_size{
    .id = "bonding-jumper-size",
    .title = "A bonding jumper is large enough for what is ahead of it",
    .why = "One that is too small burns through before the overcurrent device opens, and leaves metal live.",
    .subject = SubjectKind::bonding_jumper,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Use a jumper of the size that the working gives.",
    .unseen =
        "On the supply side of a service jumpers of raceways that each hold a part of it; jumpers between "
        "electrodes; bonding "
        "conductors in circuits, which grounding-conductor-size judges; how a jumper is fastened.",
    .judge = judge,
};

}  // namespace raceward::methods
