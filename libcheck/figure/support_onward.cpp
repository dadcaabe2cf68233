// What goes on from a raceway through the joints at its ends: how far it is to the next support, and how long
// all of it is.
//
// Method: a walk from joint to joint; what it finds is kept for each end that it passes, so that a long chain
// of raceways is walked once.
#include <tsl/robin_map.h>

#include "figure/raceway_kinds.hpp"
#include "figure/shown.hpp"
#include "figure/support_facts.hpp"
#include "figure/surroundings.hpp"
#include "figure/type_rows.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

struct End {
  Index raceway = none;
  int end = 0;
};

struct Onwards {
  tsl::robin_map<std::uint64_t, Onward> found;
};
std::uint64_t key_of(End at) { return std::uint64_t{at.raceway} * 2 + static_cast<std::uint64_t>(at.end); }

/// The other raceway at a joint of two, and its end there; none where the walk stops, and then `out` tells
/// what is there.
End next_of(Evaluation& e, End at, Onward& out) {
  const Raceway& r = e.model.raceways[at.raceway];
  const Subject subject{SubjectKind::raceway, at.raceway};
  const std::string_view which = at.end == 0 ? "from" : "to";
  const Index joint = r.ends[at.end].place;
  if (e.model.places[joint].kind != PlaceKind::joint) return {};
  const auto around = e.in.graph.at(joint);
  if (around.size() < 2) {
    out.fastened_missing = out.hangs_missing = out.strap_missing =
        e.lacks(subject, which, "the id of an enclosure; or what goes on from the joint", installer,
                fmt::format(FMT_COMPILE("nothing goes on from joint {}, so that not known is what holds it"),
                            e.model.places[joint].id))
            .missing;
    return {};
  }
  out.goes_on = true;
  for (const Adjacent& other : around) {
    const MissingId open = other.raceway == at.raceway ? 0 : earth_open(e, other.raceway, true);
    if (other.raceway == at.raceway || (open == 0 && !is_buried(e, e.model.raceways[other.raceway])))
      continue;
    out.free_missing = out.fastened_missing = out.hangs_missing = out.strap_missing =
        wrong_in_earth(e, other.raceway);
    return {};
  }
  if (around.size() > 2) {
    out.alike = true;
    out.free_missing = out.length_missing = out.fastened_missing = out.hangs_missing = out.strap_missing =
        e.lacks(subject, which, "the id of a box or conduit body, where more than two raceways meet",
                installer,
                fmt::format(FMT_COMPILE("more than two raceways meet at joint {}, so that the one which goes "
                                        "on is not known"),
                            e.model.places[joint].id))
            .missing;
    return {};
  }
  const Index raceway = around[around[0].raceway == at.raceway ? 1 : 0].raceway;
  return {raceway, e.model.raceways[raceway].ends[0].place == joint ? 0 : 1};
}

/// How far it is from the joint to where `next`, or what goes on from it, is fastened.
void fastened_beyond(Evaluation& e, const Supports& supports, End next, const Value& length,
                     const Onward& beyond, Onward& out) {
  if (supports.missing != 0) {
    out.fastened_missing = supports.missing;
    return;
  }
  const Fastened& by = supports.perhaps;  // a lower bound where some have no kind
  if (by.count != 0 && next.end == 0) {
    out.fastened = by.first;
    if (supports.surely.count == 0 || supports.surely.first != by.first)
      out.fastened_missing = supports.kinds;
  } else if (by.count != 0) {
    out.fastened_missing =
        length ? beyond_end(e, {SubjectKind::raceway, next.raceway}, supports, length.count) : length.missing;
    if (out.fastened_missing != 0) return;
    out.fastened = length.count - by.last;
    if (supports.surely.count == 0 || supports.surely.last != by.last) out.fastened_missing = supports.kinds;
  } else {
    out.fastened = length.count + beyond.fastened;
    out.fastened_missing = e.missing.both(length.missing, beyond.fastened_missing);
    const Index far = e.model.raceways[next.raceway].ends[1 - next.end].place;
    const Place& place = e.model.places[far];
    if (place.mounting != Mounting::suspended) return;
    const Value lack =
        e.lacks({subject_kind(place.kind), far}, "mounting", "surface, flush or suspended", installer,
                "it is said to hang, and raceways that nothing fastens lead to it", place.source);
    out.fastened_missing = e.missing.both(out.fastened_missing, lack.missing);
  }
}

/// How far it is to the support that fastens what goes on as itself.
void strapped_beyond(const Supports& supports, const Value& length, const Onward& beyond, Onward& out) {
  if (supports.missing == 0 && supports.perhaps.count == 0) {
    out.strapped = beyond.strapped;
    out.strap = length.count + beyond.strap;
    out.strap_missing = length ? beyond.strap_missing : length.missing;
    return;
  }
  out.strapped = out.fastened_missing == 0;
  out.strap = out.fastened;
  out.strap_missing = out.fastened_missing;
}

