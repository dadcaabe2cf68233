// Asks whether equipment fastened in place leaves enough of a circuit that feeds other outlets too.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, load, limit };
constexpr std::string_view figures[] = {"fixed-beside-others", "fixed-equipment-load",
                                        "fixed-equipment-limit"};
constexpr std::string_view messages[] = {
    "equipment fastened in place takes {measured} of {where}, and beside its luminaires or receptacles "
    "{limit} "
    "is allowed"};
constexpr std::string_view reasons[] = {
    "it is no branch circuit of such a rating with equipment fastened in place and luminaires or "
    "receptacles"};

Verdict judge(const Context& c) {
  const Reading beside = c.figure(asked);
  if (beside && beside.amount.count == 0) return Context::not_applicable();
  const Verdict verdict = c.at_most(load, limit);
  if (beside || verdict.outcome == Outcome::complies) return verdict;
  return Context::undetermined(c.both(beside.missing, verdict.missing));
}

}  // namespace

extern const Rule fixed_equipment_share;
constexpr Rule fixed_equipment_share{
    .id = "fixed-equipment-share",
    .title = "Equipment fastened in place leaves enough of a circuit for its luminaires and receptacles",
    .why =
        "What is fastened in place runs whatever is plugged in or switched on beside it; together they would "
        "open the overcurrent device again and again.",
    .subject = SubjectKind::circuit,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Give the equipment a circuit of its own, or move the luminaires and receptacles to another.",
    .unseen =
        "That some of what is plugged in may be fastened in place too. All equipment whose wiring is "
        "connected "
        "is taken as fastened in place.",
    .judge = judge,
};

}  // namespace raceward::methods
