// Whether a metal raceway is joined to other metal of the installation, as it must be though a wire carries
// the fault current.
//
// Method: metal goes on through the fittings of a course and across joints, as far as the law knows them to
// carry fault current on and the document says that they are made up. What goes on so is one piece, and is
// joined where an end is fastened to a metal enclosure, or bonded to conductors that fault current reaches.
// Neither a course nor a joint between metal raceways may interrupt it. At a nonmetallic box or conduit body
// that several metal raceways enter, each must be bonded.
#include <algorithm>
#include <tuple>

#include "figure/facts.hpp"
#include "figure/grounding_reach.hpp"
#include "figure/grounding_shared.hpp"
#include "figure/raceway_kinds.hpp"
#include "figure/surroundings.hpp"
#include "figure/type_rows.hpp"
#include "installation/lists.hpp"

namespace raceward::figure::compute {

using namespace installation;
using namespace grounding;

namespace {

/// An end of a raceway: twice its index, and one more at its to.
using End = Index;
Index raceway_of(End end) { return end / 2; }
int which_of(End end) { return static_cast<int>(end % 2); }
End end_of(Index raceway, int which) { return 2 * raceway + static_cast<Index>(which); }

/// Pieces of metal, by end: the number of the piece; 0 for raceways that are of no metal.
struct MetalPieces {
  bool ready = false;
  std::vector<Index> piece;
  std::vector<std::vector<End>> ends;  // by piece
  std::vector<Value> joined;           // by piece, as far as known
  std::vector<std::uint8_t> known;
  Lists jumpers;  // by raceway: those that end on it, and begin at another place
  Lists to_end;   // by raceway: those around one of its ends
  std::vector<std::tuple<Index, Index, Index>> between;  // two places, and a jumper that names no raceway
};

Value lacks_type(Evaluation& e, Index raceway) { return lacks_type(e, {SubjectKind::raceway, raceway}); }

Value told(Evaluation& e, Carries carries, const Account& account) {
  if (carries == Carries::unknown) return Evaluation::lacks(account.missing);
  if (carries == Carries::no && !account.broken.empty()) e.note(FMT_COMPILE("{}"), account.broken);
  if (carries == Carries::no) e.used(account.cite);
  return answer(carries == Carries::yes, account.cite);
}

/// One of its jumpers leads from one end of the raceway to the other.
bool jumped_over(Evaluation& e, const MetalPieces& all, Index raceway) {
  const Raceway& r = e.model.raceways[raceway];
  const Index from = r.ends[0].place, to = r.ends[1].place;
  const std::span<const Index> jumpers = all.jumpers.at(raceway);
  return std::any_of(jumpers.begin(), jumpers.end(), [&](Index j) {
    const BondingJumper& jumper = e.model.bonding_jumpers[j];
    return (jumper.from == from && jumper.to == to) || (jumper.from == to && jumper.to == from);
  });
}

/// One that may be from one end of the raceway to the other, and does not say it whole: what tells it.
MissingId may_be_over(Evaluation& e, const MetalPieces& all, Index raceway) {
  const Raceway& r = e.model.raceways[raceway];
  MissingId missing = 0;
  for (const Index j : all.to_end.at(raceway)) {
    const BondingJumper& jumper = e.model.bonding_jumpers[j];
    const Value lack =
        e.lacks({SubjectKind::bonding_jumper, j}, "to", "the id of the place where it ends", installer,
                "it may go from one end of the raceway to the other", jumper.source);
    missing = e.missing.both(missing, lack.missing);
  }
  const auto [from, to] = std::minmax({r.ends[0].place, r.ends[1].place});
  for (auto at = std::ranges::lower_bound(all.between, std::tuple(from, to, Index{0}));
       at != all.between.end() && std::get<0>(*at) == from && std::get<1>(*at) == to; ++at) {
    const Index j = std::get<2>(*at);
    const Value lack = e.lacks(
        {SubjectKind::bonding_jumper, j}, "raceway", "the id of the raceway that it bridges", installer,
        "it may go from one end of a raceway to the other", e.model.bonding_jumpers[j].source);
    missing = e.missing.both(missing, lack.missing);
  }
  return missing;
}

bool bridged_at(Evaluation& e, End end) {
  const Bridged& bridged = network(e).bridged;
  return !bridged.empty() && ((bridged[raceway_of(end)] >> which_of(end)) & 1) != 0;
}

/// Whether the metal of a raceway goes on from one end to the other.
Carries goes_through(Evaluation& e, const MetalPieces& all, Index raceway, Account& account) {
  if (jumped_over(e, all, raceway)) return Carries::yes;
  const Carries own = course_of(e, raceway, account);
  const MissingId over = own == Carries::no ? may_be_over(e, all, raceway) : 0;
  if (over == 0) return own;
  account.missing = e.missing.both(account.missing, over);
  return Carries::unknown;
}

/// Whether an end goes on into the fitting of its joint, or a bond around it.
Carries into_joint(Evaluation& e, End end, Account& account) {
  const RacewayEnd& at = e.model.raceways[raceway_of(end)].ends[which_of(end)];
  if (bridged_at(e, end)) return Carries::yes;
  if (at.bonded == YesNo::yes) return bonded_around(e, raceway_of(end), which_of(end), account);
  const Carries fitting = at_joint(e, raceway_of(end), which_of(end), account);
  if (fitting != Carries::no || at.bonded != YesNo::unstated) return fitting;
  const Value lack =
      e.lacks({SubjectKind::raceway, raceway_of(end)}, "bonded",
              "yes where a bond goes around the fitting of the joint, else no", installer, {}, at.source);
  account.missing = e.missing.both(account.missing, lack.missing);
  return Carries::unknown;
}
Value into_joint(Evaluation& e, End end) {
  Account account;
  const Carries carries = into_joint(e, end, account);
  return told(e, carries, account);
}
bool surely_into_joint(Evaluation& e, End end) {
  Account account;
  return into_joint(e, end, account) == Carries::yes;
}

/// Calls use(end) for the ends of other raceways at the joint where an end is.
template <class Use>
void beyond_joint(const Evaluation& e, End end, Use use) {
  const Index at = e.model.raceways[raceway_of(end)].ends[which_of(end)].place;
  if (e.model.places[at].kind != PlaceKind::joint) return;
  for (const Adjacent& beyond : e.in.graph.at(at)) {
    for (const int which : {0, 1}) {
      const End other = end_of(beyond.raceway, which);
      if (other != end && e.model.raceways[beyond.raceway].ends[which].place == at) use(other);
    }
  }
}

bool is_metal_at(const Evaluation& e, End end) { return is_metal(e.model.raceways[raceway_of(end)].type); }

void read(Evaluation& e, MetalPieces& all) {
  all.ready = true;
  const auto raceways = static_cast<Index>(e.model.raceways.size());
  all.piece.resize(2 * std::size_t{raceways});
  all.ends.emplace_back();
  all.jumpers = lists_of(raceways, [&](auto put) {
    for (Index j = 0; j < e.model.bonding_jumpers.size(); ++j) {
      const BondingJumper& jumper = e.model.bonding_jumpers[j];
      if (jumper.raceway != none && jumper.to != none) put(jumper.raceway, j);
    }
  });
  all.to_end = lists_of(raceways, [&](auto put) {
    for (Index j = 0; j < e.model.bonding_jumpers.size(); ++j) {
      const BondingJumper& jumper = e.model.bonding_jumpers[j];
      if (jumper.raceway != none && jumper.to == none) put(jumper.raceway, j);
    }
  });
  for (Index j = 0; j < e.model.bonding_jumpers.size(); ++j) {
    const BondingJumper& jumper = e.model.bonding_jumpers[j];
    if (jumper.raceway != none || jumper.to == none) continue;
    all.between.emplace_back(std::min(jumper.from, jumper.to), std::max(jumper.from, jumper.to), j);
  }
  std::ranges::sort(all.between);
  for (End first = 0; first < all.piece.size(); ++first) {
    if (all.piece[first] != 0 || !is_metal_at(e, first)) continue;
    const auto number = static_cast<Index>(all.ends.size());
    std::vector<End> open{first};
    all.piece[first] = number;
    const auto add = [&](End end) {
      if (all.piece[end] != 0 || !is_metal_at(e, end)) return;
      all.piece[end] = number;
      open.push_back(end);
    };
    for (std::size_t at = 0; at < open.size(); ++at) {
      const End end = open[at];
      const Index raceway = raceway_of(end);
      Account account;
      if (goes_through(e, all, raceway, account) == Carries::yes) add(end_of(raceway, 1 - which_of(end)));
      bool leaves = false;
      beyond_joint(e, end, [&](End other) { leaves = leaves || is_metal_at(e, other); });
      if (!leaves || !surely_into_joint(e, end)) continue;
      beyond_joint(e, end, [&](End other) {
        if (all.piece[other] == 0 && is_metal_at(e, other) && surely_into_joint(e, other)) add(other);
      });
    }
    all.ends.push_back(std::move(open));
  }
  all.joined.resize(all.ends.size());
  all.known.resize(all.ends.size());
}

MetalPieces& metal_pieces(Evaluation& e) {
  auto& made = e.once<MetalPieces>();
  if (!made.ready) read(e, made);
  return made;
}

/// Whether fault current reaches the conductors in a place of no metal, which a bond goes to.
Value reached(Evaluation& e, Index place) {
  const Network& net = network(e);
  const Node wires = net.node(place, Part::wires);
  if (reach(e).certain(wires)) return answer(true);
  if (reach(e).possible(net, wires)) return Evaluation::lacks(reach(e).missing(e, net, wires));
  e.note(FMT_COMPILE("{} is of no metal, and no equipment grounding conductor in it leads to the source"),
         short_place(e.model, place));
  return answer(false);
}

/// Whether a place that a jumper begins at is joined to the path; of metal ones another rule tells.
Value jumper_leads(Evaluation& e, Index place) {
  const Place& at = e.model.places[place];
  if (at.material == EnclosureMaterial::metal) return answer(true);
  if (at.material == EnclosureMaterial::nonmetallic) return reached(e, place);
  return e.lacks(place_subject(e.model, place), "material", "metal or nonmetallic", installer);
}

/// Whether one of the jumpers that end on a raceway leads from the path.
Value a_jumper_leads(Evaluation& e, const MetalPieces& all, Index raceway) {
  Value out = answer(false);
  for (const Index j : all.jumpers.at(raceway)) {
    const BondingJumper& jumper = e.model.bonding_jumpers[j];
    out = either(e, out, either(e, jumper_leads(e, jumper.from), jumper_leads(e, jumper.to)));
  }
  return out;
}

/// Whether an end is bonded where its enclosure is of no metal.
Value end_bonded(Evaluation& e, const MetalPieces& all, End end) {
  const Index raceway = raceway_of(end);
  const RacewayEnd& r = e.model.raceways[raceway].ends[which_of(end)];
  if (bridged_at(e, end)) return reached(e, r.place);
  if (is_yes(a_jumper_leads(e, all, raceway))) return answer(true);
  const Subject at{SubjectKind::raceway, raceway};
  if (r.bonded == YesNo::unstated) {
    if (r.source == 0) return e.lacks(at, "end", "an end that says whether it is bonded", installer);
    return e.lacks(at, "bonded", "yes or no: it enters an enclosure of no metal", installer, {}, r.source);
  }
  if (r.bonded == YesNo::no) return answer(false);
  Account account;
  const Carries carries = bonded(e, raceway, which_of(end), account);
  return both(e, told(e, carries, account), reached(e, r.place));
}

/// Whether an end joins its raceway to other metal than that of a raceway.
Value end_joined(Evaluation& e, const MetalPieces& all, End end) {
  const Index at = e.model.raceways[raceway_of(end)].ends[which_of(end)].place;
  const Place& place = e.model.places[at];
  if (place.kind == PlaceKind::joint) {
    const RacewayEnd& r = e.model.raceways[raceway_of(end)].ends[which_of(end)];
    bool others = false;
    beyond_joint(e, end, [&](End other) { others = others || is_metal_at(e, other); });
    if (all.jumpers.at(raceway_of(end)).empty() && !others &&
        (r.bonded == YesNo::yes || bridged_at(e, end))) {
      return e.lacks({SubjectKind::raceway, raceway_of(end)}, "bonded",
                     "a bonding-jumper from the place that the bond comes from", installer,
                     fmt::format(FMT_COMPILE("joint {} has no other metal raceway to bond it to"), place.id),
                     r.source);
    }
    return a_jumper_leads(e, all, raceway_of(end));
  }
  if (place.material == EnclosureMaterial::nonmetallic) return end_bonded(e, all, end);
  Value joined = answer(true);
  if (!bridged_at(e, end)) {
    Account account;
    const Carries carries = fastened(e, raceway_of(end), which_of(end), account);
    joined = told(e, carries, account);
  }
  if (place.material == EnclosureMaterial::metal) return joined;
  const Value bonded = end_bonded(e, all, end);
  if (is_yes(joined) && is_yes(bonded)) return joined;
  if (is_no(joined) && is_no(bonded)) return joined;
  const Value lack = e.lacks(place_subject(e.model, at), "material", "metal or nonmetallic", installer);
  return Evaluation::lacks(e.missing.both(lack.missing, e.missing.both(joined.missing, bonded.missing)));
}

/// Whether another metal raceway enters the same box: 1, 0, or a type that is not stated.
Value another_enters(Evaluation& e, Index box, Index raceway) {
  Value out = answer(false);
  for (const Adjacent& a : e.in.graph.at(box)) {
    if (a.raceway == raceway) continue;
    const RacewayType type = e.model.raceways[a.raceway].type;
    out = either(e, out, type == RacewayType::unstated ? lacks_type(e, a.raceway) : answer(is_metal(type)));
    if (is_yes(out)) break;
  }
  return out;
}

/// Whether the metal goes on across a joint into every other metal raceway there.
Value across_joint(Evaluation& e, End end) {
  Value out = answer(true);
  beyond_joint(e, end, [&](End other) {
    if (is_no(out)) return;
    const RacewayType type = e.model.raceways[raceway_of(other)].type;
    if (type != RacewayType::unstated && !is_metal(type)) return;
    Value across = into_joint(e, end);
    if (type == RacewayType::unstated) {
      const Value whole = both(e, across, into_joint(e, other));
      if (!is_yes(whole))
        across = Evaluation::lacks(e.missing.both(whole.missing, lacks_type(e, raceway_of(other)).missing));
    } else {
      across = both(e, across, into_joint(e, other));
    }
    out = both(e, out, across);
  });
  return out;
}

/// The piece may go on where that is not known, and be joined there: 0, or what is missing.
Value may_go_on(Evaluation& e, const MetalPieces& all, End end) {
  Value out = answer(false);
  Account through;
  if (goes_through(e, all, raceway_of(end), through) == Carries::unknown)
    out = Evaluation::lacks(through.missing);
  beyond_joint(e, end, [&](End other) {
    const RacewayType type = e.model.raceways[raceway_of(other)].type;
    if (type == RacewayType::unstated) {
      out = either(e, out, lacks_type(e, raceway_of(other)));
    } else if (is_metal(type)) {
      Account here, there;
      const Carries near = into_joint(e, end, here), far = into_joint(e, other, there);
      if (near == Carries::no || far == Carries::no) return;
      const MissingId missing = e.missing.both(here.missing, there.missing);
      if (near == Carries::unknown || far == Carries::unknown)
        out = either(e, out, Evaluation::lacks(missing));
    }
  });
  return out;
}

/// Isolated metal deep in earth, where nobody touches it: 1, 0 or the cover that is not stated.
Value isolated_below(Evaluation& e, const std::vector<End>& ends) {
  const Parameter* const depth = e.law.parameter("isolated-metal-depth", Dimension::length);
  if (depth == nullptr) return e.lacks_law("isolated-metal-depth");
  e.used(depth->cite);
  Value out = answer(true, depth->cite);
  for (const End end : ends) {
    const Raceway& r = e.model.raceways[raceway_of(end)];
    const MissingId open = earth_open(e, raceway_of(end), true);
    if (open == 0 && !is_buried(e, r)) return answer(false);
    if (const MissingId wrong = wrong_in_earth(e, raceway_of(end)); wrong != 0)
      out = both(e, out, Evaluation::lacks(wrong));
    const Value cover = given(e, {SubjectKind::raceway, raceway_of(end)}, r.burial_depth, Unit::inch,
                              "burial-depth", "a length such as 18in", installer_tape);
    out = both(e, out, cover ? answer(cover.count >= depth->value.count, depth->cite) : cover);
  }
  return out;
}

/// Whether a piece of metal is joined anywhere.
Value piece_joined(Evaluation& e, MetalPieces& all, Index piece) {
  if (all.known[piece] != 0) return all.joined[piece];
  Value joined = answer(false);
  for (const End end : all.ends[piece]) {
    if (!is_yes(joined)) joined = either(e, joined, end_joined(e, all, end));
    if (is_yes(joined)) break;
  }
  for (const End end : all.ends[piece]) {
    if (!is_yes(joined)) joined = either(e, joined, may_go_on(e, all, end));
  }
  if (!is_yes(joined)) joined = either(e, joined, isolated_below(e, all.ends[piece]));
  all.known[piece] = 1;
  return all.joined[piece] = joined;
}

/// In a box or conduit body of no metal, what joins one metal raceway to the next is a bond.
Value bonded_in_boxes(Evaluation& e, const MetalPieces& all, Index raceway) {
  Value out = answer(true);
  for (const int which : {0, 1}) {
    const Index at = e.model.raceways[raceway].ends[which].place;
    const Place& box = e.model.places[at];
    const bool encloses = box.kind == PlaceKind::box || box.kind == PlaceKind::conduit_body;
    if (!encloses || box.material == EnclosureMaterial::metal) continue;
    const Value another = another_enters(e, at, raceway);
    if (is_no(another)) continue;
    Value bonded = end_bonded(e, all, end_of(raceway, which));
    if (!is_yes(bonded) && !another)
      bonded = Evaluation::lacks(e.missing.both(another.missing, bonded.missing));
    if (!is_yes(bonded) && box.material == EnclosureMaterial::unstated) {
      const Value lack = e.lacks(place_subject(e.model, at), "material", "metal or nonmetallic", installer);
      bonded = Evaluation::lacks(e.missing.both(bonded.missing, lack.missing));
    }
    if (is_no(bonded))
      e.note(FMT_COMPILE("{} is of no metal, and nothing in it joins the metal raceways that enter it"),
             short_place(e.model, at));
    out = both(e, out, bonded);
  }
  return out;
}

}  // namespace

Value metal_raceway_used(Evaluation& e, Subject s) {
  const Raceway& r = e.model.raceways[s.index];
  bool used = false;
  MissingId open_wiring = 0;
  for (const Index run : e.in.routes.runs_in(s.index)) {
    const Index wiring = e.model.runs[run].circuit;
    const Circuit& circuit = e.model.circuits[wiring];
    used = used || !is_wiring(circuit) || circuit.system == System::power;
    if (used) break;
    if (circuit.system != System::unstated) continue;
    const Value system = e.lacks({SubjectKind::circuit, wiring}, "system", "power, class-2 or communications",
                                 designer, {}, circuit.source);
    open_wiring = e.missing.both(open_wiring, system.missing);
  }
  const bool open = e.in.routes.block_ambiguity[e.in.graph.block[s.index]] != none;
  if (!used && !open && open_wiring == 0) return answer(false);
  if (r.type == RacewayType::unstated) return lacks_type(e, s);
  if (!used && !open && is_metal(r.type)) return Evaluation::lacks(open_wiring);
  return answer(is_metal(r.type));
}

Value metal_raceway_continuous(Evaluation& e, Subject s) {
  if (e.model.raceways[s.index].type == RacewayType::unstated) return lacks_type(e, s.index);
  const MetalPieces& all = metal_pieces(e);
  const End from = end_of(s.index, 0), to = end_of(s.index, 1);
  if (all.piece[from] == 0) return answer(true);
  Account account;
  const Carries through = goes_through(e, all, s.index, account);
  Value out = told(e, through, account);
  for (const End end : {from, to}) out = both(e, out, across_joint(e, end));
  return out;
}

Value metal_raceway_joined(Evaluation& e, Subject s) {
  if (e.model.raceways[s.index].type == RacewayType::unstated) return lacks_type(e, s.index);
  MetalPieces& all = metal_pieces(e);
  const End from = end_of(s.index, 0), to = end_of(s.index, 1);
  if (all.piece[from] == 0) return answer(true);
  const Value joined = either(e, piece_joined(e, all, all.piece[from]), piece_joined(e, all, all.piece[to]));
  if (is_no(joined)) {
    e.note(FMT_COMPILE("raceway {} is fastened to no metal enclosure and is bonded nowhere"),
           e.model.raceways[s.index].id);
  }
  return both(e, joined, bonded_in_boxes(e, all, s.index));
}

}  // namespace raceward::figure::compute
