// Loads of circuits as they count against the overcurrent device.
//
// Method: the part of the load that is continuous counts more, the rest as it is. Equipment that is said to
// be continuous on a circuit that is not as a whole is that part. What is not known is asked only where it
// decides.
#include <algorithm>
#include <span>
#include <unordered_map>

#include "figure/circuit_use.hpp"
#include "figure/logic.hpp"
#include "figure/machines.hpp"
#include "figure/supply.hpp"
#include "figure/surroundings.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

constexpr std::string_view a_current = "a current such as 16A";

std::string amperes(std::int64_t count) { return text_of({count, Unit::ampere}); }

std::int64_t raised(const Parameter& factor, std::int64_t load) {
  return detail::saturate(wide_int{factor.value.count} * load / number(1).count());
}

Value lacks_load(Evaluation& e, Subject s, std::string why, Offset source) {
  return e.lacks(s, "load", a_current, designer, std::move(why), source);
}

struct Fed {
  std::size_t places = 0, motors = 0;
};

/// Equipment on circuits that share a pole, by where the list of them stands.
struct FedTogether {
  std::unordered_map<const Index*, Fed> found;
};

Fed fed_by(Evaluation& e, std::span<const Index> circuits) {
  auto& all = e.once<FedTogether>().found;
  const bool several = circuits.size() > 1;  // not law: one alone is soon counted
  if (const auto kept = all.find(circuits.data()); several && kept != all.end()) return kept->second;
  Fed out;
  for (const Index circuit : circuits) {
    for (const Index place : equipment_on(e, circuit)) {
      ++out.places;
      out.motors += is_motor(group_of(e, place)) ? 1 : 0;
    }
  }
  if (several) all[circuits.data()] = out;
  return out;
}

/// Circuits of several motors and nothing else, or of equipment that is listed to be together, have ratings
/// by rules of their own.
bool motors_have_rules(Evaluation& e, Subject s) {
  const auto [places, motors] = fed_by(e, circuit_use(e).together(s.index));
  if (motors == 0) return false;
  const OnCircuit& on = circuit_use(e).on(s.index);
  const bool only_motors = motors == places && on.other == 0 && on.unplaced == none;
  const bool listed = attested(e, Attested::group_installation, e.model.circuits[s.index].id);
  if (only_motors) e.note(FMT_COMPILE("it feeds motors only, whose rules tell its rating"));
  if (listed && !only_motors)
    e.note(FMT_COMPILE("attested: listed for group installation, so that rules of motors tell its rating"));
  return only_motors || listed;
}

/// What may be motors alone, or no more than one outlet: equipment that does not say what it is, or a device
/// that does not say its circuit.
MissingId may_have_rules(Evaluation& e, Subject s) {
  const OnCircuit& on = circuit_use(e).on(s.index);
  std::size_t places = 0, motors = 0, parts = 0;
  std::vector<MissingId> unknown;
  for (const Index circuit : circuit_use(e).together(s.index)) {
    for (const Index place : equipment_on(e, circuit)) {
      const Group group = group_of(e, place);
      ++places;
      motors += is_motor(group) ? 1 : 0;
      if (group != Group::unknown) continue;
      unknown.push_back(lacks_kind(e, place).missing);
      const Maybe<Current>& load = e.model.places[place].rating;
      parts += !load.known() || (*load).count() == 0 ? 1 : 0;
    }
  }
  const bool all = (motors + unknown.size() == places && on.other == on.perhaps_taken) ||
                   attested(e, Attested::group_installation, e.model.circuits[s.index].id);
  MissingId missing = 0;
  if (!unknown.empty() && (all || on.outlets < 2 + parts)) missing = e.missing.all(unknown);  // not law: one
  if (all && places != 0 && on.unplaced != none)
    missing = e.missing.both(missing, lacks_circuit_of(e, on.unplaced).missing);
  if (all && places != 0 && on.perhaps_taken != 0)
    missing = e.missing.both(missing, lacks_receptacle_count(e, on.uncounted).missing);
  for (const Index circuit : circuit_use(e).together(s.index))
    missing = e.missing.both(missing, may_be_on(e, circuit, is_motor));
  return missing;
}

}  // namespace

