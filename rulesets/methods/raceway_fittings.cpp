// Asks whether connectors and couplings are the right ones and made up tight.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { taken, made_for, made_up };
constexpr std::string_view figures[] = {"takes-fittings", "fittings-made-for", "fittings-made-up"};
constexpr std::string_view messages[] = {"{where} has a connector or coupling that is not made for its type",
                                         "{where} has a connector that is loose or not listed for it"};
constexpr std::string_view reasons[] = {"it is a wireway or surface raceway, whose parts are made with it"};

Verdict judge(const Context& c) {
  const Reading asked = c.figure(taken);
  if (asked && asked.amount.count == 0) return Context::not_applicable();
  const Verdict fits = c.holds(made_for, 0), tight = c.holds(made_up, 1);
  if (fits.outcome == Outcome::violates) return fits;
  // What is loose may be a wireway.
  if (!asked && tight.outcome == Outcome::violates) return Context::undetermined(asked.missing);
  if (tight.outcome != Outcome::complies && fits.outcome != Outcome::complies &&
      tight.outcome != Outcome::violates) {
    return Context::undetermined(c.both(fits.missing, tight.missing));
  }
  return tight.outcome != Outcome::complies ? tight : fits;
}

}  // namespace

extern const Rule raceway_fittings;
constexpr Rule raceway_fittings{
    .id = "raceway-fittings",
    .title = "Connectors and couplings are made for their raceway, listed for it and tight",
    .why =
        "A wrong or loose fitting lets the raceway slip out: wires chafe on its edge, and a fault current "
        "that "
        "takes the metal burns there.",
    .subject = SubjectKind::raceway,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Put in a fitting that is listed for the raceway, between two types a changeover fitting, and make "
        "it up "
        "tight.",
    .unseen =
        "Whether couplings within a course are tight; parts of wireways and surface raceways; whether a "
        "fitting "
        "is put on as its maker tells.",
    .judge = judge,
};

}  // namespace raceward::methods
