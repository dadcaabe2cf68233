// Whether a raceway is of a type and size that may lie where it does, and its fittings too.
//
// Method: each thing that the document says of the place (dry, damp, wet; exposed to damage; corrosive;
// buried or not) is a word of the law's table, which allows the type there, forbids it, or asks for
// protection or a listing. What could not matter for the type is not asked for. docs/figures/raceway-place.md
// tells it in words.
#include <array>

#include "figure/facts.hpp"
#include "figure/raceway_kinds.hpp"
#include "figure/support_facts.hpp"
#include "figure/surroundings.hpp"
#include "figure/type_rows.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

struct SizeRows : TypeRows {
  void read(const Law& law) { read_all(law, "raceway-size"); }
};
struct SmallSizeRows : TypeRows {
  void read(const Law& law) { read_by<TradeSize>(law, "raceway-small-size"); }
};
struct WetFittingRows : TypeRows {
  void read(const Law& law) { read_by<Fitting>(law, "wet-fitting"); }
};
struct HeatRows : TypeRows {
  void read(const Law& law) { read_all(law, "raceway-heat"); }
};
struct ReamingRows : TypeRows {
  void read(const Law& law) { read_all(law, "raceway-reaming"); }
};

constexpr std::string_view size_word = "a trade size such as 3/4";

/// A size below the smallest is allowed for short pieces to equipment or luminaires, of some types.
Value small_size(Evaluation& e, Subject s, const Raceway& r) {
  const auto& rows = e.of_law<SmallSizeRows>();
  const std::uint32_t row = rows.of(r.type, static_cast<std::size_t>(r.trade_size));
  if (row == Table::none) return Evaluation::value(0);
  const std::int64_t longest = rows.table->count(row, rows.table->column("length", Dimension::length));
  const bool to_equipment = e.model.places[r.ends[0].place].kind == PlaceKind::equipment ||
                            e.model.places[r.ends[1].place].kind == PlaceKind::equipment;
  e.used(rows.table->cite(row));
  const bool to_none = r.ceiling_whip == YesNo::unstated ? !may_be_whip(e, s) : r.ceiling_whip == YesNo::no;
  if (!to_equipment && to_none) return Evaluation::value(0, rows.table->cite(row));
  const Value length = e.get(Id::raceway_length, s);
  if (length && length.count > longest) return Evaluation::value(0, rows.table->cite(row));
  MissingId missing = length.missing;
  if (!to_equipment && r.ceiling_whip == YesNo::unstated) {
    missing = e.missing.both(missing,
                             e.lacks(s, "ceiling-whip", whip_word, installer,
                                     "so small a size is for short pieces to equipment and luminaires only")
                                 .missing);
  }
  if (!to_equipment && r.ceiling_whip == YesNo::yes)
    missing = e.missing.both(missing, claim_whip(e, s).missing);
  if (missing != 0) return Evaluation::lacks(missing);
  if (e.noting())
    e.note(FMT_COMPILE("a short piece to equipment or a luminaire may be of trade size {} ({})"),
           name_of(r.trade_size), e.cited(rows.table->cite(row)));
  return answer(true, rows.table->cite(row));
}

/// The law's word for a type at a kind of place: yes, no, protected, listed; empty where it says nothing.
class PlaceLaw {
 public:
  enum Where : std::uint8_t { dry, damp, wet, exposed, severe, corrosive, buried, not_buried, count };
  static constexpr std::array<std::string_view, count> words = {
      "dry", "damp", "wet", "exposed", "severe", "corrosive", "buried", "not-buried"};
  enum class Says : std::uint8_t { nothing, yes, no, if_protected, if_listed };
  struct Row {
    Says says = Says::nothing;
    CitationId cite = no_citation;
  };

