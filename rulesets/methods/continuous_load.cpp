// Asks whether the overcurrent device of a circuit is large enough for its load.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { wiring, load, rating, otherwise };
constexpr std::string_view figures[] = {"circuit-is-wiring", "load-counted", "circuit-device-rating",
                                        "protected-otherwise"};
constexpr std::string_view messages[] = {
    "the load of {where} counts as {measured}, and its overcurrent device is rated {limit}"};
enum : std::uint32_t { no_circuit, own_rules };
constexpr std::string_view reasons[] = {
    "it is wiring outside any circuit",
    "it feeds equipment that has rules of its own for overcurrent devices, such as a motor or a welder"};

Verdict judge(const Context& c) {
  const Reading outside = c.figure(wiring);
  if (outside && outside.amount.count != 0) return Context::not_applicable(no_circuit);
  const Verdict verdict = c.at_most(load, rating);
  if (verdict.outcome != Outcome::violates) return verdict;
  const Reading other = c.figure(otherwise);
  if (!other) return Context::undetermined(other.missing);
  return other.amount.count != 0 ? Context::not_applicable(own_rules) : verdict;
}

}  // namespace

extern const Rule continuous_load;
constexpr Rule continuous_load{
    .id = "continuous-load",
    .title = "The overcurrent device is large enough for the load, with reserve for what is continuous",
    .why =
        "A breaker that carries its full rating for hours grows hot, ages, and trips when nothing is wrong.",
    .subject = SubjectKind::circuit,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Divide the load among circuits, or use a larger overcurrent device with conductors to suit.",
    .unseen =
        "Overcurrent devices listed for all of their rating; too small a device for a motor or a welder; "
        "whether loads were "
        "measured.",
    .judge = judge,
};

}  // namespace raceward::methods
