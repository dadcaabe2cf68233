#include "support/schema.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <pugixml.hpp>
#include <set>
#include <sstream>
#include <vector>

#include "document/vocabulary.hpp"
#include "quantity/units.hpp"

namespace raceward::test {
namespace {

using namespace document;
using pugi::xml_node;

constexpr const char* head =
    R"( The installation document, for editors that complete from a schema and for other validators.
     Written from libcheck/document/vocabulary.def; after a change there, build the target renew-schema.
     docs/document.md explains the document by example. A schema cannot see everything: whether a quantity is of a
     sensible size, whether ids named in a list exist, whether several runs of a circuit say their conductors, whether
     raceways lead from stop to stop. The loader reports that. )";

// Numbers as libcheck/quantity reads them.
constexpr std::string_view digits = "[0-9]+";
constexpr std::string_view some_digit = "[0-9]*[1-9][0-9]*";
constexpr std::string_view decimal = R"([0-9]+(\.[0-9]+)?)";
constexpr std::string_view decimal_above_zero = R"([0-9]*[1-9][0-9]*(\.[0-9]+)?|[0-9]+\.[0-9]*[1-9][0-9]*)";

std::vector<Element> all_elements() {
  std::vector<Element> out;
  for (std::size_t i = 0; i < element_count; ++i) out.push_back(static_cast<Element>(i));
  return out;
}

std::string symbols_of(Dimension dimension, bool (*wanted)(Unit)) {
  std::string out;
  for (const quantity::UnitRow& row : quantity::unit_rows)
    if (row.dimension == dimension && wanted(row.unit) && !row.symbol.empty())
      out += fmt::format("{}{}", out.empty() ? "" : "|", row.symbol);
  return out;
}

bool takes_fractions(Unit unit) { return unit == Unit::inch || unit == Unit::foot; }

// A fraction, alone or behind a whole number. `whole` and `whole_above_zero` are patterns of that number.
std::string fraction_of(std::string_view whole, std::string_view whole_above_zero, std::string_view joint,
                        bool above_zero) {
  if (!above_zero) return fmt::format("({}{})?{}/{}", whole, joint, digits, some_digit);
  return fmt::format("({0}{1})?{2}/{2}|{3}{1}{4}/{2}", whole, joint, some_digit, whole_above_zero, digits);
}

// Inches behind feet: less than 12.
std::string inches_of(std::string_view joint, bool above_zero) {
  constexpr std::string_view whole = "0*([0-9]|1[01])", whole_above_zero = "0*([1-9]|1[01])";
  const std::string fraction = fraction_of(whole, whole_above_zero, joint, above_zero);
  if (!above_zero) return fmt::format(R"({}(\.[0-9]+)?|{})", whole, fraction);
  return fmt::format(R"({}(\.[0-9]+)?|0+\.{}|{})", whole_above_zero, some_digit, fraction);
}

// One quantity. In a position, blanks stand between quantities and not within them.
std::string pattern_of(const Form& form, bool in_position) {
  const std::string_view blanks = in_position ? "" : R"(\s*)";
  const std::string_view sign = form.least < 0 ? "-?" : "";
  const std::string_view number = form.above_least ? decimal_above_zero : decimal;
  const std::string plain = symbols_of(form.dimension, [](Unit unit) { return !takes_fractions(unit); });
  if (form.dimension != Dimension::length)
    return fmt::format("{}{}({}){}({}){}{}", blanks, sign, number, blanks, plain,
                       form.dimension == Dimension::none ? "?" : "", blanks);
  const std::string_view joint = in_position ? "-" : R"((-|\s+))";
  const std::string split = symbols_of(form.dimension, takes_fractions);
  const std::string feet_and_inches =
      form.above_least ? fmt::format(R"({0}(\.0+)?{1}ft{1}({2})|0+(\.0+)?{1}ft{1}({3}))", some_digit, blanks,
                                     inches_of(joint, false), inches_of(joint, true))
                       : fmt::format(R"({0}(\.0+)?{1}ft{1}({2}))", digits, blanks, inches_of(joint, false));
  return fmt::format("{0}{1}(({2}|{3}){0}({4})|({2}){0}({5})|({6}){0}in){0}", blanks, sign, number,
                     fraction_of(digits, some_digit, joint, form.above_least), split, plain, feet_and_inches);
}

class Writer {
 public:
  std::string write() {
    root_ = file_.append_child("xs:schema");
    const std::string space(document_namespace);
    set(root_, "xmlns:xs", "http://www.w3.org/2001/XMLSchema");
    set(root_, "xmlns", space);
    set(root_, "targetNamespace", space);
    set(root_, "elementFormDefault", "qualified");
    nothing();
    for (const Element element : all_elements())
      if (row_of(element).parents != 0) type(element);
    root_element();
    std::ostringstream out;
    out << "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<!--" << head << "-->\n";
    file_.save(out, "  ", pugi::format_indent | pugi::format_no_declaration, pugi::encoding_utf8);
    return out.str();
  }