Value circuit_is_wiring(Evaluation& e, Subject s) {
  return answer(e.model.circuits[s.index].kind == CircuitKind::other);
}

Value circuit_device_rating(Evaluation& e, Subject s) { return device_rating_of(e, s.index); }

Value circuit_outlets(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  if (const MissingId wrong = outlets_of_feeder(e, s.index); wrong != 0) return Evaluation::lacks(wrong);
  if (circuit.kind == CircuitKind::other || circuit.kind == CircuitKind::feeder) return answer(false);
  const OnCircuit& on = circuit_use(e).on(s.index);
  const std::uint32_t outlets = on.outlets;
  if (outlets < 2 && on.unplaced != none) return lacks_circuit_of(e, on.unplaced);  // not law: several
  if (outlets < 2 && circuit_use(e).sharing_open(s.index)) return lacks_sharing(e, s.index);
  if (outlets == 1 && circuit.overcurrent_device == none && e.model.circuits.size() > 1) {  // not law: alone
    return e.lacks(s, "protected-by", "the id of an overcurrent device", designer,
                   "with another circuit at the same one it would feed several outlets");
  }
  note_sharing(e, s.index);
  if (circuit.kind == CircuitKind::unstated && outlets > 1)
    return e.lacks(s, "kind", "branch or feeder", designer);
  return Evaluation::value(number(outlets).count());
}

Value branch_rating_fits(Evaluation& e, Subject s) {
  const Table* const t = e.law.table("branch-circuit-rating");
  if (t == nullptr) return e.lacks_law("branch-circuit-rating");
  const Value rating = device_rating_of(e, s.index);
  if (!rating) return rating;
  if (motors_have_rules(e, s)) return answer(true);
  const std::uint32_t column = t->column("amperes", Dimension::current);
  std::int64_t largest = 0;
  CitationId cite = no_citation;
  for (std::uint32_t row = 0; row < t->row_count(); ++row) {
    const std::int64_t one = t->count(row, column);
    if (one == rating.count) {
      e.used(t->cite(row));
      return answer(true, t->cite(row));
    }
    if (one != Table::blank && one > largest) {
      largest = one;
      cite = t->cite(row);
    }
  }
  const Occupancy occupancy = e.model.occupancy;
  const bool may_be_large = occupancy == Occupancy::industrial || occupancy == Occupancy::unstated;
  if (rating.count > largest && may_be_large) {
    return e.lacks({SubjectKind::installation, 0}, "occupancy", "a word such as dwelling", designer,
                   "industrial premises may have larger ones where qualified persons serve them",
                   e.model.source);
  }
  if (const MissingId open = may_have_rules(e, s); open != 0) return Evaluation::lacks(open);
  e.used(cite);
  return answer(false, cite);
}

