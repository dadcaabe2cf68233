// Asks whether each phase of a circuit begins at a pole of its overcurrent device.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { wiring, multiwire, poles, needed };
constexpr std::string_view figures[] = {"circuit-is-wiring", "multiwire", "poles-together", "poles-needed"};
constexpr std::string_view messages[] = {
    "{where} needs {limit} poles, one for each phase, and its overcurrent device has {measured}"};
enum : std::uint32_t { no_circuit, own_rule };
constexpr std::string_view reasons[] = {"it is wiring outside any circuit",
                                        "it is a multiwire circuit: multiwire-disconnect judges it"};

Verdict judge(const Context& c) {
  const Reading outside = c.figure(wiring);
  if (outside && outside.amount.count != 0) return Context::not_applicable(no_circuit);
  const Reading several = c.figure(multiwire);
  if (several && several.amount.count != 0) return Context::not_applicable(own_rule);
  const Reading least = c.figure(needed);
  constexpr std::int64_t one = number(1).count();  // not law: any overcurrent device has one
  if (least && least.amount.count <= one) return Context::complies();
  const Verdict verdict = c.at_least(c.figure(poles), least);
  return several || verdict.outcome != Outcome::violates ? verdict : Context::undetermined(several.missing);
}

}  // namespace

extern const Rule pole_for_each_phase;
constexpr Rule pole_for_each_phase{
    .id = "pole-for-each-phase",
    .title = "Each phase of a circuit begins at a pole of its overcurrent device",
    .why = "A phase without a pole has no protection, and stays live when the device is switched off.",
    .subject = SubjectKind::circuit,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Put in a breaker of as many poles as the circuit has phases.",
    .unseen = "On which bus each pole stands; conductors of one phase that share a pole.",
    .judge = judge,
};

}  // namespace raceward::methods
