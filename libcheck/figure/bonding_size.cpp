// Sizes of wire-type bonding conductors where the code goes by two columns: the rating of the overcurrent
// device, and the ampacity of the ungrounded conductors where these were raised.
//
// Method: the law's size for the rating. Where ungrounded conductors are larger than they need be, its size
// for their ampacity as well. The conductor that falls short most decides. docs/figures/grounding.md tells it
// in words.
#include <algorithm>

#include "figure/ampacity_law.hpp"
#include "figure/circuit_use.hpp"
#include "figure/current_carrying.hpp"
#include "figure/size_short.hpp"
#include "figure/told.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

struct BondingSizes {
  std::vector<SizeRow> rows;

  void read(const Law& law) { rows = size_rows(law, "bonding-size"); }

  [[nodiscard]] const SizeRow* of(std::int64_t current) const {
    const auto at = std::lower_bound(rows.begin(), rows.end(), current,
                                     [](const SizeRow& row, std::int64_t c) { return row.rating < c; });
    return at == rows.end() ? nullptr : &*at;
  }
};

bool is_bond(const Conductor& c, const ConductorKind& kind) {
  return (c.role == Role::equipment_grounding || c.role == Role::bonding) && !kind.cable;
}

/// What the ungrounded conductors of a circuit ask of its bonding conductor.
struct Raised {
  std::int64_t ampacity = 0;  ///< of the largest of them
  YesNo raised = YesNo::no;   ///< unstated: that is not told
  MissingId missing = 0;
};

Raised raised_of(Evaluation& e, const Circuit& circuit, std::int64_t rating) {
  Raised out;
  const Parameter* const at = e.law.parameter("bonding-ampacity-temperature", Dimension::temperature);
  if (at == nullptr) {
    out.missing = e.lacks_law("bonding-ampacity-temperature").missing;
    return out;
  }
  std::uint32_t count = 0;
  for (Index c = circuit.conductors.first; c < circuit.conductors.end(); ++c) {
    const Conductor& conductor = e.model.conductors[c];
    const ConductorKind& kind = e.model.conductor_kinds[conductor.kind];
    if (conductor.role != Role::ungrounded || kind.cable) continue;
    count += conductor.count;
    const Subject subject{SubjectKind::conductor, c};
    const auto lack = [&](std::string_view name, std::string_view expects) {
      out.missing =
          e.missing.both(out.missing, e.lacks(subject, name, expects, marking, {}, conductor.source).missing);
    };
    if (!by_gauge(kind.size)) {
      lack("size", "a size such as 12 AWG");
      continue;
    }
    if (kind.material == ConductorMaterial::unstated) {
      lack("material", "copper, aluminum or copper-clad-aluminum");
      continue;
    }
    const Metal metal = metal_of(kind.material);
    const auto found = ampacity_law(e).ampacity(metal, kind.size, at->value.count);
    if (!found) {
      out.missing = e.missing.both(out.missing, e.lacks_law("ampacity").missing);
      continue;
    }
    if (found->count > out.ampacity) out.ampacity = found->count;
    if (circuit.least_size != ConductorSize::unstated) {
      if (kind.size > circuit.least_size) out.raised = YesNo::yes;
      continue;
    }
    // Would the size below carry what the overcurrent device lets through? Then it may have been raised.
    const auto below = static_cast<ConductorSize>(static_cast<int>(kind.size) - 1);
    const auto less = below == ConductorSize::unstated
                          ? std::nullopt
                          : ampacity_law(e).ampacity(metal, below, at->value.count);
    if (less && less->count >= rating && out.raised == YesNo::no) out.raised = YesNo::unstated;
  }
  const Subject of{SubjectKind::circuit, static_cast<Index>(&circuit - e.model.circuits.data())};
  if (count == 0 || count > most_phases || circuit.parallel > 1)
    out.missing = e.missing.both(
        out.missing,
        e.lacks(of, "conductor", "its ungrounded conductors, one a phase", designer,
                count == 0 ? "whether they were raised cannot be told without them"
                           : "conductors side by side share the rating, and their raceways each need "
                             "a bonding conductor: that is not judged here")
            .missing);
  return out;
}

}  // namespace

