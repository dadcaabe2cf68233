// Connectors and couplings: whether they are made for their raceway, listed for it and made up tight.
//
// Method: the law tells which fittings are made for which type; the document tells the rest of each end. At a
// joint its own fitting takes both raceways, so it is made for the types of both.
#include "figure/facts.hpp"
#include "figure/fitting_kinds.hpp"
#include "figure/raceway_kinds.hpp"
#include "figure/surroundings.hpp"
#include "figure/type_rows.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

struct MadeFor {
  const Table* table = nullptr;
  std::vector<std::uint32_t> rows;  // by type, then fitting
  std::size_t fittings = 0;

  void read(const Law& law) {
    table = law.table("fitting-type");
    fittings = terms_with_unstated<Fitting>();
    rows.assign(terms_with_unstated<RacewayType>() * fittings, Table::none);
    if (table == nullptr) return;
    const std::uint32_t type = table->column("raceway-type"), fitting = table->column("fitting");
    for (std::uint32_t row = 0; row < table->row_count(); ++row) {
      const auto t = static_cast<std::size_t>(term_spelt<RacewayType>(table->key(row, type)));
      const auto f = static_cast<std::size_t>(term_spelt<Fitting>(table->key(row, fitting)));
      if (t != 0 && f != 0) rows[t * fittings + f] = row;
    }
  }
};

Value lacks_end(Evaluation& e, Subject s) {
  return e.lacks(s, "end", "an end with its fitting, for each of the two places", installer);
}

/// Whether a fitting is made for raceways of this type: 1 or 0. `couples`: it joins raceways or pieces.
Value made_for(Evaluation& e, Subject element, RacewayType type, Fitting fitting, bool couples,
               Offset source) {
  if (fitting == Fitting::unstated) {
    return e.lacks(element, "fitting", "a fitting such as set-screw-connector", installer, {}, source);
  }
  const auto& law = e.of_law<MadeFor>();
  if (law.table == nullptr) return e.lacks_law("fitting-type");
  const bool misplaced_here = couples != is_coupling(fitting);
  const std::uint32_t row =
      law.rows[static_cast<std::size_t>(type) * law.fittings + static_cast<std::size_t>(fitting)];
  if (row == Table::none) {
    return e.lacks(element, "fitting", "the fitting that is there", installer,
                   fmt::format(FMT_COMPILE("the ruleset in force does not say whether a {} is made for {}"),
                               name_of(fitting), name_of(type)),
                   source);
  }
  const bool fits = law.table->text(row, law.table->column("made-for")) == "yes";
  // What is not made for the type at all violates wherever it is.
  if (fits && misplaced_here) {
    return e.lacks(element, "fitting", couples ? "the coupling that is there" : "the connector that is there",
                   installer, misplaced(fitting), source);
  }
  e.used(law.table->cite(row));
  if (!fits) e.note(FMT_COMPILE("a {} is not made for {}"), name_of(fitting), name_of(type));
  return answer(fits, law.table->cite(row));
}

/// A coupling takes two raceways of one trade size, unless it is made to join unlike ones.
Value of_one_size(Evaluation& e, Subject s, Index joint) {
  const Place& place = e.model.places[joint];
  const auto around = e.in.graph.at(joint);
  if (around.size() != 2 || place.fitting == Fitting::combination_coupling) return answer(true);
  const Raceway &one = e.model.raceways[around[0].raceway], &other = e.model.raceways[around[1].raceway];
  const bool known = one.trade_size != TradeSize::unstated && other.trade_size != TradeSize::unstated;
  if (!known || one.trade_size == other.trade_size) return answer(true);
  const Raceway& beyond = around[0].raceway == s.index ? other : one;
  return e.lacks(
      {SubjectKind::joint, joint}, "fitting",
      "combination-coupling where it is made for two trade sizes, or what else joins them", installer,
      fmt::format(FMT_COMPILE("it joins {} {} to raceway {}, which is {} {}"),
                  name_of(e.model.raceways[s.index].type), name_of(e.model.raceways[s.index].trade_size),
                  beyond.id, name_of(beyond.type), name_of(beyond.trade_size)),
      place.source);
}

}  // namespace

Value takes_fittings(Evaluation& e, Subject s) {
  const RacewayType type = e.model.raceways[s.index].type;
  if (type == RacewayType::unstated) return lacks_type(e, s);
  return answer(is_tubular(type));
}

Value fittings_made_for(Evaluation& e, Subject s) {
  const Raceway& r = e.model.raceways[s.index];
  if (r.type == RacewayType::unstated) return lacks_type(e, s);
  Value out = answer(true);
  for (const RacewayEnd& end : r.ends) {
    const Place& place = e.model.places[end.place];
    const bool joint = place.kind == PlaceKind::joint;
    if (end.source == 0 && !joint) out = both(e, out, lacks_end(e, s));
    if (end.source != 0 && !joint) out = both(e, out, made_for(e, s, r.type, end.fitting, false, end.source));
    if (joint && end.fitting != Fitting::unstated && end.fitting != place.fitting &&
        is_no(made_for(e, s, r.type, end.fitting, is_coupling(end.fitting), end.source))) {
      out = both(e, out,
                 e.lacks(s, "fitting", "the fitting of the joint", installer,
                         fmt::format(FMT_COMPILE("it is said to enter joint {} by a {}"), place.id,
                                     name_of(end.fitting)),
                         end.source));
    }
    if (!joint) continue;
    out = both(e, out, made_for(e, {SubjectKind::joint, end.place}, r.type, place.fitting, true, 0));
    out = both(e, out, of_one_size(e, s, end.place));
  }
  for (Index i = r.pieces.first; i < r.pieces.end(); ++i) {
    const Piece& piece = e.model.pieces[i];
    if (piece.kind == PieceKind::coupling || piece.kind == PieceKind::expansion)
      out = both(e, out, made_for(e, s, r.type, piece.fitting, true, piece.source));
  }
  return out;
}

Value fittings_made_up(Evaluation& e, Subject s) {
  const Raceway& r = e.model.raceways[s.index];
  const bool said_tight = attested(e, Attested::fittings_tight, r.id);
  Value out = answer(true);
  for (const RacewayEnd& end : r.ends) {
    if (end.source == 0) {
      out = both(e, out, lacks_end(e, s));
      continue;
    }
    const auto must = [&](YesNo fact, std::string_view attribute, std::string_view expects,
                          std::string_view who, std::string_view fault) {
      if (fact == YesNo::unstated) {
        out = both(e, out, e.lacks(s, attribute, expects, who, {}, end.source));
        return;
      }
      if (fact == YesNo::no)
        e.note(FMT_COMPILE("its fitting at {} is {}"), e.model.places[end.place].id, fault);
      out = both(e, out, answer(fact == YesNo::yes));
    };
    must(end.listed, "listed", "yes or no: whether the fitting is listed for the raceway", marking,
         "not listed for it");
    if (said_tight && end.tight == YesNo::no) {
      out = both(e, out,
                 e.lacks(s, "tight", "yes or no", installer,
                         "it is said to be loose, and attested to be tight", end.source));
    } else {
      must(said_tight ? YesNo::yes : end.tight, "tight", "yes or no: whether the fitting is made up tight",
           installer, "loose");
    }
  }
  return out;
}

}  // namespace raceward::figure::compute
