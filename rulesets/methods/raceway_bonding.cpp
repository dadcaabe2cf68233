// Asks whether metal raceways are joined to the metal of the installation.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { used, continuous, joined };
constexpr std::string_view figures[] = {"metal-raceway-used", "metal-raceway-continuous",
                                        "metal-raceway-joined"};
constexpr std::string_view messages[] = {
    "{where} is of metal, and a fitting or joint interrupts it without a bond across",
    "{where} is of metal, and nothing joins it to the grounding path"};
constexpr std::string_view reasons[] = {"it is of no metal, or no power lies in it"};

Verdict judge(const Context& c) {
  const Reading metal = c.figure(used);
  if (metal && metal.amount.count == 0) return Context::not_applicable();
  const Verdict unbroken = c.holds(continuous, 0), fastened = c.holds(joined, 1);
  // Whatever lies in it, a raceway that goes on and is joined is as it should be.
  const bool sound = unbroken.outcome == Outcome::complies && fastened.outcome == Outcome::complies;
  if (!metal && !sound) return Context::undetermined(metal.missing);
  if (unbroken.outcome == Outcome::violates) return unbroken;
  if (fastened.outcome == Outcome::undetermined && unbroken.outcome == Outcome::undetermined)
    return Context::undetermined(c.both(unbroken.missing, fastened.missing));
  return fastened.outcome != Outcome::complies ? fastened : unbroken;
}

}  // namespace

extern const Rule raceway_bonding;
constexpr Rule raceway_bonding{
    .id = "raceway-bonding",
    .title =
        "A metal raceway goes on without a break and is joined to the grounding path, at its ends or by a "
        "bond",
    .why =
        "Where a wire chafes inside, isolated metal becomes live and stays so, for no current flows that "
        "would open the overcurrent device.",
    .subject = SubjectKind::raceway,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Put in metal fittings that are made for it, and expansion fittings with a bonding jumper; take a "
        "metal box, or bond the raceway in the box to its equipment grounding conductor with a bushing or "
        "the like.",
    .unseen =
        "Whether the metal enclosure that it enters has the path, which grounding-path judges; whether "
        "couplings within a course are tight; short pieces of metal that protect cables; raceways of class 2 "
        "or communications wiring alone.",
    .judge = judge,
};

}  // namespace raceward::methods
