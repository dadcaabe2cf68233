// Asks whether a flush box lies no farther behind its surface than allowed.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, setback, limit };
constexpr std::string_view figures[] = {"setback-asked", "box-setback", "box-setback-limit"};
constexpr std::string_view messages[] = {
    "{where} lies {measured} behind the finished surface, and at most {limit} is allowed"};
constexpr std::string_view reasons[] = {"it is not set in a finished surface"};

Verdict judge(const Context& c) {
  const Reading needed = c.figure(asked);
  if (!needed) return Context::undetermined(needed.missing);
  if (needed.amount.count == 0) return Context::not_applicable();
  return c.at_most(setback, limit);
}

}  // namespace

extern const Rule box_setback;
constexpr Rule box_setback{
    .id = "box-setback",
    .title = "The front edge of a flush box is no farther behind the finished surface than allowed",
    .why = "Behind a gap sparks from a loose terminal reach wood and paper.",
    .subject = SubjectKind::box,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Bring the box forward, or add an extension ring.",
    .unseen = "Gaps around the box in plaster or board.",
    .judge = judge,
};

}  // namespace raceward::methods
