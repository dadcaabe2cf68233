// Asks whether a raceway of plastic is out of the heat.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, ambient, limit, listed };
constexpr std::string_view figures[] = {"heat-asked", "raceway-ambient", "heat-limit", "heat-listed"};
constexpr std::string_view messages[] = {
    "{where} is where it is {measured} warm, and its type is for at most {limit}"};
constexpr std::string_view reasons[] = {"the code sets no such limit for this type"};

Verdict judge(const Context& c) {
  const Reading of_type = c.figure(asked);
  if (of_type && of_type.amount.count == 0) return Context::not_applicable();
  if (!of_type) return Context::undetermined(of_type.missing);
  const Reading warm = c.figure(ambient), most = c.figure(limit);
  if (warm && most && warm.amount.count <= most.amount.count) return Context::complies(warm, most);
  const Reading made_for_it = c.figure(listed);
  if (made_for_it && made_for_it.amount.count != 0) return Context::complies();
  if (!warm || !most) return Context::undetermined(c.both(warm.missing, most.missing));
  return made_for_it ? Context::violates(0, warm, most) : Context::undetermined(made_for_it.missing);
}

}  // namespace

extern const Rule raceway_heat;
constexpr Rule raceway_heat{
    .id = "raceway-heat",
    .title = "A raceway of plastic is not where it is too hot for it",
    .why =
        "Plastic softens in heat: a raceway beside a kiln or under a roof sags between its supports, and its "
        "joints come apart.",
    .subject = SubjectKind::raceway,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Use metal where it is so hot, lay the raceway elsewhere, or take one that is listed for the heat.",
    .unseen =
        "Heat near a single hot surface, which is warmer than its area is said to be; sunlight; liquidtight "
        "flexible conduit of plastic, whose marking sets its temperature; the heat of its own conductors.",
    .judge = judge,
};

}  // namespace raceward::methods
