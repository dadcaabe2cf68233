// How deep a raceway lies, and how deep it must.
//
// Method: the law's depth for the raceway's type and for what is above it. A shallower row for circuits of a
// dwelling counts where all that unlocks it is stated of every circuit in the raceway; it is asked for only
// where it would decide. docs/figures/raceway-place.md tells it in words.
#include <algorithm>

#include "figure/facts.hpp"
#include "figure/guards.hpp"
#include "figure/surroundings.hpp"
#include "figure/type_rows.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

struct DepthRows : TypeRows {
  void read(const Law& law) { read_by<Beneath>(law, "burial-depth"); }
};

bool has_rows(const DepthRows& rows, RacewayType type) {
  for (std::size_t under = 1; under < rows.seconds; ++under)
    if (rows.of(type, under) != Table::none) return true;
  return false;
}

/// Circuits with a device that protects people, whatever else of the circuit it protects.
struct ProtectedCircuits {
  std::vector<bool> any;
  void read(const Model& model) {
    any.assign(model.circuits.size(), false);
    for (const Device& d : model.devices)
      for (Index c = d.circuits.first; d.protection == Protection::class_a && c < d.circuits.end(); ++c)
        any[model.device_circuits[c]] = true;
  }
};

/// Whether every circuit in the raceway is a small one of a dwelling, protected for people.
class SmallDwellingCircuits {
 public:
  SmallDwellingCircuits(Evaluation& e, Subject s)
      : e_(e),
        s_(s),
        voltage_(e.law.parameter("residential-burial-voltage", Dimension::voltage)),
        rating_(e.law.parameter("residential-burial-rating", Dimension::current)) {}

  /// 1 or 0, or what would tell.
  Value judge() {
    if (voltage_ == nullptr) return e_.lacks_law("residential-burial-voltage");
    if (rating_ == nullptr) return e_.lacks_law("residential-burial-rating");
    const Model& m = e_.model;
    if (m.occupancy == Occupancy::unstated)
      lack(e_.lacks({SubjectKind::installation, 0}, "occupancy", "dwelling, commercial or the like", designer,
                    {}, m.source));
    if (m.occupancy > Occupancy::dwelling) fails_ = true;
    const Index ambiguity = e_.in.routes.block_ambiguity[e_.in.graph.block[s_.index]];
    if (ambiguity != none) {
      const Index stop = e_.in.routes.ambiguities[ambiguity].stop;
      lack(e_.lacks({SubjectKind::circuit, m.runs[e_.in.routes.ambiguities[ambiguity].run].circuit}, "via",
                    "the raceways that the run takes", designer,
                    "its conductors may lie in the buried raceway or not", m.stops[stop].source));
    }
    const auto runs = e_.in.routes.runs_in(s_.index);
    if (runs.empty() && ambiguity == none) fails_ = true;
    for (const Index run : runs) circuit(m.runs[run].circuit);
    if (fails_) return Evaluation::value(0);
    return missing_ != 0 ? Evaluation::lacks(missing_) : answer(true);
  }

 private:
  void lack(const Value& v) { missing_ = e_.missing.both(missing_, v.missing); }

  void circuit(Index index) {
    const Circuit& c = e_.model.circuits[index];
    const Subject subject{SubjectKind::circuit, index};
    const auto ask = [&](std::string_view name, std::string_view expects) {
      lack(e_.lacks(subject, name, expects, designer, {}, c.source));
    };
    if (c.kind == CircuitKind::unstated) return ask("kind", "branch or feeder");
    if (c.kind != CircuitKind::branch) {
      fails_ = true;
      return;
    }
    if (!c.voltage.known())
      ask("voltage", "a voltage such as 120V");
    else if ((*c.voltage).count() > voltage_->value.count)
      fails_ = true;
    if (c.overcurrent_device == none) return ask("protected-by", "the id of its overcurrent device");
    const OvercurrentDevice& d = e_.model.overcurrent_devices[c.overcurrent_device];
    const Subject device{SubjectKind::overcurrent_device, c.overcurrent_device};
    if (!d.rating.known())
      lack(e_.lacks(device, "rating", "a rating such as 20A", designer, {}, d.source));
    else if ((*d.rating).count() > rating_->value.count)
      fails_ = true;
    const Value guarded = circuit_guarded(e_, Guard::ground_fault, index);
    if (is_yes(guarded)) return;
    auto& protects = e_.once<ProtectedCircuits>();
    if (protects.any.empty()) protects.read(e_.model);
    if (!guarded) {
      lack(guarded);
    } else if (protects.any[index]) {
      lack(e_.lacks(device, "ground-fault",
                    "class-a where the circuit is protected before it goes into the earth", designer,
                    "a device on the circuit protects people, and not known is whether it protects the "
                    "buried part",
                    d.source));
    } else {
      fails_ = true;
    }
  }

