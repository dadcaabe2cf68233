#include "figure/surroundings.hpp"

#include <algorithm>

namespace raceward::figure {

MissingId dry_burial(Evaluation& e, installation::Index index) {
  using namespace installation;
  const Raceway& r = e.model.raceways[index];
  if (!r.burial_depth.known() && r.beneath == Beneath::unstated) return 0;
  const installation::Area* const area = area_of(e, r);
  if (area == nullptr || area->location != Location::dry || area->use == AreaUse::underground) return 0;
  return e
      .lacks({SubjectKind::raceway, index}, "area", "the id of an area below the ground or outdoors",
             installer,
             fmt::format(FMT_COMPILE("it is said to lie below the ground and to run through the dry area {}"),
                         area->id))
      .missing;
}

bool attested(Evaluation& e, Attested fact, std::string_view of) {
  auto& all = e.once<Attestations>();
  if (!all.ready) {
    all.ready = true;
    for (const installation::Attestation& a : e.model.attestations) all.facts.emplace_back(a.of, a.fact);
    std::sort(all.facts.begin(), all.facts.end());
  }
  return std::binary_search(all.facts.begin(), all.facts.end(), std::pair{of, word_of(fact)});
}

}  // namespace raceward::figure
