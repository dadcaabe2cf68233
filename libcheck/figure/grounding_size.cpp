// Sizes of wire-type equipment grounding conductors.
//
// Method: the law's size for the rating of the circuit's overcurrent device and the conductor's material;
// where the ungrounded conductors are smaller than that, their size. The conductor that falls short most
// decides.
#include <algorithm>

#include "figure/figure.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

constexpr std::string_view a_size = "a size such as 12 AWG";
constexpr std::string_view a_material = "copper, aluminum or copper-clad-aluminum";

/// A row of the law: sizes for overcurrent devices up to a rating.
struct SizeRow {
  std::int64_t rating = 0;
  ConductorSize copper{}, aluminum{};
  CitationId cite = no_citation;
};

struct SizeLaw {
  bool ready = false;
  std::vector<SizeRow> rows;  // by rising rating
};

const SizeLaw& size_law(Evaluation& e) {
  auto& law = e.once<SizeLaw>();
  if (law.ready) return law;
  law.ready = true;
  if (const Table* t = e.law.table("egc-size")) {
    const std::uint32_t rating = t->column("rating"), copper = t->column("copper"),
                        aluminum = t->column("aluminum");
    for (std::uint32_t row = 0; row < t->row_count(); ++row) {
      if (t->count(row, rating) == Table::blank) continue;
      law.rows.push_back({t->count(row, rating), term_spelt<ConductorSize>(t->text(row, copper)),
                          term_spelt<ConductorSize>(t->text(row, aluminum)), t->cite(row)});
    }
  }
  std::sort(law.rows.begin(), law.rows.end(),
            [](const SizeRow& a, const SizeRow& b) { return a.rating < b.rating; });
  return law;
}

const SizeRow* row_for(const SizeLaw& law, std::int64_t rating) {
  const auto at = std::lower_bound(law.rows.begin(), law.rows.end(), rating,
                                   [](const SizeRow& row, std::int64_t r) { return row.rating < r; });
  return at == law.rows.end() ? nullptr : &*at;
}

const ConductorKind& kind_of(const Model& model, Index conductor) {
  return model.conductor_kinds[model.conductors[conductor].kind];
}

bool is_wire(const Model& model, Index conductor) {
  return model.conductors[conductor].role == Role::equipment_grounding && !kind_of(model, conductor).cable;
}

/// Sizes in millimetres squared have no place in a list by gauge.
bool by_gauge(ConductorSize size) { return size != ConductorSize::unstated && size < ConductorSize::mm1; }

/// The largest ungrounded conductor of this material: no grounding conductor need be larger.
struct Largest {
  ConductorSize size{};
  Index of = none;
  MissingId missing = 0;
  std::uint32_t count = 0;  ///< ungrounded conductors of any material
};

Largest largest_ungrounded(Evaluation& e, const Circuit& circuit, ConductorMaterial material) {
  Largest out;
  for (Index c = circuit.conductors.first; c < circuit.conductors.end(); ++c) {
    const Conductor& conductor = e.model.conductors[c];
    const ConductorKind& kind = kind_of(e.model, c);
    if (conductor.role != Role::ungrounded || kind.cable) continue;
    out.count += conductor.count;
    const Subject at{SubjectKind::conductor, c};
    if (kind.size == ConductorSize::unstated) {
      out.missing =
          e.missing.both(out.missing, e.lacks(at, "size", a_size, marking, {}, conductor.source).missing);
    } else if (kind.material == ConductorMaterial::unstated) {
      out.missing = e.missing.both(
          out.missing, e.lacks(at, "material", a_material, marking, {}, conductor.source).missing);
    } else if (kind.material == material && by_gauge(kind.size) && kind.size > out.size) {
      out.size = kind.size;
      out.of = c;
    }
  }
  return out;
}

/// How many sizes one conductor falls short, or what is missing to tell.
Value shortfall_of(Evaluation& e, const Circuit& circuit, Index c, const SizeRow& row) {
  const Conductor& conductor = e.model.conductors[c];
  const ConductorKind& kind = kind_of(e.model, c);
  const Subject at{SubjectKind::conductor, c};
  if (kind.size == ConductorSize::unstated) return e.lacks(at, "size", a_size, marking, {}, conductor.source);
  if (!by_gauge(kind.size)) {
    return e.lacks(at, "size", a_size, marking, "the ruleset in force gives sizes by gauge only",
                   conductor.source);
  }
  if (kind.material == ConductorMaterial::unstated) {
    if (kind.size >= std::max(row.copper, row.aluminum)) return Evaluation::value(0, row.cite);
    return e.lacks(at, "material", a_material, marking, {}, conductor.source);
  }
  ConductorSize needed = kind.material == ConductorMaterial::copper ? row.copper : row.aluminum;
  if (needed == ConductorSize::unstated) return e.lacks_law("egc-size");
  e.note("{} equipment grounding conductor for an overcurrent device of up to {}: {}", name_of(kind.material),
         text_of({row.rating, Unit::ampere}), name_of(needed));
  if (kind.size < needed) {
    const Largest cap = largest_ungrounded(e, circuit, kind.material);
    // More ungrounded conductors than phases lie side by side: then none of them bounds it.
    const bool bounds = cap.count <= 3;  // not law: phases
    if (bounds && cap.missing != 0) return Evaluation::lacks(cap.missing);
    if (bounds && cap.of != none && cap.size < needed) {
      needed = cap.size;
      e.note("no larger than the largest ungrounded conductor: {}", name_of(needed));
    }
  }
  const int short_by = std::max(0, static_cast<int>(needed) - static_cast<int>(kind.size));
  e.note(
      "conductor {}: {}{}", conductor.id, name_of(kind.size),
      short_by == 0 ? std::string() : fmt::format("; in the order of standard sizes {} too low", short_by));
  Value value = Evaluation::value(number(short_by).count(), row.cite);
  value.place = at;
  return value;
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
  const SizeRow* const row = row_for(size_law(e), (*device.rating).count());
  const std::string rating = text_of(show(*device.rating, Unit::ampere));
  if (row == nullptr) {
    return e.lacks(Subject{}, "egc-size", "a row for this rating", ruleset_author,
                   fmt::format("the ruleset in force gives no size for an overcurrent device of {}", rating));
  }
  e.used(row->cite);
  e.note("overcurrent device {}: {}", device.id, rating);
  Value worst = Evaluation::value(0, row->cite);
  MissingId missing = 0;
  for (Index c = circuit.conductors.first; c < circuit.conductors.end(); ++c) {
    if (!is_wire(e.model, c)) continue;
    const Value one = shortfall_of(e, circuit, c, *row);
    if (!one) missing = e.missing.both(missing, one.missing);
    if (one && one.count > worst.count) worst = one;
  }
  // One that is known to fall short decides, whatever the others are.
  if (worst.count == 0 && missing != 0) return Evaluation::lacks(missing);
  return worst;
}

}  // namespace raceward::figure::compute
