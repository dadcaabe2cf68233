// How hard conductors are pulled between two pull points.
//
// Method: from one pull point to the other a straight adds the conductors' weight times the friction, and a
// bend multiplies what is there by e to the power of friction times angle. What is pulled out at the end, and
// what presses against a bend for each foot of its radius, are shares of what the conductors bear: the
// greater counts, for the end from which it is less. A course by pieces does not tell what of it rises or
// falls: then it is taken as rising, and asked for where that decides.
// docs/figures/bends.md tells it in words.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "figure/conductor.hpp"
#include "figure/course.hpp"
#include "figure/facts.hpp"
#include "figure/raceway_kinds.hpp"
#include "figure/run_contents.hpp"
#include "figure/words_of_law.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

constexpr auto one = static_cast<double>(number(1).count());
constexpr auto foot = static_cast<double>(feet(1).count());
constexpr double square_inch = 64'516'000'000;       // not law: steps of an area
constexpr double inches_of_foot = 12;                // not law: geometry
constexpr double circular_mils_of_inch = 1'000'000;  // not law: geometry
constexpr double quarter = std::numbers::pi / 4;     // not law: geometry

/// What the law says of pulling, in pounds, inches, circular mils and feet.
struct PullingLaw {
  struct Material {
    double weight = 0;    ///< of a cubic inch
    double strength = 0;  ///< of a circular mil
    CitationId cite = no_citation;
  };
  struct Set {
    double is = 0;
    CitationId cite = no_citation;
  };
  Set friction, most, pressure, many, of_many;
  const Parameter* limit = nullptr;
  CitationId cite = no_citation;
  std::vector<Material> materials;  ///< by material
  Material insulation;
  std::vector<double> circular_mils;  ///< by size; 0 where the law has none
  CitationId mils_cite = no_citation;
  bool complete = false;

  void read(const Law& law) {
    complete = true;
    const auto parameter = [&](std::string_view name) {
      const Parameter* const found = law.divisor(name, Dimension::none);
      complete = complete && found != nullptr;
      return found == nullptr ? Set{} : Set{static_cast<double>(found->value.count) / one, found->cite};
    };
    friction = parameter("pulling-friction");
    most = parameter("pulling-most");
    pressure = parameter("pulling-pressure");
    many = parameter("pulling-many");
    of_many = parameter("pulling-strength-of-many");
    limit = law.parameter("pulling-share-limit", Dimension::none);
    if (limit != nullptr) cite = limit->cite;
    const Table *const table = law.table("pulling-material"), *const sizes =
                                                                  law.table("conductor-circular-mils");
    complete = complete && limit != nullptr && table != nullptr && sizes != nullptr;
    if (!complete) return;
    const auto cell = [](const Table& of, std::uint32_t row, std::string_view column) {
      const std::int64_t steps = of.count(row, of.column(column, Dimension::none));
      return steps == Table::blank ? 0 : static_cast<double>(steps) / one;
    };
    materials.resize(terms_with_unstated<ConductorMaterial>());
    for (std::uint32_t row = 0; row < table->row_count(); ++row) {
      const Material read{cell(*table, row, "weight"), cell(*table, row, "strength"), table->cite(row)};
      if (table->key(row, 0) == "insulation") insulation = read;
      materials[static_cast<std::size_t>(term_spelt<ConductorMaterial>(table->key(row, 0)))] = read;
    }
    materials[0] = {};
    complete = insulation.weight > 0;
    circular_mils.resize(terms_with_unstated<ConductorSize>());
    for (std::uint32_t row = 0; row < sizes->row_count(); ++row)
      circular_mils[static_cast<std::size_t>(term_spelt<ConductorSize>(sizes->key(row, 0)))] =
          cell(*sizes, row, "circular-mils");
    circular_mils[0] = 0;
    if (sizes->row_count() != 0) mils_cite = sizes->cite(0);
  }
};

/// What lies in a raceway: pounds a foot, and pounds that it bears.
struct Load {
  bool ready = false;
  std::int64_t count = 0;
  double weight = 0, strength = 0;
  std::uint32_t materials = 0;  ///< bits: those of its conductors; the lowest one is what covers them
  MissingId missing = 0;
};

struct Loads {
  std::vector<Load> runs;
  std::vector<Laid> laid;
  bool cables_ready = false;
  std::vector<std::pair<Index, Index>> in_cable;  // cable, conductor in it

