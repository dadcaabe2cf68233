#include "figure/machines.hpp"

#include <algorithm>

#include "figure/ampacity_law.hpp"
#include "figure/circuit_use.hpp"
#include "figure/outlets.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

/// Equipment by circuit, side by side.
struct OnCircuits {
  bool ready = false;
  std::vector<Index> first, places;  // places[first[c]] to places[first[c + 1]]
  std::vector<Index> unsaid;         // beside places: a stop that does not say whether the circuit ends there

  void read(const Model& model) {
    ready = true;
    struct End {
      Index circuit, place, unsaid;
    };
    std::vector<End> ends;
    for (const Run& run : model.runs) {
      if (model.circuits[run.circuit].kind == CircuitKind::other) continue;
      for (Index i = run.stops.first; i < run.stops.end(); ++i) {
        const Stop& stop = model.stops[i];
        const bool passes =
            stop.ungrounded == StopTreatment::through || stop.ungrounded == StopTreatment::looped;
        if (passes || model.places[stop.place].kind != PlaceKind::equipment) continue;
        ends.push_back({run.circuit, stop.place, stop.ungrounded == StopTreatment::unstated ? i : none});
      }
    }
    const auto key = [](const End& end) { return std::pair{end.circuit, end.place}; };
    std::ranges::stable_sort(ends, {}, key);
    first.resize(model.circuits.size() + 1);
    for (std::size_t i = 0; i < ends.size(); ++i) {
      const End& end = ends[i];
      if (i > 0 && key(ends[i - 1]) == key(end)) {  // one stop that says it is enough
        if (end.unsaid == none) unsaid.back() = none;
        continue;
      }
      ++first[end.circuit + 1];
      places.push_back(end.place);
      unsaid.push_back(end.unsaid);
    }
    for (std::size_t c = 1; c < first.size(); ++c) first[c] += first[c - 1];
  }
};

struct Groups {
  bool ready = false;
  std::vector<Group> of_row;
  const Table* table = nullptr;

  void read(const Law& law) {
    ready = true;
    table = law.table("protection-otherwise");
    if (table == nullptr) return;
    const std::uint32_t column = table->column("group");
    for (std::uint32_t row = 0; row < table->row_count(); ++row)
      of_row.push_back(spelt(table->text(row, column)));
  }

 private:
  static Group spelt(std::string_view word) {
    if (word.empty()) return Group::plain;
    if (word == "motor") return Group::motor;
    if (word == "compressor") return Group::compressor;
    if (word == "arc-welder") return Group::arc_welder;
    if (word == "generator-welder") return Group::generator_welder;
    return word == "welder" ? Group::welder : Group::other;
  }
};

const OnCircuits& on_circuits(Evaluation& e) {
  auto& on = e.once<OnCircuits>();
  if (!on.ready) on.read(e.model);
  return on;
}

}  // namespace

Group group_of(Evaluation& e, Index place) {
  auto& groups = e.once<Groups>();
  if (!groups.ready) groups.read(e.law);
  const std::string_view kind = e.model.places[place].equipment_kind;
  if (groups.table == nullptr || kind.empty()) return Group::unknown;
  const std::uint32_t row = groups.table->find({kind});
  return row == Table::none ? Group::unknown : groups.of_row[row];
}

Value lacks_of(Evaluation& e, Index place, std::string_view attribute, std::string_view expects,
               std::string why) {
  return e.lacks(equipment_at(place), attribute, expects, marking, std::move(why),
                 e.model.places[place].source);
}

Value lacks_kind(Evaluation& e, Index place) {
  const std::string_view kind = e.model.places[place].equipment_kind;
  return lacks_of(
      e, place, "kind", "a word that the ruleset knows, such as kiln",
      kind.empty()
          ? std::string()
          : fmt::format(FMT_COMPILE("whether rules of motors or welders hold for a kind called {} is not in "
                                    "the ruleset in force"),
                        kind));
}

std::span<const Index> equipment_on(Evaluation& e, Index circuit) {
  const OnCircuits& on = on_circuits(e);
  return {on.places.data() + on.first[circuit], on.places.data() + on.first[circuit + 1]};
}

Value count_on(Evaluation& e, Index circuit, bool (*belongs)(Group), std::string_view called) {
  MissingId missing = 0;
  std::int64_t count = 0;
  const OnCircuits& on = on_circuits(e);
  for (Index i = on.first[circuit]; i < on.first[circuit + 1]; ++i) {
    const Index place = on.places[i];
    const Group group = group_of(e, place);
    if (group == Group::unknown) missing = e.missing.both(missing, lacks_kind(e, place).missing);
    if (!belongs(group)) continue;
    ++count;
    e.note(FMT_COMPILE("it feeds {}, a {}"), e.model.places[place].id, e.model.places[place].equipment_kind);
    if (on.unsaid[i] != none)
      missing = e.missing.both(missing, lacks_end_of(e, circuit, on.unsaid[i]).missing);
    if (circuit_use(e).several_feed(place))
      missing = e.missing.both(missing, lacks_one_circuit(e, place).missing);
  }
  if (missing != 0) return Evaluation::lacks(missing);
  if (count != 0) e.note(FMT_COMPILE("{} on it: {}"), called, count);
  return Evaluation::value(number(count).count());
}

Value load_stated(Evaluation& e, Index place) {
  const Place& equipment = e.model.places[place];
  if (!equipment.rating.known()) return lacks_of(e, place, "load", "a current such as 16A");
  const Value load = Evaluation::value((*equipment.rating).count());
  const Index circuit = circuit_use(e).feeding(place);
  const Parameter* const tolerance = e.law.parameter("practice-nameplate-tolerance", Dimension::none);
  if (!equipment.power.known() || !equipment.voltage.known() || circuit == none || tolerance == nullptr)
    return load;
  const Value three = outlets::three_phases(e, circuit);
  if (!three || three.count != 0) return load;
  const wide_int one_ampere = amperes(1).count();
  const auto by_power =
      detail::saturate(wide_int{(*equipment.power).count()} * one_ampere / (*equipment.voltage).count());
  if (by_power <= load.count + share_of(tolerance->value.count, load.count)) return load;
  return lacks_of(e, place, "load", "a current such as 16A",
                  fmt::format(FMT_COMPILE("it is said to be {}, and its power at its voltage makes {}"),
                              amperes_shown(load.count), amperes_shown(by_power)));
}

std::string amperes_shown(std::int64_t count) {
  constexpr std::int64_t step = 10'000;  // not law: 0.01 A
  return text_of({count / step * step, Unit::ampere});
}

Value next_standard(Evaluation& e, std::int64_t current, bool fuse) {
  const auto next = ampacity_law(e).standard(current, fuse);
  if (!next) return e.lacks_law("standard-rating");
  e.used(next->cite);
  return Evaluation::value(next->count, next->cite);
}

}  // namespace raceward::figure
