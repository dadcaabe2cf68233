// Asks whether conductors are spliced where raceways are merely joined.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { splices };
constexpr std::string_view figures[] = {"joint-splices"};
constexpr std::string_view messages[] = {
    "conductors are spliced or terminated in {where}, where nobody can reach them"};

Verdict judge(const Context& c) {
  const Reading count = c.figure(splices);
  if (!count) return Context::undetermined(count.missing);
  return count.amount.count == 0 ? Context::complies() : Context::violates(0, count);
}

}  // namespace

extern const Rule splice_enclosure;
constexpr Rule splice_enclosure{
    .id = "splice-enclosure",
    .title = "Conductors are spliced in boxes, conduit bodies and enclosures, and in no coupling",
    .why = "A splice in a raceway cannot be seen or remade, and where it heats nothing holds the fire.",
    .subject = SubjectKind::joint,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = {},
    .cure = "Put a box there and splice in it, or pull the conductors through unbroken.",
    .unseen = "Splices that the document puts nowhere; fittings and devices that are listed to hold splices.",
    .judge = judge,
};

}  // namespace raceward::methods