namespace {

/// What the load of a circuit counts as, at least and at most.
struct Counted {
  std::int64_t stated = 0, least = 0, most = 0;
  MissingId missing = 0;  ///< of the load itself
  MissingId beyond = 0;   ///< the same where it is no less than what is said
  MissingId open = 0;     ///< of how much of it is continuous
};

Counted counted_as_said(Evaluation& e, Index c, const Parameter& factor) {
  const Circuit& circuit = e.model.circuits[c];
  const Subject s{SubjectKind::circuit, c};
  Counted out;
  if (!circuit.load.known()) {
    out.missing = lacks_load(e, s, {}, circuit.source).missing;
    return out;
  }
  const std::int64_t load = out.stated = (*circuit.load).count();
  const OnCircuit& on = circuit_use(e).own(c);
  const LoadContradicted wrong = load_contradicted(e, c);
  (wrong.only_more ? out.beyond : out.missing) = wrong.missing;
  if (wrong.missing == 0 && on.largest != none && (*e.model.places[on.largest].rating).count() > load) {
    const Place& equipment = e.model.places[on.largest];
    out.missing =
        lacks_load(e, s,
                   fmt::format(FMT_COMPILE("it is said to be {}, and equipment {} on it takes {}"),
                               amperes(load), equipment.id, text_of(show(*equipment.rating, Unit::ampere))),
                   circuit.source)
            .missing;
  }
  if (out.missing != 0) return out;
  if (out.beyond != 0) {
    out.least = out.most = circuit.continuous == YesNo::yes ? raised(factor, load) : load;
    if (e.noting())
      e.note(FMT_COMPILE("load, at least: {}; what is on it is said to take more"), amperes(load));
    return out;
  }
  const std::int64_t part = std::min(on.continuous, load);
  out.most = raised(factor, load);
  out.least = circuit.continuous == YesNo::yes ? out.most : raised(factor, part) + load - part;
  if (circuit.continuous == YesNo::yes) {
    if (e.noting())
      e.note(FMT_COMPILE("continuous load: {} x {} = {}"), factor.text, amperes(load), amperes(out.most));
    return out;
  }
  const MissingId perhaps = may_be_on(e, c);  // and continuous
  if (circuit.continuous == YesNo::no && on.unknown == none && perhaps == 0) {
    out.most = out.least;
    if (e.noting() && part != 0) {
      e.note(FMT_COMPILE("{} x {} continuous + {} other = {}"), factor.text, amperes(part),
             amperes(load - part), amperes(out.least));
    }
    if (e.noting() && part == 0) e.note(FMT_COMPILE("load, not continuous: {}"), amperes(load));
    return out;
  }
  if (circuit.continuous == YesNo::unstated) {
    out.open = e.lacks(s, "continuous", "yes or no", designer, {}, circuit.source).missing;
    return out;
  }
  out.open = perhaps;
  if (on.unknown == none) return out;
  const Place& equipment = e.model.places[on.unknown];
  const Subject at{SubjectKind::equipment, on.unknown};
  const Value lack =
      equipment.continuous == YesNo::unstated
          ? e.lacks(at, "continuous", "yes or no", designer, {}, equipment.source)
          : e.lacks(at, "load", a_current, marking,
                    "it is continuous, and how much of the circuit's load it is decides", equipment.source);
  out.open = e.missing.both(out.open, lack.missing);
  return out;
}

/// The same; as much as was calculated for what is behind it, at most.
Counted counted(Evaluation& e, Index c, const Parameter& factor) {
  Counted out = counted_as_said(e, c, factor);
  const Index panel = panel_beyond_load(e, c);
  if (panel == none) return out;
  out.most = std::max(out.most, (*e.model.places[panel].calculated_load).count());
  out.open = e.missing.both(out.open, load_behind_contradicted(e, c));
  return out;
}

/// What circuits that share a pole, or may, count as together: by where the list of them stands.
struct Together {
  struct Most {
    std::int64_t most = 0;
    bool known = true;
  };
  std::unordered_map<const Index*, Counted> counted;
  std::unordered_map<const Index*, Most> may_share;
};

Counted counted_together(Evaluation& e, std::span<const Index> all, const Parameter& factor) {
  auto& kept = e.once<Together>().counted;
  const bool keeps = all.size() > 1 && !e.noting();  // not law: one alone is soon counted
  if (const auto known = kept.find(all.data()); keeps && known != kept.end()) return known->second;
  Counted sum;
  for (const Index c : all) {
    const Counted one = counted(e, c, factor);
    sum.missing = e.missing.both(sum.missing, one.missing);
    sum.beyond = e.missing.both(sum.beyond, one.beyond);
    sum.open = e.missing.both(sum.open, one.open);
    sum.stated += one.stated;
    sum.least += one.least;
    sum.most += one.most;
  }
  if (keeps) kept[all.data()] = sum;
  return sum;
}

/// At most what circuits that may share a pole count as.
Together::Most may_share(Evaluation& e, std::span<const Index> circuits, const Parameter& factor) {
  if (circuits.empty()) return {};
  const auto [kept, fresh] = e.once<Together>().may_share.try_emplace(circuits.data());
  if (!fresh) return kept->second;
  Together::Most out;
  for (const Index c : circuits) {
    const Maybe<Current>& load = e.model.circuits[c].load;
    out.known = out.known && load.known();
    if (load.known()) out.most += raised(factor, (*load).count());
  }
  return kept->second = out;
}

}  // namespace

