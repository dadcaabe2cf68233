// Asks whether the conductors of a circuit are large enough to be used at all.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { held, failing };
constexpr std::string_view figures[] = {"ungrounded-or-switched", "undersized-conductors"};
constexpr std::string_view messages[] = {"{place} is smaller than conductors of circuits may be"};
constexpr std::string_view reasons[] = {"no ungrounded conductor of it is written"};

Verdict judge(const Context& c) {
  const Reading all = c.figure(held);
  if (all && all.amount.count == 0) return Context::not_applicable();
  const Reading bad = c.figure(failing);
  if (bad && bad.amount.count != 0) return Context::violates(0, bad);
  const MissingId missing = c.both(all.missing, bad.missing);
  return missing != 0 ? Context::undetermined(missing) : Context::complies();
}

}  // namespace

extern const Rule conductor_minimum_size;
constexpr Rule conductor_minimum_size{
    .id = "conductor-minimum-size",
    .title = "No conductor of a circuit is smaller than the law lets one be",
    .why =
        "Thin wires break where they are bent or nicked, and no ordinary overcurrent device protects them.",
    .subject = SubjectKind::circuit,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Pull conductors of the smallest size allowed, or larger.",
    .unseen =
        "Control and signal wiring; wire-type grounding conductors, which have a rule of "
        "their own.",
    .judge = judge,
};

}  // namespace raceward::methods
