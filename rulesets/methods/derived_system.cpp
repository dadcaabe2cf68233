// Asks whether the system that a transformer derives is grounded in one place, by conductors that are large
// enough.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { asked, bonds, jumper, side, electrode, to_electrode };
constexpr std::string_view figures[] = {"derived-system-asked",     "derived-bonds",
                                        "derived-jumper-shortfall", "derived-side-shortfall",
                                        "derived-electrode",        "derived-electrode-shortfall"};
enum : std::uint32_t { unbonded, several, small_jumper, small_side, no_electrode, small_electrode };
constexpr std::string_view messages[] = {
    "the grounded conductor of the secondary of {where} is connected to no enclosure",
    "the grounded conductor of the secondary of {where} is connected to enclosures in {measured} places",
    "the system bonding jumper of {where} is {detail} by its secondary, unless listed-bonding-jumper is "
    "attested of the place that it is in",
    "a bonding conductor with the secondary conductors of {where} is {detail} by them",
    "no grounding electrode is connected where the grounded conductor of the secondary of {where} is "
    "connected to an enclosure",
    "the conductor from the system of {where} to its electrode is {detail} by its secondary"};
constexpr std::string_view reasons[] = {"it is no transformer, or its secondary has no grounded conductor"};

Verdict judge(const Context& c) {
  const Reading is = c.figure(asked);
  if (!is) return Context::undetermined(is.missing);
  if (is.amount.count == 0) return Context::not_applicable();
  const Reading places = c.figure(bonds);
  const Amount one = is.amount;
  if (places && places.amount.count == 0) return Context::violates(unbonded, places);
  if (places && places.amount.count > one.count) return Context::violates(several, places);
  MissingId missing = places.missing;
  const Verdict there = c.holds(electrode, no_electrode);
  if (there.outcome == Outcome::violates) return there;
  missing = c.both(missing, there.missing);
  const auto falls_short = [&](std::uint32_t figure) {
    const Reading by = c.figure(figure);
    missing = c.both(missing, by.missing);
    return by && by.amount.count > 0;
  };
  if (falls_short(jumper)) return Context::violates(small_jumper, c.figure(jumper));
  if (falls_short(side)) return Context::violates(small_side, c.figure(side));
  if (falls_short(to_electrode)) return Context::violates(small_electrode, c.figure(to_electrode));
  return missing != 0 ? Context::undetermined(missing) : Context::complies();
}

}  // namespace

extern const Rule derived_system;
constexpr Rule derived_system{
    .id = "derived-system",
    .title = "The system that a transformer derives is grounded in one place, by conductors of their size",
    .why =
        "Without that connection a fault on the secondary finds no way back to its source, and no "
        "overcurrent "
        "device opens; with two of them, what should flow in the grounded conductor flows in raceways and "
        "equipment as well.",
    .subject = SubjectKind::equipment,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Connect the grounded conductor in the transformer or in the first panel, in one of the two only, "
        "and the electrode there, all with conductors of the size that is asked for.",
    .unseen =
        "Secondaries without a grounded conductor, and whether they should have one; which electrode is the "
        "right "
        "one; bonding of water pipes and structural metal; raceways as bonding jumpers; several derived "
        "systems on "
        "one electrode conductor; generators; systems grounded through an impedance.",
    .judge = judge,
};

}  // namespace raceward::methods
