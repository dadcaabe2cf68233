#include "figure/grounding_raceway.hpp"

#include "figure/facts.hpp"
#include "figure/fitting_kinds.hpp"
#include "figure/grounding_asking.hpp"
#include "figure/raceway_kinds.hpp"
#include "figure/surroundings.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure::grounding {

using namespace installation;

namespace {

void ask_fitting(Asking& a, Fitting fitting, Subject element, Offset source, Index place) {
  if (a.settled()) return;
  if (fitting == Fitting::unstated) {
    a.lack(element, "fitting", "a fitting such as set-screw-connector", installer, source);
    return;
  }
  if (a.raceway.type == RacewayType::unstated) {
    a.lack(a.subject(), "type", "a raceway type such as EMT", installer);
    return;
  }
  const EgcFitting& row = a.law.fitting(a.raceway.type, fitting);
  const bool at_enclosure = place != none && a.e.model.places[place].kind != PlaceKind::joint;
  if (row.suited == EgcFitting::Suited::no) {
    a.fail(row.cite, [&] {
      return fmt::format(
          FMT_COMPILE("raceway {} has a fitting{} ({}) that does not carry fault current on"), a.raceway.id,
          place == none ? std::string(" in its course") : " at " + short_place(a.e.model, place),
          name_of(fitting));
    });
  } else if (row.suited == EgcFitting::Suited::unsaid) {
    a.lack(Subject{}, "egc-fitting", "a row for this fitting and raceway type", ruleset_author, [&] {
      return fmt::format(
          FMT_COMPILE("the ruleset in force does not say whether a {} carries fault current on from {}; it "
                      "may not be made for it"),
          name_of(fitting), name_of(a.raceway.type));
    });
  } else if (at_enclosure == is_coupling(fitting)) {
    // At an enclosure a coupling takes another piece, and what fastens that is not said; so it is the other
    // way round.
    a.lack(
        element, "fitting", at_enclosure ? "the connector that is there" : "the coupling that is there",
        installer, [&] { return misplaced(fitting); }, source);
  }
}

constexpr std::string_view whether_listed = "yes or no: whether the fitting is listed for the raceway";
constexpr std::string_view whether_tight = "yes or no: whether the fitting is made up tight";

void ask_made_up(Asking& a, const RacewayEnd& end) {
  const auto fault = [&](std::string_view what) {
    a.fail(no_citation, [&] {
      return fmt::format(FMT_COMPILE("the fitting of raceway {} at {} is {}"), a.raceway.id,
                         short_place(a.e.model, end.place), what);
    });
  };
  const bool said_tight = end.tight != YesNo::yes && attested(a.e, Attested::fittings_tight, a.raceway.id);
  if (end.listed == YesNo::no) fault("not listed for it");
  if (end.tight == YesNo::no && !said_tight) fault("loose");
  if (end.listed == YesNo::unstated) a.lack(a.subject(), "listed", whether_listed, marking, end.source);
  if (end.tight == YesNo::unstated && !said_tight)
    a.lack(a.subject(), "tight", whether_tight, installer, end.source);
  if (end.tight == YesNo::no && said_tight) {
    a.lack(
        a.subject(), "tight", "yes or no", installer,
        [] { return std::string("it is said to be loose, and attested to be tight"); }, end.source);
  }
}

/// A bond that something said of the fitting speaks against.
void doubt_bond(Asking& a, const RacewayEnd& end, std::string_view name, std::string_view expects,
                std::string_view what) {
  a.lack(
      a.subject(), name, expects, installer,
      [&] {
        return fmt::format(FMT_COMPILE("it is said to be bonded at {}, and its fitting there is {}"),
                           short_place(a.e.model, end.place), what);
      },
      end.source);
}
void doubt_fitting(Asking& a, const RacewayEnd& end, Fitting fitting) {
  doubt_bond(a, end, "fitting", "the fitting that is bonded",
             fmt::format(FMT_COMPILE("a {}"), name_of(fitting)));
}

/// How the fitting is made up that a bond is at.
void ask_bond_made_up(Asking& a, const RacewayEnd& end) {
  if (end.listed == YesNo::no) doubt_bond(a, end, "listed", whether_listed, "not listed for it");
  if (end.tight == YesNo::no) doubt_bond(a, end, "tight", whether_tight, "loose");
  if (end.listed != YesNo::no && end.tight != YesNo::no) ask_made_up(a, end);
}

bool is_unsuited(const Asking& a, Fitting fitting) {
  return a.law.fitting(a.raceway.type, fitting).suited == EgcFitting::Suited::no;
}

/// A bond at the end goes from its fitting to the enclosure: it joins the raceway only as far as the fitting
/// does.
void ask_bond(Asking& a, const RacewayEnd& end) {
  if (end.fitting == Fitting::unstated) return ask_fitting(a, end.fitting, a.subject(), end.source, none);
  if (is_unsuited(a, end.fitting) || is_coupling(end.fitting)) doubt_fitting(a, end, end.fitting);
  ask_bond_made_up(a, end);
}

/// A bond at a joint goes around its fitting, which may be an expansion fitting; but not one that metal ends
/// at: what spans that is a jumper, which is written by itself.
void ask_bond_around(Asking& a, const RacewayEnd& end) {
  const Place& joint = a.e.model.places[end.place];
  for (const Fitting fitting : {joint.fitting, end.fitting}) {
    if (fitting != Fitting::expansion_coupling && is_unsuited(a, fitting)) doubt_fitting(a, end, fitting);
  }
  if (joint.material == EnclosureMaterial::nonmetallic) {
    a.lack(place_subject(a.e.model, end.place), "material", "metal or nonmetallic", installer, [&] {
      return fmt::format(FMT_COMPILE("it is said to be nonmetallic, and raceway {} to be bonded at it"),
                         a.raceway.id);
    });
  }
  if (joint.fitting == Fitting::unstated && end.fitting == Fitting::unstated)
    ask_fitting(a, joint.fitting, place_subject(a.e.model, end.place), 0, end.place);
  ask_bond_made_up(a, end);
}

/// The joint's own fitting carries the current on; the raceway's end may name it again.
void ask_joint(Asking& a, const RacewayEnd& end) {
  const Place& joint = a.e.model.places[end.place];
  const bool carries = a.law.fitting(a.raceway.type, joint.fitting).suited == EgcFitting::Suited::yes;
  if (carries && joint.material == EnclosureMaterial::nonmetallic) {
    a.lack(place_subject(a.e.model, end.place), "material", "metal or nonmetallic", installer, [&] {
      return fmt::format(FMT_COMPILE("it is said to be nonmetallic, and a {}"), name_of(joint.fitting));
    });
  }
  // Alone this one says nothing of what it is made of.
  if (joint.fitting == Fitting::combination_coupling && joint.material == EnclosureMaterial::unstated)
    a.lack(place_subject(a.e.model, end.place), "material", "metal or nonmetallic", installer);
  ask_fitting(a, joint.fitting, place_subject(a.e.model, end.place), 0, end.place);
  const bool another = end.fitting != Fitting::unstated && end.fitting != joint.fitting;
  if (another && a.law.fitting(a.raceway.type, end.fitting).suited != EgcFitting::Suited::yes) {
    a.lack(
        a.subject(), "fitting", "the fitting of the joint", installer,
        [&] {
          return fmt::format(FMT_COMPILE("raceway {} is said to enter joint {} by a {}"), a.raceway.id,
                             joint.id, name_of(end.fitting));
        },
        end.source);
  }
  ask_made_up(a, end);
}

void no_end(Asking& a) {
  a.lack(a.subject(), "end", "an end with its fitting, for each of the two places", installer);
}

/// What fastens an end to a metal enclosure.
void ask_fastened(Asking& a, const RacewayEnd& end, bool bridged) {
  if (bridged) return;
  if (end.source == 0) return no_end(a);
  // Wireways and surface raceways are fastened by parts of their own.
  if (is_trough(a.raceway.type)) {
    if (end.fitting != Fitting::unstated && is_unsuited(a, end.fitting))
      ask_fitting(a, end.fitting, a.subject(), end.source, end.place);
    return ask_made_up(a, end);
  }
  if (end.bonded == YesNo::yes) return ask_bond(a, end);
  ask_fitting(a, end.fitting, a.subject(), end.source, end.place);
  ask_made_up(a, end);
}

void ask_course(Asking& a) {
  for (Index i = a.raceway.pieces.first; i < a.raceway.pieces.end(); ++i) {
    const Piece& piece = a.e.model.pieces[i];
    const bool fitting = piece.kind == PieceKind::coupling || piece.kind == PieceKind::expansion;
    // Lengths of wireway are joined by parts of their own.
    const bool own = is_trough(a.raceway.type) && piece.kind == PieceKind::coupling;
    if (own && piece.fitting == Fitting::unstated) continue;
    if (fitting) ask_fitting(a, piece.fitting, a.subject(), piece.source, none);
  }
}

void ask_end(Asking& a, int which, bool bridged) {
  const RacewayEnd& end = a.raceway.ends[which];
  const Place& place = a.e.model.places[end.place];
  if (place.kind == PlaceKind::joint) {
    if (end.source == 0) return no_end(a);
    ask_joint(a, end);
    return;
  }
  const bool bonded = bridged || end.bonded == YesNo::yes;
  if (place.material == EnclosureMaterial::nonmetallic) {
    a.link.metal[which] = false;
    if (bridged) return;
    if (bonded) return ask_bond(a, end);
    if (end.source == 0) return no_end(a);
    if (end.bonded == YesNo::unstated) {
      a.lack(a.subject(), "bonded", "yes or no: it enters an enclosure of no metal", installer, end.source);
      return;
    }
    a.fail(no_citation, [&] {
      return fmt::format(FMT_COMPILE("raceway {} ends at {}, which is nonmetallic, and is not bonded there"),
                         a.raceway.id, short_place(a.e.model, end.place));
    });
    return;
  }
  const Subject at = place_subject(a.e.model, end.place);
  if (place.material == EnclosureMaterial::unstated)
    a.lack(at, "material", "metal or nonmetallic", installer);
  if (place.grounded_by == GroundedBy::none) {
    a.lack(at, "grounded-by", "wire, raceway or none", installer, [&] {
      return fmt::format(FMT_COMPILE("it is said to be connected to nothing, and metal raceway {} enters it"),
                         a.raceway.id);
    });
  }
  ask_fastened(a, end, bridged);
  if (!bonded && end.source != 0) ask_knockout(a, end);
}

/// False where the type settles the matter.
bool ask_type(Asking& a) {
  const RacewayType type = a.raceway.type;
  if (type == RacewayType::unstated) {
    a.lack(a.subject(), "type", "a raceway type such as EMT", installer);
    return false;
  }
  const EgcRaceway& row = a.law.raceway(type, a.raceway.trade_size);
  const Parameter* const stainless = a.law.stainless();
  const bool core = row.use == EgcRaceway::Use::flexible && stainless != nullptr &&
                    a.raceway.material == RacewayMetal::stainless_steel;
  if (core && is_one_of(stainless->text, name_of(type))) {
    a.fail(stainless->cite, [&] {
      return fmt::format(FMT_COMPILE("raceway {} is {} with a core of stainless steel, which may not carry "
                                     "fault current by itself"),
                         a.raceway.id, name_of(type));
    });
    return false;
  }
  a.allowed_by(row.cite);
  switch (row.use) {
    case EgcRaceway::Use::unsaid:
      a.lack(Subject{}, "egc-raceway", "a row for this raceway type and trade size", ruleset_author, [&] {
        const bool sized = a.raceway.trade_size != TradeSize::unstated;
        return fmt::format(
            FMT_COMPILE("the ruleset in force does not say whether {}{}{} may carry fault current"),
            name_of(type), sized ? " " : " raceways",
            sized             ? name_of(a.raceway.trade_size)
            : is_trough(type) ? ""
                              : " of a trade size that is not stated");
      });
      break;
    case EgcRaceway::Use::ask_size:
      a.lack(a.subject(), "trade-size", "a trade size such as 3/4", installer);
      break;
    case EgcRaceway::Use::no:
      a.fail(row.cite, [&] {
        return fmt::format(FMT_COMPILE("raceway {} is {} {}, which may not carry fault current by itself"),
                           a.raceway.id, name_of(type), name_of(a.raceway.trade_size));
      });
      return false;
    case EgcRaceway::Use::flexible:
      a.link.flexible = true;
      ask_flexible(a, row);
      break;
    case EgcRaceway::Use::yes:
      break;
  }
  return true;
}

}  // namespace

