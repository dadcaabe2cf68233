// How conductors are identified by their colours, and whether they are large enough to be used at all.
//
// Method: the law tells what a colour says of a conductor. Small conductors bear it throughout; large ones
// may be marked at their ends. Colours are words of the document; a word that the law does not know is asked
// for.
#include <algorithm>
#include <cctype>
#include <string>
#include <unordered_map>

#include "figure/conductor.hpp"
#include "figure/current_carrying.hpp"
#include "figure/fixture_wire.hpp"
#include "figure/grounding_size_law.hpp"
#include "figure/surroundings.hpp"
#include "figure/told.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

enum class Says : std::uint8_t { unknown, ungrounded, grounded, grounding };

/// What a conductor's colour says: of its insulation, and of a marking at its ends.
struct Colored {
  Says base = Says::unknown;
  Says mark = Says::unknown;
  bool marked = false;
  CitationId cite = no_citation;
  [[nodiscard]] bool known() const { return base != Says::unknown && (!marked || mark != Says::unknown); }
};

Says says(const Table& t, std::string_view word, CitationId& cite) {
  const std::uint32_t row = t.find({word});
  if (row == Table::none) return Says::unknown;
  cite = t.cite(row);
  const std::string_view is = t.text(row, t.column("is"));
  if (is == "grounded") return Says::grounded;
  if (is == "grounding") return Says::grounding;
  return is == "ungrounded" ? Says::ungrounded : Says::unknown;
}

/// In small letters, with single blanks.
std::string plain(std::string_view text) {
  std::string out;
  for (const char c : text) {
    const bool blank = c == ' ' || c == '\t' || c == '\n' || c == '\r';
    if (blank && (out.empty() || out.back() == ' ')) continue;
    out += blank ? ' ' : (c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c);
  }
  if (!out.empty() && out.back() == ' ') out.pop_back();
  return out;
}

constexpr std::string_view marked_word = " marked ";

Colored colored(const Table& t, std::string_view text) {
  Colored out;
  out.base = says(t, text, out.cite);
  if (out.base != Says::unknown) return out;
  const std::string words = plain(text);
  const std::size_t at = words.find(marked_word);
  out.base = says(t, std::string_view(words).substr(0, at), out.cite);
  if (at == std::string::npos) return out;
  out.marked = true;
  out.mark = says(t, std::string_view(words).substr(at + marked_word.size()), out.cite);
  return out;
}

bool is_ungrounded(Role role) {
  return role == Role::ungrounded || role == Role::switched || role == Role::traveler;
}

bool is_grounding(Role role) { return role == Role::equipment_grounding || role == Role::bonding; }

/// Voltages to ground in the document, and which colours of ungrounded conductors serve several.
struct Systems {
  bool ready = false;
  bool several = false;
  MissingId missing = 0;  // what may hide another voltage, or a colour that is shared
  std::unordered_map<std::string, std::int64_t> of_color;  // one voltage, or several_voltages
};
constexpr std::int64_t several_voltages = -1;

Value lacks_role(Evaluation& e, Index c) {
  return e.lacks({SubjectKind::conductor, c}, "role", "what the conductor is for, such as ungrounded",
                 designer, {}, e.model.conductors[c].source);
}

Value lacks_color(Evaluation& e, Index c, std::string why = {}) {
  return e.lacks({SubjectKind::conductor, c}, "color", "the colour of its insulation, such as white",
                 installer, std::move(why), e.model.conductors[c].source);
}

Value lacks_voltage(Evaluation& e, Index circuit) {
  return e.lacks({SubjectKind::circuit, circuit}, "voltage-to-ground", "a voltage such as 120V", designer, {},
                 e.model.circuits[circuit].source);
}

/// The voltage to ground that tells the circuit's system from others: where one leg of a system has more than
/// the others, that of the others.
std::int64_t voltage_of_system(Evaluation& e, const Circuit& circuit) {
  const std::int64_t to_ground = (*circuit.to_ground).count();
  const Table* const t = e.law.table("high-leg");
  for (std::uint32_t row = 0; t != nullptr && circuit.voltage.known() && row < t->row_count(); ++row) {
    const auto at = [&](std::string_view column) {
      return t->count(row, t->column(column, Dimension::voltage));
    };
    const std::int64_t volts = (*circuit.voltage).count();
    const bool high = volts >= at("from") && volts <= at("to") && to_ground >= at("to-ground-from") &&
                      to_ground <= at("to-ground-to");
    if (high) return at("others");
  }
  return to_ground;
}

