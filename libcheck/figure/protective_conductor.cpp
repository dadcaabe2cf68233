// Cross-sections of protective conductors in metric sizes.
//
// Method: by table, from the line conductors' cross-section, where both are of one metal; or by the heat of
// the fault current while it flows, adiabatically: the root of its square times the time, divided by a
// constant of metal and insulation. docs/figures/earth-faults.md tells it in words.
#include <algorithm>
#include <optional>

#include "figure/current_carrying.hpp"
#include "figure/disconnection.hpp"
#include "figure/facts.hpp"
#include "figure/root.hpp"
#include "figure/shown.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

constexpr wide_int one = number(1).count();

bool is_protective(const Conductor& c, const ConductorKind& kind) {
  return (c.role == Role::equipment_grounding || c.role == Role::bonding) && !kind.cable;
}

/// The cross-section that a metric size names; none of a gauge.
std::optional<raceward::Area> section_of(ConductorSize size) {
  const auto area = parse_area(name_of(size));
  return area ? std::optional(*area) : std::nullopt;
}

std::string in_mm2(std::int64_t count) {
  constexpr std::int64_t step = 1'000'000;  // not law: 0.01 mm2
  return text_of({(count + step / 2) / step * step, Unit::square_millimetre});
}

/// What counts of one kind of conductor of a circuit.
struct Sections {
  std::int64_t least = 0, most = 0;  ///< 0: there is none
  Index smallest = none;
  ConductorMaterial material{};
  std::uint64_t insulations = 0;
  MissingId missing = 0;
};

template <class Wanted>
Sections sections_of(Evaluation& e, const Circuit& circuit, Wanted wanted, bool metals) {
  Sections out;
  bool several = false;
  for (Index c = circuit.conductors.first; c < circuit.conductors.end(); ++c) {
    const Conductor& conductor = e.model.conductors[c];
    const ConductorKind& kind = e.model.conductor_kinds[conductor.kind];
    if (!wanted(conductor, kind)) continue;
    const Subject at{SubjectKind::conductor, c};
    const auto lack = [&](std::string_view name, std::string_view expects, std::string why = {}) {
      out.missing = e.missing.both(
          out.missing, e.lacks(at, name, expects, marking, std::move(why), conductor.source).missing);
    };
    const auto section = section_of(kind.size);
    if (!section) {
      lack("size", "a size such as 2.5 mm2",
           kind.size == ConductorSize::unstated ? "" : "the ruleset in force goes by metric sizes");
      continue;
    }
    if (metals && kind.material == ConductorMaterial::unstated) {
      lack("material", "copper or aluminum");
      continue;
    }
    if (out.smallest == none || section->count() < out.least ||
        (section->count() == out.least && by_id(e, c, out.smallest))) {
      out.least = section->count();
      out.smallest = c;
      out.insulations = kind.insulations;
    }
    out.most = std::max(out.most, section->count());
    several = several || (out.material != ConductorMaterial::unstated && out.material != kind.material);
    out.material = kind.material;
  }
  if (!metals || !several) return out;
  const Value lack = e.lacks({SubjectKind::conductor, out.smallest}, "material", "one metal for all of them",
                             marking, "they are of several metals", e.model.conductors[out.smallest].source);
  out.missing = e.missing.both(out.missing, lack.missing);
  return out;
}

Value lacks_conductor(Evaluation& e, Subject s, std::string_view which) {
  return e.lacks(s, "conductor", which, designer, "none of it is written");
}

/// The constant of the smallest protective conductor.
Value heat_constant(Evaluation& e, const Sections& protective) {
  const Table* const t = e.law.table("protective-constant");
  if (t == nullptr) return e.lacks_law("protective-constant");
  const Conductor& c = e.model.conductors[protective.smallest];
  const Subject at{SubjectKind::conductor, protective.smallest};
  if (protective.insulations == 0)
    return e.lacks(at, "insulation", "a mark such as PVC-70C", marking, {}, c.source);
  const std::uint32_t column = t->column("constant", Dimension::none);
  Value least;
  const auto marks = terms_of(Insulation{});
  for (std::size_t i = 0; i < marks.size(); ++i) {
    if ((protective.insulations >> i & 1) == 0) continue;
    const std::uint32_t row = t->find({name_of(protective.material), marks[i].spelling});
    const std::int64_t found = t->count(row, column);
    if (row == Table::none || found == Table::blank || found <= 0)
      return e.lacks(at, "protective-constant", "a constant for it", ruleset_author,
                     fmt::format(FMT_COMPILE("the ruleset in force has none for {} with {}"),
                                 name_of(protective.material), marks[i].spelling));
    if (least.count == 0 || found < least.count) least = Evaluation::value(found, t->cite(row));
  }
  return least;
}

}  // namespace