  void read(const Law& law) {
    rows_.resize(terms_with_unstated<RacewayType>() * count);
    const Table* table = law.table("raceway-place");
    if (table == nullptr) return;
    const std::uint32_t permitted = table->column("permitted");
    for (std::uint32_t row = 0; row < table->row_count(); ++row) {
      const auto type = static_cast<std::size_t>(term_spelt<RacewayType>(table->key(row, 0)));
      for (std::size_t where = 0; where < count; ++where)
        if (type != 0 && table->key(row, 1) == words[where])
          rows_[type * count + where] = {says(table->text(row, permitted)), table->cite(row)};
    }
  }
  [[nodiscard]] const Row& of(RacewayType type, Where where) const {
    return rows_[static_cast<std::size_t>(type) * count + where];
  }

 private:
  static Says says(std::string_view word) {
    if (word == "yes") return Says::yes;
    if (word == "no") return Says::no;
    if (word == "protected") return Says::if_protected;
    return word == "listed" ? Says::if_listed : Says::nothing;
  }
  std::vector<Row> rows_;
};

/// Goes through what is said of the place, one word of the law after the other.
class Placing {
 public:
  Placing(Evaluation& e, Subject s, const PlaceLaw& law)
      : e_(e), s_(s), r_(e.model.raceways[s.index]), law_(law), area_(area_of(e, r_)) {}

  Value judge() {
    const bool below = is_buried(e_, r_);
    missing_ = dry_burial(e_, s_.index);
    word(below ? PlaceLaw::buried : PlaceLaw::not_buried);
    if (below)
      word(PlaceLaw::wet);  // a raceway in earth is in a wet place
    else
      location();
    if (!below) damage();
    const PlaceLaw::Says in_earth = law_.of(r_.type, PlaceLaw::buried).says;
    const bool suits_earth = in_earth == PlaceLaw::Says::yes || (in_earth == PlaceLaw::Says::if_protected &&
                                                                 r_.corrosion_protected == YesNo::yes);
    const MissingId open = suits_earth && !forbidden_ ? 0 : earth_open(e_, s_.index, true);
    missing_ = e_.missing.both(missing_, open);
    // Nobody says that it is not underground.
    const bool may_be_below = !below && (area_ == nullptr || area_->use == AreaUse::unstated);
    if (may_be_below && law_.of(r_.type, PlaceLaw::buried).says == PlaceLaw::Says::no)
      ask_area("use", "a word such as workshop");
    corrosion();
    if (forbidden_ && open == 0) return Evaluation::value(0, cite_);
    return missing_ != 0 ? Evaluation::lacks(missing_) : answer(true);
  }

 private:
  void lack(const Value& v) { missing_ = e_.missing.both(missing_, v.missing); }

  void forbid(const PlaceLaw::Row& row) {
    if (!forbidden_) cite_ = row.cite;
    forbidden_ = true;
  }

  void on_condition(const PlaceLaw::Row& row, YesNo fact, std::string_view attribute, std::string_view why) {
    if (fact == YesNo::no) return forbid(row);
    if (fact == YesNo::unstated) lack(e_.lacks(s_, attribute, "yes or no", marking, std::string(why)));
  }

  void word(PlaceLaw::Where where) {
    const PlaceLaw::Row& row = law_.of(r_.type, where);
    if (row.says == PlaceLaw::Says::nothing) {
      lack(lacks_row(e_, s_, "raceway-place", PlaceLaw::words[where], r_.type));
      return;
    }
    e_.used(row.cite);
    if (e_.noting()) {
      constexpr std::array<std::string_view, 5> shown = {"", "permitted", "not permitted",
                                                         "where protected and approved for it",
                                                         "where listed and marked for it"};
      e_.note(FMT_COMPILE("{}, {}: {} ({})"), name_of(r_.type), PlaceLaw::words[where],
              shown[static_cast<std::size_t>(row.says)], e_.cited(row.cite));
    }
    if (row.says == PlaceLaw::Says::no) forbid(row);
    if (row.says == PlaceLaw::Says::if_protected)
      on_condition(row, r_.corrosion_protected, "corrosion-protected",
                   "metal needs protection that is approved for this place");
    if (row.says == PlaceLaw::Says::if_listed)
      on_condition(row, r_.place_listed, "listed-for-place", "this type needs a listing for this place");
  }