  void read_cables(const Model& model) {
    cables_ready = true;
    for (const Circuit& circuit : model.circuits) {
      for (Index i = circuit.conductors.first; i < circuit.conductors.end(); ++i)
        if (const auto cable = model.conductors[i].of_cable; cable != 0)
          in_cable.emplace_back(circuit.conductors.first + cable - 1, i);
    }
    std::ranges::sort(in_cable);
  }
};

class Weighing {
 public:
  Weighing(Evaluation& e, const PullingLaw& law, Loads& loads) : e_(e), law_(law), loads_(loads) {}

  Load of_run(Index run) {
    out_ = {};
    out_.ready = true;
    laid_by_run(e_.model, run, loads_.laid);
    if (loads_.laid.empty()) out_.missing = without_conductors(e_, e_.model.runs[run]);
    for (const Laid& each : loads_.laid) {
      const Conductor& c = e_.model.conductors[each.conductor];
      const KindArea& kind = area_of_kind(e_, c.kind);
      if (!kind.known()) {
        lack(each.conductor, kind.lacks, kind.expects, kind.why);
        continue;
      }
      const auto count = static_cast<double>(each.count);
      const double metal = e_.model.conductor_kinds[c.kind].cable ? in_cable(each.conductor, count)
                                                                  : add_metal(each.conductor, count);
      const double area = static_cast<double>(kind.area.count()) / square_inch * count;
      if (area <= metal) continue;
      out_.materials |= 1u;
      out_.weight += (area - metal) * law_.insulation.weight * inches_of_foot;
    }
    return out_;
  }

 private:
  void lack(Index conductor, std::string_view name, std::string_view expects, std::string why = {}) {
    const Value lack = e_.lacks({SubjectKind::conductor, conductor}, name, expects, marking, std::move(why),
                                e_.model.conductors[conductor].source);
    out_.missing = e_.missing.both(out_.missing, lack.missing);
  }

  /// Square inches of metal in so many of a conductor.
  double add_metal(Index conductor, double count) {
    const ConductorKind& kind = e_.model.conductor_kinds[e_.model.conductors[conductor].kind];
    const double mils = law_.circular_mils[static_cast<std::size_t>(kind.size)] * count;
    const PullingLaw::Material& material = law_.materials[static_cast<std::size_t>(kind.material)];
    if (mils <= 0) {
      lack(conductor, "size", "a size such as 12 AWG",
           kind.size == ConductorSize::unstated
               ? std::string()
               : fmt::format(FMT_COMPILE("the ruleset in force has no area of its metal for {}"),
                             name_of(kind.size)));
    }
    if (material.weight <= 0 || material.strength <= 0)
      lack(conductor, "material", "copper, aluminum or copper-clad-aluminum");
    const double area = mils * quarter / circular_mils_of_inch;
    out_.count += static_cast<std::int64_t>(count);
    out_.materials |= 1u << static_cast<unsigned>(kind.material);
    out_.weight += area * material.weight * inches_of_foot;
    out_.strength += mils * material.strength;
    return area;
  }

  double in_cable(Index cable, double count) {
    if (!loads_.cables_ready) loads_.read_cables(e_.model);
    const auto& all = loads_.in_cable;
    auto at = std::ranges::lower_bound(all, std::pair<Index, Index>{cable, 0});
    if (at == all.end() || at->first != cable)
      lack(cable, "of-cable", "the conductors that lie in this cable, each with of-cable");
    double metal = 0;
    for (; at != all.end() && at->first == cable; ++at)
      metal += add_metal(at->second, static_cast<double>(e_.model.conductors[at->second].count) * count);
    return metal;
  }

  Evaluation& e_;
  const PullingLaw& law_;
  Loads& loads_;
  Load out_;
};

Load laid_in(Evaluation& e, const PullingLaw& law, Index raceway) {
  auto& loads = e.once<Loads>();
  if (loads.runs.empty()) loads.runs.resize(e.model.runs.size());
  Load out;
  for (const Index run : e.in.routes.runs_in(raceway)) {
    Load& load = loads.runs[run];
    if (!load.ready) load = Weighing(e, law, loads).of_run(run);
    out.count += load.count;
    out.weight += load.weight;
    out.strength += load.strength;
    out.materials |= load.materials;
    out.missing = e.missing.both(out.missing, load.missing);
  }
  if (static_cast<double>(out.count) > law.many.is) out.strength *= law.of_many.is;
  out.strength = std::min(out.strength, law.most.is);
  return out;
}