/// It may be of the one leg that has more to ground than the others: the voltage tells.
bool may_be_high(const Evaluation& e, const Circuit& circuit) {
  const Table* const t = e.law.table("high-leg");
  if (t == nullptr || circuit.voltage.known()) return false;
  const std::int64_t to_ground = (*circuit.to_ground).count();
  for (std::uint32_t row = 0; row < t->row_count(); ++row) {
    const std::int64_t from = t->count(row, t->column("to-ground-from", Dimension::voltage)),
                       to = t->count(row, t->column("to-ground-to", Dimension::voltage));
    if (to_ground >= from && to_ground <= to) return true;
  }
  return false;
}

/// Of the voltages between conductors of such a system.
bool has_voltage_of_high_leg(const Evaluation& e, const Circuit& circuit) {
  const Table* const t = e.law.table("high-leg");
  if (t == nullptr || !circuit.voltage.known()) return false;
  const std::int64_t volts = (*circuit.voltage).count();
  for (std::uint32_t row = 0; row < t->row_count(); ++row) {
    if (volts >= t->count(row, t->column("from", Dimension::voltage)) &&
        volts <= t->count(row, t->column("to", Dimension::voltage)))
      return true;
  }
  return false;
}

const Systems& systems(Evaluation& e) {
  auto& all = e.once<Systems>();
  if (all.ready) return all;
  all.ready = true;
  std::int64_t first = several_voltages;
  std::size_t circuits = 0;
  for (const Circuit& circuit : e.model.circuits) {
    if (circuit.kind == CircuitKind::other) continue;
    ++circuits;
    if (!circuit.to_ground.known() || may_be_high(e, circuit)) continue;
    const std::int64_t voltage = voltage_of_system(e, circuit);
    if (first == several_voltages) first = voltage;
    all.several = all.several || voltage != first;
  }
  if (circuits < 2) return all;
  const Table* const colors = e.law.table("conductor-color");
  Index high = none;
  Index unknown = none, untold = none;  // of each kind of gap one is named: the first by id
  for (Index index = 0; index < e.model.circuits.size(); ++index) {
    const Circuit& circuit = e.model.circuits[index];
    if (circuit.kind == CircuitKind::other) continue;
    if (!circuit.to_ground.known()) {
      if (unknown == none || circuit.id < e.model.circuits[unknown].id) unknown = index;
      continue;
    }
    if (may_be_high(e, circuit)) {
      if (high == none || circuit.id < e.model.circuits[high].id) high = index;
      continue;
    }
    if (!all.several) continue;
    const std::int64_t voltage = voltage_of_system(e, circuit);
    for (Index c = circuit.conductors.first; c < circuit.conductors.end(); ++c) {
      const Conductor& conductor = e.model.conductors[c];
      if (e.model.conductor_kinds[conductor.kind].cable) continue;
      const bool open = conductor.role == Role::unstated ||
                        (is_ungrounded(conductor.role) &&
                         (conductor.identification.empty() ||
                          (colors != nullptr && !colored(*colors, conductor.identification).known())));
      if (open) {
        if (untold == none || by_id(e, c, untold)) untold = c;
      } else if (is_ungrounded(conductor.role)) {
        const auto [at, fresh] = all.of_color.try_emplace(plain(conductor.identification), voltage);
        if (!fresh && at->second != voltage) at->second = several_voltages;
      }
    }
  }
  if (unknown != none) all.missing = lacks_voltage(e, unknown).missing;
  if (high != none) {
    const Value lack =
        e.lacks({SubjectKind::circuit, high}, "voltage", "a voltage such as 240V", designer,
                "one leg of a system may have more to ground than the others", e.model.circuits[high].source);
    all.missing = e.missing.both(all.missing, lack.missing);
  }
  if (untold != none) {
    const bool no_role = e.model.conductors[untold].role == Role::unstated;
    const Value lack = no_role ? lacks_role(e, untold) : lacks_color(e, untold);
    all.missing = e.missing.both(all.missing, lack.missing);
  }
  return all;
}

