// What the law says of raceways and fittings as equipment grounding conductors, looked up once a check.
#pragma once

#include <cstdint>
#include <vector>

#include "figure/figure.hpp"

namespace raceward::figure {

/// Whether a raceway may carry fault current.
struct EgcRaceway {
  enum class Use : std::uint8_t { unsaid, no, yes, flexible, ask_size } use{};
  std::int64_t rating = Table::blank;  ///< largest overcurrent device, in steps of current
  std::int64_t path = Table::blank;    ///< all flexible raceways of a path together, in steps of length
  CitationId cite = no_citation;
};

/// Whether a fitting carries it on.
struct EgcFitting {
  enum class Suited : std::uint8_t { unsaid, no, yes } suited{};
  CitationId cite = no_citation;
};

class EgcLaw {
 public:
  void read(const Law& law);

  [[nodiscard]] const EgcRaceway& raceway(installation::RacewayType type,
                                          installation::TradeSize size) const {
    return raceways_[static_cast<std::size_t>(type) * sizes_ + static_cast<std::size_t>(size)];
  }
  [[nodiscard]] const EgcFitting& fitting(installation::RacewayType type, installation::Fitting f) const {
    return fittings_[static_cast<std::size_t>(type) * kinds_ + static_cast<std::size_t>(f)];
  }
  /// The least trade size in a path beside which a raceway of this type and size keeps its rating.
  [[nodiscard]] installation::TradeSize beside(installation::RacewayType type,
                                               installation::TradeSize size) const;
  /// Flexible raceways that a core of stainless steel keeps from carrying it; nothing where the law has none.
  [[nodiscard]] const Parameter* stainless() const { return stainless_; }
  /// Voltage to ground above which ringed knockouts need a jumper; nothing where the law does not say.
  [[nodiscard]] const Parameter* ringed() const { return ringed_; }

 private:
  std::size_t sizes_ = 0, kinds_ = 0;
  std::vector<EgcRaceway> raceways_;  // by type, then size
  std::vector<EgcFitting> fittings_;  // by type, then fitting
  const Parameter *ringed_ = nullptr, *stainless_ = nullptr;
};

const EgcLaw& egc_law(Evaluation& e);

}  // namespace raceward::figure
