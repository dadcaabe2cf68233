// Asks whether equipment grounding conductors go on without the help of a device.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { goes_on, by_device };
constexpr std::string_view figures[] = {"grounding-goes-on", "grounding-by-device"};
constexpr std::string_view messages[] = {
    "at {place} the equipment grounding conductors of {where} go on from the terminals of a device"};
constexpr std::string_view reasons[] = {
    "no equipment grounding conductor of it goes on in a box with a device"};

Verdict judge(const Context& c) {
  const Reading any = c.figure(goes_on);
  if (any && any.amount.count == 0) return Context::not_applicable();
  const Reading hangs = c.figure(by_device);
  if (hangs && hangs.amount.count != 0) return Context::violates(0, hangs);
  if (!any || !hangs) return Context::undetermined(c.both(any.missing, hangs.missing));
  return Context::complies();
}

}  // namespace

extern const Rule grounding_continuity;
constexpr Rule grounding_continuity{
    .id = "grounding-continuity",
    .title = "Taking a device out does not open the equipment grounding conductors that go on",
    .why =
        "When the device is taken out, everything beyond it stands without a path for fault current, and "
        "still works.",
    .subject = SubjectKind::circuit,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Join the grounding conductors with a connector or on the box, and bring a tail to the device.",
    .unseen =
        "Conductors inside cables that are not written one by one; grounding conductors of other circuits in "
        "the same box; metal raceways that ground as well; equipment, whose terminals may join "
        "grounding conductors as well.",
    .judge = judge,
};

}  // namespace raceward::methods