Bridged bridged_ends(const Model& model) {
  Bridged out;
  for (const BondingJumper& jumper : model.bonding_jumpers) {
    if (jumper.raceway == none || jumper.to != none) continue;
    if (out.empty()) out.resize(model.raceways.size());
    for (const int end : {0, 1}) {
      if (model.raceways[jumper.raceway].ends[end].place != jumper.from) continue;
      out[jumper.raceway] |= static_cast<std::uint8_t>(1 << end);
    }
  }
  return out;
}

Link link_of(Evaluation& e, const Bridged& bridged, Index raceway, Account* account) {
  Asking a(e, raceway, account);
  if (!ask_type(a)) return a.link;
  const int jumpers = bridged.empty() ? 0 : bridged[raceway];
  for (const int end : {0, 1}) ask_end(a, end, ((jumpers >> end) & 1) != 0);
  ask_course(a);
  return a.link;
}

Carries fastened(Evaluation& e, Index raceway, int end, Account& account) {
  Asking a(e, raceway, &account);
  ask_fastened(a, a.raceway.ends[end], false);
  return a.link.carries;
}

Carries bonded(Evaluation& e, Index raceway, int end, Account& account) {
  Asking a(e, raceway, &account);
  ask_bond(a, a.raceway.ends[end]);
  return a.link.carries;
}

Carries bonded_around(Evaluation& e, Index raceway, int end, Account& account) {
  Asking a(e, raceway, &account);
  ask_bond_around(a, a.raceway.ends[end]);
  return a.link.carries;
}

Carries at_joint(Evaluation& e, Index raceway, int end, Account& account) {
  Asking a(e, raceway, &account);
  const RacewayEnd& at = a.raceway.ends[end];
  if (at.source == 0) {
    no_end(a);
  } else {
    ask_joint(a, at);
  }
  return a.link.carries;
}

Carries course_of(Evaluation& e, Index raceway, Account& account) {
  Asking a(e, raceway, &account);
  ask_course(a);
  return a.link.carries;
}

std::string short_place(const Model& model, Index place) {
  const Place& p = model.places[place];
  return fmt::format(FMT_COMPILE("{} {}"), raceward::name_of(subject_kind(p.kind)), p.id);
}

}  // namespace raceward::figure::grounding
