#include "figure/surroundings.hpp"

#include <algorithm>

namespace raceward::figure {

MissingId dry_burial(Evaluation& e, installation::Index index) {
  using namespace installation;
  const Raceway& r = e.model.raceways[index];
  const bool depth = r.burial_depth.known() || r.beneath != Beneath::unstated;
  const bool below = area_of(e, r) != nullptr && area_of(e, r)->use == AreaUse::underground;
  if (r.in_earth == YesNo::no && (depth || below)) {
    return e
        .lacks({SubjectKind::raceway, index}, "in-earth", "yes or no", installer,
               depth ? "it is said not to be in earth, and how deep or beneath what it is buried"
                     : "it is said not to be in earth, and its area to be underground")
        .missing;
  }
  if (r.above_roof.known() && (depth || below || r.in_earth == YesNo::yes)) {
    const std::string why = "it is said to lie above a roof, and in earth";
    const Value a = e.lacks({SubjectKind::raceway, index}, "above-roof", "its height, where it is on a roof",
                            installer, why),
                b = e.lacks({SubjectKind::raceway, index},
                            r.burial_depth.known()           ? "burial-depth"
                            : r.beneath != Beneath::unstated ? "beneath"
                            : below                          ? "area"
                                                             : "in-earth",
                            "what holds where it is in earth", installer, why);
    return e.missing.both(a.missing, b.missing);
  }
  if (!depth && r.in_earth != YesNo::yes) return 0;
  const installation::Area* const area = area_of(e, r);
  if (area == nullptr || area->location != Location::dry || area->use == AreaUse::underground) return 0;
  return e
      .lacks({SubjectKind::raceway, index}, "area", "the id of an area below the ground or outdoors",
             installer,
             fmt::format(FMT_COMPILE("it is said to lie below the ground and to run through the dry area {}"),
                         area->id))
      .missing;
}

MissingId earth_open(Evaluation& e, installation::Index index, bool said) {
  using namespace installation;
  const Raceway& r = e.model.raceways[index];
  if (is_buried(e, r) || r.in_earth == YesNo::no || r.supports.count != 0 || r.fished == YesNo::yes) return 0;
  const bool stirs = r.flexibility_needed == YesNo::yes || r.movement == YesNo::yes;
  if (stirs || r.ceiling_whip == YesNo::yes || r.above_roof.known()) return 0;
  const bool ends_there = std::ranges::any_of(
      r.ends, [&](const RacewayEnd& end) { return e.model.places[end.place].mounting == Mounting::buried; });
  const installation::Area* const area = area_of(e, r);
  const bool no_earth =
      area != nullptr && (area->location == Location::dry || area->location == Location::damp);
  if (no_earth && !ends_there) return 0;
  if (said && !ends_there && r.supports_none != YesNo::yes) return 0;
  return e
      .lacks({SubjectKind::raceway, index}, "in-earth", "yes or no", installer,
             ends_there ? "it leads to what is mounted in earth"
                        : "nothing is said to fasten it, and nothing that it lies in a dry place")
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

std::string unless_attested(Attested fact, std::string_view of) {
  return fmt::format(FMT_COMPILE(", unless {} is attested of {}"), word_of(fact), of);
}

}  // namespace raceward::figure