 private:
  static void set(xml_node node, const char* name, const std::string& value) {
    node.append_attribute(name).set_value(value.c_str());
  }
  static xml_node child(xml_node parent, const char* kind, const char* name, const std::string& value) {
    xml_node node = parent.append_child(kind);
    set(node, name, value);
    return node;
  }
  static void describe(xml_node node, std::string_view meaning) {
    node.append_child("xs:annotation")
        .append_child("xs:documentation")
        .text()
        .set(std::string(meaning).c_str());
  }

  // --- types of values

  // A named type at the top, made where it is first used; an empty node where it is there already.
  xml_node simple_type(const std::string& name, std::string_view meaning) {
    if (!types_.insert(name).second) return {};
    xml_node node = first_complex_ ? root_.insert_child_before("xs:simpleType", first_complex_)
                                   : root_.append_child("xs:simpleType");
    set(node, "name", name);
    describe(node, meaning);
    return node;
  }
  static xml_node restrict(xml_node type, const std::string& base) {
    return child(type, "xs:restriction", "base", base);
  }

  // The content of elements that hold no others: blanks and comments, which a type without content would
  // refuse.
  void nothing() {
    xml_node type = simple_type("nothing", "No elements and no text.");
    child(restrict(type, "xs:token"), "xs:length", "value", "0");
  }

  std::string word() {
    if (xml_node type =
            simple_type("word", "Letters, digits, _ - and ., beginning with a letter, a digit or _.")) {
      xml_node restriction = restrict(type, "xs:string");
      child(restriction, "xs:pattern", "value", R"([A-Za-z0-9_][A-Za-z0-9_\-.]*)");
      child(restriction, "xs:maxLength", "value", "256");
    }
    return "word";
  }

  std::string said() {
    if (xml_node type = simple_type("said", "A text that is not blank."))
      child(restrict(type, "xs:string"), "xs:pattern", "value", R"([\s\S]*\S[\s\S]*)");
    return "said";
  }

  std::string subject() {
    if (xml_node type = simple_type(
            "subject", "An id as reports give it: R1; R1+R2 of a pull section; C1/h of a conductor."))
      child(restrict(type, "xs:string"), "xs:pattern", "value",
            R"([A-Za-z0-9_][A-Za-z0-9_\-.]{0,255}([+/][A-Za-z0-9_][A-Za-z0-9_\-.]{0,255})*)");
    return "subject";
  }

  std::string ids() {
    word();
    if (xml_node type = simple_type("ids", "Ids with blanks between."))
      child(type, "xs:list", "itemType", "word");
    return "ids";
  }

  std::string words(const Words& list) {
    std::string name = fmt::format("{}-word", list.name);
    for (char& c : name)
      if (c == '_') c = '-';
    if (xml_node type = simple_type(name, "One of these words.")) {
      xml_node restriction = restrict(type, "xs:string");
      for (const Term& term : list.terms) {
        xml_node value = child(restriction, "xs:enumeration", "value", std::string(term.spelling));
        if (!term.meaning.empty()) describe(value, term.meaning);
      }
    }
    return name;
  }

  std::string insulations(const Words& list) {
    if (xml_node type = simple_type("insulation-marks", "Marks of insulation, with / between several.")) {
      std::string marks;
      for (const Term& term : list.terms)
        marks += fmt::format("{}{}", marks.empty() ? "" : "|", term.spelling);
      child(restrict(type, "xs:string"), "xs:pattern", "value", fmt::format("({})(/({}))*", marks, marks));
    }
    return "insulation-marks";
  }

  std::string quantity(const Form& form) {
    const quantity::DimensionRow& row = quantity::row_of(form.dimension);
    const std::string_view sign = form.above_least ? "positive-" : form.least < 0 ? "signed-" : "";
    const bool pure = form.dimension == Dimension::none;
    std::string name = fmt::format("{}{}", sign, pure ? "number" : row.name);
    const std::string meaning =
        fmt::format("{}{}, such as {}{}.", row.name, pure ? "" : " with its unit", row.example,
                    form.above_least ? "; more than 0"
                    : form.least < 0 ? "; may be below 0"
                                     : "");
    if (xml_node type = simple_type(name, meaning))
      child(restrict(type, "xs:string"), "xs:pattern", "value", pattern_of(form, false));
    return name;
  }

