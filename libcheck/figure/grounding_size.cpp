// Sizes of wire-type equipment grounding conductors.
//
// Method: the law's size for the rating of the circuit's overcurrent device and the conductor's metal. Where
// the ungrounded conductors are larger than they need be, it grows with them in proportion to their area. It
// is never asked to be larger than they are. The conductor that falls short most decides. What they need be
// follows from that rating, but not where equipment has rules of its own for it: there from what the
// equipment takes.
#include <algorithm>

#include "figure/ampacity_law.hpp"
#include "figure/logic.hpp"
#include "figure/machines.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

constexpr std::string_view a_size = "a size such as 12 AWG";
constexpr std::string_view gauge_only = "the ruleset in force gives sizes by gauge only";
constexpr std::string_view a_material = "copper, aluminum or copper-clad-aluminum";

const ConductorKind& kind_of(const Model& model, Index conductor) {
  return model.conductor_kinds[model.conductors[conductor].kind];
}

/// A bonding conductor on the load side of an overcurrent device is sized like the others.
bool is_wire(const Model& model, Index conductor) {
  const Role role = model.conductors[conductor].role;
  return (role == Role::equipment_grounding || role == Role::bonding) && !kind_of(model, conductor).cable;
}

/// The ungrounded conductors of a circuit.
struct Ungrounded {
  ConductorSize largest[2]{};  // by metal
  MissingId missing = 0;       // sizes and metals that are not stated
  std::uint32_t count = 0;

  /// More of them than phases lie side by side: then none of them bounds anything, nor tells what was raised.
  [[nodiscard]] bool parallel() const { return count > most_phases; }
  [[nodiscard]] ConductorSize of(Metal metal) const { return largest[static_cast<int>(metal)]; }
};

Ungrounded ungrounded_of(Evaluation& e, const Circuit& circuit) {
  Ungrounded out;
  for (Index c = circuit.conductors.first; c < circuit.conductors.end(); ++c) {
    const Conductor& conductor = e.model.conductors[c];
    const ConductorKind& kind = kind_of(e.model, c);
    if (conductor.role != Role::ungrounded || kind.cable) continue;
    out.count += conductor.count;
    const Subject at{SubjectKind::conductor, c};
    const auto lack = [&](std::string_view name, std::string_view expects, std::string why = {}) {
      const Value one = e.lacks(at, name, expects, marking, std::move(why), conductor.source);
      out.missing = e.missing.both(out.missing, one.missing);
    };
    if (kind.size == ConductorSize::unstated) {
      lack("size", a_size);
    } else if (!by_gauge(kind.size)) {
      lack("size", a_size, std::string(gauge_only));
    } else if (kind.material == ConductorMaterial::unstated) {
      lack("material", a_material);
    } else {
      ConductorSize& largest = out.largest[static_cast<int>(metal_of(kind.material))];
      largest = std::max(largest, kind.size);
    }
  }
  if (out.count == 0) {
    const Subject at{SubjectKind::circuit, static_cast<Index>(&circuit - e.model.circuits.data())};
    out.missing = e.lacks(at, "conductor", "its ungrounded conductors", designer,
                          "whether they were raised cannot be told without them")
                      .missing;
  }
  return out;
}

/// The least that ungrounded conductors need be, by metal.
struct Least {
  bool known = false;
  bool by_equipment = false;  ///< and not by the rating of the overcurrent device
  ConductorSize sizes[2]{};
};

/// The smallest that carries a current at the best terminals that such equipment has.
ConductorSize smallest_for(Evaluation& e, Metal metal, std::int64_t current, std::int64_t terminals) {
  for (int s = 1; s < static_cast<int>(ConductorSize::mm1); ++s) {
    const auto size = static_cast<ConductorSize>(s);
    const auto found = ampacity_law(e).ampacity(metal, size, terminals);
    if (found && found->count >= current) return size;
  }
  return {};
}

/// By what the equipment of the circuit takes; nothing is known of what the law has other rules for.
Least by_equipment(Evaluation& e, Subject s) {
  Least out{false, true, {}};
  const Value motors = e.get_aside(Id::motors_on_circuit, s),
              welders = e.get_aside(Id::welders_on_circuit, s);
  const Parameter* const best = e.law.parameter("terminal-temperature-marked", Dimension::temperature);
  const auto& marked = e.model.circuits[s.index].terminals;
  if (!motors || !welders || best == nullptr || (motors.count == 0) == (welders.count == 0)) return out;
  const Value current =
      e.get_aside(motors.count != 0 ? Id::motor_current_counted : Id::welder_current_counted, s);
  if (!current) return out;
  out.known = true;
  for (const Metal metal : {Metal::copper, Metal::aluminum}) {
    ConductorSize& size = out.sizes[static_cast<int>(metal)];
    size = smallest_for(e, metal, current.count, marked.known() ? (*marked).count() : best->value.count);
    out.known = out.known && size != ConductorSize::unstated;
  }
  return out;
}

