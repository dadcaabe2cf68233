// Ratings of receptacles on their circuits.
//
// Method: a single receptacle alone on a circuit is rated for all of it; on a circuit with several, as the
// table of the law says for the rating of the circuit. How many a lone device holds is asked where it
// decides.
#include <algorithm>

#include "figure/circuit_use.hpp"
#include "figure/facts.hpp"
#include "figure/logic.hpp"
#include "figure/machines.hpp"
#include "figure/supply.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

struct Fitting {
  const Device& device;
  Subject at;
  std::int64_t rating;   ///< of the receptacle
  std::int64_t circuit;  ///< rating of the circuit's overcurrent device
};

Value among_several(Evaluation& e, const Fitting& f) {
  const Table* const t = e.law.table("receptacle-rating");
  if (t == nullptr) return e.lacks_law("receptacle-rating");
  const std::uint32_t rating = t->column("circuit-rating", Dimension::current),
                      least = t->column("least", Dimension::current),
                      most = t->column("most", Dimension::current);
  for (std::uint32_t row = 0; row < t->row_count(); ++row) {
    if (t->count(row, rating) != f.circuit) continue;
    e.used(t->cite(row));
    if (t->count(row, most) == Table::blank) {
      e.note(FMT_COMPILE("a circuit of {} may feed no receptacle"), text_of({f.circuit, Unit::ampere}));
      return answer(false, t->cite(row));
    }
    const bool enough = t->count(row, least) == Table::blank || f.rating >= t->count(row, least);
    const bool fits = enough && f.rating <= t->count(row, most);
    if (e.noting()) {
      e.note(FMT_COMPILE("on a circuit of {} with several receptacles or outlets: {}{}"),
             text_of({f.circuit, Unit::ampere}),
             t->count(row, least) == Table::blank ? std::string("up to ")
             : t->count(row, least) == t->count(row, most)
                 ? std::string()
                 : text_of({t->count(row, least), Unit::ampere}) + " to ",
             text_of({t->count(row, most), Unit::ampere}));
    }
    return answer(fits, t->cite(row));
  }
  return e.lacks(Subject{}, "receptacle-rating", "a row for this rating", ruleset_author,
                 fmt::format(FMT_COMPILE("the ruleset in force has no row for a circuit of {}"),
                             text_of({f.circuit, Unit::ampere})));
}

/// A receptacle for arc welders alone is rated for what their conductors must carry.
Value for_welders(Evaluation& e, const Fitting& f, Index circuit) {
  const Parameter* const allowed = e.law.parameter("welder-receptacle");
  const auto plugged = plugged_into(e, f.at.index);
  if (allowed == nullptr) return answer(false);
  MissingId kinds = 0;
  for (const Index p : plugged) {
    const Group group = group_of(e, p);
    if (group == Group::unknown) kinds = e.missing.both(kinds, lacks_kind(e, p).missing);
    if (group != Group::unknown && !is_welder(group)) return answer(false);
  }
  if (kinds != 0) return Evaluation::lacks(kinds);
  if (plugged.empty()) {
    const MissingId perhaps = may_be_on(e, circuit, is_welder);
    return perhaps != 0 ? Evaluation::lacks(perhaps) : answer(false);
  }
  const Value carries = e.get(Id::welder_current_counted, {SubjectKind::circuit, circuit});
  if (!carries || carries.count > f.rating) return carries ? answer(false) : carries;
  e.used(allowed->cite);
  e.note(FMT_COMPILE("a receptacle for welders alone: at least what their conductors must carry"));
  return answer(true, allowed->cite);
}

Value alone(Evaluation& e, const Fitting& f, Index circuit) {
  const bool fits = f.rating >= f.circuit;
  if (e.noting()) {
    e.note(FMT_COMPILE("a single receptacle alone on its circuit: at least {}"),
           text_of({f.circuit, Unit::ampere}));
  }
  return fits ? answer(true) : for_welders(e, f, circuit);
}

Value on_circuit(Evaluation& e, Subject s, Index circuit) {
  const Device& device = e.model.devices[s.index];
  const Value rating = device_rating_of(e, circuit);
  const Value own = given(e, s, device.rating, Unit::ampere, "rating", "a current such as 20A", marking);
  if (!rating || !own) return Evaluation::lacks(e.missing.both(rating.missing, own.missing));
  const Fitting f{device, s, own.count, rating.count};
  const OnCircuit& on = circuit_use(e).on(circuit);
  const bool open = circuit_use(e).sharing_open(circuit);
  note_sharing(e, circuit);
  if (on.outlets > 1 || device.receptacles > 1) return among_several(e, f);
  if (device.receptacles == 1 && on.unplaced == none && !open) return alone(e, f, circuit);
  const Value single = alone(e, f, circuit), several = among_several(e, f);
  if (is_yes(single) && is_yes(several)) return several;
  if (is_no(single) && is_no(several)) return several;
  if (device.receptacles == 1)
    return on.unplaced != none ? lacks_circuit_of(e, on.unplaced) : lacks_sharing(e, circuit);
  return e.lacks(s, "receptacles", "how many it holds, 1 or 2", marking);
}

}  // namespace

Value receptacle_rating(Evaluation& e, Subject s) {
  return given(e, s, e.model.devices[s.index].rating, Unit::ampere, "rating", "a current such as 20A",
               marking);
}

Value is_receptacle(Evaluation& e, Subject s) {
  return answer(e.model.devices[s.index].kind == DeviceKind::receptacle);
}

Value receptacle_rating_fits(Evaluation& e, Subject s) {
  const Device& device = e.model.devices[s.index];
  if (const Value come = circuits_come(e, s.index); !come) return come;
  Value all = on_circuit(e, s, e.model.device_circuits[device.circuits.first]);
  for (Index i = device.circuits.first + 1; i < device.circuits.end(); ++i)
    all = both(e, all, on_circuit(e, s, e.model.device_circuits[i]));
  return all;
}

}  // namespace raceward::figure::compute