/// A straight, or a bend, of a section.
struct Leg {
  double pounds = 0;           ///< of a straight: its conductors
  double level = 0, rise = 0;  ///< of a straight whose slope is known: parts of its length
  bool sloped = false;         ///< it is known
  double turn = 0;             ///< of a bend: radians
  double bears = 0;            ///< pounds that may press against it
  Index raceway = none;
};

/// What a pull takes, with every straight of unknown slope rising as steeply as is hardest.
struct Pull {
  double share = 0;  ///< of what the conductors bear
  double end = 0, at_bend = 0;
  Index bend_of = none;  ///< the raceway of the bend that decides; none: the end does
};

class Section {
 public:
  Section(Evaluation& e, Subject s, const PullingLaw& law)
      : e_(e), section_(e.in.sections.sections[s.index]), law_(law) {}

  Value share() {
    for (Index i = section_.raceways.first; i < section_.raceways.end(); ++i) lay(e_.in.sections.raceways[i]);
    inner_places();
    if (missing_ != 0) return Evaluation::lacks(missing_);
    if (bears_ <= 0) return Evaluation::value(0);
    const Pull on = pull(false), back = pull(true);
    // Either is as easy where they differ by what adding up leaves.
    const bool easier_on = std::llround(on.share * one) <= std::llround(back.share * one);
    const double limit = static_cast<double>(law_.limit->value.count) / one;
    const bool within = std::min(on.share, back.share) <= limit;
    if (!within && trough_ != none) {
      return e_.lacks({SubjectKind::raceway, trough_}, "from",
                      "the id of a box or conduit body where it meets conduit or tubing", installer,
                      "conductors are laid in it and pulled through what goes on from it");
    }
    if (slope_ == none || within) return told(easier_on ? on : back, easier_on);
    return e_.lacks({SubjectKind::raceway, slope_}, "point",
                    "its course as points, which tell what of it rises and falls", installer_tape,
                    "what rises takes a harder pull than what lies level or falls, and that decides");
  }

 private:
  void lay(Index raceway) {
    const Raceway& r = e_.model.raceways[raceway];
    const Subject subject{SubjectKind::raceway, raceway};
    const Value count = e_.get_aside(Id::conductors_in_raceway, subject);
    raceway_ = raceway;
    const bool forwards = passes_forwards(r);
    at_ = r.ends[forwards ? 1 : 0].place;
    if (count && count.count == 0) return;
    const Value length = e_.get_aside(Id::raceway_length, subject);
    const Value bends = e_.get_aside(Id::raceway_bends, subject);
    // The area asks for cables that are thinner than what lies in them, and for jumpers inside.
    const Value area = e_.get_aside(Id::conductor_area, subject);
    const Load load = laid_in(e_, law_, raceway);
    for (const MissingId one_of : {count.missing, length.missing, bends.missing, area.missing, load.missing})
      missing_ = e_.missing.both(missing_, one_of);
    if (missing_ != 0) return;
    bears_ = bears_ == 0 ? load.strength : std::min(bears_, load.strength);
    heaviest_ = std::max(heaviest_, load.weight);
    conductors_ = std::max(conductors_, load.count);
    materials_ |= load.materials;
    if (is_trough(r.type) && trough_ == none) trough_ = raceway;
    const std::size_t first = legs_.size();
    if (r.points.count > 1) {
      polyline(r, load.weight);
    } else {
      for (Index i = r.pieces.first; i < r.pieces.end(); ++i) piece(e_.model.pieces[i], load.weight);
      if (slope_ == none) slope_ = raceway;
    }
    if (missing_ != 0) return;
    for (std::size_t i = first; i < legs_.size(); ++i) legs_[i].raceway = raceway;
    if (!forwards) reverse(first);
  }

  /// Whether the section passes it from `from` to `to`.
  bool passes_forwards(const Raceway& r) {
    if (at_ == none) at_ = section_.ends[0];
    return r.ends[0].place == at_;
  }
  void reverse(std::size_t first) {
    const auto begin = legs_.begin() + static_cast<std::ptrdiff_t>(first);
    std::reverse(begin, legs_.end());
    for (auto leg = begin; leg != legs_.end(); ++leg) leg->rise = -leg->rise;
  }

  void straight(double weight, Length length) {
    if (length > Length{}) legs_.push_back({.pounds = weight * static_cast<double>(length.count()) / foot});
  }
  void bend(std::int64_t times, Maybe<Angle> angle, Maybe<Length> radius, Offset source) {
    if (!angle.known()) return;  // the sum of the bends asks for it
    if (!radius.known()) {
      missing_ = e_.missing.both(
          missing_, e_.lacks({SubjectKind::raceway, raceway_}, "radius",
                             "a radius to the centre line such as 4 1/2in", installer_tape, {}, source)
                        .missing);
      return;
    }
    const double bears = law_.pressure.is * static_cast<double>((*radius).count()) / foot;
    for (std::int64_t i = 0; i < times; ++i) legs_.push_back({.turn = radians(*angle), .bears = bears});
  }