Value protective_conductor(Evaluation& e, Subject s) {
  const Sections found = sections_of(e, e.model.circuits[s.index], is_protective, false);
  if (found.missing != 0) return Evaluation::lacks(found.missing);
  if (found.smallest == none) return lacks_conductor(e, s, "its protective conductor");
  Value value = Evaluation::value(found.least);
  value.place = {SubjectKind::conductor, found.smallest};
  return value;
}

Value protective_conductor_by_table(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  const auto is_line = [](const Conductor& c, const ConductorKind& kind) {
    return c.role == Role::ungrounded && !kind.cable;
  };
  const Sections lines = sections_of(e, circuit, is_line, true),
                 protective = sections_of(e, circuit, is_protective, true);
  const MissingId missing = e.missing.both(lines.missing, protective.missing);
  if (missing != 0) return Evaluation::lacks(missing);
  if (lines.smallest == none) return lacks_conductor(e, s, "its line conductors");
  if (protective.smallest == none) return lacks_conductor(e, s, "its protective conductor");
  if (lines.material != protective.material)
    return e.lacks({SubjectKind::conductor, protective.smallest}, "material",
                   "the metal of the line conductors", designer,
                   "the table holds where both are of one metal",
                   e.model.conductors[protective.smallest].source);
  const Parameter* const same = e.law.parameter("protective-same-up-to", Dimension::area);
  const Parameter* const fixed = e.law.parameter("protective-fixed-up-to", Dimension::area);
  const Parameter* const share = e.law.parameter("protective-share", Dimension::none);
  if (same == nullptr || fixed == nullptr || share == nullptr) return e.lacks_law("protective-same-up-to");
  const std::int64_t line = lines.most;
  std::int64_t needed = line;
  CitationId cite = same->cite;
  if (line > fixed->value.count) {
    needed = detail::saturate((wide_int{line} * share->value.count + one - 1) / one);
    cite = share->cite;
  } else if (line > same->value.count) {
    needed = same->value.count;
    cite = fixed->cite;
  }
  e.used(cite);
  if (e.noting())
    e.note(FMT_COMPILE("line conductors of {}: protective conductor of {} ({})"), in_mm2(line),
           in_mm2(needed), e.cited(cite));
  return Evaluation::value(needed, cite);
}

Value protective_conductor_by_fault(Evaluation& e, Subject s) {
  const Sections protective = sections_of(e, e.model.circuits[s.index], is_protective, true);
  if (protective.missing != 0) return Evaluation::lacks(protective.missing);
  if (protective.smallest == none) return lacks_conductor(e, s, "its protective conductor");
  const Value loop = e.get(Id::loop_impedance, s), volts = voltage_to_earth(e, s), fast = opens_fast(e, s),
              constant = heat_constant(e, protective);
  MissingId missing = e.missing.both(loop.missing, volts.missing);
  missing = e.missing.both(missing, e.missing.both(fast.missing, constant.missing));
  if (missing != 0) return Evaluation::lacks(missing);
  const Parameter* const time = e.law.parameter("fast-disconnection-seconds", Dimension::none);
  if (time == nullptr) return e.lacks_law("fast-disconnection-seconds");
  if (loop.count <= 0)
    return e.lacks(s, "loop-impedance", "an impedance above zero", ruleset_author,
                   "by the ruleset in force its conductors have none");
  // Microvolts by ohms in steps of one nth are microamperes in nths; all of it is rounded up.
  const wide_int current = (wide_int{volts.count} * one + loop.count - 1) / loop.count;
  constexpr wide_int largest_current = 1'000'000'000'000;  // not law: fits 128 bits
  if (current > largest_current)
    return e.lacks(s, "loop-impedance", "an impedance that a supply can have", installer,
                   "the fault current would be more than 1 MA", e.model.circuits[s.index].source);
  // Under the root microamperes squared and nths of a second, and tens so that the unit outside is a whole
  // one.
  const wide_int heat =
      wide_int{root(current * current * time->value.count * 10)} + 1;  // not law: 1e-5 uA s^1/2
  constexpr wide_int outside = 1'000'000;                              // not law: to 1e-8 mm2
  const wide_int section = (heat * outside + constant.count - 1) / constant.count;
  e.used(constant.cite);
  e.used(time->cite);
  if (e.noting())
    e.note(FMT_COMPILE("fault current {} / {} = {}, for {} s ({}), constant {} ({}): {}"),
           text_of({volts.count, Unit::volt}), shown_ohms(loop.count), amperes_of(detail::saturate(current)),
           time->text, e.cited(time->cite), decimal_of({constant.count, Unit::one}), e.cited(constant.cite),
           in_mm2(detail::saturate(section)));
  return Evaluation::value(detail::saturate(section), constant.cite);
}

}  // namespace raceward::figure::compute