/// Whether a conductor that must say `wanted` does: 1 or 0.
Value identified(Evaluation& e, Index c, Says wanted) {
  const Conductor& conductor = e.model.conductors[c];
  const ConductorKind& kind = e.model.conductor_kinds[conductor.kind];
  if (wanted == Says::grounding && is_bare(kind)) return Evaluation::value(1);
  if (conductor.identification.empty()) return lacks_color(e, c);
  const Table* const t = e.law.table("conductor-color");
  const Parameter* const throughout = e.law.parameter("identified-throughout");
  if (t == nullptr) return e.lacks_law("conductor-color");
  if (throughout == nullptr || !throughout->is_word) return e.lacks_law("identified-throughout");
  const Colored color = colored(*t, conductor.identification);
  const auto unknown = [&] {
    return lacks_color(
        e, c,
        fmt::format(FMT_COMPILE("the ruleset in force does not know the colour \"{}\"; of a marking at "
                                "its ends write: black marked white"),
                    conductor.identification));
  };
  e.used(color.cite);
  if (!color.known()) return unknown();
  if (wanted == Says::ungrounded) {
    // A cable may have a white conductor that is marked as an ungrounded one.
    const bool remade = conductor.of_cable != 0 && color.marked && color.mark == Says::ungrounded;
    const bool own = color.base == Says::ungrounded && (!color.marked || color.mark == Says::ungrounded);
    return Evaluation::value(own || remade ? 1 : 0, color.cite);
  }
  if (color.base == wanted && (!color.marked || color.mark == wanted))
    return Evaluation::value(1, color.cite);
  if (!color.marked || color.mark != wanted) return Evaluation::value(0, color.cite);
  // Marked at its ends: only large conductors may be.
  if (!by_gauge(kind.size)) {
    return e.lacks({SubjectKind::conductor, c}, "size", "a size such as 12 AWG", marking, {},
                   conductor.source);
  }
  e.used(throughout->cite);
  const bool large = kind.size > term_spelt<ConductorSize>(throughout->text);
  e.note(FMT_COMPILE("conductor {}: {}, marked at its ends; conductors larger than {} may be so ({})"),
         conductor.id, name_of(kind.size), throughout->text, e.cited(throughout->cite));
  return Evaluation::value(large ? 1 : 0, throughout->cite);
}

/// Asks `of` about the conductors of a circuit that `which` names: how many answer 0.
template <class Which, class Of>
Value failing(Evaluation& e, Subject s, Which which, Of of) {
  const Circuit& circuit = e.model.circuits[s.index];
  std::int64_t count = 0;
  MissingId missing = 0;
  Value worst = Evaluation::value(0);
  for (const Index c : told_by_id(e, e.model.conductors, circuit.conductors)) {
    const Conductor& conductor = e.model.conductors[c];
    if (e.model.conductor_kinds[conductor.kind].cable) continue;
    if (conductor.role == Role::unstated) {
      missing = e.missing.both(
          missing, e.lacks({SubjectKind::conductor, c}, "role",
                           "what the conductor is for, such as ungrounded", designer, {}, conductor.source)
                       .missing);
      continue;
    }
    if (!which(conductor.role)) continue;
    const Value one = of(c);
    missing = e.missing.both(missing, one.missing);
    if (!one || one.count != 0) continue;
    e.note(
        FMT_COMPILE("conductor {}: {} {}, {}"), conductor.id, name_of(conductor.role),
        name_of(e.model.conductor_kinds[conductor.kind].size),
        conductor.identification.empty() ? std::string_view("no colour stated") : conductor.identification);
    if (count == 0 || id_before(conductor.id, e.model.conductors[worst.place.index].id)) {
      worst.place = {SubjectKind::conductor, c};
      worst.cite = one.cite;
    }
    count += conductor.count;
  }
  if (count == 0 && missing != 0) return Evaluation::lacks(missing);
  worst.count = number(count).count();
  return worst;
}

/// How many conductors of a circuit `which` names.
template <class Which>
Value count_of(Evaluation& e, Subject s, Which which) {
  const Circuit& circuit = e.model.circuits[s.index];
  std::int64_t count = 0;
  MissingId missing = 0;
  for (Index c = circuit.conductors.first; c < circuit.conductors.end(); ++c) {
    const Conductor& conductor = e.model.conductors[c];
    if (e.model.conductor_kinds[conductor.kind].cable) continue;
    if (conductor.role == Role::unstated) {
      missing = e.missing.both(missing, lacks_role(e, c).missing);
    }
    if (which(conductor.role)) count += conductor.count;
  }
  if (count == 0 && missing != 0) return Evaluation::lacks(missing);
  return Evaluation::value(number(count).count());
}

bool is_grounded(Role role) { return role == Role::grounded; }
bool carries(Role role) { return is_ungrounded(role) || is_grounded(role); }

}  // namespace

