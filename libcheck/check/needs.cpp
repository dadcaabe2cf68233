#include "check/needs.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <tuple>

#include "check/natural.hpp"

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

/// Elements that a document may leave out, so that "support" is a missing element and not an attribute.
constexpr std::array<std::string_view, 22> elements = {
    "attest",    "bend",           "bonding-jumper", "conductor",
    "coupling",  "cover",          "device",         "end",
    "expansion", "joint",          "offset",         "overcurrent-device",
    "panel",     "point",          "ring",           "run",
    "saddle",    "spacing",        "stop",           "straight",
    "support",   "support-fitting"};

/// Names of both an element and an attribute.
bool is_element(std::string_view tag, std::string_view name) {
  if (name == "raceway") return tag != "bonding-jumper";
  if (name == "circuit" || name == "box" || name == "area") return tag == "installation";
  return std::find(elements.begin(), elements.end(), name) != elements.end();
}

Need need_of(const figure::Evaluation& e, const figure::Fact& fact) {
  Need need;
  need.fact = fact.name;
  need.expects = fact.expects;
  need.who = fact.who;
  need.why = fact.why;
  if (fact.who == figure::ruleset_author) {
    need.element = fmt::format("ruleset {}", e.law.id);
    return need;
  }
  const Offset subject_at = installation::offset_of(e.model, e.in.sections, fact.element);
  const Offset at = fact.source != 0 ? fact.source : subject_at;
  const std::string own = tag_of(e, fact.element);
  std::string tag(tag_at(e.model, at));
  if (tag.empty()) tag = own;
  const std::string id = installation::id_of(e.model, e.in.sections, fact.element);
  std::string subject = fact.element.kind == SubjectKind::circuit
                            ? fmt::format("{} {}", own, id)
                            : fmt::format("{} {}", name_of(fact.element.kind), id);
  need.element = at == subject_at ? std::move(subject) : fmt::format("{} of {}", tag, subject);
  const bool element = is_element(tag, fact.name);
  need.datum = element ? need.fact : fmt::format("{}@{}", tag, fact.name);
  need.place = place_of(e.model, element ? at : installation::locate_attribute(e.model, at, fact.name));
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
    return std::tie(a.datum, a.fact, a.why, a.place.line, a.place.column) <
           std::tie(b.datum, b.fact, b.why, b.place.line, b.place.column);
  });
  return needs;
}

}  // namespace raceward::checking
