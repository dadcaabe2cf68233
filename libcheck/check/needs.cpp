#include "check/needs.hpp"

#include <fmt/compile.h>

#include <algorithm>
#include <iterator>
#include <tuple>

#include "check/natural.hpp"
#include "document/vocabulary.hpp"
#include "facts/stated.hpp"

namespace raceward::checking {

namespace {

using installation::Model;
using installation::Offset;

/// The element's name as the file has it: it stands at the element's offset.
std::string_view tag_at(const Model& model, Offset offset) {
  const std::string_view bytes = model.bytes;
  if (offset == 0 || offset >= bytes.size()) return {};
  constexpr std::string_view letters = "abcdefghijklmnopqrstuvwxyz-";
  const std::size_t end = bytes.find_first_not_of(letters, offset);
  return bytes.substr(offset, (end == std::string_view::npos ? bytes.size() : end) - offset);
}

/// The element that stands for a subject of this kind.
std::string tag_of(const figure::Evaluation& e, Subject subject) {
  switch (subject.kind) {
    case SubjectKind::pull_section:
      return "raceway";
    case SubjectKind::attestation:
      return "attest";
    case SubjectKind::circuit:
      return e.model.circuits[subject.index].kind == installation::CircuitKind::other ? "wiring" : "circuit";
    case SubjectKind::place:
      return std::string(installation::name_of(e.model.places[subject.index].kind));
    default:
      break;
  }
  std::string tag(name_of(subject.kind));
  std::replace(tag.begin(), tag.end(), ' ', '-');
  return tag;
}

using document::Element;
using document::ElementRow;

const ElementRow* row_of(std::string_view tag) {
  const std::uint8_t found = document::element_words.find(tag);
  return found == 0 ? nullptr : &document::row_of(static_cast<Element>(found - 1));
}

/// A fact as documents write it: an attribute of the element, else an element within it or beside it, else an
/// attribute of an element within it that is not written yet: "box@volume", "support", "end@wall".
struct Datum {
  std::string text;
  bool attribute_of_element = false;
};

Datum datum_of(std::string_view tag, std::string_view fact) {
  const ElementRow* row = row_of(tag);
  if (row != nullptr && row->attributes.find(fact) != 0)
    return {fmt::format(FMT_COMPILE("{}@{}"), tag, fact), true};
  if (row_of(fact) != nullptr) return {std::string(fact)};
  const auto parent = static_cast<Element>(document::element_words.find(tag) - 1);
  for (std::size_t i = 0; row != nullptr && i < document::element_count; ++i) {
    const ElementRow& child = document::row_of(static_cast<Element>(i));
    if (document::may_stand_in(child, parent) && child.attributes.find(fact) != 0) {
      return {fmt::format(FMT_COMPILE("{}@{}"), child.name, fact)};
    }
  }
  return {fmt::format(FMT_COMPILE("{}@{}"), tag, fact), true};
}

/// Where a stop is, in words; empty where the element there is none.
std::string stop_in_words(const Model& model, Offset at) {
  const auto stop = std::lower_bound(model.stops.begin(), model.stops.end(), at,
                                     [](const installation::Stop& s, Offset o) { return s.source < o; });
  if (stop == model.stops.end() || stop->source != at) return {};
  const installation::Place& place = model.places[stop->place];
  return fmt::format(FMT_COMPILE("{} {}"), name_of(installation::subject_kind(place.kind)), place.id);
}

/// The circuit or wiring whose element holds an offset: circuits stand in document order.
std::string circuit_around(const Model& model, Offset at) {
  const auto after = std::upper_bound(model.circuits.begin(), model.circuits.end(), at,
                                      [](Offset o, const installation::Circuit& c) { return o < c.source; });
  if (after == model.circuits.begin()) return {};
  const installation::Circuit& circuit = *std::prev(after);
  const bool wiring = circuit.kind == installation::CircuitKind::other;
  return fmt::format(FMT_COMPILE("{} {}"), wiring ? "wiring" : "circuit", circuit.id);
}

/// "stop of circuit C1 at box B1", "end of raceway R1 at box B1", "bend of raceway R1".
std::string words_within(const figure::Evaluation& e, std::string_view tag, const std::string& subject,
                         const figure::Fact& fact) {
  const Model& model = e.model;
  if (tag == "stop" && is_place(fact.element.kind)) {
    return fmt::format(FMT_COMPILE("stop of {} at {}"), circuit_around(model, fact.source), subject);
  }
  if (const std::string at = tag == "stop" ? stop_in_words(model, fact.source) : ""; !at.empty())
    return fmt::format(FMT_COMPILE("stop of {} at {}"), subject, at);
  if (tag == "end" && fact.element.kind == SubjectKind::raceway) {
    const installation::RacewayEnd* ends = model.raceways[fact.element.index].ends;
    const installation::Place& place = model.places[ends[ends[1].source == fact.source ? 1 : 0].place];
    return fmt::format(FMT_COMPILE("end of {} at {} {}"), subject,
                       name_of(installation::subject_kind(place.kind)), place.id);
  }
  return fmt::format(FMT_COMPILE("{} of {}"), tag, subject);
}

Need need_of(const figure::Evaluation& e, const figure::Fact& fact) {
  Need need;
  need.fact = fact.name;
  need.expects = fact.expects;
  need.who = fact.who;
  need.why = fact.why;
  if (fact.who == figure::ruleset_author) {
    need.element = fmt::format(FMT_COMPILE("ruleset {}"), e.law.id);
    return need;
  }
  const Offset subject_at = installation::offset_of(e.model, e.in.sections, fact.element);
  const Offset at = fact.source != 0 ? fact.source : subject_at;
  const std::string own = tag_of(e, fact.element);
  std::string tag(tag_at(e.model, at));
  if (tag.empty()) tag = own;
  const std::string id = installation::id_of(e.model, e.in.sections, fact.element);
  const std::string subject = fact.element.kind == SubjectKind::circuit
                                  ? fmt::format(FMT_COMPILE("{} {}"), own, id)
                                  : fmt::format(FMT_COMPILE("{} {}"), name_of(fact.element.kind), id);
  need.element = at == subject_at ? subject : words_within(e, tag, subject, fact);
  if (fact.name.starts_with(facts::stated_fact)) {
    need.fact = fact.name.substr(facts::stated_fact.size());
    need.datum = fact.name;
    need.place = place_of(e.model, at);
    return need;
  }
  Datum datum = datum_of(tag, fact.name);
  need.datum = std::move(datum.text);
  need.place = place_of(
      e.model, datum.attribute_of_element ? installation::locate_attribute(e.model, at, fact.name) : at);
  return need;
}

}  // namespace

Place place_of(const Model& model, Offset offset) {
  const installation::LineColumn at = installation::locate(model, offset);
  return {model.file, at.line, at.column};
}

std::vector<Need> needs_of(const figure::Evaluation& e, MissingId missing) {
  std::vector<Need> needs;
  for (const figure::Fact* fact : e.missing.facts(missing)) needs.push_back(need_of(e, *fact));
  std::sort(needs.begin(), needs.end(), [](const Need& a, const Need& b) {
    if (a.element != b.element) return natural_less(a.element, b.element);
    return std::tie(a.datum, a.fact, a.place.line, a.place.column, a.why, a.expects, a.who) <
           std::tie(b.datum, b.fact, b.place.line, b.place.column, b.why, b.expects, b.who);
  });
  // A fact of one element is asked for once, with all the reasons, in the words that tell most of what to
  // write.
  const auto same = [](const Need& a, const Need& b) {
    return a.element == b.element && a.datum == b.datum && a.fact == b.fact && a.place.line == b.place.line &&
           a.place.column == b.place.column;
  };
  std::vector<Need> once;
  std::string last;               // reason of the last one
  std::vector<std::string> know;  // who could supply the last one
  const auto all_know = [&] {
    if (know.size() < 2) return;
    std::sort(know.begin(), know.end());
    once.back().who = fmt::format(FMT_COMPILE("{}"), fmt::join(know, ", or "));
  };
  for (Need& need : needs) {
    if (once.empty() || need.datum.empty() || !same(once.back(), need)) {
      all_know();
      know.assign(1, need.who);
      once.push_back(std::move(need));
      last = once.back().why;
      continue;
    }
    Need& asked = once.back();
    if (std::find(know.begin(), know.end(), need.who) == know.end()) know.push_back(need.who);
    if (!need.why.empty() && need.why != last) {
      if (!asked.why.empty()) asked.why += "; ";
      asked.why += need.why;
      last = std::move(need.why);
    }
    if (need.expects.size() > asked.expects.size()) asked.expects = std::move(need.expects);
  }
  all_know();
  // Of elements that words do not tell apart, not the first in the file is told first.
  const auto words = [](const Need& n) { return std::tie(n.element, n.datum, n.fact); };
  for (auto first = once.begin(); first != once.end();) {
    const auto end =
        std::find_if(first, once.end(), [&](const Need& n) { return words(n) != words(*first); });
    std::stable_sort(first, end, [](const Need& a, const Need& b) {
      return std::tie(a.why, a.expects, a.who) < std::tie(b.why, b.expects, b.who);
    });
    first = end;
  }
  if (e.missing.cut(missing) && !once.empty()) {
    std::string& why = once.back().why;
    why += fmt::format(FMT_COMPILE("{}more is missing than the {} facts told here"), why.empty() ? "" : "; ",
                       figure::MissingPool::most);
  }
  return once;
}

}  // namespace raceward::checking