Least least_of_circuit(Evaluation& e, Subject s, std::int64_t rating) {
  const Value otherwise = e.get_aside(Id::protected_otherwise, s);
  if (!otherwise || otherwise.count != 0) return by_equipment(e, s);
  const SizeRow* const row = size_law(e).ungrounded(rating);
  if (row == nullptr) return {};
  return {true, false, {row->sizes[0], row->sizes[1]}};
}

/// A circuit under question.
struct Asked {
  Evaluation& e;
  Subject subject;
  const Circuit& circuit;
  Ungrounded ungrounded;
  const SizeRow& row;
  Least least;

  /// What they need be, as stated or as the law has it.
  [[nodiscard]] ConductorSize least_of(Metal metal) const {
    if (circuit.least_size != ConductorSize::unstated) return circuit.least_size;
    return least.sizes[static_cast<int>(metal)];
  }
  /// The size that this one grows to with the ungrounded conductors. `known`: false where the law cannot
  /// tell.
  [[nodiscard]] ConductorSize grown(ConductorSize size, bool& known) const {
    ConductorSize most = size;
    for (const Metal metal : {Metal::copper, Metal::aluminum}) {
      const ConductorSize laid = ungrounded.of(metal), from = least_of(metal);
      if (laid == ConductorSize::unstated || ungrounded.parallel()) continue;
      const bool raised = laid > from;
      if (!raised) continue;
      const ConductorSize to = size_law(e).in_proportion(size, laid, from);
      known = known && to != ConductorSize::unstated;
      most = std::max(most, to);
    }
    return most;
  }
};

Value short_of(const Asked& a, Index c, ConductorSize size, ConductorSize needed) {
  const int short_by = std::max(0, static_cast<int>(needed) - static_cast<int>(size));
  a.e.note(FMT_COMPILE("conductor {}: {}{}"), a.e.model.conductors[c].id, name_of(size),
           short_by == 0 ? std::string()
                         : fmt::format(FMT_COMPILE("; in the order of standard sizes {} too low"), short_by));
  Value value = Evaluation::value(number(short_by).count(), a.row.cite);
  value.place = {SubjectKind::conductor, c};
  return value;
}

Value lacks_least_size(const Asked& a, ConductorSize grown, bool known) {
  return a.e.lacks(
      a.subject, "least-size", "the smallest size that its ungrounded conductors may have, such as 12 AWG",
      designer,
      known ? fmt::format(
                  FMT_COMPILE("its ungrounded conductors are larger than its {} for; were they "
                              "raised, its equipment grounding conductor grows with them, to as much as {}"),
                  a.least.by_equipment ? "equipment asks" : "overcurrent device asks", name_of(grown))
      : a.least.by_equipment
          ? std::string(
                "whether its ungrounded conductors were raised cannot be told: its equipment has rules "
                "of its own for its overcurrent device, and what it takes is not known")
          : std::string("whether its ungrounded conductors were raised cannot be told from the ruleset"));
}

