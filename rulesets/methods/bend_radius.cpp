// Asks whether a bend made on site is too tight for its trade size.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { bends, radius, needed };
constexpr std::string_view figures[] = {"field-bends", "tightest-bend-radius", "tightest-bend-radius-needed"};
constexpr std::string_view messages[] = {
    "{where} is bent to a radius of {measured} at its tightest, and at least {limit} is needed"};
constexpr std::string_view reasons[] = {"it has no bends made on site"};

Verdict judge(const Context& c) {
  const Reading made = c.figure(bends);
  if (!made) return Context::undetermined(made.missing);
  if (made.amount.count == 0) return Context::not_applicable();
  return c.at_least(radius, needed);
}

}  // namespace

extern const Rule bend_radius;
constexpr Rule bend_radius{
    .id = "bend-radius",
    .title = "No bend made on site is tighter than its trade size allows",
    .why = "A bend that is too tight flattens the raceway and scrapes conductors that are pulled through it.",
    .subject = SubjectKind::raceway,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Bend it anew to a larger radius, or use a factory elbow or a conduit body.",
    .unseen =
        "Kinks and flattening; factory elbows, which are not made on site; the greater radius that some "
        "cables ask for.",
    .judge = judge,
};

}  // namespace raceward::methods
