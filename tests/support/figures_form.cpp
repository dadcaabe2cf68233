#include "support/figures_form.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "facts/shape.hpp"
#include "facts/start_tag.hpp"

namespace raceward::test {
namespace {

using namespace facts;
using Form = Holds::Form;

/// Names of the shapes, each once: what is joined bears little but facts, what is written in a subject is a
/// part.
std::map<const Shape*, std::string> names_of(const Shapes& shapes) {
  std::map<const Shape*, std::string> out;
  std::set<std::string> taken;
  for (const auto& shape : shapes.all()) {
    std::string name(shape->name);
    if (!shape->is_subject)
      name += shape->about.empty() || shapes.of(SubjectKind::installation).child(name) != nullptr ? "-joined"
                                                                                                  : "-part";
    while (!taken.insert(name).second) name += "-too";
    out.emplace(shape.get(), name);
  }
  return out;
}

std::string escaped(std::string_view text) {
  std::string out;
  append_escaped(out, text);
  return out;
}

std::string note(std::string_view about) {
  return fmt::format("<xs:annotation><xs:documentation>{}</xs:documentation></xs:annotation>",
                     escaped(about));
}

std::string type_of(const Holds& holds) {
  switch (holds.form) {
    case Form::count:
    case Form::amount:
    case Form::share:
      return "xs:integer";
    case Form::number:
      return "xs:decimal";
    default:
      return "xs:string";
  }
}

void attribute(std::string& out, std::string_view name, const Holds& holds, std::string_view about) {
  std::string text(about);
  if (holds.is_number()) text += fmt::format(" In {}.", scale_of(holds));
  if (holds.form != Form::word) {
    out += fmt::format("    <xs:attribute name=\"{}\" type=\"{}\">{}</xs:attribute>\n", name, type_of(holds),
                       note(text));
    return;
  }
  out += fmt::format("    <xs:attribute name=\"{}\">{}<xs:simpleType><xs:restriction base=\"xs:string\">",
                     name, note(text));
  for (const document::Term& term : holds.words->terms)
    out += fmt::format("<xs:enumeration value=\"{}\"/>", escaped(term.spelling));
  out += "</xs:restriction></xs:simpleType></xs:attribute>\n";
}

std::string shown(const Holds& holds) {
  if (holds.form == Form::word && holds.words == &document::yes_no_words) return "yes, no";
  if (holds.form == Form::word)
    return holds.words->name.empty() ? "a word" : fmt::format("a word ({})", holds.words->name);
  return std::string(scale_of(holds));
}

/// The subject whose facts it has, where it has no others.
const Shape* alike(const Shapes& shapes, const Shape& shape) {
  for (const auto& other : shapes.all()) {
    if (!other->is_subject || other->name != shape.name || shape.is_subject) continue;
    const bool same = std::all_of(shape.facts.begin(), shape.facts.end(), [&](const FactRow& row) {
      return other->fact(row.name) != nullptr || row.name == "circuit";
    });
    if (same) return other.get();
  }
  return nullptr;
}

void table(std::string& out, const Shapes& shapes, const Shape& shape) {
  if (const Shape* subject = alike(shapes, shape)) {
    out += fmt::format("\nThe facts of the subject `{}`{}.\n", subject->name,
                       shape.fact("circuit") != nullptr && subject->fact("circuit") == nullptr
                           ? ", and `@circuit`, the id of the circuit that it belongs to"
                           : "");
  } else if (!shape.facts.empty()) {
    std::string list;
    for (const FactRow& row : shape.facts) {
      const std::string otherwise =
          row.otherwise.empty() ? "" : fmt::format(", {} where nothing is said", row.otherwise);
      list += fmt::format("{}`@{}` ({}{})", list.empty() ? "" : ", ", row.name, shown(row.holds), otherwise);
    }
    out += fmt::format("\nFacts: {}.\n", list);
  }
  // Those of any place are told once.
  const bool of_place = is_place(shape.subject) && shape.is_subject && shape.subject != SubjectKind::place;
  if (of_place) out += "\nThe figures of a `place`, below, and what is its own:\n";
  if (std::any_of(shape.figures.begin(), shape.figures.end(), [&](const figure::Info* info) {
        return !of_place || info->subject != SubjectKind::place;
      })) {
    out += "\n| figure | holds | meaning |\n| --- | --- | --- |\n";
    for (const figure::Info* info : shape.figures) {
      if (of_place && info->subject == SubjectKind::place) continue;
      out +=
          fmt::format("| `figures/@{}` | {} | {} |\n", info->name, shown(holds_of(info->unit)), info->about);
    }
  }
}

void within(std::string& out, const Shape& shape) {
  std::string list;
  for (const ChildRow& row : shape.children) {
    if (row.from == From::stated) continue;
    list += fmt::format("{}`{}` ({}{})", list.empty() ? "" : ", ", row.name, row.many ? "several" : "one",
                        row.complete ? "; none means none" : "");
  }
  if (shape.is_stated_of)
    list +=
        fmt::format("{}`stated`, with the facts that the ruleset declares of it", list.empty() ? "" : ", ");
  if (!list.empty()) out += fmt::format("\nIn it: {}.\n", list);
}

constexpr std::string_view head = R"(# The figures document

What data rules are asked of, and what `raceward figures FILE --format xml` writes: one element a subject, with every fact
that the document states, every figure, and what is joined to it. A rule's expression begins at the element of its
subject, so that an XPath that finds something there finds the same in this file. [rulesets.md](rulesets.md) tells how a
rule is written. Written from the vocabulary of documents and the list of figures; the target `renew-schema` renews it.

The namespace is `urn:raceward:figures:1`; `share/raceward/schema/figures-1.xsd` describes it. Names stay as they are
within version 1; new ones may come. A fact that nobody states and a figure that misses a fact are left out; `missing`
says what a figure misses. Figures in the line of a subject are told under the conditions of the ruleset that hold of
that subject, as rules about it are asked. The attribute `said:length="36 in"` tells people what `length` is.

| dimension | a whole number of |
| --- | --- |
| length | picometres (1 in is 25400000000) |
| area | 1/100000000 mm2 |
| volume | 1/1000000 mm3 |
| angle | 1/1000000 degree |
| current | microamperes |
| voltage | microvolts |
| temperature | 1/18000 kelvin, counted from 0 degrees Celsius |
| power | microwatts |
| resistance | nanoohms |
| share, percentage | billionths (40 % is 400000000) |
| count | ones |

All of these are exact in XPath, whose numbers hold whole numbers up to 2^53; a larger one counts as unknown. A few
figures are pure ratios and have decimals. [document-tables.md](document-tables.md) tells what facts and elements mean.
"None means none" says that where there is no such element, there is none; of others it is not known whether there is one.
What is joined to a subject is in it as well: the area that it is in, the circuits that pass it, the devices on it, and the
installation with its own facts. A raceway that is joined bears its length as a figure, for documents may give its parts alone.

A fact that the ruleset declares stands in `stated`: `stated/@service-mast`. Words, yes and no, and dates are texts;
quantities are scaled as above, and a number without unit has decimals. One that is stated twice and not alike, or that is
not of its kind, is left out and counts as unknown. The elements `fact` of the document itself stand there too, but
expressions do not read them.
)";

}  // namespace

