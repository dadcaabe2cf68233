// Asks whether all ungrounded conductors of a multiwire circuit open together.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { multiwire, poles, ungrounded };
constexpr std::string_view figures[] = {"multiwire", "poles-together", "ungrounded-conductors"};
constexpr std::string_view messages[] = {
    "{where} has {limit} ungrounded conductors that share a grounded one, and {measured} of them opens at "
    "once"};
constexpr std::string_view reasons[] = {"it is no multiwire circuit"};

Verdict judge(const Context& c) {
  const Reading is = c.figure(multiwire);
  if (is && is.amount.count == 0) return Context::not_applicable();
  const Verdict together = c.at_least(poles, ungrounded);
  return !is && together.outcome == Outcome::violates ? Context::undetermined(is.missing) : together;
}

}  // namespace

extern const Rule multiwire_disconnect;
constexpr Rule multiwire_disconnect{
    .id = "multiwire-disconnect",
    .title = "All ungrounded conductors of a multiwire circuit open together",
    .why =
        "Whoever switches off one breaker takes the box for dead, and the grounded conductor still carries "
        "the current of the other.",
    .subject = SubjectKind::circuit,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Use a breaker of as many poles, or tie the handles of the breakers with a listed tie.",
    .unseen =
        "Whether a handle tie is listed for its breakers; whether the breakers stand on different buses.",
    .judge = judge,
};

}  // namespace raceward::methods
