#include "figure/surroundings.hpp"

#include <algorithm>

namespace raceward::figure {

bool attested(Evaluation& e, std::string_view fact, std::string_view of) {
  auto& all = e.once<Attested>();
  if (!all.ready) {
    all.ready = true;
    for (const installation::Attestation& a : e.model.attestations) all.facts.emplace_back(a.of, a.fact);
    std::sort(all.facts.begin(), all.facts.end());
  }
  return std::binary_search(all.facts.begin(), all.facts.end(), std::pair{of, fact});
}

}  // namespace raceward::figure
