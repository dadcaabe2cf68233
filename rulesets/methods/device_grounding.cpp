// Asks whether fault current finds a way back from every device.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, breaks };
constexpr std::string_view figures[] = {"device-ground-asked", "device-ground-breaks"};
constexpr std::string_view messages[] = {
    "{where} has no continuous path for fault current back to its source; seen from the panel, the first "
    "break is at {place}"};
constexpr std::string_view reasons[] = {"a terminal block has nothing to connect"};

Verdict judge(const Context& c) {
  const Reading needed = c.figure(asked);
  if (needed && needed.amount.count == 0) return Context::not_applicable();
  const Reading broken = c.figure(breaks);
  if (!broken) return Context::undetermined(broken.missing);
  return broken.amount.count == 0 ? Context::complies() : Context::violates(0, broken);
}

}  // namespace

extern const Rule device_grounding;
constexpr Rule device_grounding{
    .id = "device-grounding",
    .title = "Every device has a continuous path for fault current back to its source",
    .why =
        "The grounding contact of a receptacle, the yoke of a switch and the metal of a luminaire protect "
        "only where fault current can flow back and open the overcurrent device.",
    .subject = SubjectKind::device,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Connect the device to an equipment grounding conductor joined in its box, or through a metal box "
        "that has the path.",
    .unseen = "Whether a device is listed as self-grounding; how its wire is fastened to it.",
    .judge = judge,
};

}  // namespace raceward::methods