/// What is not known where joints close a ring of raceways, which a way passes: `way` holds the ends of all.
Onward ring_of(Evaluation& e, std::span<const End> way) {
  const auto& raceways = e.model.raceways;
  const End first = *std::ranges::min_element(way, {}, [&](End at) { return raceways[at.raceway].id; });
  Onward out;
  out.goes_on = out.alike = true;
  out.free_missing = out.length_missing = out.fastened_missing = out.hangs_missing = out.strap_missing =
      e.lacks({SubjectKind::raceway, first.raceway}, "support", "a support that fastens one of them",
              installer_tape, "joints close a ring of raceways that nothing is said to fasten")
          .missing;
  return out;
}

/// In a ring, how far a way is known to lead depends on where it begins: what is not known is no bound
/// either.
void forget_bounds(Onward& out) {
  if (out.length_missing != 0) out.length = 0;
  if (out.free_missing != 0) out.free = 0;
  if (out.fastened_missing != 0) out.fastened = 0;
  if (out.hangs_missing != 0) out.hangs = 0;
  if (out.strap_missing != 0) out.strap = 0;
}

/// What goes on from a raceway through a joint into `next`, from whose other end `beyond` goes on.
Onward through(Evaluation& e, const Raceway& from, End next, const Onward& beyond) {
  const Subject subject{SubjectKind::raceway, next.raceway};
  const RacewayType type = from.type, other = e.model.raceways[next.raceway].type;
  Onward out;
  out.goes_on = true;
  out.alike = is_flexible(type) == is_flexible(other) || other == RacewayType::unstated;
  const Value length = e.get_aside(Id::raceway_length, subject);
  if (out.alike) {
    out.length = length.count + beyond.length;
    out.length_missing = length ? beyond.length_missing : length.missing;
  }
  const Supports& supports = supports_of(e, subject);
  fastened_beyond(e, supports, next, length, beyond, out);
  if (goes_on_as_itself(from, e.model.raceways[next.raceway])) {
    strapped_beyond(supports, length, beyond, out);
  } else if (other == RacewayType::unstated && is_tubular(type) && !is_flexible(type)) {
    out.strap_missing = lacks_type(e, subject).missing;
  }
  if (is_flexible(type) && is_flexible(other)) {
    // How much of both hangs free is asked of the length of both.
    const bool own = supports.missing != 0 || supports.surely.count != 0 || supports.kinds != 0;
    out.hangs = own ? 0 : beyond.hangs;
    out.hangs_missing = supports.missing != 0 || supports.kinds != 0 ? out.fastened_missing
                        : own                                        ? 0
                                                                     : beyond.hangs_missing;
    out.hangs_on = own ? none : beyond.hangs_on;
  } else {
    out.hangs = out.fastened;
    out.hangs_missing = out.fastened_missing;
    out.hangs_on = next.raceway;
  }
  if (supports.missing != 0) {
    out.free_missing = supports.missing;
  } else if (supports.at.empty()) {
    // A flexible piece between rigid ones is no part of their span: it is judged by its own length.
    if (!out.alike) return out;
    out.free = length.count + beyond.free;
    out.free_missing = length ? beyond.free_missing : length.missing;
  } else if (next.end == 0) {
    out.free = supports.at.front();
  } else {
    out.free_missing = length ? beyond_end(e, subject, supports, length.count) : length.missing;
    if (out.free_missing == 0) out.free = length.count - supports.at.back();
  }
  return out;
}

}  // namespace

Onward onward(Evaluation& e, Subject subject, int end) {
  auto& found = e.once<Onwards>().found;
  const End start{subject.index, end};
  std::vector<End> way;  // ends from which a raceway goes on
  Onward here;
  bool ring = false;
  for (End at = start;;) {
    if (const auto known = found.find(key_of(at)); known != found.end()) {
      here = known->second;
      break;
    }
    here = {};
    const End next = next_of(e, at, here);
    if (next.raceway == none) {
      if (e.model.places[e.model.raceways[at.raceway].ends[at.end].place].kind == PlaceKind::joint)
        found.emplace(key_of(at), here);
      break;
    }
    way.push_back(at);
    way.push_back(next);
    at = {next.raceway, 1 - next.end};
    if (key_of(at) == key_of(start)) {  // a ring
      ring = true;
      here = ring_of(e, way);
      // Once around, so that each end sees all of the ring, whichever was asked about first.
      for (std::size_t i = way.size(); i != 0; i -= 2) {
        here = through(e, e.model.raceways[way[i - 2].raceway], way[i - 1], here);
        forget_bounds(here);
      }
      break;
    }
  }
  for (; !way.empty(); way.resize(way.size() - 2)) {
    const End at = way[way.size() - 2], next = way.back();
    here = through(e, e.model.raceways[at.raceway], next, here);
    if (ring) forget_bounds(here);
    found.emplace(key_of(at), here);
  }
  return here;
}

}  // namespace raceward::figure
