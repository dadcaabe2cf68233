// What equipment on a cord may take of a circuit with several receptacles or outlets.
//
// Method: a share of the circuit's rating, and no more than its receptacle may carry beside others.
#include <algorithm>

#include "figure/circuit_use.hpp"
#include "figure/facts.hpp"
#include "figure/logic.hpp"
#include "figure/machines.hpp"
#include "figure/shown.hpp"
#include "figure/supply.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

/// The row of a table whose current is that.
std::uint32_t row_for(const Table& table, std::string_view column, std::int64_t current) {
  const std::uint32_t of = table.column(column, Dimension::current);
  for (std::uint32_t row = 0; row < table.row_count(); ++row)
    if (table.count(row, of) == current) return row;
  return Table::none;
}

/// Whether others are on the circuit of the receptacle, or may be plugged in beside.
Value beside(Evaluation& e, Index circuit, Index receptacle) {
  const CircuitUse& use = circuit_use(e);
  const OnCircuit& on = use.on(circuit);
  const std::uint32_t holds = e.model.devices[receptacle].receptacles;
  if (on.outlets > 1 || holds > 1) {  // not law: one
    note_sharing(e, circuit);
    e.note(FMT_COMPILE("circuit {} has several receptacles or outlets"), e.model.circuits[circuit].id);
    return answer(true);
  }
  MissingId missing = holds == 0 ? lacks_receptacle_count(e, receptacle).missing : 0;
  if (on.unplaced != none) missing = e.missing.both(missing, lacks_circuit_of(e, on.unplaced).missing);
  if (use.sharing_open(circuit)) missing = e.missing.both(missing, lacks_sharing(e, circuit).missing);
  return missing != 0 ? Evaluation::lacks(missing) : answer(false);
}

}  // namespace

Value plugged_beside_others(Evaluation& e, Subject s) {
  const Index receptacle = receptacle_of(e.model, s.index);
  if (is_loose(e, s.index)) return lacks_receptacle_of(e, s.index);
  if (receptacle == none) return answer(false);
  if (const Value come = circuits_come(e, receptacle); !come) return come;
  if (circuit_use(e).several_feed(s.index)) return lacks_one_circuit(e, s.index);
  const Index circuit = circuit_use(e).feeding(s.index);
  if (circuit == none) return answer(false);
  if (const MissingId wrong = outlets_of_feeder(e, circuit); wrong != 0) return Evaluation::lacks(wrong);
  const Value others = beside(e, circuit, receptacle);
  if (is_no(others)) {
    // With another circuit at the same overcurrent device it would be beside the outlets of that.
    const bool alone = e.model.circuits[circuit].overcurrent_device != none || e.model.circuits.size() == 1;
    return alone ? others : device_rating_of(e, circuit);
  }
  const Table* const t = e.law.table("plugged-share");
  if (t == nullptr) return e.lacks_law("plugged-share");
  const Value rating = device_rating_of(e, circuit);
  if (rating && row_for(*t, "rating", rating.count) == Table::none) return answer(false);
  return both(e, others, rating ? answer(true) : rating);
}

Value plugged_load(Evaluation& e, Subject s) {
  const Value load = load_stated(e, s.index);
  if (load && e.noting())
    e.note(FMT_COMPILE("equipment {}: {}"), e.model.places[s.index].id, amperes_shown(load.count));
  return load;
}

Value plugged_limit(Evaluation& e, Subject s) {
  const Index circuit = circuit_use(e).feeding(s.index), receptacle = receptacle_of(e.model, s.index);
  if (receptacle == none)
    return is_loose(e, s.index) ? lacks_receptacle_of(e, s.index) : Evaluation::value(0);
  if (circuit == none) return lacks_one_circuit(e, s.index);
  const Table *const shares = e.law.table("plugged-share"), *const most = e.law.table("plugged-receptacle");
  if (shares == nullptr || most == nullptr) return e.lacks_law("plugged-share and plugged-receptacle");
  const Value rating = device_rating_of(e, circuit);
  const Value own = given(e, {SubjectKind::device, receptacle}, e.model.devices[receptacle].rating,
                          Unit::ampere, "rating", "a current such as 20A", marking);
  if (!rating || !own) return Evaluation::lacks(e.missing.both(rating.missing, own.missing));
  const std::uint32_t row = row_for(*shares, "rating", rating.count);
  if (row == Table::none) return e.lacks_law("plugged-share");
  const std::int64_t share = shares->count(row, shares->column("share", Dimension::none));
  Value limit = Evaluation::value(share_of(share, rating.count), shares->cite(row));
  if (e.noting())
    e.note(FMT_COMPILE("{} of {}: {} ({})"), shown_percent(Number::steps(share)), amperes_shown(rating.count),
           amperes_shown(limit.count), e.cited(limit.cite));
  e.used(limit.cite);
  const std::uint32_t by_receptacle = row_for(*most, "receptacle-rating", own.count);
  if (by_receptacle == Table::none) return limit;
  const std::int64_t carries = most->count(by_receptacle, most->column("most", Dimension::current));
  if (carries > limit.count) return limit;
  limit = Evaluation::value(carries, most->cite(by_receptacle));
  e.used(limit.cite);
  if (e.noting())
    e.note(FMT_COMPILE("a receptacle of {} carries {} beside others ({})"), amperes_shown(own.count),
           amperes_shown(carries), e.cited(limit.cite));
  return limit;
}

}  // namespace raceward::figure::compute