  [[nodiscard]] bool all_allow(std::initializer_list<PlaceLaw::Where> places) const {
    for (const PlaceLaw::Where where : places)
      if (law_.of(r_.type, where).says != PlaceLaw::Says::yes) return false;
    return true;
  }

  /// Nothing is asked for that could not matter.
  void location() {
    const Location at = area_ == nullptr ? Location::unstated : area_->location;
    if (at != Location::unstated) {
      word(at == Location::dry ? PlaceLaw::dry : at == Location::damp ? PlaceLaw::damp : PlaceLaw::wet);
    } else if (!all_allow({PlaceLaw::dry, PlaceLaw::damp, PlaceLaw::wet})) {
      missing_ = e_.missing.both(missing_, lacks_location(e_, s_, r_.area));
    }
  }

  /// That an area is exposed forbids nothing yet: a raceway may lie out of the way in it, or be guarded.
  void damage() {
    const Exposure around = area_ == nullptr ? Exposure::unstated : area_->damage;
    const Exposure exposure = r_.damage == Exposure::unstated ? around : r_.damage;
    if (exposure == Exposure::unstated) {
      if (!all_allow({PlaceLaw::exposed, PlaceLaw::severe})) ask_area("damage", "none, exposed or severe");
      return;
    }
    if (exposure == Exposure::none) return;
    const PlaceLaw::Where where = exposure == Exposure::exposed ? PlaceLaw::exposed : PlaceLaw::severe;
    if (r_.damage == Exposure::unstated && law_.of(r_.type, where).says == PlaceLaw::Says::no) {
      lack(e_.lacks(
          s_, "damage", "none where it lies out of the way or is guarded; else exposed or severe", installer,
          fmt::format(FMT_COMPILE("its area is {}, and this type is not for places where it can be damaged"),
                      exposure == Exposure::exposed ? "exposed to damage" : "exposed to severe damage")));
      return;
    }
    word(where);
  }

  void corrosion() {
    if (area_ != nullptr && area_->corrosive == YesNo::yes) return word(PlaceLaw::corrosive);
    if (area_ != nullptr && area_->corrosive == YesNo::no) return;
    if (r_.corrosion_protected != YesNo::yes && !all_allow({PlaceLaw::corrosive}))
      ask_area("corrosive", "yes or no");
  }

  void ask_area(std::string_view attribute, std::string_view expects) {
    if (area_ == nullptr) {
      lack(e_.lacks(s_, "area", "the id of the area where it is", installer));
    } else {
      lack(e_.lacks({SubjectKind::area, r_.area}, attribute, expects, installer, {}, area_->source));
    }
  }

  Evaluation& e_;
  Subject s_;
  const Raceway& r_;
  const PlaceLaw& law_;
  const installation::Area* area_;
  MissingId missing_ = 0;
  bool forbidden_ = false;
  CitationId cite_ = no_citation;
};

/// What is found of the fittings of a raceway that lie in wet places.
struct Fittings {
  bool unsuited = false;
  MissingId missing = 0;
  CitationId cite = no_citation;
};

/// One fitting, taken to be in a wet place.
void judge_fitting(Evaluation& e, Subject s, RacewayType type, Fitting fitting, YesNo raintight,
                   Offset source, Fittings& out) {
  if (raintight == YesNo::yes) return;
  const auto lack = [&](std::string_view name, std::string_view expects, std::string_view who) {
    const Value v = e.lacks(s, name, expects, who, "it is in a wet place", source);
    out.missing = e.missing.both(out.missing, v.missing);
  };
  if (fitting == Fitting::unstated)
    return lack("fitting", "a fitting such as compression-connector", installer);
  const auto& rows = e.of_law<WetFittingRows>();
  const std::uint32_t row = rows.of(type, static_cast<std::size_t>(fitting));
  const std::string_view suited =
      row == Table::none ? std::string_view{} : rows.table->text(row, rows.table->column("suited"));
  if (suited == "yes") return;
  if (suited != "no" && raintight == YesNo::unstated) return lack("raintight", "yes or no", marking);
  out.unsuited = true;
  if (row != Table::none) {
    out.cite = rows.table->cite(row);
    e.used(out.cite);
  }
  if (e.noting())
    e.note(FMT_COMPILE("{}: not made for a wet place{}"), name_of(fitting),
           raintight == YesNo::no ? ", as stated" : "");
}