  /// A bent piece turns in its middle.
  void piece(const Piece& p, double weight) {
    const Length length = p.length.known() ? *p.length : length_by_shape(p).value_or(Length{});
    const bool turns =
        p.kind == PieceKind::bend || p.kind == PieceKind::offset || p.kind == PieceKind::saddle;
    const bool tells_radius = !turns || p.radius.known();
    const bool tells_length = p.length.known() || length_by_shape(p).has_value();
    if (!tells_length && tells_radius && (turns || p.kind == PieceKind::straight)) {
      missing_ = e_.missing.both(missing_, e_.lacks({SubjectKind::raceway, raceway_}, "length",
                                                    "a length such as 8ft", installer_tape, {}, p.source)
                                               .missing);
    }
    straight(weight, turns ? Length::steps(length.count() / 2) : length);
    if (!turns) return;
    const bool outer = p.kind == PieceKind::saddle && p.angle_outer.known();
    if (p.kind == PieceKind::bend) bend(1, p.angle, p.radius, p.source);
    if (p.kind == PieceKind::offset) bend(2, p.angle, p.radius, p.source);
    if (p.kind == PieceKind::saddle) {
      bend(outer ? 1 : p.bends, p.angle, p.radius, p.source);
      if (outer) bend(2, p.angle_outer, p.radius, p.source);
    }
    straight(weight, Length::steps(length.count() - length.count() / 2));
  }

  void polyline(const Raceway& r, double weight) {
    Index before = r.points.first;
    const auto leg = [&](Index to) {
      for (Index i = before + 1; i <= to; ++i) {
        const Point &a = e_.model.points[i - 1], &b = e_.model.points[i];
        const Length length = distance(a, b);
        if (length <= Length{}) continue;
        const double rise = static_cast<double>((b.z - a.z).count()) / static_cast<double>(length.count());
        legs_.push_back({.pounds = weight * static_cast<double>(length.count()) / foot,
                         .level = std::sqrt(std::max<double>(0, 1 - rise * rise)),
                         .rise = rise,
                         .sloped = true});
      }
      before = to;
    };
    each_corner(e_.model, r, [&](Index at, Angle turn) {
      leg(at);
      bend(1, Maybe<Angle>(turn), e_.model.points[at].radius, e_.model.points[at].source);
    });
    leg(r.points.end() - 1);
  }

  /// Where raceways branch, and at places that nobody can open, conductors go by ways that are not written.
  void inner_places() {
    const auto ask = [&](Index index, std::string_view why) {
      const Place& place = e_.model.places[index];
      const Subject at{subject_kind(place.kind), index};
      const Value lack = place.kind == PlaceKind::joint
                             ? e_.lacks(at, "box", "a box or conduit body in its place", installer,
                                        std::string(why), place.source)
                             : e_.lacks(at, "accessible", "yes or no", installer, std::string(why));
      missing_ = e_.missing.both(missing_, lack.missing);
    };
    if (section_.unsure != none) ask(section_.unsure, "where nobody can pull, the pull goes on beyond it");
    if (section_.branches_at != none)
      return ask(section_.branches_at, "raceways branch there, so that no one pull is known");
    for (Index i = section_.raceways.first; i < section_.raceways.end(); ++i) {
      for (const RacewayEnd& end : e_.model.raceways[e_.in.sections.raceways[i]].ends) {
        const Place& place = e_.model.places[end.place];
        const bool turns = place.kind == PlaceKind::conduit_body && place.form != BodyForm::c;
        if (turns && !is_pull_point(place))
          return ask(end.place, "conductors are drawn around its corner, and how hard that is is not known");
      }
    }
  }

