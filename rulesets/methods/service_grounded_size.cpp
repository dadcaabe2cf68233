// Asks whether the grounded conductor of a service is large enough for a fault.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, shortfall };
constexpr std::string_view figures[] = {"service-grounded-asked", "service-grounded-shortfall"};
constexpr std::string_view messages[] = {"the grounded conductor that supplies {where} is {detail}"};
constexpr std::string_view reasons[] = {
    "it is not where a service ends whose grounded conductor is connected to the enclosure"};

Verdict judge(const Context& c) {
  const Reading is = c.figure(asked);
  if (is && is.amount.count == 0) return Context::not_applicable();
  const Reading by = c.figure(shortfall);
  if (is && by && by.amount.count > 0) return Context::violates(0, by);
  const MissingId missing = c.both(is.missing, by.missing);
  return missing != 0 ? Context::undetermined(missing) : Context::complies();
}

}  // namespace

extern const Rule service_grounded_size;
constexpr Rule service_grounded_size{
    .id = "service-grounded-size",
    .title = "The grounded conductor of a service is large enough for a fault",
    .why =
        "Every fault to ground returns to the supply through it: one that is too small holds the current "
        "back, "
        "so that no overcurrent device opens, or burns through.",
    .subject = SubjectKind::panel,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Have a grounded conductor of the size that the working gives brought to the service.",
    .unseen =
        "What the loads leave unbalanced, which may ask for a larger one; services that end elsewhere than "
        "in a "
        "panel; raceways that each hold a part of it; the main bonding jumper.",
    .judge = judge,
};

}  // namespace raceward::methods