std::string page_of_figures() {
  const Shapes shapes;
  std::string out(head);
  out += "\n# Subjects\n";
  for (const auto& shape : shapes.all()) {
    if (!shape->is_subject) continue;
    out += fmt::format("\n## {}\n\n{}\n", shape->name, shape->about);
    table(out, shapes, *shape);
    within(out, *shape);
  }
  out += "\n# What stands in them\n\nFacts, and of raceways their length; no other figures.\n";
  std::set<std::string> told;
  for (const auto& shape : shapes.all()) {
    if (shape->is_subject) continue;
    std::string text = fmt::format("\n## {}\n\n{}\n", shape->name, shape->about);
    table(text, shapes, *shape);
    within(text, *shape);
    if (told.insert(text).second) out += text;
  }
  return out;
}

std::string schema_of_figures() {
  const Shapes shapes;
  const auto names = names_of(shapes);
  std::string out = fmt::format(R"(<?xml version="1.0" encoding="UTF-8"?>
<!-- The figures document, which data rules are asked of; docs/figures-document.md explains it.
     Written from the vocabulary of documents and the list of figures: build the target renew-schema. -->
<xs:schema xmlns:xs="http://www.w3.org/2001/XMLSchema" xmlns="{0}" targetNamespace="{0}" elementFormDefault="qualified">
  <xs:element name="installation" type="installation"/>
  <xs:complexType name="missing">
    {1}
    <xs:attribute name="figure" type="xs:string" use="required"/>
    <xs:attribute name="fact" type="xs:string" use="required"/>
    <xs:attribute name="of" type="xs:string" use="required"/>
    <xs:attribute name="why" type="xs:string"/>
  </xs:complexType>
  <xs:complexType name="stated">
    {2}
    <xs:anyAttribute processContents="skip"/>
  </xs:complexType>
)",
                                facts_namespace, note("A fact that a figure misses, and of what."),
                                note("Facts that the ruleset declares, as the document states them."));
  for (const auto& shape : shapes.all()) {
    const std::string& name = names.at(shape.get());
    out += fmt::format("  <xs:complexType name=\"{}\">{}\n    <xs:sequence>\n", name, note(shape->about));
    if (!shape->figures.empty()) {
      out += fmt::format(
          "      <xs:element name=\"figures\" type=\"figures-of-{}\"/>\n"
          "      <xs:element name=\"missing\" type=\"missing\" minOccurs=\"0\" maxOccurs=\"unbounded\"/>\n",
          name);
    }
    if (shape->is_stated_of) out += "      <xs:element name=\"stated\" type=\"stated\" minOccurs=\"0\"/>\n";
    for (const ChildRow& row : shape->children) {
      out += fmt::format(
          "      <xs:element name=\"{}\" type=\"{}\" minOccurs=\"0\" maxOccurs=\"{}\">{}</xs:element>\n",
          row.name, names.at(row.shape), row.many ? "unbounded" : "1", note(row.about));
    }
    out += "    </xs:sequence>\n";
    for (const FactRow& row : shape->facts) attribute(out, row.name, row.holds, row.about);
    if (shape->is_subject && shape->subject == SubjectKind::installation)
      attribute(out, "under", {}, "Id of the ruleset that the figures were computed under.");
    out +=
        fmt::format("    <xs:anyAttribute namespace=\"{}\" processContents=\"skip\"/>\n  </xs:complexType>\n",
                    said_namespace);
    if (shape->figures.empty()) continue;
    out += fmt::format("  <xs:complexType name=\"figures-of-{}\">\n", name);
    for (const figure::Info* info : shape->figures)
      attribute(out, info->name, holds_of(info->unit), fmt::format("{}.", info->about));
    out +=
        fmt::format("    <xs:anyAttribute namespace=\"{}\" processContents=\"skip\"/>\n  </xs:complexType>\n",
                    said_namespace);
  }
  return out + "</xs:schema>\n";
}

}  // namespace raceward::test
