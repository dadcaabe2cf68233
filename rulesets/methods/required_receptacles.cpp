// Asks whether an area has the receptacle outlets that the law wants there.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { there, needed, complete };
constexpr std::string_view figures[] = {"receptacles-there", "receptacles-needed", "outlets-complete"};
constexpr std::string_view messages[] = {
    "{where} has {measured} receptacle outlets that count, and needs {limit}"};
enum : std::uint32_t { none_wanted, a_part };
constexpr std::string_view reasons[] = {"none is asked for there",
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

extern const Rule required_receptacles;
constexpr Rule required_receptacles{
    .id = "required-receptacles",
    .title = "Garages, outbuildings and unfinished basements have the receptacles that they must have",
    .why = "Where a receptacle is missing, extension cords lie under vehicles and through doors.",
    .subject = SubjectKind::area,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Add receptacles where they are missing.",
    .unseen =
        "In which bay each of them is; the circuit that they are on; receptacles that a wall switch switches "
        "or "
        "that belong to a luminaire; whether the dwelling is of one or two families; outdoor, kitchen and "
        "other rooms of a dwelling.",
    .judge = judge,
};

}  // namespace raceward::methods
