// Asks whether the overcurrent device of a circuit protects its conductors.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { wiring, rating, allowed, best, marking, otherwise, a_tap };
constexpr std::string_view figures[] = {"circuit-is-wiring",
                                        "circuit-device-rating",
                                        "largest-overcurrent-device",
                                        "largest-overcurrent-device-at-best",
                                        "terminal-temperature",
                                        "protected-otherwise",
                                        "wholly-a-tap"};
constexpr std::string_view messages[] = {
    "the overcurrent device of {where} is of {measured}, and its conductors allow {limit}"};
enum : std::uint32_t { no_circuit, own_rules, tapped };
constexpr std::string_view reasons[] = {
    "it is wiring outside any circuit",
    "it feeds equipment that has rules of its own for overcurrent devices, such as a motor or a welder",
    "it is a tap of larger conductors, and as taps may be"};

Verdict judge(const Context& c) {
  const Reading outside = c.figure(wiring);
  if (outside && outside.amount.count != 0) return Context::not_applicable(no_circuit);
  const Reading other = c.figure(otherwise);
  if (other && other.amount.count != 0) return Context::not_applicable(own_rules);
  const Verdict verdict = c.at_most(rating, allowed);
  if (verdict.outcome != Outcome::violates) return verdict;
  if (!other) return Context::undetermined(other.missing);
  const Reading tap = c.figure(a_tap);
  if (!tap) return Context::undetermined(tap.missing);
  if (tap.amount.count != 0) return Context::not_applicable(tapped);
  // A marking of the terminals that is not stated could allow more.
  const Reading marked = c.figure(marking);
  if (marked) return verdict;
  const Verdict at_best = c.at_most(rating, best);
  return at_best.outcome == Outcome::violates
             ? verdict
             : Context::undetermined(c.both(marked.missing, at_best.missing));
}

}  // namespace

extern const Rule conductor_protection;
constexpr Rule conductor_protection{
    .id = "conductor-protection",
    .title = "The overcurrent device of a circuit opens before its conductors are overloaded",
    .why =
        "A device that is too large lets a conductor run hot for hours without opening; nobody sees it until "
        "the "
        "insulation fails.",
    .subject = SubjectKind::circuit,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Put in a smaller overcurrent device, if the load allows it, or pull larger conductors along the "
        "whole "
        "circuit.",
    .unseen =
        "Taps of feeders that are long, lie outdoors, feed transformers or end elsewhere than in one "
        "overcurrent "
        "device, which are asked about; motors, welders and other equipment with rules of their own.",
    .judge = judge,
};

}  // namespace raceward::methods