  std::string position(const Form& form) {
    if (xml_node type =
            simple_type("position", "Three lengths with blanks between, as in 12ft 0ft 3ft6in.")) {
      const std::string length = pattern_of(form, true);
      child(restrict(type, "xs:string"), "xs:pattern", "value",
            fmt::format(R"(\s*{0}(\s+{0}){{2}}\s*)", length));
    }
    return "position";
  }

  std::string count() {
    if (xml_node type = simple_type("count", "A whole number."))
      child(restrict(type, "xs:integer"), "xs:pattern", "value", "[0-9]{1,9}");
    return "count";
  }

  std::string date() {
    if (xml_node type = simple_type("date", "A date as year-month-day, as in 2026-05-01."))
      child(restrict(type, "xs:date"), "xs:pattern", "value", "[0-9]{4}-[0-9]{2}-[0-9]{2}");
    return "date";
  }

  // Counts and lists have limits of their own, so their types stand at the attribute.
  static void bounded(xml_node attribute, const std::string& base, const char* least_name,
                      const char* most_name, std::int64_t least, std::int64_t most) {
    xml_node restriction = restrict(attribute.append_child("xs:simpleType"), base);
    child(restriction, least_name, "value", std::to_string(least));
    if (most > 0) child(restriction, most_name, "value", std::to_string(most));
  }

  std::string name_of_type(const Form& form) {
    switch (form.kind) {
      case Form::Kind::text:
        return "xs:string";
      case Form::Kind::said:
        return said();
      case Form::Kind::word:
      case Form::Kind::id:
      case Form::Kind::reference:
      case Form::Kind::conductor_reference:
        return word();
      case Form::Kind::subject:
        return subject();
      case Form::Kind::references:
      case Form::Kind::conductor_references:
        return ids();
      case Form::Kind::words:
        return words(*form.words);
      case Form::Kind::insulations:
        return insulations(*form.words);
      case Form::Kind::quantity:
        return quantity(form);
      case Form::Kind::position:
        return position(form);
      case Form::Kind::count:
        return count();
      case Form::Kind::date:
        return date();
    }
    return {};
  }

  void attributes(xml_node into, Element element) {
    const ElementRow& row = row_of(element);
    for (std::size_t i = 0; i < row.rows.size(); ++i) {
      const auto& [form, need] = row.rows[i];
      xml_node node = child(into, "xs:attribute", "name", std::string(row.attributes.terms[i].spelling));
      const std::string type = name_of_type(form);
      const bool list = form.kind == Form::Kind::references || form.kind == Form::Kind::conductor_references;
      const bool stands_here = list || form.kind == Form::Kind::count;
      if (!stands_here) set(node, "type", type);
      if (need == Need::required) set(node, "use", "required");
      describe(node, row.attributes.terms[i].meaning);
      if (form.kind == Form::Kind::count)
        bounded(node, type, "xs:minInclusive", "xs:maxInclusive", form.least, form.most);
      else if (list)
        bounded(node, type, "xs:minLength", "xs:maxLength", form.least > 0 ? form.least : 1, form.most);
    }
  }

  // --- elements

  void type(Element element) {
    xml_node node = child(root_, "xs:complexType", "name", std::string(row_of(element).name));
    if (!first_complex_) first_complex_ = node;
    describe(node, row_of(element).meaning);
    content(node, element);
  }

  void content(xml_node type, Element element) {
    std::vector<Element> children;
    for (const Element other : all_elements())
      if (may_stand_in(row_of(other), element)) children.push_back(other);
    if (children.empty()) {
      type = child(type.append_child("xs:simpleContent"), "xs:extension", "base", "nothing");
    } else if (may_stand_in(row_of(Element::conductor), element)) {
      with_a_run(type, children);
    } else {
      some_of(type, children, element == Element::run ? "2" : "0");
    }
    attributes(type, element);
  }

  void some_of(xml_node into, const std::vector<Element>& children, const char* least) {
    xml_node choice = child(into, "xs:choice", "minOccurs", least);
    set(choice, "maxOccurs", "unbounded");
    for (const Element other : children) one(choice, other);
  }

  void one(xml_node into, Element element) {
    const std::string name(row_of(element).name);
    xml_node node = child(into, "xs:element", "name", name);
    set(node, "type", name);
    conductors(node, element);
    if (element == Element::raceway) one_end_at_each(node);
  }

