// Equipment fastened in place on circuits that feed luminaires or receptacles too.
//
// Method: equipment whose wiring is connected is fastened in place; what is plugged in is behind receptacles.
// What shares a pole of the overcurrent device is one circuit. Which share of its rating such equipment may
// take the law says by rating; circuits of others have none.
#include <unordered_map>

#include "figure/circuit_use.hpp"
#include "figure/facts.hpp"
#include "figure/logic.hpp"
#include "figure/machines.hpp"
#include "figure/shown.hpp"
#include "figure/supply.hpp"
#include "figure/told.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

struct SharedRows {
  struct Row {
    std::int64_t rating = 0, share = 0;
    CitationId cite = no_citation;
  };
  std::vector<Row> rows;
  std::string_view lamp;  // what equipment is called that is a luminaire
  void read(const Law& law) {
    const Parameter* const word = law.parameter("lighting-equipment");
    if (word != nullptr) lamp = word->text;
    const Table* const t = law.table("fixed-equipment-share");
    if (t == nullptr) return;
    const std::uint32_t rating = t->column("rating", Dimension::current),
                        share = t->column("share", Dimension::none);
    for (std::uint32_t row = 0; row < t->row_count(); ++row)
      if (t->count(row, rating) != Table::blank && t->count(row, share) != Table::blank)
        rows.push_back({t->count(row, rating), t->count(row, share), t->cite(row)});
  }
  [[nodiscard]] const Row* of(std::int64_t rating) const {
    for (const Row& row : rows)
      if (row.rating == rating) return &row;
    return nullptr;
  }
};

bool is_lamp(Evaluation& e, Index place) {
  const std::string_view lamp = e.of_law<SharedRows>().lamp;
  return !lamp.empty() && e.model.places[place].equipment_kind == lamp;
}

/// On a cord, and not of the kinds that are fastened in place all the same.
bool is_movable(Evaluation& e, Index place) {
  if (receptacle_of(e.model, place) == none) return false;
  const Parameter* const fastened = e.law.parameter("fastened-on-cord");
  if (fastened == nullptr || !is_one_of(fastened->text, e.model.places[place].equipment_kind)) return true;
  e.used(fastened->cite);
  return false;
}

/// What equipment a circuit and those on its pole feed, and whether other outlets are beside it.
struct Beside {
  bool fixed = false, others = false;
  MissingId missing = 0;  ///< of others
};

/// The same of circuits on one pole, by where the list of them stands.
struct BesideTogether {
  std::unordered_map<const Index*, Beside> found;
};

Beside equipment_of(Evaluation& e, std::span<const Index> circuits) {
  auto& all = e.once<BesideTogether>().found;
  const bool several = circuits.size() > 1;  // not law: one alone is soon counted
  if (const auto kept = all.find(circuits.data()); several && kept != all.end()) return kept->second;
  Beside out;
  std::size_t places = 0;
  for (const Index circuit : circuits) {
    for (const Index place : equipment_on(e, circuit)) {
      if (is_movable(e, place)) {
        out.others = true;
        continue;
      }
      ++places;
      if (is_lamp(e, place)) {
        out.others = true;
        continue;
      }
      out.fixed = true;
      if (e.model.places[place].equipment_kind.empty())
        out.missing = e.missing.both(out.missing, lacks_kind(e, place).missing);
    }
  }
  if (places < 2) out.missing = 0;  // not law: one alone is beside nothing, whatever it is
  if (several) all[circuits.data()] = out;
  return out;
}

Beside beside(Evaluation& e, Subject s) {
  const CircuitUse& use = circuit_use(e);
  const OnCircuit& on = use.on(s.index);
  Beside out = equipment_of(e, use.together(s.index));
  out.others = out.others || on.other != 0;
  if (on.unplaced != none)
    out.missing = e.missing.both(out.missing, lacks_circuit_of(e, on.unplaced).missing);
  if (use.sharing_open(s.index)) out.missing = e.missing.both(out.missing, lacks_sharing(e, s.index).missing);
  return out;
}

}  // namespace

Value fixed_beside_others(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  if (circuit.kind == CircuitKind::other) return answer(false);
  if (const MissingId wrong = outlets_of_feeder(e, s.index); wrong != 0) return Evaluation::lacks(wrong);
  if (circuit.kind == CircuitKind::feeder) return answer(false);
  const Beside found = beside(e, s);
  if (!found.fixed || (!found.others && found.missing == 0)) return answer(false);
  const auto& law = e.of_law<SharedRows>();
  if (law.rows.empty()) return e.lacks_law("fixed-equipment-share");
  const Value rating = device_rating_of(e, s.index);
  if (rating && law.of(rating.count) == nullptr) return answer(false);
  MissingId missing = found.others ? rating.missing : e.missing.both(found.missing, rating.missing);
  if (circuit.kind == CircuitKind::unstated)
    missing = e.missing.both(missing, e.lacks(s, "kind", "branch or feeder", designer).missing);
  if (missing != 0) return Evaluation::lacks(missing);
  note_sharing(e, s.index);
  e.note(FMT_COMPILE("it feeds equipment fastened in place, and luminaires or receptacles"));
  return answer(true);
}

Value fixed_equipment_limit(Evaluation& e, Subject s) {
  const Value rating = device_rating_of(e, s.index);
  if (!rating) return rating;
  const SharedRows::Row* const row = e.of_law<SharedRows>().of(rating.count);
  if (row == nullptr) return e.lacks_law("fixed-equipment-share");
  const std::int64_t limit = share_of(row->share, rating.count);
  e.used(row->cite);
  if (e.noting())
    e.note(FMT_COMPILE("{} of {}: {} ({})"), shown_percent(Number::steps(row->share)),
           amperes_shown(rating.count), amperes_shown(limit), e.cited(row->cite));
  return Evaluation::value(limit, row->cite);
}

Value fixed_equipment_load(Evaluation& e, Subject s) {
  std::int64_t sum = 0, perhaps = 0;
  MissingId missing = 0, kinds = 0;
  for (const Index circuit : circuit_use(e).together(s.index)) {
    for (const Index place : told_by_id(e, e.model.places, equipment_on(e, circuit))) {
      if (is_lamp(e, place) || is_movable(e, place)) continue;
      const Value load = load_stated(e, place);
      missing = e.missing.both(missing, load.missing);
      if (!load) continue;
      if (e.model.places[place].equipment_kind.empty()) {
        perhaps += load.count;
        kinds = e.missing.both(kinds, lacks_kind(e, place).missing);
      } else {
        sum += load.count;
      }
      if (e.noting())
        e.note(FMT_COMPILE("equipment {}: {}"), e.model.places[place].id, amperes_shown(load.count));
    }
  }
  const Value limit = e.get_aside(Id::fixed_equipment_limit, s);
  // More than enough, whatever the rest takes.
  if (limit && sum > limit.count) return Evaluation::value(sum);
  if (limit && sum + perhaps <= limit.count) kinds = 0;
  if (e.missing.both(missing, kinds) != 0) return Evaluation::lacks(e.missing.both(missing, kinds));
  return Evaluation::value(sum + perhaps);
}

}  // namespace raceward::figure::compute