  Evaluation& e_;
  Subject s_;
  const Parameter *voltage_, *rating_;
  MissingId missing_ = 0;
  bool fails_ = false;
};

Value lacks_depth(Evaluation& e, Subject s) {
  return e.lacks(s, "burial-depth", "a length such as 18in", installer_tape);
}

}  // namespace

Value burial_asked(Evaluation& e, Subject s) {
  const Raceway& r = e.model.raceways[s.index];
  const bool asked =
      is_buried(e, r) && (r.type == RacewayType::unstated || has_rows(e.of_law<DepthRows>(), r.type));
  if (const MissingId open = earth_open(e, s.index, true); open != 0) return Evaluation::lacks(open);
  const MissingId wrong = asked || r.in_earth == YesNo::no ? dry_burial(e, s.index) : 0;
  return wrong != 0 ? Evaluation::lacks(wrong) : answer(asked);
}

Value burial_depth(Evaluation& e, Subject s) {
  return given(e, s, e.model.raceways[s.index].burial_depth, Unit::inch, "burial-depth",
               "a length such as 18in", installer_tape);
}

Value burial_depth_needed(Evaluation& e, Subject s) {
  const Raceway& r = e.model.raceways[s.index];
  if (r.type == RacewayType::unstated) return lacks_type(e, s);
  const DepthRows& rows = e.of_law<DepthRows>();
  if (!has_rows(rows, r.type)) return lacks_row(e, s, "burial-depth", "burial", r.type);
  const std::uint32_t column = rows.table->column("depth", Dimension::length);
  const std::uint32_t small = rows.table->column("dwelling-circuit", Dimension::length);
  if (r.beneath == Beneath::unstated) {
    // As deep as the deepest row asks: then it does not matter what is above.
    std::uint32_t deepest = Table::none;
    for (std::size_t under = 1; under < rows.seconds; ++under) {
      const std::uint32_t row = rows.of(r.type, under);
      if (row != Table::none &&
          (deepest == Table::none || rows.table->count(row, column) > rows.table->count(deepest, column)))
        deepest = row;
    }
    const std::int64_t most = rows.table->count(deepest, column);
    if (!r.burial_depth.known() || (*r.burial_depth).count() < most)
      return e.lacks(s, "beneath", "earth, concrete, slab, building, driveway or street", installer);
    e.used(rows.table->cite(deepest));
    return Evaluation::value(most, rows.table->cite(deepest));
  }
  const std::uint32_t row = rows.of(r.type, static_cast<std::size_t>(r.beneath));
  if (row == Table::none) return lacks_row(e, s, "burial-depth", name_of(r.beneath), r.type);
  const CitationId cite = rows.table->cite(row);
  const std::int64_t general = rows.table->count(row, column), shallow = rows.table->count(row, small);
  if (general == Table::blank) return e.lacks_law("burial-depth");
  e.used(cite);
  std::int64_t needed = general;
  std::string_view why;
  if (shallow != Table::blank && shallow < general) {
    if (!r.burial_depth.known()) return lacks_depth(e, s);
    const std::int64_t depth = (*r.burial_depth).count();
    if (depth < general && depth >= shallow) {
      const Value qualifies = SmallDwellingCircuits(e, s).judge();
      if (!qualifies) return qualifies;
      if (is_yes(qualifies)) {
        needed = shallow;
        why = ", for small circuits of a dwelling that are protected for people";
      }
    }
  }
  if (e.noting())
    e.note(FMT_COMPILE("{} beneath {}: at least {} deep{} ({})"), name_of(r.type), name_of(r.beneath),
           e.text_of({needed, Unit::inch}), why, e.cited(cite));
  return Evaluation::value(needed, cite);
}

}  // namespace raceward::figure::compute
