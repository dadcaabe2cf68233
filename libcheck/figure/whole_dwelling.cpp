// Feeders that carry all of one dwelling unit.
//
// Method: single-phase, of voltages that a table of the law holds, of a rating in its range. Whether one
// carries all of a dwelling unit the document says, of the circuit or by the floor area of the panel that it
// feeds; nothing else is taken for it. It is asked only where the conductors carry the share of the rating
// that the law lets such a feeder have, and less than the rating. Factors count before the share.
#include "figure/whole_dwelling.hpp"

#include <algorithm>

#include "figure/circuit_use.hpp"
#include "figure/first_by_id.hpp"
#include "figure/logic.hpp"
#include "figure/shown.hpp"
#include "figure/supply.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

/// What the law says of such feeders; null where it says nothing.
struct DwellingFeederLaw {
  const Parameter *share = nullptr, *least = nullptr, *most = nullptr;
  const Table* systems = nullptr;

  void read(const Law& law) {
    share = law.parameter("dwelling-feeder-share", Dimension::none);
    least = law.parameter("dwelling-feeder-least", Dimension::current);
    most = law.parameter("dwelling-feeder-most", Dimension::current);
    systems = law.table("dwelling-feeder");
  }
  [[nodiscard]] bool complete() const {
    return share != nullptr && least != nullptr && most != nullptr && systems != nullptr &&
           share->value.count > 0;
  }
  [[nodiscard]] bool in_range(std::int64_t rating) const {
    return rating >= least->value.count && rating <= most->value.count;
  }
  [[nodiscard]] bool suffices(std::int64_t ampacity, std::int64_t rating) const {
    return wide_int{ampacity} * number(1).count() >= wide_int{rating} * share->value.count;
  }
};

/// Panels that say the floor area of the dwelling that they supply all of, by the circuit that feeds them.
struct Fed {
  bool ready = false;
  std::vector<Index> panel;
};

Index panel_of_dwelling(Evaluation& e, Index circuit) {
  auto& fed = e.once<Fed>();
  if (!fed.ready) {
    fed.ready = true;
    fed.panel.assign(e.model.circuits.size(), none);
    for (Index p = 0; p < e.model.places.size(); ++p) {
      const Place& panel = e.model.places[p];
      const bool whole = panel.fed_by != none && panel.floor_square_feet != 0;
      if (whole) hold_first(e.model.places, fed.panel[panel.fed_by], p);
    }
  }
  return e.model.occupancy == Occupancy::dwelling ? fed.panel[circuit] : none;
}

/// The row of the law for its voltages: none where it has none such. Missing where a voltage is.
Value system_row(Evaluation& e, const Table& t, Index index) {
  const Circuit& circuit = e.model.circuits[index];
  const Subject s{SubjectKind::circuit, index};
  std::uint32_t columns[4];
  static constexpr std::string_view names[4] = {"from", "to", "to-ground-from", "to-ground-to"};
  for (std::size_t i = 0; i < std::size(names); ++i) columns[i] = t.column(names[i], Dimension::voltage);
  const auto between = [&](std::uint32_t row, const Maybe<Voltage>& v, std::size_t from) {
    return !v.known() ||
           ((*v).count() >= t.count(row, columns[from]) && (*v).count() <= t.count(row, columns[from + 1]));
  };
  for (std::uint32_t row = 0; row < t.row_count(); ++row) {
    if (!between(row, circuit.voltage, 0) || !between(row, circuit.to_ground, 2)) continue;
    MissingId missing = voltage_contradicted(e, index);
    if (!circuit.voltage.known())
      missing = e.missing.both(missing, e.lacks(s, "voltage", "a voltage such as 240V", designer).missing);
    if (!circuit.to_ground.known()) {
      missing = e.missing.both(missing,
                               e.lacks(s, "voltage-to-ground", "a voltage such as 120V", designer).missing);
    }
    if (missing != 0) return Evaluation::lacks(missing);
    return answer(true, t.cite(row));
  }
  return answer(false);
}

