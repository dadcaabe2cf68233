// Asks whether the insulation of conductors is made for the location where their raceway runs.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { conductors, unsuited };
constexpr std::string_view figures[] = {"conductors-in-raceway", "unsuited-conductors"};
constexpr std::string_view messages[] = {
    "{place} lies in {where}, and its insulation is not made for the location there"};
constexpr std::string_view reasons[] = {"no conductor lies in it"};

Verdict judge(const Context& c) {
  const Reading held = c.figure(conductors);
  if (held && held.amount.count == 0) return Context::not_applicable();
  const Reading bad = c.figure(unsuited);
  if (!bad) return Context::undetermined(bad.missing);
  return bad.amount.count == 0 ? Context::complies() : Context::violates(0, bad);
}

}  // namespace

extern const Rule insulation_location;
constexpr Rule insulation_location{
    .id = "insulation-location",
    .title =
        "The insulation of conductors is made for the dry, damp or wet location where their raceway runs",
    .why =
        "Raceways outdoors and below the ground fill with water; insulation that is not made for it softens "
        "and leaks "
        "current.",
    .subject = SubjectKind::raceway,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Pull conductors with a mark that is made for the location, such as THWN-2 or XHHW-2 where it is "
        "wet.",
    .unseen =
        "Sunlight, oil, gasoline and corrosive vapours; cables under one jacket; how wet the inside of a box "
        "is.",
    .judge = judge,
};

}  // namespace raceward::methods
