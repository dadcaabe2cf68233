// Asks whether branch circuits with several outlets have one of the ratings for them.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { outlets, fits, rating };
constexpr std::string_view figures[] = {"circuit-outlets", "branch-rating-fits", "circuit-device-rating"};
constexpr std::string_view messages[] = {
    "{where} feeds several outlets and is rated {measured}, which is no rating for that"};
constexpr std::string_view reasons[] = {"it is no branch circuit, or feeds no more than one outlet"};

Verdict judge(const Context& c) {
  const Reading held = c.figure(outlets);
  constexpr std::int64_t one = number(1).count();  // not law: several are more than one
  if (held && held.amount.count <= one) return Context::not_applicable();
  const Reading suits = c.figure(fits);
  if (suits && suits.amount.count != 0) return Context::complies();
  if (!held || !suits) return Context::undetermined(c.both(held.missing, suits.missing));
  return Context::violates(0, c.figure(rating));
}

}  // namespace

extern const Rule branch_circuit_rating;
constexpr Rule branch_circuit_rating{
    .id = "branch-circuit-rating",
    .title = "A branch circuit with several outlets has one of the ratings for that",
    .why = "Outlets, cords and lampholders are made to be safe behind those ratings and no others.",
    .subject = SubjectKind::circuit,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Put in an overcurrent device of one of those ratings, or feed one outlet only.",
    .unseen = "Several outlets on larger circuits of industrial premises; outlets in wireways and on tracks.",
    .judge = judge,
};

}  // namespace raceward::methods
