// Asks whether the receptacles of a garage are on a circuit of their own.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { there, needed, complete };
constexpr std::string_view figures[] = {"garage-outlets-there", "garage-outlets-needed", "outlets-complete"};
constexpr std::string_view messages[] = {
    "{where} has {measured} receptacle outlets on circuits of their own, and needs {limit}"};
enum : std::uint32_t { none_wanted, a_part };
constexpr std::string_view reasons[] = {"none of its own is asked for",
                                        "not all of its outlets are in the document"};

Verdict judge(const Context& c) {
  const Reading least = c.figure(needed);
  if (least && least.amount.count == 0) return Context::not_applicable(none_wanted);
  const Verdict verdict = c.at_least(there, needed);
  if (verdict.outcome == Outcome::complies) return verdict;
  const Reading all = c.figure(complete);
  if (all && all.amount.count == 0) return Context::not_applicable(a_part);
  if (all) return verdict;
  return Context::undetermined(c.both(all.missing, verdict.missing));
}

}  // namespace

extern const Rule garage_circuit;
constexpr Rule garage_circuit{
    .id = "garage-circuit",
    .title = "The receptacles of a garage's vehicle bays are on a branch circuit of their own",
    .why = "Tools and chargers in a garage open the overcurrent device, and the light goes out with it.",
    .subject = SubjectKind::area,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Put them on a branch circuit of the rating that the law asks for, without other outlets than "
        "outdoor receptacles.",
    .unseen =
        "Whether outdoor receptacles on it can be reached easily; receptacles of a garage beyond one for "
        "each bay; "
        "circuits that share a pole with it.",
    .judge = judge,
};

}  // namespace raceward::methods
