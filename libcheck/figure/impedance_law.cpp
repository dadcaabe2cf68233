// Impedance of conductors: by metal and size, and by the material of the raceway around them.
//
// Method: the law's table for alternating current. Sizes smaller than any of it have the resistance of the
// table for direct current, the larger of solid and stranded, and no reactance that matters.
#include "figure/impedance_law.hpp"

#include <algorithm>

#include "figure/conductor.hpp"
#include "figure/root.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

Conduit conduit_spelt(std::string_view word) {
  if (word == "PVC") return Conduit::nonmetallic;
  if (word == "aluminum") return Conduit::aluminum;
  if (word == "steel") return Conduit::steel;
  return Conduit::unsaid;
}

constexpr wide_int one = number(1).count();

}  // namespace

std::int64_t Impedance::most() const {
  return reactance == 0 ? resistance
                        : root_at_least(wide_int{resistance} * resistance + wide_int{reactance} * reactance);
}

std::int64_t Impedance::at(Number power_factor) const {
  const wide_int cosine = power_factor.count();
  if (cosine >= one) return resistance;
  const wide_int sine = root_at_least(one * one - cosine * cosine);
  return detail::saturate((resistance * cosine + reactance * sine + one / 2) / one);
}

void ImpedanceLaw::read_alternating(const Law& law) {
  const Table* const t = law.table("conductor-impedance");
  if (t == nullptr) return;
  const std::uint32_t quantity = t->column("quantity"), metal = t->column("metal"), size = t->column("size"),
                      conduit = t->column("conduit"), ohms = t->column("ohms", Dimension::resistance);
  for (std::uint32_t row = 0; row < t->row_count(); ++row) {
    const auto of_size = term_spelt<ConductorSize>(t->key(row, size));
    const auto of_metal = term_spelt<ConductorMaterial>(t->key(row, metal));
    const Conduit in = conduit_spelt(t->key(row, conduit));
    const std::int64_t count = t->count(row, ohms);
    if (of_size == ConductorSize::unstated || of_metal == ConductorMaterial::unstated ||
        in == Conduit::unsaid || count == Table::blank) {
      continue;
    }
    Impedance& one_row = rows_[place(metal_of(of_metal), of_size, in)];
    const std::string_view what = t->key(row, quantity);
    if (what == "reactance") one_row.reactance = count;
    if (what == "effective") one_row.effective = count;
    if (what != "resistance") continue;
    one_row.resistance = count;
    one_row.cite = t->cite(row);
    one_row.known = true;
  }
}

void ImpedanceLaw::read_direct(const Law& law) {
  const Table* const t = law.table("conductor-resistance");
  if (t == nullptr) return;
  const std::uint32_t size = t->column("size");
  const std::uint32_t columns[] = {t->column("copper", Dimension::resistance),
                                   t->column("aluminum", Dimension::resistance)};
  for (const Metal metal : {Metal::copper, Metal::aluminum}) {
    ConductorSize smallest{};
    for (std::size_t s = terms_with_unstated<ConductorSize>(); s-- > 1;) {
      const auto of_size = static_cast<ConductorSize>(s);
      if (rows_[place(metal, of_size, Conduit::steel)].known) smallest = of_size;
    }
    for (std::uint32_t row = 0; row < t->row_count(); ++row) {
      const auto of_size = term_spelt<ConductorSize>(t->key(row, size));
      const std::int64_t count = t->count(row, columns[static_cast<int>(metal)]);
      if (of_size == ConductorSize::unstated || of_size >= smallest || count == Table::blank) continue;
      for (const Conduit in : {Conduit::unsaid, Conduit::nonmetallic, Conduit::aluminum, Conduit::steel}) {
        Impedance& direct = rows_[place(metal, of_size, in)];
        if (count > direct.resistance) direct = {count, 0, count, t->cite(row), true};
      }
    }
  }
}

void ImpedanceLaw::read(const Law& law) {
  rows_.assign(terms_with_unstated<ConductorSize>() * conduit_count * 2, {});
  conduits_.assign(terms_with_unstated<RacewayType>(), Conduit::unsaid);
  read_alternating(law);
  read_direct(law);
  const Table* const t = law.table("raceway-conduit");
  if (t == nullptr) return;
  const std::uint32_t type = t->column("raceway-type"), conduit = t->column("conduit");
  for (std::uint32_t row = 0; row < t->row_count(); ++row) {
    conduits_[static_cast<std::size_t>(term_spelt<RacewayType>(t->key(row, type)))] =
        conduit_spelt(t->text(row, conduit));
  }
  conduits_[0] = Conduit::unsaid;
}

const ImpedanceLaw& impedance_law(Evaluation& e) { return e.of_law<ImpedanceLaw>(); }

ConductorImpedance impedance_of(Evaluation& e, Index conductor, Conduit conduit) {
  const Conductor& c = e.model.conductors[conductor];
  const ConductorKind& kind = e.model.conductor_kinds[c.kind];
  const Subject at{SubjectKind::conductor, conductor};
  ConductorImpedance out;
  if (!by_gauge(kind.size)) {
    out.missing =
        e.lacks(at, "size", "a size such as 12 AWG", marking,
                kind.size == ConductorSize::unstated ? "" : "the ruleset in force gives sizes by gauge only",
                c.source)
            .missing;
  }
  if (kind.material == ConductorMaterial::unstated) {
    out.missing = e.missing.both(
        out.missing,
        e.lacks(at, "material", "copper, aluminum or copper-clad-aluminum", marking, {}, c.source).missing);
  }
  if (out.missing != 0) return out;
  out.value = impedance_law(e).of(metal_of(kind.material), kind.size, conduit);
  if (out.value.known) return out;
  out.missing = e.lacks(Subject{}, "conductor-impedance", "a row for this conductor", ruleset_author,
                        fmt::format(FMT_COMPILE("the ruleset in force gives no impedance for {} {}"),
                                    name_of(kind.material), name_of(kind.size)))
                    .missing;
  return out;
}

}  // namespace raceward::figure
