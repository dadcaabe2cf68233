// Asks whether the conductor to a grounding electrode is large enough.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, shortfall };
constexpr std::string_view figures[] = {"electrode-conductor-asked", "electrode-conductor-shortfall"};
constexpr std::string_view messages[] = {"the conductor from {where} to its grounding electrode is {detail}"};
constexpr std::string_view reasons[] = {"no conductor to an electrode is known to end at it"};

Verdict judge(const Context& c) {
  const Reading is = c.figure(asked);
  if (is && is.amount.count == 0) return Context::not_applicable();
  const Reading by = c.figure(shortfall);
  if (by && by.amount.count > 0) return Context::violates(0, by);
  const MissingId missing = c.both(is.missing, by.missing);
  return missing != 0 ? Context::undetermined(missing) : Context::complies();
}

}  // namespace

extern const Rule grounding_electrode_conductor;
constexpr Rule grounding_electrode_conductor{
    .id = "grounding-electrode-conductor",
    .title = "The conductor to a grounding electrode is large enough",
    .why = "One that is too small burns through when lightning or a fault of the supply goes that way.",
    .subject = SubjectKind::panel,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Use a conductor of the size that the working gives.",
    .unseen =
        "Where several conductors go to electrodes, all but the largest; jumpers between electrodes; "
        "conductors of services that end elsewhere than in a panel; physical protection, connections; "
        "aluminum near earth.",
    .judge = judge,
};

}  // namespace raceward::methods