namespace compute {

Value grounded_conductors(Evaluation& e, Subject s) { return count_of(e, s, is_grounded); }
Value ungrounded_or_switched(Evaluation& e, Subject s) { return count_of(e, s, is_ungrounded); }
Value wires_to_ground(Evaluation& e, Subject s) { return count_of(e, s, is_grounding); }

Value misidentified_grounded(Evaluation& e, Subject s) {
  return failing(e, s, is_grounded, [&](Index c) { return identified(e, c, Says::grounded); });
}

Value misidentified_grounding(Evaluation& e, Subject s) {
  return failing(e, s, is_grounding, [&](Index c) { return identified(e, c, Says::grounding); });
}

Value misidentified_ungrounded(Evaluation& e, Subject s) {
  return failing(e, s, is_ungrounded, [&](Index c) { return identified(e, c, Says::ungrounded); });
}

Value shared_colors(Evaluation& e, Subject s) {
  if (e.model.circuits[s.index].kind == CircuitKind::other) return Evaluation::value(0);
  const Systems& all = systems(e);
  Value shared = Evaluation::value(0);
  if (all.several) {
    shared = failing(e, s, is_ungrounded, [&](Index c) {
      const auto at = all.of_color.find(plain(e.model.conductors[c].identification));
      return Evaluation::value(at != all.of_color.end() && at->second == several_voltages ? 0 : 1);
    });
  }
  const bool open = shared && shared.count == 0 && all.missing != 0;
  if (!open) return shared;
  if (e.model.circuits[s.index].to_ground.known()) return Evaluation::lacks(all.missing);
  return Evaluation::lacks(e.missing.both(all.missing, lacks_voltage(e, s.index).missing));
}

Value high_leg_unmarked(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  if (circuit.kind == CircuitKind::other) return Evaluation::value(0);
  if (!circuit.to_ground.known() && !has_voltage_of_high_leg(e, circuit)) return Evaluation::value(0);
  const bool perhaps = !circuit.to_ground.known() || may_be_high(e, circuit);
  if (!perhaps && voltage_of_system(e, circuit) == (*circuit.to_ground).count()) return Evaluation::value(0);
  const Parameter* const color = e.law.parameter("high-leg-color");
  if (color == nullptr || !color->is_word) return Evaluation::value(0);
  e.used(color->cite);
  MissingId missing = 0;
  bool any = false;
  for (Index c = circuit.conductors.first; c < circuit.conductors.end(); ++c) {
    const Conductor& conductor = e.model.conductors[c];
    if (e.model.conductor_kinds[conductor.kind].cable) continue;
    if (conductor.role == Role::unstated) missing = e.missing.both(missing, lacks_role(e, c).missing);
    if (!is_ungrounded(conductor.role)) continue;
    any = true;
    if (conductor.identification.empty()) missing = e.missing.both(missing, lacks_color(e, c).missing);
    if (plain(conductor.identification).find(color->text) != std::string::npos) return Evaluation::value(0);
  }
  if (missing != 0) return Evaluation::lacks(missing);
  if (!any || attested(e, Attested::high_leg_marked, circuit.id)) return Evaluation::value(0);
  if (!circuit.to_ground.known()) return lacks_voltage(e, s.index);
  if (perhaps) {
    return e.lacks(s, "voltage", "a voltage such as 240V", designer,
                   "one leg of a system may have more to ground than the others");
  }
  e.note(FMT_COMPILE("one leg has {} to ground and the others less: it is to be {} ({})"),
         text_of(show(*circuit.to_ground, Unit::volt)), color->text, e.cited(color->cite));
  const Value unmarked = Evaluation::value(number(1).count(), color->cite);
  e.detail(unmarked, unless_attested(Attested::high_leg_marked, circuit.id));
  return unmarked;
}

Value undersized_conductors(Evaluation& e, Subject s) {
  const Table* const t = e.law.table("least-conductor");
  if (t == nullptr) return e.lacks_law("least-conductor");
  const std::uint32_t size = t->column("size");
  ConductorSize largest{};
  for (std::uint32_t row = 0; row < t->row_count(); ++row) {
    largest = std::max(largest, term_spelt<ConductorSize>(t->text(row, size)));
  }
  return failing(e, s, carries, [&](Index c) {
    const Conductor& conductor = e.model.conductors[c];
    const ConductorKind& kind = e.model.conductor_kinds[conductor.kind];
    const Subject at{SubjectKind::conductor, c};
    if (!by_gauge(kind.size)) {
      return e.lacks(
          at, "size", "a size such as 12 AWG", marking,
          kind.size == ConductorSize::unstated ? "" : "the ruleset in force gives sizes by gauge only",
          conductor.source);
    }
    if (kind.material == ConductorMaterial::unstated) {
      if (kind.size >= largest && largest != ConductorSize::unstated) return Evaluation::value(1);
      return e.lacks(at, "material", "copper, aluminum or copper-clad-aluminum", marking, {},
                     conductor.source);
    }
    const std::uint32_t row = t->find({name_of(kind.material)});
    if (row == Table::none) return e.lacks_law("least-conductor");
    const ConductorSize least = term_spelt<ConductorSize>(t->text(row, size));
    if (kind.size < least) {
      const Value thin = fixture_wire(e, s.index, c);
      if (!thin || thin.count != 0) return thin;
      e.used(t->cite(row));
      e.note(FMT_COMPILE("{} conductors of circuits: {} at least ({})"), name_of(kind.material),
             name_of(least), e.cited(t->cite(row)));
    }
    return Evaluation::value(kind.size >= least ? 1 : 0, t->cite(row));
  });
}

}  // namespace compute
}  // namespace raceward::figure