/// Whether a fitting is in a wet place; where nobody says, `missing` tells what would.
bool wet(Evaluation& e, Subject s, Index area, MissingId& missing) {
  const Location at = area == none ? Location::unstated : e.model.areas[area].location;
  if (at == Location::unstated) missing = lacks_location(e, s, area);
  return at == Location::wet;
}

/// Earth is wet: an area that is said to lie in it and not to be wet says two things.
MissingId dry_earth(Evaluation& e, const Raceway& r) {
  const installation::Area* const area = area_of(e, r);
  if (area == nullptr || area->use != AreaUse::underground) return 0;
  if (r.burial_depth.known() || r.beneath != Beneath::unstated) return 0;
  if (area->location == Location::unstated || area->location == Location::wet) return 0;
  return e
      .lacks({SubjectKind::area, static_cast<Index>(area - e.model.areas.data())}, "location",
             "wet; or another use than underground", installer,
             fmt::format(FMT_COMPILE("it is said to be underground and to be {}"), name_of(area->location)),
             area->source)
      .missing;
}

}  // namespace

Value has_trade_size(Evaluation& e, Subject s) {
  const RacewayType type = e.model.raceways[s.index].type;
  if (type == RacewayType::unstated) return lacks_type(e, s);
  return Evaluation::value(number(is_trough(type) ? 0 : 1).count());
}

Value trade_size_permitted(Evaluation& e, Subject s) {
  const Raceway& r = e.model.raceways[s.index];
  if (r.type == RacewayType::unstated) return lacks_type(e, s);
  if (r.trade_size == TradeSize::unstated) return e.lacks(s, "trade-size", size_word, installer);
  const auto& rows = e.of_law<SizeRows>();
  const std::uint32_t row = rows.of(r.type);
  const auto limit = [&](std::string_view column) {
    return row == Table::none ? TradeSize{}
                              : term_spelt<TradeSize>(rows.table->text(row, rows.table->column(column)));
  };
  const TradeSize smallest = limit("smallest"), largest = limit("largest");
  if (smallest == TradeSize::unstated || largest == TradeSize::unstated)
    return lacks_row(e, s, "raceway-size", "trade sizes", r.type);
  const CitationId cite = rows.table->cite(row);
  e.used(cite);
  if (e.noting())
    e.note(FMT_COMPILE("{}: trade sizes {} to {} ({}); this one is {}"), name_of(r.type), name_of(smallest),
           name_of(largest), e.cited(cite), name_of(r.trade_size));
  if (r.trade_size > largest) return Evaluation::value(0, cite);
  return r.trade_size < smallest ? small_size(e, s, r) : answer(true, cite);
}

Value heat_asked(Evaluation& e, Subject s) {
  const RacewayType type = e.model.raceways[s.index].type;
  if (type == RacewayType::unstated) return lacks_type(e, s);
  return answer(e.of_law<HeatRows>().of(type) != Table::none);
}

Value heat_limit(Evaluation& e, Subject s) {
  const RacewayType type = e.model.raceways[s.index].type;
  if (type == RacewayType::unstated) return lacks_type(e, s);
  const auto& rows = e.of_law<HeatRows>();
  const std::uint32_t row = rows.of(type);
  const std::int64_t limit = row == Table::none
                                 ? Table::blank
                                 : rows.table->count(row, rows.table->column("most", Dimension::temperature));
  if (limit == Table::blank) return lacks_row(e, s, "raceway-heat", "heat", type);
  e.used(rows.table->cite(row));
  return Evaluation::value(limit, rows.table->cite(row));
}

