// Asks whether conductors can be pulled without more force than they bear.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { pulls, bends, share, limit };
constexpr std::string_view figures[] = {"pulls-conductors", "bend-total", "pulling-share",
                                        "pulling-share-limit"};
constexpr std::string_view messages[] = {
    "pulling the conductors through {where} takes {measured} of what they bear, from the easier end, and "
    "{limit} is advised at most"};
enum : std::uint32_t { nothing, no_bends };
constexpr std::string_view reasons[] = {"no conductors are pulled through it",
                                        "nothing bends between these pull points"};

Verdict judge(const Context& c) {
  const Reading pulled = c.figure(pulls), turns = c.figure(bends);
  if (pulled && pulled.amount.count == 0) return Context::not_applicable(nothing);
  if (turns && turns.amount.count == 0) return Context::not_applicable(no_bends);
  if (!pulled) return Context::undetermined(pulled.missing);
  return c.at_most(share, limit);
}

}  // namespace

extern const Rule pulling_tension;
constexpr Rule pulling_tension{
    .id = "pulling-tension",
    .title = "Conductors can be pulled in without more force than they bear",
    .why =
        "Each bend multiplies the pull. What is pulled too hard stretches, and its insulation is cut where "
        "it "
        "is pressed into a bend: that shows years later.",
    .subject = SubjectKind::pull_section,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Put an accessible box or conduit body between the bends, or use lubricant and reckon with its "
        "friction.",
    .unseen =
        "What is pulled in by hand in stages; lubricant; what lies in the raceway already; how conductors "
        "lie "
        "to each other; what they are pulled by: a woven grip bears less than an eye on the conductors; "
        "straight pulls.",
    .judge = judge,
};

}  // namespace raceward::methods