  // Conductors, then, want a run somewhere: before the first run there may be others, if one comes.
  void with_a_run(xml_node type, const std::vector<Element>& children) {
    std::vector<Element> others;
    for (const Element other : children)
      if (other != Element::run) others.push_back(other);
    xml_node sequence = child(type, "xs:sequence", "minOccurs", "0");
    some_of(sequence, others, "0");
    one(sequence, Element::run);
    some_of(sequence, children, "0");
  }

  void one_end_at_each(xml_node raceway) {
    set(raceway, "xmlns:i", std::string(document_namespace));
    xml_node unique = child(raceway, "xs:unique", "name", "one-end-at-each-place");
    child(unique, "xs:selector", "xpath", "i:end");
    child(unique, "xs:field", "xpath", "@place");
  }

  // --- ids and what names them

  template <class Wanted>
  static void select(xml_node node, const Wanted& wanted, const char* attribute) {
    std::string paths;
    for (const Element element : all_elements())
      if (wanted(element)) add_paths(paths, element, std::string(row_of(element).name));
    child(node, "xs:selector", "xpath", paths);
    child(node, "xs:field", "xpath", std::string("@") + attribute);
  }
  // The ways from the root to an element, as far as the step given.
  static void add_paths(std::string& paths, Element element, const std::string& path) {
    if (element == Element::installation) paths = ".";
    const std::string step = "i:" + path;
    if (may_stand_in(row_of(element), Element::installation)) paths += (paths.empty() ? "" : "|") + step;
    for (const Element parent : all_elements())
      if (parent != Element::installation && may_stand_in(row_of(element), parent))
        add_paths(paths, parent, std::string(row_of(parent).name) + "/" + step);
  }

  static const Form* id_of(Element element) {
    for (const AttributeRow& row : row_of(element).rows)
      if (row.form.kind == Form::Kind::id) return &row.form;
    return nullptr;
  }

  static bool is_target(Element element, std::uint32_t targets) {
    if (element == Element::installation)
      return (targets >> static_cast<unsigned>(SubjectKind::installation) & 1U) != 0;
    const Form* id = id_of(element);
    return id != nullptr && (targets >> static_cast<unsigned>(id->subject) & 1U) != 0;
  }

  void root_element() {
    xml_node node = child(root_, "xs:element", "name", std::string(row_of(Element::installation).name));
    set(node, "xmlns:i", std::string(document_namespace));
    describe(node, row_of(Element::installation).meaning);
    content(node.append_child("xs:complexType"), Element::installation);
    select(
        child(node, "xs:key", "name", "ids-are-unique"),
        [](Element e) { return e == Element::installation || id_of(e) != nullptr; }, "id");
    for (const Element element : all_elements()) references(node, element);
  }

  void references(xml_node root, Element element) {
    const ElementRow& row = row_of(element);
    for (std::size_t i = 0; i < row.rows.size(); ++i) {
      const Form& form = row.rows[i].form;
      if (form.kind != Form::Kind::reference) continue;
      const std::string key = key_of(root, form.targets);
      const std::string name(row.attributes.terms[i].spelling);
      xml_node node = child(root, "xs:keyref", "name", fmt::format("{}-{}", row.name, name));
      set(node, "refer", key);
      select(
          node, [&](Element e) { return e == element; }, name.c_str());
    }
  }

  std::string key_of(xml_node root, std::uint32_t targets) {
    std::string name = "id-of";
    for (const Element element : all_elements())
      if (is_target(element, targets))
        name += fmt::format("{}{}", name == "id-of" ? "-" : "-or-", row_of(element).name);
    if (keys_.insert(name).second)
      select(
          child(root, "xs:key", "name", name), [&](Element e) { return is_target(e, targets); }, "id");
    return name;
  }

  // Conductors have ids of their circuit, and lie in cables of it.
  static void conductors(xml_node node, Element element) {
    if (!may_stand_in(row_of(Element::conductor), element)) return;
    set(node, "xmlns:i", std::string(document_namespace));
    const std::string key = fmt::format("{}-conductors", row_of(element).name);
    const auto add = [&](xml_node constraint, const char* field) {
      child(constraint, "xs:selector", "xpath", "i:conductor");
      child(constraint, "xs:field", "xpath", field);
    };
    add(child(node, "xs:key", "name", key), "@id");
    xml_node cable = child(node, "xs:keyref", "name", fmt::format("{}-cables", row_of(element).name));
    set(cable, "refer", key);
    add(cable, "@of-cable");
  }

  pugi::xml_document file_;
  xml_node root_, first_complex_;
  std::set<std::string> types_, keys_;
};

}  // namespace

std::string schema_of_vocabulary() { return Writer().write(); }

}  // namespace raceward::test
