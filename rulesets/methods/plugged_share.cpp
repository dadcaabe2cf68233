// Asks whether what is plugged in leaves enough of a circuit that feeds other outlets too.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, load, limit };
constexpr std::string_view figures[] = {"plugged-beside-others", "plugged-load", "plugged-limit"};
constexpr std::string_view messages[] = {
    "{where} takes {measured} on its cord, and on a circuit with several receptacles or outlets {limit} is "
    "allowed"};
constexpr std::string_view reasons[] = {
    "its wiring is connected, or its receptacle is alone on its circuit, or the circuit is of a rating for "
    "which the ruleset has no such limit"};

Verdict judge(const Context& c) {
  const Reading beside = c.figure(asked);
  if (beside && beside.amount.count == 0) return Context::not_applicable();
  const Verdict verdict = c.at_most(load, limit);
  if (beside || verdict.outcome == Outcome::complies) return verdict;
  return Context::undetermined(c.both(beside.missing, verdict.missing));
}

}  // namespace

extern const Rule plugged_share;
constexpr Rule plugged_share{
    .id = "plugged-share",
    .title = "What is plugged in leaves enough of a circuit with several receptacles or outlets",
    .why =
        "One machine that takes the whole circuit opens its overcurrent device as soon as anything else runs "
        "beside it.",
    .subject = SubjectKind::equipment,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Give the machine a single receptacle on a circuit of its own.",
    .unseen = "What is plugged in and not written; what several machines take together.",
    .judge = judge,
};

}  // namespace raceward::methods