  [[nodiscard]] Pull pull(bool backwards) const {
    Pull out;
    const double steepest = std::sqrt(1 + law_.friction.is * law_.friction.is);
    const auto pass = [&](const Leg& leg) {
      if (leg.turn <= 0) {
        const double rise = backwards ? -leg.rise : leg.rise;
        const double factor = leg.sloped ? law_.friction.is * leg.level + rise : steepest;
        out.end = std::max<double>(0, out.end + leg.pounds * factor);
        return;
      }
      out.end *= std::exp(law_.friction.is * leg.turn);
      if (out.end / leg.bears <= out.share) return;
      out.share = out.end / leg.bears;
      out.at_bend = out.end;
      out.bend_of = leg.raceway;
    };
    if (backwards)
      std::for_each(legs_.rbegin(), legs_.rend(), pass);
    else
      std::ranges::for_each(legs_, pass);
    if (out.end / bears_ < out.share) return out;
    out.share = out.end / bears_;
    out.bend_of = none;
    return out;
  }

  static std::string pounds(double of) { return fmt::format(FMT_COMPILE("{:.1f} lb"), of); }

  Value told(const Pull& of, bool onwards) {
    constexpr double shown_parts = 10'000;  // not law: hundredths of a percent
    const double share = std::min(std::ceil(of.share * shown_parts) / shown_parts, one);
    cite(of);
    if (e_.noting()) {
      const auto end = [&](int which) { return e_.model.places[section_.ends[which]].id; };
      e_.note(FMT_COMPILE("{} conductor{} of {} a foot at most, which bear{} a pull of {}"), conductors_,
              conductors_ == 1 ? "" : "s", fmt::format(FMT_COMPILE("{:.4f} lb"), heaviest_),
              conductors_ == 1 ? "s" : "", pounds(bears_));
      if (slope_ != none)
        e_.note(FMT_COMPILE("raceway {} is reckoned as rising, since its course does not tell: at most"),
                e_.model.raceways[slope_].id);
      e_.note(
          FMT_COMPILE("pulled from {} to {}, the easier way, with a friction of {:.2f}: {} at the end ({})"),
          end(onwards ? 0 : 1), end(onwards ? 1 : 0), law_.friction.is, pounds(of.end),
          e_.cited(law_.friction.cite));
      if (of.bend_of != none) {
        e_.note(FMT_COMPILE("at a bend of raceway {}: {}, and {} may press there"),
                e_.model.raceways[of.bend_of].id, pounds(of.at_bend), pounds(of.at_bend / of.share));
      }
    }
    return Evaluation::value(std::llround(share * one), law_.cite);
  }

  /// What the working stands on.
  void cite(const Pull& of) const {
    for (std::size_t i = 0; i < law_.materials.size(); ++i)
      if ((materials_ >> i & 1u) != 0) e_.used(i == 0 ? law_.insulation.cite : law_.materials[i].cite);
    if (law_.mils_cite != no_citation) e_.used(law_.mils_cite);
    e_.used(law_.friction.cite);
    if (of.bend_of != none) e_.used(law_.pressure.cite);
    if (static_cast<double>(conductors_) > law_.many.is) {
      e_.used(law_.many.cite);
      e_.used(law_.of_many.cite);
    }
    if (bears_ >= law_.most.is) e_.used(law_.most.cite);
    e_.used(law_.cite);
  }

  Evaluation& e_;
  const PullSection& section_;
  const PullingLaw& law_;
  std::vector<Leg> legs_;
  MissingId missing_ = 0;
  Index at_ = none;  // where the section has come to
  Index raceway_ = none;
  Index slope_ = none;  // a raceway of which nobody knows what rises
  double bears_ = 0, heaviest_ = 0;
  std::int64_t conductors_ = 0;
  std::uint32_t materials_ = 0;
  Index trough_ = none;  // a wireway in the section
};

}  // namespace

Value pulling_share(Evaluation& e, Subject s) {
  const PullingLaw& law = e.of_law<PullingLaw>();
  if (!law.complete) return e.lacks_law("pulling-material");
  return Section(e, s, law).share();
}

Value pulling_share_limit(Evaluation& e, Subject) {
  return set_by_law(e, "pulling-share-limit", Dimension::none);
}

Value pulls_conductors(Evaluation& e, Subject s) {
  const PullSection& section = e.in.sections.sections[s.index];
  MissingId missing = 0;
  bool any = false;
  for (Index i = section.raceways.first; i < section.raceways.end(); ++i) {
    const Index raceway = e.in.sections.raceways[i];
    if (is_trough(e.model.raceways[raceway].type)) continue;
    const Value count = e.get_aside(Id::conductors_in_raceway, {SubjectKind::raceway, raceway});
    any = any || (count && count.count != 0);
    missing = e.missing.both(missing, count.missing);
  }
  if (any) return Evaluation::value(number(1).count());
  return missing != 0 ? Evaluation::lacks(missing) : Evaluation::value(0);
}

}  // namespace raceward::figure::compute
