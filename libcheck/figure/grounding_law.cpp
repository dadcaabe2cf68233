#include "figure/grounding_law.hpp"

#include <algorithm>

#include "figure/words_of_law.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

EgcRaceway::Use use_spelt(std::string_view word) {
  if (word == "yes") return EgcRaceway::Use::yes;
  if (word == "no") return EgcRaceway::Use::no;
  if (word == "flexible") return EgcRaceway::Use::flexible;
  return EgcRaceway::Use::unsaid;
}

EgcFitting::Suited suited_spelt(std::string_view word) {
  if (word == "yes") return EgcFitting::Suited::yes;
  if (word == "no") return EgcFitting::Suited::no;
  return EgcFitting::Suited::unsaid;
}

}  // namespace

void EgcLaw::read(const Law& law) {
  sizes_ = terms_with_unstated<TradeSize>();
  kinds_ = terms_with_unstated<Fitting>();
  const std::size_t types = terms_with_unstated<RacewayType>();
  raceways_.resize(types * sizes_);
  fittings_.resize(types * kinds_);
  ringed_ = law.parameter("ringed-knockout-voltage", Dimension::voltage);
  stainless_ = law.parameter("egc-not-of-stainless");

  if (const Table* t = law.table("egc-raceway")) {
    const std::uint32_t type = t->column("raceway-type"), size = t->column("trade-size"),
                        use = t->column("use"), rating = t->column("rating", Dimension::current),
                        path = t->column("path-length", Dimension::length);
    for (std::uint32_t row = 0; row < t->row_count(); ++row) {
      const auto of_type = static_cast<std::size_t>(term_spelt<RacewayType>(t->key(row, type)));
      const auto of_size = static_cast<std::size_t>(term_spelt<TradeSize>(t->key(row, size)));
      const bool all = t->key(row, size) == "all";
      if (of_type == 0 || (of_size == 0 && !all)) continue;
      const EgcRaceway made{use_spelt(t->text(row, use)), t->count(row, rating), t->count(row, path),
                            t->cite(row)};
      EgcRaceway* const first = &raceways_[of_type * sizes_];
      if (!all) {
        first[of_size] = made;
        if (first[0].use == EgcRaceway::Use::unsaid) first[0].use = EgcRaceway::Use::ask_size;
        continue;
      }
      for (std::size_t s = 0; s < sizes_; ++s) {
        const bool open =
            first[s].use == EgcRaceway::Use::unsaid || first[s].use == EgcRaceway::Use::ask_size;
        if (open) first[s] = made;
      }
    }
  }
  if (const Table* t = law.table("egc-fitting")) {
    const std::uint32_t type = t->column("raceway-type"), fitting = t->column("fitting"),
                        suited = t->column("suited");
    for (std::uint32_t row = 0; row < t->row_count(); ++row) {
      const auto of_type = static_cast<std::size_t>(term_spelt<RacewayType>(t->key(row, type)));
      const auto of_fitting = static_cast<std::size_t>(term_spelt<Fitting>(t->key(row, fitting)));
      if (of_type == 0 || of_fitting == 0) continue;
      fittings_[of_type * kinds_ + of_fitting] = {suited_spelt(t->text(row, suited)), t->cite(row)};
    }
  }
}

TradeSize EgcLaw::beside(RacewayType type, TradeSize size) const {
  const EgcRaceway* const first = &raceways_[static_cast<std::size_t>(type) * sizes_];
  const auto own = static_cast<std::size_t>(size);
  for (std::size_t s = 1; s < own; ++s) {
    if (first[s].use == EgcRaceway::Use::flexible && first[s].rating >= first[own].rating) {
      return static_cast<TradeSize>(s);
    }
  }
  return size;
}

const EgcLaw& egc_law(Evaluation& e) { return e.of_law<EgcLaw>(); }

}  // namespace raceward::figure
