// Asks whether a raceway that grows with heat has expansion fittings.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, change, limit };
constexpr std::string_view figures[] = {"expansion-asked", "length-change", "length-change-limit"};
constexpr std::string_view messages[] = {
    "{where} changes its length by {measured} between coldest and warmest, and from {limit} on a straight "
    "run needs an expansion fitting"};
constexpr std::string_view reasons[] = {
    "the code asks for no expansion fitting of its type, or it lies in earth"};

Verdict judge(const Context& c) {
  const Reading needed = c.figure(asked);
  if (!needed) return Context::undetermined(needed.missing);
  if (needed.amount.count == 0) return Context::not_applicable();
  const Reading moves = c.figure(change), from = c.figure(limit);
  if (!moves || !from) return Context::undetermined(c.both(moves.missing, from.missing));
  // The limit itself is too much already.
  return moves.amount.count < from.amount.count ? Context::complies(moves, from)
                                                : Context::violates(0, moves, from);
}

}  // namespace

extern const Rule expansion_fitting;
constexpr Rule expansion_fitting{
    .id = "expansion-fitting",
    .title = "A straight run of plastic conduit has an expansion fitting where it grows too much with heat",
    .why = "Conduit that cannot move pulls out of its boxes in winter and bows off its straps in summer.",
    .subject = SubjectKind::raceway,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Put an expansion fitting into the straight run, set for the temperature of the day.",
    .unseen =
        "How much an expansion fitting takes up and how it is set; metal raceways; joints of the building; "
        "movement of the earth.",
    .judge = judge,
};

}  // namespace raceward::methods