Value heat_listed(Evaluation& e, Subject s) {
  const YesNo listed = e.model.raceways[s.index].heat_listed;
  if (listed == YesNo::unstated)
    return e.lacks(s, "listed-for-heat", "yes where it is listed and marked for such heat, else no", marking);
  return answer(listed == YesNo::yes);
}

Value location_permitted(Evaluation& e, Subject s) {
  if (e.model.raceways[s.index].type == RacewayType::unstated) return lacks_type(e, s);
  return Placing(e, s, e.of_law<PlaceLaw>()).judge();
}

Value fittings_suited(Evaluation& e, Subject s) {
  const Raceway& r = e.model.raceways[s.index];
  if (r.type == RacewayType::unstated) return lacks_type(e, s);
  Fittings out;
  const bool below = is_buried(e, r);
  const MissingId open = below ? dry_earth(e, r) : earth_open(e, s.index, true);
  // Judged as in a wet place first: where all suit that, it does not matter where they are.
  const auto take = [&](Index area, bool with_it, Fitting fitting, YesNo raintight, Offset source,
                        std::string_view element) {
    MissingId where = with_it && below ? open : 0;
    if (!(with_it && below) && !wet(e, s, area, where)) {
      if (with_it) where = e.missing.both(where, open);
      if (where == 0) return;
    }
    Fittings one;
    if (source == 0)
      one.missing = e.lacks(s, element, "its fitting", installer, "it is in a wet place").missing;
    else
      judge_fitting(e, s, r.type, fitting, raintight, source, one);
    if (where != 0) {
      if (one.unsuited || one.missing != 0) out.missing = e.missing.both(out.missing, where);
      return;
    }
    out.missing = e.missing.both(out.missing, one.missing);
    if (one.unsuited) out = {true, out.missing, one.cite};
  };
  for (const RacewayEnd& end : r.ends) {
    const Place& place = e.model.places[end.place];
    const bool joint = place.kind == PlaceKind::joint;
    const Index area = place.area != none ? place.area : r.area;
    const bool with_it = joint || place.mounting == Mounting::buried;
    if (joint && end.fitting == Fitting::unstated && end.raintight == YesNo::unstated)
      take(area, with_it, place.fitting, place.raintight, place.source, "end");
    else
      take(area, with_it, end.fitting, end.raintight, end.source, "end");
  }
  for (Index i = r.pieces.first; i < r.pieces.end(); ++i) {
    const Piece& piece = e.model.pieces[i];
    if (piece.kind == PieceKind::coupling)
      take(r.area, true, piece.fitting, piece.raintight, piece.source, "coupling");
  }
  if (out.unsuited) return Evaluation::value(0, out.cite);
  return out.missing != 0 ? Evaluation::lacks(out.missing) : answer(true);
}

Value lies_in_earth(Evaluation& e, Subject s) {
  const MissingId wrong = wrong_in_earth(e, s.index);
  return wrong != 0 ? Evaluation::lacks(wrong) : answer(is_buried(e, e.model.raceways[s.index]));
}

Value reaming_asked(Evaluation& e, Subject s) {
  const RacewayType type = e.model.raceways[s.index].type;
  if (type == RacewayType::unstated) return lacks_type(e, s);
  const auto& rows = e.of_law<ReamingRows>();
  const std::uint32_t row = rows.of(type);
  if (row == Table::none) return Evaluation::value(0);
  e.used(rows.table->cite(row));
  const bool asked = rows.table->text(row, rows.table->column("asked")) == "yes";
  return answer(asked, rows.table->cite(row));
}

Value ends_reamed(Evaluation& e, Subject s) {
  const Raceway& r = e.model.raceways[s.index];
  if (attested(e, Attested::ends_reamed, r.id)) {
    if (r.reamed == YesNo::no)
      return e.lacks(s, "reamed", "yes or no", installer, "it is said not to be reamed, and attested to be");
    if (e.noting()) e.note(FMT_COMPILE("attested: its ends are reamed"));
    return answer(true);
  }
  return stated(e, s, r.reamed, "reamed", installer);
}

}  // namespace raceward::figure::compute
