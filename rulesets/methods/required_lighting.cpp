// Asks whether an area has the lighting outlet that the law wants there.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { there, needed, complete };
constexpr std::string_view figures[] = {"lighting-there", "lighting-needed", "outlets-complete"};
constexpr std::string_view messages[] = {"{where} has no lighting outlet, and needs one"};
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

extern const Rule required_lighting;
constexpr Rule required_lighting{
    .id = "required-lighting",
    .title = "Rooms, ways, garages and places with equipment have a lighting outlet",
    .why = "Whoever steps on, or works on, what cannot be seen gets hurt.",
    .subject = SubjectKind::area,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Add a luminaire, switched at the entrance.",
    .unseen =
        "Where its switches are; stairways; doors to the outside; garages and outbuildings without power; "
        "attics, "
        "basements and crawl spaces for storage, with no equipment in the document; guest rooms; light where "
        "panels are worked on elsewhere than in these.",
    .judge = judge,
};

}  // namespace raceward::methods
