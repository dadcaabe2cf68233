// Conduit bodies: cross-section, and the volume that splices in them need.
#include "figure/conduit_body.hpp"

#include <algorithm>

#include "figure/box_allowances.hpp"
#include "figure/box_contents.hpp"
#include "figure/fill_law.hpp"
#include "figure/run_contents.hpp"
#include "figure/told.hpp"

namespace raceward::figure {

using namespace installation;

namespace {

/// Hubs of a form, which its letters name: an LB has one on its back, a T one on each side. Where no form is
/// stated, those of the one with the most.
std::uint32_t hubs_of(BodyForm form) {
  switch (form) {
    case BodyForm::e:
      return 1;  // not law: an end
    case BodyForm::t:
    case BodyForm::tb:
      return 3;  // not law: a tee
    case BodyForm::x:
    case BodyForm::unstated:
      return 4;  // not law: a cross
    default:
      return 2;  // not law: straight, or a corner
  }
}

}  // namespace

MissingId hubs_denied(Evaluation& e, Subject body) {
  const Place& place = e.model.places[body.index];
  const std::size_t enter = e.in.graph.at(body.index).size();
  const std::uint32_t hubs = hubs_of(place.form);
  if (place.kind != PlaceKind::conduit_body || enter <= hubs) return 0;
  return e
      .lacks(body, "form", "its form, such as T, or the raceways that enter it", marking,
             place.form == BodyForm::unstated
                 ? fmt::format(FMT_COMPILE("{} raceways enter it, and no form has more than {} hubs"), enter,
                               hubs)
                 : fmt::format(FMT_COMPILE("{} raceways enter it, and its form, {}, has {} hub{}"), enter,
                               name_of(place.form), hubs, hubs == 1 ? "" : "s"))
      .missing;
}

namespace compute {

namespace {

/// The most that the body can hold, going by its sides: it is longer than it is deep, so no part of it is
/// deeper than the longer of the two.
Maybe<Volume> most_inside(const Place& body) {
  if (!body.width.known() || !body.height.known()) return {};
  return raceward::box_volume(*body.width, *body.height, std::max(*body.width, *body.height));
}

/// More than `times` the area that the law asks of the body: hardly meant, where its sides do not tell.
raceward::Area widest(Evaluation& e, Subject s) {
  const Parameter* const times = e.law.parameter("conduit-body-area-most", Dimension::none);
  const Place& body = e.model.places[s.index];
  if (times == nullptr || (body.width.known() && body.height.known())) return {};
  const Value needed = e.get_aside(Id::conduit_body_area_needed, s);
  if (!needed) return {};
  return raceward::Area::steps(
      detail::saturate(wide_int{times->value.count} * needed.count / number(1).count()));
}

/// The same of its volume: of a body so wide, and so many times as long as its trade size.
Maybe<Volume> largest(Evaluation& e, Subject s) {
  const Parameter* const times = e.law.parameter("conduit-body-length-most", Dimension::none);
  const auto size = parse_length(std::string(name_of(e.model.places[s.index].trade_size)) + "in");
  const raceward::Area wide = widest(e, s);
  if (times == nullptr || !size || wide <= raceward::Area{}) return {};
  return wide *
         Length::steps(detail::saturate(wide_int{times->value.count} * size->count() / number(1).count()));
}

/// What leaves open how large it is likely to be, where its sides do not tell.
MissingId size_unknown(Evaluation& e, Subject s) {
  const Place& body = e.model.places[s.index];
  if (body.width.known() && body.height.known()) return 0;
  return e.get_aside(Id::conduit_body_area_needed, s).missing;
}

/// How many times runs are cut at a place.
Value splices_at(Evaluation& e, Subject s) {
  std::int64_t splices = 0;
  MissingId missing = 0;
  for (const Visit& visit : e.in.routes.visits_at(s.index)) {
    if (visit.stop == none) continue;
    const Stop& stop = e.model.stops[visit.stop];
    const RunContents& run = run_contents(e, visit.run);
    const bool grounding = run.grounding.count != 0, other = run.other.count != 0 || !grounding;
    const auto cut = [](StopTreatment t) {
      return t == StopTreatment::spliced || t == StopTreatment::terminated;
    };
    if (other && cut(stop.ungrounded)) ++splices;
    if (grounding && cut(stop.grounding)) ++splices;
    if (grounding && stop.grounding == StopTreatment::unstated && !other && cut(stop.ungrounded)) ++splices;
    missing = e.missing.both(missing, run.missing);
    if (stop.ungrounded == StopTreatment::unstated && (other || stop.grounding == StopTreatment::unstated)) {
      missing = e.missing.both(missing, e.lacks(s, "conductors", "terminated, spliced, through or looped",
                                                installer, {}, stop.source)
                                            .missing);
    }
  }
  if (splices == 0 && missing != 0) return Evaluation::lacks(missing);
  return Evaluation::value(number(splices).count());
}

}  // namespace

Value conduit_body_area(Evaluation& e, Subject s) {
  const Place& body = e.model.places[s.index];
  if (!body.cross_section.known()) {
    return e.lacks(s, "cross-section", "an area such as 1.1in2", marking);
  }
  // Whichever of its sides the two are: across the body, its depth is no more than its length.
  if (body.width.known() && body.height.known() && *body.width * *body.height < *body.cross_section) {
    return e.lacks(s, "cross-section", "an area such as 1.1in2", marking,
                   fmt::format(FMT_COMPILE("{} is more than its width and height can hold ({})"),
                               e.text_of(show(*body.cross_section, Unit::square_inch)),
                               e.text_of(show(*body.width * *body.height, Unit::square_inch))));
  }
  if (const raceward::Area most = widest(e, s); most > raceward::Area{} && *body.cross_section > most) {
    e.used(e.law.parameter("conduit-body-area-most")->cite);
    return e.lacks(s, "cross-section",
                   "an area such as 1.1in2; its inside width and height beside it would tell", marking,
                   fmt::format(FMT_COMPILE("{} is more than a body of trade size {} is likely to have ({})"),
                               e.text_of(show(*body.cross_section, Unit::square_inch)),
                               name_of(body.trade_size), e.text_of(show(most, Unit::square_inch))));
  }
  if (e.noting())
    e.note(FMT_COMPILE("cross-section of the conduit body: {}"),
           e.text_of(show(*body.cross_section, Unit::square_inch)));
  return Evaluation::value((*body.cross_section).count());
}

Value conduit_body_area_needed(Evaluation& e, Subject s) {
  const Place& body = e.model.places[s.index];
  const Parameter* factor = e.law.parameter("conduit-body-area-factor", Dimension::none);
  if (factor == nullptr) return e.lacks_law("conduit-body-area-factor");
  // The largest raceway that it can take is one of its own trade size, so that a smaller one through a
  // reducer does not make it look larger; any raceway attached is in no case larger.
  if (body.trade_size == TradeSize::unstated)
    return e.lacks(s, "trade-size", "a trade size such as 3/4", marking);
  if (body.form == BodyForm::short_elbow) {
    return e.lacks(s, "cross-section", "nothing: see on site whether its conductors lie free in it",
                   installer, "a short elbow need only leave its conductors free space");
  }
  Value largest{}, by_type{};
  std::string_view which, type;
  MissingId open = 0, missing = 0;
  for (const Adjacent& next : told_at(e, s.index)) {
    const Raceway& raceway = e.model.raceways[next.raceway];
    if (raceway.trade_size > body.trade_size) {
      const Value lack = e.lacks(
          s, "trade-size", "a trade size such as 3/4", marking,
          fmt::format(FMT_COMPILE("raceway {} of trade size {} enters a conduit body of trade size {}"),
                      raceway.id, name_of(raceway.trade_size), name_of(body.trade_size)));
      missing = e.missing.both(missing, lack.missing);
      continue;
    }
    if (raceway.trade_size == TradeSize::unstated) {
      const Value lack = e.lacks({SubjectKind::raceway, next.raceway}, "trade-size",
                                 "a trade size such as 3/4", installer, {}, raceway.source);
      missing = e.missing.both(missing, lack.missing);
      continue;
    }
    if (raceway.trade_size != body.trade_size) {  // through a reducer
      if (raceway.type == RacewayType::unstated) {
        open = e.missing.both(open, e.lacks({SubjectKind::raceway, next.raceway}, "type",
                                            "a raceway type such as EMT", installer, {}, raceway.source)
                                        .missing);
        continue;
      }
      const InsideArea& inside = inside_area(e, raceway.type, body.trade_size);
      if (!inside.known || inside.area.count() <= by_type.count) continue;
      by_type = Evaluation::value(inside.area.count(), inside.cite);
      type = name_of(raceway.type);
      continue;
    }
    const Value area = e.get(Id::raceway_area, {SubjectKind::raceway, next.raceway});
    missing = e.missing.both(missing, area.missing);
    if (area &&
        (area.count > largest.count || (area.count == largest.count && id_before(raceway.id, which)))) {
      largest = area;
      which = raceway.id;
    }
  }
  if (missing != 0) return Evaluation::lacks(missing);
  // Where only smaller ones are attached, it could take those of its own size of their types.
  const bool reduced = largest.count == 0;
  if (reduced) {
    if (open != 0) return Evaluation::lacks(open);
    if (by_type.count == 0) {
      return e.lacks(s, "raceway", "the raceways that enter it", designer,
                     "which is the largest raceway that it takes is not known without them");
    }
    largest = by_type;
    e.used(by_type.cite);
  }
  // The table prints areas to so many places, and a body made for twice the printed one is large enough.
  const Parameter* const step = e.law.divisor("printed-area-step", Dimension::area);
  if (step == nullptr) return e.lacks_law("printed-area-step");
  const wide_int printed =
      (wide_int{largest.count} + step->value.count / 2) / step->value.count * step->value.count;
  const wide_int product = factor->value.count * printed;
  const raceward::Area needed = raceward::Area::steps(detail::saturate(product / 1'000'000'000));
  if (body.form == BodyForm::unstated && body.cross_section.known() && *body.cross_section < needed) {
    return e.lacks(s, "form", "its form, such as LB", marking,
                   "a short elbow need only leave its conductors free space");
  }
  if (!body.cross_section.known() || *body.cross_section >= needed) {
    if (const MissingId denied = hubs_denied(e, s); denied != 0) return Evaluation::lacks(denied);
  }
  e.used(factor->cite);
  e.used(step->cite);
  if (e.noting())
    e.note(FMT_COMPILE("needed: {} x {} of {}{}{}, as printed, = {}"), factor->text,
           e.text_of({detail::saturate(printed), Unit::square_inch}), reduced ? type : "raceway ",
           reduced ? " " : which, reduced ? name_of(body.trade_size) : std::string_view{},
           e.text_of(show(needed, Unit::square_inch)));
  return Evaluation::value(needed.count(), factor->cite);
}

Value conduit_body_splices(Evaluation& e, Subject s) { return splices_at(e, s); }

Value joint_splices(Evaluation& e, Subject s) {
  const Value splices = splices_at(e, s);
  if (splices.count != 0) e.note(FMT_COMPILE("stated: conductors are spliced or terminated in it"));
  return splices;
}

Value conduit_body_volume(Evaluation& e, Subject s) {
  const Place& body = e.model.places[s.index];
  if (body.form == BodyForm::short_elbow) {
    const Parameter* none_at_all = e.law.parameter("short-elbow-splice-volume", Dimension::volume);
    if (none_at_all == nullptr) return e.lacks_law("short-elbow-splice-volume");
    e.used(none_at_all->cite);
    if (e.noting()) e.note(FMT_COMPILE("a short elbow may hold no splices ({})"), e.cited(none_at_all->cite));
    return Evaluation::value(none_at_all->value.count, none_at_all->cite);
  }
  if (!body.volume.known()) return e.lacks(s, "volume", "the marked volume, such as 7.5in3", marking);
  if (const Maybe<Volume> most = most_inside(body); most.known() && *most < *body.volume)
    return e.lacks(s, "volume", "the marked volume, such as 7.5in3", marking,
                   fmt::format(FMT_COMPILE("{} is more than its width and height can hold ({})"),
                               e.text_of(show(*body.volume, Unit::cubic_inch)),
                               e.text_of(show(*most, Unit::cubic_inch))));
  if (const Maybe<Volume> most = largest(e, s); most.known() && *most < *body.volume) {
    for (const std::string_view bound : {"conduit-body-area-most", "conduit-body-length-most"})
      e.used(e.law.parameter(bound)->cite);
    return e.lacks(s, "volume",
                   "the marked volume, such as 7.5in3; its inside width and height beside it would tell",
                   marking,
                   fmt::format(FMT_COMPILE("{} is more than a body of trade size {} is likely to have ({})"),
                               e.text_of(show(*body.volume, Unit::cubic_inch)), name_of(body.trade_size),
                               e.text_of(show(*most, Unit::cubic_inch))));
  }
  if (const MissingId open = size_unknown(e, s); open != 0) {
    const Value needed = e.get(Id::conduit_body_volume_needed, s);
    if (!needed || needed.count <= (*body.volume).count()) return Evaluation::lacks(open);
  }
  if (const MissingId denied = hubs_denied(e, s); denied != 0) {
    const Value needed = e.get(Id::conduit_body_volume_needed, s);
    if (!needed || needed.count <= (*body.volume).count()) return Evaluation::lacks(denied);
  }
  if (body.form == BodyForm::unstated) {
    const Value needed = e.get(Id::conduit_body_volume_needed, s);
    if (!needed || needed.count <= (*body.volume).count())
      return e.lacks(s, "form", "its form, such as LB", marking, "a short elbow may hold no splices");
  }
  if (e.noting())
    e.note(FMT_COMPILE("conduit body: {} as marked"), e.text_of(show(*body.volume, Unit::cubic_inch)));
  return Evaluation::value((*body.volume).count());
}

Value conduit_body_volume_needed(Evaluation& e, Subject s) {
  const BoxContents contents = count_contents(e, s);
  if (contents.missing != 0) return Evaluation::lacks(contents.missing);
  const Maybe<Volume>& marked = e.model.places[s.index].volume;
  if (contents.unsaid != 0 && marked.known()) e.detail(Evaluation::value((*marked).count()), at_least);
  e.used(contents.cite);
  return Evaluation::value(contents.needed.count(), contents.cite);
}

}  // namespace compute

}  // namespace raceward::figure