Value load_counted(Evaluation& e, Subject s) {
  const Parameter* const factor = e.law.parameter("continuous-load-factor", Dimension::none);
  if (factor == nullptr) return e.lacks_law("continuous-load-factor");
  const auto all = circuit_use(e).together(s.index);
  Counted sum = counted_together(e, all, *factor);
  if (circuit_use(e).sharing_open(s.index)) {
    // What may begin at the same pole is asked about where it decides.
    const Value rating = device_rating_of(e, s.index);
    const auto [most, known] = may_share(e, circuit_use(e).may_share(s.index), *factor);
    const bool decided = rating && (sum.least > rating.count || (known && most <= rating.count));
    if (!decided) sum.missing = e.missing.both(sum.missing, lacks_sharing(e, s.index).missing);
  }
  if (sum.beyond != 0) {
    const Value rating = device_rating_of(e, s.index);
    if (sum.missing != 0 || !rating || sum.least <= rating.count)
      return Evaluation::lacks(e.missing.both(sum.missing, sum.beyond));
    e.used(factor->cite);
    return Evaluation::value(sum.least, factor->cite);
  }
  if (sum.missing != 0) return Evaluation::lacks(sum.missing);
  e.used(factor->cite);
  note_sharing(e, s.index);
  if (sum.open == 0) {
    if (e.noting() && all.size() > 1) e.note(FMT_COMPILE("together: {}"), amperes(sum.least));
    return Evaluation::value(sum.least, factor->cite);
  }
  const Value rating = device_rating_of(e, s.index);
  if (!rating || (sum.most > rating.count && sum.least <= rating.count)) return Evaluation::lacks(sum.open);
  const std::int64_t decides = sum.most <= rating.count ? sum.most : sum.least;
  if (e.noting()) {
    e.note(
        FMT_COMPILE("load {}; counted as {} {}"), amperes(sum.stated), amperes(decides),
        sum.most <= rating.count ? "even if all of it is continuous" : "even if no more of it is continuous");
  }
  return Evaluation::value(decides, factor->cite);
}

Value heating_asked(Evaluation& e, Subject s) {
  const Place& equipment = e.model.places[s.index];
  const Table* const t = e.law.table("fixed-heating");
  if (t == nullptr) return e.lacks_law("fixed-heating");
  if (receptacle_of(e.model, s.index) != none) return answer(false);  // what is plugged in is not fixed
  if (equipment.equipment_kind.empty()) return e.lacks(s, "kind", "a word such as kiln", designer);
  const std::uint32_t row = t->find({equipment.equipment_kind});
  if (row == Table::none) return answer(false);
  e.used(t->cite(row));
  if (t->text(row, t->column("asked")) == "yes") return answer(true, t->cite(row));
  return e.lacks(s, "kind", "a word that tells more", designer,
                 std::string(t->text(row, t->column("words"))));
}

Value heating_load_counted(Evaluation& e, Subject s) {
  const Parameter* const factor = e.law.parameter("fixed-heating-factor", Dimension::none);
  if (factor == nullptr) return e.lacks_law("fixed-heating-factor");
  const Value stated = load_stated(e, s.index);
  if (!stated) return stated;
  e.used(factor->cite);
  const std::int64_t load = stated.count, counted = raised(*factor, load);
  if (e.noting())
    e.note(FMT_COMPILE("heating load: {} x {} = {}"), factor->text, amperes(load), amperes(counted));
  return Evaluation::value(counted, factor->cite);
}

Value equipment_device_rating(Evaluation& e, Subject s) {
  const CircuitUse& use = circuit_use(e);
  if (use.feeding(s.index) != none) return device_rating_of(e, use.feeding(s.index));
  return e.lacks(s, "run", "a circuit whose run ends there", designer,
                 use.several_feed(s.index) ? "several circuits end there" : "no circuit ends there");
}

}  // namespace raceward::figure::compute
