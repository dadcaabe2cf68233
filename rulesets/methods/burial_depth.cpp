// Asks whether a raceway in earth lies deep enough.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, depth, needed };
constexpr std::string_view figures[] = {"burial-asked", "burial-depth", "burial-depth-needed"};
constexpr std::string_view messages[] = {"{where} has {measured} of earth above it, and needs {limit}"};
constexpr std::string_view reasons[] = {"it does not lie in earth, or its type has no depth set"};

Verdict judge(const Context& c) {
  const Reading gate = c.figure(asked);
  if (!gate) return Context::undetermined(gate.missing);
  if (gate.amount.count == 0) return Context::not_applicable();
  return c.at_least(depth, needed);
}

}  // namespace

extern const Rule burial_depth;
constexpr Rule burial_depth{
    .id = "burial-depth",
    .title = "A raceway in earth lies deep enough for its type and for what is above it",
    .why = "A spade or a wheel reaches what lies too near the surface.",
    .subject = SubjectKind::raceway,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Dig deeper, lay rigid metal conduit, or put concrete above it where that is allowed.",
    .unseen =
        "Rock, airport runways, low-voltage circuits; what fills the trench; where it comes out of the "
        "earth; movement of the earth.",
    .judge = judge,
};

}  // namespace raceward::methods
