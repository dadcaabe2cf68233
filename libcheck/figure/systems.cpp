// Conductors of power and of low-voltage or communications systems in one raceway or box.
//
// Method: circuits are power. Wiring outside circuits says its system; where it does not, its conductors
// tell: those of control may be of either.
#include "figure/facts.hpp"
#include "figure/first_by_id.hpp"
#include "figure/raceway_kinds.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

constexpr std::string_view a_system = "power, class-2 or communications";

struct Held {
  bool power = false;
  Index low = none;      // wiring of another system
  Index unclear = none;  // wiring that may be of another one
};

bool is_control(const Model& model, const Run& run) {
  for (Index i = run.conductors.first; i < run.conductors.end(); ++i) {
    const Role role = model.conductors[model.run_conductors[i]].role;
    if (role == Role::control || role == Role::unstated) return true;
  }
  return false;
}

void add(const Model& model, const Run& run, Held& held) {
  const Circuit& circuit = model.circuits[run.circuit];
  if (circuit.kind != CircuitKind::other) {
    held.power = true;
  } else if (circuit.system == System::class_2 || circuit.system == System::communications) {
    hold_first(model.circuits, held.low, run.circuit);
  } else if (circuit.system == System::unstated && is_control(model, run)) {
    hold_first(model.circuits, held.unclear, run.circuit);
  }
}

Value mixed(Evaluation& e, const Held& held) {
  if (!held.power || (held.low == none && held.unclear == none)) return answer(false);
  if (held.low != none) {
    const Circuit& low = e.model.circuits[held.low];
    e.note(FMT_COMPILE("wiring {} is of another system: {}"), low.id, name_of(low.system));
    Value value = answer(true);
    value.place = {SubjectKind::circuit, held.low};
    return value;
  }
  return e.lacks({SubjectKind::circuit, held.unclear}, "system", a_system, designer,
                 "it lies with power conductors", e.model.circuits[held.unclear].source);
}

}  // namespace

Value systems_mixed(Evaluation& e, Subject s) {
  Held held;
  for (const Index run : e.in.routes.runs_in(s.index)) add(e.model, e.model.runs[run], held);
  return mixed(e, held);
}

Value raceway_divided(Evaluation& e, Subject s) {
  const Raceway& r = e.model.raceways[s.index];
  if (is_tubular(r.type)) {
    if (r.divided == YesNo::yes)
      return e.lacks(s, "divided", "no; or the type of a raceway that is made with a barrier", installer,
                     fmt::format(FMT_COMPILE("{} is round, and no barrier is made for it"), name_of(r.type)));
    e.note(FMT_COMPILE("no barrier is made for {}"), name_of(r.type));
    return answer(false);
  }
  return stated(e, s, e.model.raceways[s.index].divided, "divided", installer);
}

Value systems_mixed_in_box(Evaluation& e, Subject s) {
  Held held;
  for (const Visit& visit : e.in.routes.visits_at(s.index)) add(e.model, e.model.runs[visit.run], held);
  return mixed(e, held);
}

Value box_divided(Evaluation& e, Subject s) {
  return stated(e, s, e.model.places[s.index].divided, "divided", installer);
}

}  // namespace raceward::figure::compute