Value bonding_conductor_shortfall(Evaluation& e, Subject s) {
  const Circuit& circuit = e.model.circuits[s.index];
  const Value rating = device_rating_of(e, s.index);
  if (!rating) return rating;
  const BondingSizes& sizes = e.of_law<BondingSizes>();
  const SizeRow* const row = sizes.of(rating.count);
  if (row == nullptr)
    return e.lacks(
        Subject{}, "bonding-size", "a row for this rating", ruleset_author,
        fmt::format(FMT_COMPILE("the ruleset in force gives no size for an overcurrent device of {}"),
                    text_of({rating.count, Unit::ampere})));
  e.used(row->cite);
  const Raised raised = raised_of(e, circuit, rating.count);
  const SizeRow* const grown = sizes.of(std::max(rating.count, raised.ampacity));
  Value worst = Evaluation::value(0, row->cite);
  MissingId missing = 0;
  for (const Index c : told_by_id(e, e.model.conductors, circuit.conductors)) {
    const Conductor& conductor = e.model.conductors[c];
    const ConductorKind& kind = e.model.conductor_kinds[conductor.kind];
    if (!is_bond(conductor, kind)) continue;
    const Subject subject{SubjectKind::conductor, c};
    const auto lack = [&](const Value& one) { missing = e.missing.both(missing, one.missing); };
    if (!by_gauge(kind.size)) {
      lack(e.lacks(subject, "size", "a size such as 12 AWG", marking, {}, conductor.source));
      continue;
    }
    if (kind.material == ConductorMaterial::unstated) {
      lack(e.lacks(subject, "material", "copper, aluminum or copper-clad-aluminum", marking, {},
                   conductor.source));
      continue;
    }
    const Metal metal = metal_of(kind.material);
    const ConductorSize by_rating = row->of(metal);
    if (by_rating == ConductorSize::unstated) {
      lack(e.lacks(subject, "bonding-size", "a size for this metal", ruleset_author,
                   fmt::format(FMT_COMPILE("the ruleset in force gives no size of {} for it"),
                               name_of(kind.material))));
      continue;
    }
    e.note(FMT_COMPILE("{} bonding conductor for an overcurrent device of up to {}: {}"),
           name_of(kind.material), text_of({row->rating, Unit::ampere}), name_of(by_rating));
    ConductorSize needed = by_rating;
    if (kind.size >= by_rating) {
      if (raised.missing != 0) {
        lack(Evaluation::lacks(raised.missing));
        continue;
      }
      const ConductorSize by_ampacity = grown == nullptr ? ConductorSize::unstated : grown->of(metal);
      if (raised.raised != YesNo::no && by_ampacity == ConductorSize::unstated) {
        lack(e.lacks_law("bonding-size"));
        continue;
      }
      if (raised.raised == YesNo::unstated && kind.size < by_ampacity) {
        lack(e.lacks(s, "least-size",
                     "the smallest size that its ungrounded conductors may have, such as 12 AWG", designer,
                     fmt::format(FMT_COMPILE("a smaller size would carry what its overcurrent device lets "
                                             "through; were they raised, it needs {}"),
                                 name_of(by_ampacity)),
                     circuit.source));
        continue;
      }
      if (raised.raised == YesNo::yes) {
        needed = by_ampacity;
        e.used(grown->cite);
        e.note(FMT_COMPILE("its ungrounded conductors were raised and carry {}: {}"),
               text_of({raised.ampacity, Unit::ampere}), name_of(by_ampacity));
      }
    }
    e.note(FMT_COMPILE("conductor {}: {}"), conductor.id, name_of(kind.size));
    const Value one = size_short(e, kind.size, needed, row->cite, subject);
    const bool same = one.count != 0 && one.count == worst.count;
    if (one.count > worst.count || (same && by_id(e, c, worst.place.index))) worst = one;
  }
  // One that is known to fall short decides, whatever the others are.
  if (worst.count == 0 && missing != 0) return Evaluation::lacks(missing);
  return worst;
}

}  // namespace raceward::figure::compute
