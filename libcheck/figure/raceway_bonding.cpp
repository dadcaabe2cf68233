// Whether a metal raceway is joined to other metal of the installation, as it must be though a wire carries
// the fault current.
//
// Method: metal raceways that joints connect are one piece of metal. It is joined where an end enters a metal
// enclosure or is bonded. At a nonmetallic box that several metal raceways enter, each must be bonded.
#include <algorithm>

#include "figure/facts.hpp"
#include "figure/grounding_raceway.hpp"
#include "figure/raceway_kinds.hpp"
#include "figure/surroundings.hpp"
#include "figure/type_rows.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

/// Pieces of metal raceways, by raceway: the number of the piece; 0 for raceways that are of no metal.
struct MetalPieces {
  bool ready = false;
  std::vector<Index> piece;
  std::vector<std::vector<Index>> raceways;  // by piece
  std::vector<Value> joined;                 // by piece, as far as known
  std::vector<std::uint8_t> known;
  std::vector<std::uint8_t> jumped;  // by raceway: a jumper ends on it, and begins at another place
  grounding::Bridged bridged;

  void read(const Evaluation& e) {
    ready = true;
    bridged = grounding::bridged_ends(e.model);
    piece.resize(e.model.raceways.size());
    raceways.emplace_back();
    jumped.resize(piece.size());
    for (const BondingJumper& jumper : e.model.bonding_jumpers)
      if (jumper.raceway != none && jumper.to != none) jumped[jumper.raceway] = 1;
    for (Index r = 0; r < piece.size(); ++r) {
      if (piece[r] != 0 || !is_metal(e.model.raceways[r].type)) continue;
      const auto number = static_cast<Index>(raceways.size());
      std::vector<Index> open{r};
      piece[r] = number;
      for (std::size_t at = 0; at < open.size(); ++at) {
        for (const RacewayEnd& end : e.model.raceways[open[at]].ends) {
          if (e.model.places[end.place].kind != PlaceKind::joint) continue;
          for (const Adjacent& beyond : e.in.graph.at(end.place)) {
            if (piece[beyond.raceway] != 0 || !is_metal(e.model.raceways[beyond.raceway].type)) continue;
            piece[beyond.raceway] = number;
            open.push_back(beyond.raceway);
          }
        }
      }
      raceways.push_back(std::move(open));
    }
    joined.resize(raceways.size());
    known.resize(raceways.size());
  }
};

MetalPieces& metal_pieces(Evaluation& e) {
  auto& made = e.once<MetalPieces>();
  if (!made.ready) made.read(e);
  return made;
}

/// Whether an end is bonded where its enclosure is of no metal.
Value end_bonded(Evaluation& e, const MetalPieces& all, Index raceway, int which) {
  const RacewayEnd& end = e.model.raceways[raceway].ends[which];
  const bool jumper =
      all.jumped[raceway] != 0 || (!all.bridged.empty() && ((all.bridged[raceway] >> which) & 1) != 0);
  if (jumper || end.bonded == YesNo::yes) return answer(true);
  if (end.bonded == YesNo::no) return answer(false);
  const Subject at{SubjectKind::raceway, raceway};
  if (end.source == 0) return e.lacks(at, "end", "an end that says whether it is bonded", installer);
  return e.lacks(at, "bonded", "yes or no: it enters an enclosure of no metal", installer, {}, end.source);
}

/// Whether an end joins its raceway to other metal.
Value end_joined(Evaluation& e, const MetalPieces& all, Index raceway, int which) {
  const Index at = e.model.raceways[raceway].ends[which].place;
  const Place& place = e.model.places[at];
  if (place.kind == PlaceKind::joint) return end_bonded(e, all, raceway, which);
  if (place.material == EnclosureMaterial::metal) return answer(true);
  const Value bonded = end_bonded(e, all, raceway, which);
  if (place.material == EnclosureMaterial::nonmetallic || is_yes(bonded)) return bonded;
  return e.lacks(grounding::place_subject(e.model, at), "material", "metal or nonmetallic", installer);
}

Value lacks_type(Evaluation& e, Index raceway) { return lacks_type(e, {SubjectKind::raceway, raceway}); }

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

