// What the law says of the impedance of conductors, looked up once a check.
#pragma once

#include <cstdint>
#include <vector>

#include "figure/figure.hpp"
#include "figure/grounding_size_law.hpp"

namespace raceward::figure {

/// Material of the raceway around conductors, as tables of impedance tell it apart.
enum class Conduit : std::uint8_t { unsaid, nonmetallic, aluminum, steel };
inline constexpr std::size_t conduit_count = 4;  // not law: kinds of Conduit

/// Impedances of tables are for this length.
inline constexpr Length table_length = feet(1000);  // not law: the base of the tables

/// Of one conductor in steps of resistance for table_length.
struct Impedance {
  std::int64_t resistance = 0, reactance = 0;
  std::int64_t effective = 0;  ///< at the law's effective-power-factor
  CitationId cite = no_citation;
  bool known = false;

  /// Whatever the power factor, no more than this.
  [[nodiscard]] std::int64_t most() const;
  /// At a power factor.
  [[nodiscard]] std::int64_t at(Number power_factor) const;
};

class ImpedanceLaw {
 public:
  void read(const Law& law);

  [[nodiscard]] const Impedance& of(Metal metal, installation::ConductorSize size, Conduit conduit) const {
    return rows_[place(metal, size, conduit)];
  }
  [[nodiscard]] Conduit conduit(const installation::Raceway& raceway) const {
    const Conduit by_type = conduits_[static_cast<std::size_t>(raceway.type)];
    const bool aluminum = raceway.material == installation::RacewayMetal::aluminum;
    return by_type == Conduit::steel && aluminum ? Conduit::aluminum : by_type;
  }

 private:
  [[nodiscard]] static std::size_t place(Metal metal, installation::ConductorSize size, Conduit conduit) {
    return (static_cast<std::size_t>(size) * conduit_count + static_cast<std::size_t>(conduit)) * 2 +
           static_cast<std::size_t>(metal);
  }
  void read_alternating(const Law& law);
  void read_direct(const Law& law);

  std::vector<Impedance> rows_;
  std::vector<Conduit> conduits_;  // by raceway type
};
const ImpedanceLaw& impedance_law(Evaluation& e);

/// Of a conductor in a raceway, or what is missing to tell.
struct ConductorImpedance {
  Impedance value;
  MissingId missing = 0;
};
ConductorImpedance impedance_of(Evaluation& e, installation::Index conductor, Conduit conduit);

/// Impedance of so long a conductor, to the nearest step.
constexpr std::int64_t over_length(std::int64_t for_table_length, std::int64_t length) {
  const wide_int whole = wide_int{for_table_length} * length;
  return detail::saturate((whole + table_length.count() / 2) / table_length.count());
}

}  // namespace raceward::figure
