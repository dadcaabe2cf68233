// What receptacles and switches must be where they are: tamper-resistant, weather-resistant, covered, in
// reach.
#include "figure/facts.hpp"
#include "figure/logic.hpp"
#include "figure/outlets.hpp"

namespace raceward::figure::compute {

using namespace installation;

namespace {

template <class Q>
Value up_to(Evaluation& e, Subject s, const Maybe<Q>& quantity, std::string_view parameter,
            Dimension dimension, Unit unit, std::string_view attribute, std::string_view expects,
            std::string_view who) {
  const Parameter* const most = e.law.parameter(parameter, dimension);
  if (most == nullptr) return e.lacks_law(parameter);
  if (!quantity.known()) return e.lacks(s, attribute, expects, who);
  e.used(most->cite);
  const bool fits = (*quantity).count() <= most->value.count;
  if (e.noting()) {
    e.note(FMT_COMPILE("{}: {}, {} {}"), attribute, text_of(show(*quantity, unit)),
           fits ? "within" : "beyond", most->text);
  }
  return answer(fits, most->cite);
}

/// Of no more than the voltage and the rating that the law speaks of.
Value small(Evaluation& e, Subject s, std::string_view voltage, std::string_view rating) {
  const Device& device = e.model.devices[s.index];
  const Value volts = up_to(e, s, device.voltage, voltage, Dimension::voltage, Unit::volt, "voltage",
                            "a voltage such as 125V", marking);
  const Value amperes = up_to(e, s, device.rating, rating, Dimension::current, Unit::ampere, "rating",
                              "a current such as 20A", marking);
  return both(e, volts, amperes);
}

/// What the law asks where the receptacle is, by damp and wet; a row that is not known is missing and says
/// so.
struct Weather {
  outlets::Row row;
  Value lack{};
};

Weather weather_at(Evaluation& e, const Device& device) {
  const Index area = e.model.places[device.box].area;
  if (area == none) return {{}, outlets::lacks_area(e, device.box)};
  const installation::Area& a = e.model.areas[area];
  const Subject of_area{SubjectKind::area, area};
  if (a.location == Location::unstated)
    return {{}, e.lacks(of_area, "location", "dry, damp or wet", installer, {}, a.source)};
  if (a.location == Location::dry && (a.use == AreaUse::outdoors || a.use == AreaUse::roof)) {
    return {{},
            e.lacks(of_area, "location", "damp or wet", installer, "it is outdoors, and said to be dry",
                    a.source)};
  }
  const Table* const t = e.law.table("receptacle-location");
  Weather out{{t, t == nullptr ? Table::none : t->find({name_of(a.location)}), area, "location"}};
  if (!out.row.known()) return {{}, e.lacks_law("receptacle-location")};
  e.note(FMT_COMPILE("area {} is {}"), a.id, name_of(a.location));
  return out;
}

bool covers_an_opening(Cover::Kind kind) {
  return kind != Cover::Kind::unstated && kind != Cover::Kind::plaster_ring &&
         kind != Cover::Kind::extension_ring;
}

}  // namespace

Value tamper_resistant_asked(Evaluation& e, Subject s) {
  const Device& device = e.model.devices[s.index];
  if (device.kind != DeviceKind::receptacle) return answer(false);
  if (e.model.occupancy == Occupancy::unstated) return outlets::lacks_occupancy(e);
  const Index area = e.model.places[device.box].area;
  if (area == none) return outlets::lacks_area(e, device.box);
  const installation::Area& a = e.model.areas[area];
  const Subject of_area{SubjectKind::area, area};
  if (a.use == AreaUse::unstated)
    return e.lacks(of_area, "use", "a word such as garage", designer, {}, a.source);
  const outlets::Row row = outlets::find(e, "tamper-resistant-places", area, "use", name_of(a.use));
  if (!row.known()) return e.lacks_law("tamper-resistant-places");
  const std::string_view says = row.text("asked");
  if (says == "no") return answer(false, row.cite());
  Value asked = says == "yes" ? answer(true, row.cite())
                              : e.lacks(of_area, "use", "a word that tells more", designer,
                                        std::string(row.text("words")), a.source);
  asked = both(e, asked, small(e, s, "tamper-resistant-voltage", "tamper-resistant-rating"));
  if (is_no(asked)) return asked;
  if (device.dedicated == YesNo::yes) {
    e.note(FMT_COMPILE("it serves one appliance in a space of its own"));
    return answer(false);
  }
  const Parameter* const height = e.law.parameter("tamper-resistant-height", Dimension::length);
  const MissingId wrong =
      height == nullptr ? 0 : outlets::height_contradicted(e, s.index, height->value.count);
  asked = wrong != 0 ? both(e, asked, Evaluation::lacks(wrong))
                     : both(e, asked,
                            up_to(e, s, device.height, "tamper-resistant-height", Dimension::length,
                                  Unit::inch, "height", "a length such as 18in", installer_tape));
  if (is_no(asked)) return asked;
  if (device.dedicated == YesNo::unstated)
    asked = both(e, asked, e.lacks(s, "dedicated", "yes or no", designer));
  return is_yes(asked) ? answer(true, row.cite()) : asked;
}

Value tamper_resistant(Evaluation& e, Subject s) {
  const YesNo is = e.model.devices[s.index].tamper_resistant;
  return is == YesNo::unstated ? e.lacks(s, "tamper-resistant", "yes or no", marking)
                               : answer(is == YesNo::yes);
}

Value weather_resistant_asked(Evaluation& e, Subject s) {
  const Device& device = e.model.devices[s.index];
  if (device.kind != DeviceKind::receptacle) return answer(false);
  const Weather weather = weather_at(e, device);
  if (weather.row.known() && weather.row.text("weather-resistant") == "no")
    return answer(false, weather.row.cite());
  const Value place = weather.row.known() ? answer(true, weather.row.cite()) : weather.lack;
  return both(e, place, small(e, s, "weather-resistant-voltage", "weather-resistant-rating"));
}

Value weather_resistant(Evaluation& e, Subject s) {
  const YesNo is = e.model.devices[s.index].weather_resistant;
  return is == YesNo::unstated ? e.lacks(s, "weather-resistant", "yes or no", marking)
                               : answer(is == YesNo::yes);
}

Value weather_cover_asked(Evaluation& e, Subject s) {
  const Device& device = e.model.devices[s.index];
  if (device.kind != DeviceKind::receptacle || e.model.places[device.box].kind != PlaceKind::box)
    return answer(false);
  const Weather weather = weather_at(e, device);
  if (!weather.row.known()) return weather.lack;
  return answer(weather.row.text("cover") != "none", weather.row.cite());
}

Value weather_cover(Evaluation& e, Subject s) {
  const Device& device = e.model.devices[s.index];
  const Place& box = e.model.places[device.box];
  const Subject of_box{subject_kind(box.kind), device.box};
  bool any = false, weatherproof = false;
  Value in_use = answer(true);
  for (Index i = box.covers.first; i < box.covers.end(); ++i) {
    const Cover& cover = e.model.covers[i];
    any = any || covers_an_opening(cover.kind);
    if (cover.kind != Cover::Kind::weatherproof_cover) continue;
    weatherproof = true;
    const Value one = cover.in_use == YesNo::unstated
                          ? e.lacks(of_box, "in-use", "yes or no", marking, {}, cover.source)
                          : answer(cover.in_use == YesNo::yes);
    in_use = both(e, in_use, one);
  }
  if (!any && box.kind == PlaceKind::box && box.cover == YesNo::no) {
    e.note(FMT_COMPILE("box {} is said to have no cover"), box.id);
    return answer(false);
  }
  if (!any) return e.lacks(of_box, "cover", "a cover with its kind", installer, {}, box.source);
  if (!weatherproof) {
    e.note(FMT_COMPILE("no cover of box {} is weatherproof"), box.id);
    return answer(false);
  }
  if (is_yes(in_use)) {
    e.note(FMT_COMPILE("the cover of box {} keeps weather out while something is plugged in"), box.id);
    return in_use;
  }
  const Weather weather = weather_at(e, device);
  if (!weather.row.known()) return either(e, in_use, weather.lack);
  if (weather.row.text("cover") != "in-use") {
    e.note(FMT_COMPILE("the cover of box {} is weatherproof while closed"), box.id);
    return answer(true);
  }
  // A larger receptacle need be covered only while nothing is plugged in.
  const Value asked = small(e, s, "weather-resistant-voltage", "weather-resistant-rating");
  if (is_no(asked)) return answer(true);
  if (is_no(in_use)) e.note(FMT_COMPILE("the cover of box {} is weatherproof only while closed"), box.id);
  return is_yes(asked) ? in_use : either(e, in_use, asked);
}

Value is_switch(Evaluation& e, Subject s) {
  const DeviceKind kind = e.model.devices[s.index].kind;
  return answer(kind == DeviceKind::switch_ || kind == DeviceKind::dimmer || kind == DeviceKind::disconnect);
}

Value switch_height(Evaluation& e, Subject s) {
  const Parameter* const limit = e.law.parameter("switch-height", Dimension::length);
  const bool anywhere = e.law.parameter("switch-height-beside-load") != nullptr &&
                        e.model.devices[s.index].beside_load == YesNo::yes;
  const MissingId wrong =
      limit == nullptr || anywhere ? 0 : outlets::height_contradicted(e, s.index, limit->value.count);
  if (wrong != 0) return Evaluation::lacks(wrong);
  return given(e, s, e.model.devices[s.index].height, in_feet(e), "height", "a length such as 48in",
               installer_tape);
}

Value switch_height_limit(Evaluation& e, Subject s) {
  const Value limit = set_by_law(e, "switch-height", Dimension::length);
  const Device& device = e.model.devices[s.index];
  if (!limit || !device.height.known() || (*device.height).count() <= limit.count) return limit;
  const Parameter* const exception = e.law.parameter("switch-height-beside-load");
  if (exception == nullptr) return limit;
  // One beside what it serves may be reached from a ladder, however high it is.
  const Value beside = stated(e, s, device.beside_load, "beside-load", installer);
  if (!beside || is_no(beside)) return beside ? limit : beside;
  e.used(exception->cite);
  return given(e, s, device.height, in_feet(e), "height", "a length such as 48in", installer_tape);
}

}  // namespace raceward::figure::compute
