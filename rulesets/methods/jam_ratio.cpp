// Asks whether three conductors alike may jam in a raceway.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, ratio, least, most };
constexpr std::string_view figures[] = {"jam-asked", "jam-ratio", "jam-ratio-least", "jam-ratio-most"};
constexpr std::string_view messages[] = {
    "{where} is {measured} times as wide inside as each of its three conductors; from about {limit} on they "
    "may jam"};
constexpr std::string_view reasons[] = {"there are not three conductors alike in it"};

Verdict judge(const Context& c) {
  const Reading needed = c.figure(asked);
  if (!needed) return Context::undetermined(needed.missing);
  if (needed.amount.count == 0) return Context::not_applicable();
  const Reading measured = c.figure(ratio), from = c.figure(least), to = c.figure(most);
  if (!measured || !from || !to)
    return Context::undetermined(c.both(measured.missing, c.both(from.missing, to.missing)));
  const bool jams = measured.amount.count >= from.amount.count && measured.amount.count <= to.amount.count;
  return jams ? Context::violates(0, measured, from) : Context::complies(measured, from);
}

}  // namespace

extern const Rule jam_ratio;
constexpr Rule jam_ratio{
    .id = "jam-ratio",
    .title = "Three conductors alike do not jam when they are pulled",
    .why =
        "In a bend three conductors of this size wedge side by side between the walls, and their insulation "
        "tears.",
    .subject = SubjectKind::raceway,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Use the next trade size, or pull slowly with lubricant.",
    .unseen = "More than three conductors; bends that are out of round; how hard the pull is.",
    .judge = judge,
};

}  // namespace raceward::methods