/// How many sizes one conductor falls short, or what is missing to tell.
Value shortfall_of(const Asked& a, Index c) {
  Evaluation& e = a.e;
  const ConductorKind& kind = kind_of(e.model, c);
  const Subject at{SubjectKind::conductor, c};
  const Offset source = e.model.conductors[c].source;
  if (kind.size == ConductorSize::unstated) return e.lacks(at, "size", a_size, marking, {}, source);
  if (!by_gauge(kind.size)) {
    return e.lacks(at, "size", a_size, marking, std::string(gauge_only), source);
  }
  const ConductorSize most = std::max(a.row.of(Metal::copper), a.row.of(Metal::aluminum));
  if (kind.material == ConductorMaterial::unstated && kind.size < most) {
    return e.lacks(at, "material", a_material, marking, {}, source);
  }
  const Metal metal = metal_of(kind.material);  // not stated: the one that asks for more
  ConductorSize needed = a.row.of(metal);
  if (needed == ConductorSize::unstated) return e.lacks_law("egc-size");
  e.note(FMT_COMPILE("{} equipment grounding conductor for an overcurrent device of up to {}: {}"),
         kind.material == ConductorMaterial::unstated ? "aluminum" : name_of(kind.material),
         text_of({a.row.rating, Unit::ampere}), name_of(needed));

  bool known = true;
  ConductorSize grown = a.grown(needed, known);
  const bool stated = a.circuit.least_size != ConductorSize::unstated;
  const bool bounds = !a.ungrounded.parallel() && a.ungrounded.of(metal) != ConductorSize::unstated;
  if (bounds) grown = std::min(grown, a.ungrounded.of(metal));
  if (stated && grown > needed) {
    e.note(FMT_COMPILE("in proportion to ungrounded conductors that need be {}: {}"),
           name_of(a.circuit.least_size), name_of(grown));
    needed = grown;
  }
  if (kind.size < needed) {
    if (!a.ungrounded.parallel() && a.ungrounded.missing != 0) return Evaluation::lacks(a.ungrounded.missing);
    if (bounds && a.ungrounded.of(metal) < needed) {
      needed = a.ungrounded.of(metal);
      e.note(FMT_COMPILE("no larger than the largest ungrounded conductor: {}"), name_of(needed));
    }
  }
  if (kind.size < needed || a.ungrounded.parallel()) return short_of(a, c, kind.size, needed);
  // Large enough for the overcurrent device. Were the ungrounded conductors raised?
  if (a.ungrounded.missing != 0) return Evaluation::lacks(a.ungrounded.missing);
  const bool no_row = !a.least.known && !stated && a.ungrounded.count != 0;
  const bool as_large = bounds && kind.size >= a.ungrounded.of(metal);  // more is never asked
  if (!as_large && (!known || no_row || kind.size < grown))
    return lacks_least_size(a, grown, known && !no_row);
  return short_of(a, c, kind.size, needed);
}

}  // namespace

Value grounding_conductors(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  if (circuit.kind == CircuitKind::other) return Evaluation::value(0);
  std::int64_t count = 0;
  MissingId missing = 0;
  for (Index c = circuit.conductors.first; c < circuit.conductors.end(); ++c) {
    const Conductor& conductor = e.model.conductors[c];
    if (is_wire(e.model, c)) count += conductor.count;
    if (conductor.role != Role::unstated || kind_of(e.model, c).cable) continue;
    const Value lack =
        e.lacks({SubjectKind::conductor, c}, "role", "what the conductor is for, such as equipment-grounding",
                designer, {}, conductor.source);
    missing = e.missing.both(missing, lack.missing);
  }
  if (missing != 0) return Evaluation::lacks(missing);
  return Evaluation::value(number(count).count());
}

Value grounding_conductor_shortfall(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  if (circuit.overcurrent_device == none) {
    return e.lacks(s, "protected-by", "the id of an overcurrent device", designer);
  }
  const OvercurrentDevice& device = e.model.overcurrent_devices[circuit.overcurrent_device];
  if (!device.rating.known()) {
    return e.lacks({SubjectKind::overcurrent_device, circuit.overcurrent_device}, "rating",
                   "a current such as 20A", marking);
  }
  const std::int64_t amperes = (*device.rating).count();
  const SizeRow* const row = size_law(e).grounding(amperes);
  const std::string rating = text_of(show(*device.rating, Unit::ampere));
  if (row == nullptr) {
    return e.lacks(
        Subject{}, "egc-size", "a row for this rating", ruleset_author,
        fmt::format(FMT_COMPILE("the ruleset in force gives no size for an overcurrent device of {}"),
                    rating));
  }
  e.used(row->cite);
  e.note(FMT_COMPILE("overcurrent device {}: {}"), device.id, rating);
  const Asked asked{e, s, circuit, ungrounded_of(e, circuit), *row, least_of_circuit(e, s, amperes)};
  Value worst = Evaluation::value(0, row->cite);
  MissingId missing = 0;
  for (Index c = circuit.conductors.first; c < circuit.conductors.end(); ++c) {
    if (!is_wire(e.model, c)) continue;
    const Value one = shortfall_of(asked, c);
    if (!one) missing = e.missing.both(missing, one.missing);
    if (one && one.count > worst.count) worst = one;
  }
  // One that is known to fall short decides, whatever the others are.
  if (worst.count == 0 && missing != 0) return Evaluation::lacks(missing);
  return worst;
}

}  // namespace raceward::figure::compute
