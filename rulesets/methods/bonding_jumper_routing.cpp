// Asks whether bonding jumpers outside of raceways are short and go along what they bond.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, goes_along, length, limit };
constexpr std::string_view figures[] = {"jumper-outside-asked", "jumper-along", "jumper-length",
                                        "jumper-length-limit"};
enum : std::uint32_t { too_long, by_itself };
constexpr std::string_view messages[] = {
    "{where} lies outside of the raceway and is {measured} long, and at most {limit} is allowed",
    "{where} lies outside of the raceway and does not go along it"};
constexpr std::string_view reasons[] = {
    "it lies inside, belongs to no raceway, or goes to a grounding electrode"};

Verdict judge(const Context& c) {
  const Reading outside = c.figure(asked);
  if (outside && outside.amount.count == 0) return Context::not_applicable();
  const Verdict along = c.holds(goes_along, by_itself), no_longer = c.at_most(length, limit, too_long);
  // Short and along whatever it bonds: that is enough, though it is not said what it bonds.
  const bool enough = along.outcome == Outcome::complies && no_longer.outcome != Outcome::violates;
  if (!outside && !enough) return Context::undetermined(outside.missing);
  return along.outcome != Outcome::complies ? along : no_longer;
}

}  // namespace

extern const Rule bonding_jumper_routing;
constexpr Rule bonding_jumper_routing{
    .id = "bonding-jumper-routing",
    .title = "A bonding jumper outside of a raceway is short and goes along what it bonds",
    .why =
        "The longer a jumper is, and the farther from the conductors whose fault current it brings back, the "
        "less of it flows.",
    .subject = SubjectKind::bonding_jumper,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Shorten it and fasten it along the raceway, or pull a conductor in the raceway instead.",
    .unseen = "Jumpers at poles outdoors, which may be longer; what protects a jumper against damage.",
    .judge = judge,
};

}  // namespace raceward::methods
