// Asks whether the grounded conductor of a multiwire circuit goes on without the help of a device.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { multiwire, by_device };
constexpr std::string_view figures[] = {"multiwire", "neutral-by-device"};
constexpr std::string_view messages[] = {
    "in {place} the grounded conductor of {where} goes on from the terminals of a device"};
constexpr std::string_view reasons[] = {"it is no multiwire circuit"};

Verdict judge(const Context& c) {
  const Reading is = c.figure(multiwire);
  if (is && is.amount.count == 0) return Context::not_applicable();
  const Reading hangs = c.figure(by_device);
  if (hangs && hangs.amount.count == 0) return Context::complies();
  if (!is || !hangs) return Context::undetermined(c.both(is.missing, hangs.missing));
  return Context::violates(0, hangs);
}

}  // namespace

extern const Rule neutral_continuity;
constexpr Rule neutral_continuity{
    .id = "neutral-continuity",
    .title = "The grounded conductor of a multiwire circuit does not depend on a device",
    .why =
        "When the device is taken out, the grounded conductor opens, and what hangs on one side gets up to "
        "the voltage of both.",
    .subject = SubjectKind::circuit,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Join the grounded conductors with a connector, and bring a tail to the device.",
    .unseen =
        "Ends of the grounded conductor in equipment and panels; conductors inside cables that are not "
        "written one by one.",
    .judge = judge,
};

}  // namespace raceward::methods