/// What goes on from a joint may be of metal, and join the piece: 0, or a type that is not stated.
Value may_go_on(Evaluation& e, Index raceway) {
  Value out = answer(false);
  for (const RacewayEnd& end : e.model.raceways[raceway].ends) {
    if (e.model.places[end.place].kind != PlaceKind::joint) continue;
    for (const Adjacent& beyond : e.in.graph.at(end.place)) {
      if (e.model.raceways[beyond.raceway].type == RacewayType::unstated)
        out = either(e, out, lacks_type(e, beyond.raceway));
    }
  }
  return out;
}

/// Isolated metal deep in earth, where nobody touches it: 1, 0 or the cover that is not stated.
Value isolated_below(Evaluation& e, const std::vector<Index>& raceways) {
  const Parameter* const depth = e.law.parameter("isolated-metal-depth", Dimension::length);
  if (depth == nullptr) return e.lacks_law("isolated-metal-depth");
  e.used(depth->cite);
  Value out = answer(true, depth->cite);
  for (const Index index : raceways) {
    const Raceway& r = e.model.raceways[index];
    if (!is_buried(e, r)) return answer(false);
    const Value cover = given(e, {SubjectKind::raceway, index}, r.burial_depth, Unit::inch, "burial-depth",
                              "a length such as 18in", installer_tape);
    out = both(e, out, cover ? answer(cover.count >= depth->value.count, depth->cite) : cover);
  }
  return out;
}

/// Whether a piece of metal raceways is joined anywhere.
Value piece_joined(Evaluation& e, MetalPieces& all, Index piece) {
  if (all.known[piece] != 0) return all.joined[piece];
  Value joined = answer(false);
  for (const Index raceway : all.raceways[piece]) {
    for (const int end : {0, 1}) {
      if (!is_yes(joined)) joined = either(e, joined, end_joined(e, all, raceway, end));
    }
    if (!is_yes(joined)) joined = either(e, joined, may_go_on(e, raceway));
  }
  if (!is_yes(joined)) joined = either(e, joined, isolated_below(e, all.raceways[piece]));
  all.known[piece] = 1;
  return all.joined[piece] = joined;
}

}  // namespace

Value metal_raceway_used(Evaluation& e, Subject s) {
  const Raceway& r = e.model.raceways[s.index];
  const auto runs = e.in.routes.runs_in(s.index);
  const bool used = std::ranges::any_of(runs, [&](Index run) {
    return e.model.circuits[e.model.runs[run].circuit].kind != CircuitKind::other;
  });
  const bool open = e.in.routes.block_ambiguity[e.in.graph.block[s.index]] != none;
  if (!used && !open) return answer(false);
  if (r.type == RacewayType::unstated) return lacks_type(e, s);
  return answer(is_metal(r.type));
}

Value metal_raceway_joined(Evaluation& e, Subject s) {
  MetalPieces& all = metal_pieces(e);
  if (e.model.raceways[s.index].type == RacewayType::unstated) return lacks_type(e, s.index);
  if (all.piece[s.index] == 0) return answer(true);
  Value joined = piece_joined(e, all, all.piece[s.index]);
  if (is_no(joined))
    e.note(FMT_COMPILE("raceway {} enters no metal enclosure and is bonded nowhere"),
           e.model.raceways[s.index].id);
  // In a box of no metal, what joins one metal raceway to the next is a bond.
  for (const int which : {0, 1}) {
    const Index at = e.model.raceways[s.index].ends[which].place;
    const Place& box = e.model.places[at];
    if (box.kind != PlaceKind::box || box.material == EnclosureMaterial::metal) continue;
    const Value another = another_enters(e, at, s.index);
    if (is_no(another)) continue;
    Value bonded = end_bonded(e, all, s.index, which);
    if (!is_yes(bonded) && !another)
      bonded = Evaluation::lacks(e.missing.both(another.missing, bonded.missing));
    if (!is_yes(bonded) && box.material == EnclosureMaterial::unstated) {
      bonded = Evaluation::lacks(e.missing.both(
          bonded.missing,
          e.lacks(grounding::place_subject(e.model, at), "material", "metal or nonmetallic", installer)
              .missing));
    }
    if (is_no(bonded))
      e.note(FMT_COMPILE("box {} is of no metal, and nothing in it joins the metal raceways that enter it"),
             box.id);
    joined = both(e, joined, bonded);
  }
  return joined;
}

}  // namespace raceward::figure::compute
