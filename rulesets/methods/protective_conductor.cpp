// Asks whether a protective conductor is large enough, by table or by the fault current.
#include <raceward/rule.hpp>

namespace raceward::methods {

namespace {

enum : std::uint32_t { wires, size, by_table, by_fault };
constexpr std::string_view figures[] = {"grounding-conductors", "protective-conductor",
                                        "protective-conductor-by-table", "protective-conductor-by-fault"};
constexpr std::string_view messages[] = {
    "{place} has {measured}, less than the line conductors ask for, and the fault current asks for {limit}"};
constexpr std::string_view reasons[] = {
    "it has no protective conductor of wire, or is wiring outside any circuit"};

Verdict judge(const Context& c) {
  const Reading held = c.figure(wires);
  if (held && held.amount.count == 0) return Context::not_applicable();
  const Reading has = c.figure(size);
  if (!held || !has) return Context::undetermined(c.both(held.missing, has.missing));
  // Either way of finding the size will do.
  const Reading table = c.figure(by_table);
  if (table && has.amount.count >= table.amount.count) return Context::complies(has, table);
  const Reading fault = c.figure(by_fault);
  if (fault && has.amount.count >= fault.amount.count) return Context::complies(has, fault);
  if (table && fault) return Context::violates(0, has, fault);
  return Context::undetermined(c.both(table.missing, fault.missing));
}

}  // namespace

extern const Rule protective_conductor;
constexpr Rule protective_conductor{
    .id = "protective-conductor",
    .title =
        "A protective conductor of wire is large enough for the line conductors or for the fault current",
    .why =
        "One that is too small may burn through before the overcurrent device opens, and leave metal live.",
    .subject = SubjectKind::circuit,
    .figures = figures,
    .parameters = {},
    .messages = messages,
    .reasons = reasons,
    .cure = "Draw in a larger protective conductor, or find the fault current and show that it suffices.",
    .unseen =
        "Metal conduit and trunking that are the protective conductor; protective conductors that are "
        "neither "
        "in a cable nor in conduit or trunking, which have least sizes of their own; bonding to pipes and "
        "structures; fault currents that flow longer than a fast disconnection.",
    .judge = judge,
};

}  // namespace raceward::methods
