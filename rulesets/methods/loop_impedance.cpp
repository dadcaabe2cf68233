// Asks whether the earth-fault loop lets the overcurrent device open soon enough.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { wires, measured, limit, residual };
constexpr std::string_view figures[] = {"ungrounded-or-switched", "loop-impedance", "loop-impedance-limit",
                                        "residual-protection"};
constexpr std::string_view messages[] = {
    "{where} has an earth-fault-loop impedance of {measured}, and its overcurrent device needs {limit} or "
    "less"};
enum : std::uint32_t { no_circuit, residual_device };
constexpr std::string_view reasons[] = {
    "it is wiring outside any circuit, or has no line conductor",
    "its overcurrent device opens on residual current too, and is not to rely on the impedance of the loop"};

Verdict judge(const Context& c) {
  const Reading lines = c.figure(wires);
  if (lines && lines.amount.count == 0) return Context::not_applicable(no_circuit);
  const Reading loop = c.figure(measured), most = c.figure(limit);
  if (loop && most && loop.amount.count <= most.amount.count) return Context::complies(loop, most);
  const Reading also = c.figure(residual);
  if (also && also.amount.count != 0) return Context::not_applicable(residual_device);
  if (!loop || !most) return Context::undetermined(c.both(loop.missing, most.missing));
  return also ? Context::violates(0, loop, most) : Context::undetermined(also.missing);
}

}  // namespace

extern const Rule loop_impedance;
constexpr Rule loop_impedance{
    .id = "loop-impedance",
    .title = "The earth-fault-loop impedance lets the overcurrent device open soon enough",
    .why =
        "Through a loop of too much impedance too little current flows, and metal stays live until somebody "
        "touches it.",
    .subject = SubjectKind::circuit,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure =
        "Use larger or shorter conductors, an overcurrent device that opens at less, or one that opens on "
        "residual current too.",
    .unseen =
        "Circuits that may open more slowly; limits of devices that open on residual current; "
        "residual-current "
        "devices at outlets; whether the impedance was measured rightly.",
    .judge = judge,
};

}  // namespace raceward::methods