/// Whether it carries all of one dwelling unit, as the document says.
Value says_whole(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  const Index panel = panel_of_dwelling(e, s.index);
  constexpr std::string_view yes_or_no = "yes or no";
  if (circuit.whole_dwelling == YesNo::no && panel != none) {
    return e.lacks(
        s, "whole-dwelling", yes_or_no, designer,
        fmt::format(FMT_COMPILE("it is said not to be, and panel {}, which it feeds, to supply all "
                                "of a dwelling with its floor area"),
                    e.model.places[panel].id),
        circuit.source);
  }
  if (circuit.whole_dwelling == YesNo::no) return answer(false);
  if (circuit.whole_dwelling == YesNo::unstated && panel == none) {
    return e.lacks(s, "whole-dwelling", yes_or_no, designer,
                   "the conductors of a feeder that carries all of one dwelling unit may carry less than its "
                   "rating, and these carry as much as those need",
                   circuit.source);
  }
  if (circuit.kind == CircuitKind::feeder) return answer(true);
  return e.lacks(s, "kind", "feeder", designer, "it is said to carry all of a dwelling unit", circuit.source);
}

}  // namespace

Value device_for_dwelling(Evaluation& e, Subject s, std::int64_t rating, const Value& ampacity,
                          const Value& general) {
  const auto& law = e.of_law<DwellingFeederLaw>();
  if (!law.complete() || !law.in_range(rating) || !law.suffices(ampacity.count, rating)) return general;
  const Value whole = e.get(Id::feeds_dwelling, s);
  if (!is_yes(whole)) return whole ? general : whole;
  const wide_int largest = wide_int{ampacity.count} * number(1).count() / law.share->value.count;
  Value out = Evaluation::value(std::min(detail::saturate(largest), law.most->value.count), law.share->cite);
  out.place = ampacity.place;
  e.used(law.share->cite);
  e.used(law.most->cite);
  if (e.noting()) {
    e.note(FMT_COMPILE("it carries all of a dwelling unit, and its conductors need carry {} of its rating: "
                       "{} / {} = {}, up to {} ({})"),
           shown_percent(Number::steps(law.share->value.count)), amperes_of(ampacity.count), law.share->text,
           amperes_of(detail::saturate(largest)), amperes_of(law.most->value.count),
           e.cited(law.share->cite));
  }
  return out;
}

namespace compute {

Value feeds_dwelling(Evaluation& e, Subject s) {
  const auto& law = e.of_law<DwellingFeederLaw>();
  const Circuit& circuit = e.model.circuits[s.index];
  const bool may = circuit.kind == CircuitKind::feeder || circuit.kind == CircuitKind::unstated ||
                   circuit.whole_dwelling == YesNo::yes;
  if (!law.complete() || circuit.kind == CircuitKind::other || !may) return answer(false);
  const Value whole = says_whole(e, s);
  if (is_no(whole)) return whole;
  const Value system = system_row(e, *law.systems, s.index);
  if (is_no(system)) return system;
  const Value three = three_phases_of(e, s.index);
  if (is_yes(three)) return answer(false);
  if (!whole || !system || !three)
    return Evaluation::lacks(e.missing.both(whole.missing, e.missing.both(system.missing, three.missing)));
  e.used(system.cite);
  e.note(FMT_COMPILE("stated: it carries all of one dwelling unit"));
  return answer(true, system.cite);
}

Value sized_for_dwelling(Evaluation& e, Subject s) {
  const auto& law = e.of_law<DwellingFeederLaw>();
  const Circuit& circuit = e.model.circuits[s.index];
  if (!law.complete() || circuit.kind == CircuitKind::other) return answer(false);
  const Value rating = device_rating_of(e, s.index), load = e.get_aside(Id::circuit_load, s);
  if (rating && !law.in_range(rating.count)) return answer(false);
  if (rating && load && load.count > rating.count) return answer(false);
  // Where they carry less than the share, whatever is open of them, nothing lets them.
  for (const Id id : {Id::ampacity_at_best_terminals, Id::ampacity_as_laid_at_most}) {
    const Value most = e.get_aside(id, s);
    if (rating && most && !law.suffices(most.count, rating.count)) return answer(false);
  }
  const Value whole = e.get(Id::feeds_dwelling, s);
  if (is_no(whole) || (whole && rating)) return whole;
  return Evaluation::lacks(e.missing.both(whole.missing, rating.missing));
}

}  // namespace compute
}  // namespace raceward::figure
