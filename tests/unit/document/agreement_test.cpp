// The schema and the loader judge alike: from a document that uses every element and attribute, others are
// made by one change each, and both are asked. Who rejects it is written beside each change; where only the
// loader does, it is because no schema of this kind can see:
//   size     how much a quantity is, and whether it can be held exactly
//   list     what an id in a list names, or one that may name anything
//   meaning  what depends on several elements together
//   prefix   that all elements bear the same: our own rule, narrower than XML's
#include <fmt/format.h>
#include <gtest/gtest.h>

#include "changes.hpp"
#include "everything.hpp"
#include "loading.hpp"
#include "quantity/units.hpp"
#include "support/xmllint.hpp"

namespace raceward::document::test {
namespace {

using enum Rejects;
using raceward::test::Judged;

// Changes where the rule for changes of their kind does not hold.
const Changes::Exceptions of_elements = {
    {"stop again", "meaning: the run stops twice in a row at a place"},
    {"waiver again", "meaning: a finding is waived once"},
};
const Changes::Exceptions of_attributes = {
    {"conductor@cable removed", "meaning: then nothing can lie in it"},
    {"conductor@cable = 'no'", "meaning: then nothing can lie in it"},
    {"conductor@id = 'a.b-c_9'", "list: the run names it as before"},
    {"run@conductors removed", "meaning: only a circuit's only run may leave it out"},
};

void change_element(Changes& changes, Element element) {
  pugi::xml_node node = changes.node();
  const ElementRow& row = row_of(element);
  const auto put = [&](std::string_view how, Rejects rejects, pugi::xml_node child) {
    changes.add(how, rejects);
    node.remove_child(child);
  };
  const auto put_attribute = [&](const char* name, const char* value, Rejects rejects) {
    pugi::xml_attribute added = node.append_attribute(name);
    added.set_value(value);
    changes.add(fmt::format("with {}='{}'", name, value), rejects);
    node.remove_attribute(added);
  };
  node.set_name((std::string(row.name) + "x").c_str());
  changes.add("misspelt", both);
  node.set_name(std::string(row.name).c_str());

  const auto text = [&](pugi::xml_node_type type, std::string_view how, const char* value, Rejects rejects) {
    pugi::xml_node child = node.prepend_child(type);
    child.set_value(value);
    put(how, rejects, child);
  };
  text(pugi::node_pcdata, "with text", "text", both);
  text(pugi::node_pcdata, "with a line end", "\n  ", nobody);
  text(pugi::node_cdata, "with a CDATA section", "text", both);
  text(pugi::node_comment, "with a comment", " remark ", nobody);
  pugi::xml_node instruction = node.prepend_child(pugi::node_pi);
  instruction.set_name("editor");
  put("with an instruction", nobody, instruction);

  put_attribute("unheard-of", "yes", both);
  put_attribute("xml:lang", "en", both);
  put_attribute("xmlns:q", "urn:q", nobody);
  if (element != Element::installation) {
    put_attribute("xmlns", "urn:q", both);
    put_attribute("xmlns", "", both);
    put_attribute("xmlns", "urn:raceward:installation:1", nobody);
  }

  pugi::xml_node foreign = node.append_child("q:note");
  foreign.append_attribute("xmlns:q").set_value("urn:q");
  put("with an element of another namespace", both, foreign);
  for (std::size_t e = 0; e < element_count; ++e) {
    const ElementRow& other = row_of(static_cast<Element>(e));
    const bool of_stops = other.name == "run";  // an empty one has too few
    const bool good = may_stand_in(other, element) && other.required == 0 && !of_stops;
    put(fmt::format("holds {}", other.name), good ? nobody : both,
        node.append_child(std::string(other.name).c_str()));
  }

  if (element == Element::installation) return;
  const bool has_id = !row.rows.empty() && row.attributes.terms[0].spelling == "id";
  pugi::xml_node parent = node.parent();
  const pugi::xml_node copy = parent.insert_copy_after(node, node);
  const bool once = has_id || row.name == "end";  // at each place of a raceway
  changes.add("again", once ? both : nobody);
  parent.remove_child(copy);
}

std::string times(std::string_view text, std::size_t n) {
  std::string out;
  for (std::size_t i = 0; i < n; ++i) out += text;
  return out;
}

// The attribute itself, whatever its form. It ends behind the others.
void change_attribute(Changes& changes, const AttributeRow& row) {
  pugi::xml_node node = changes.node();
  pugi::xml_attribute attribute = changes.attribute();
  const std::string name = attribute.name(), value = attribute.value();
  attribute.set_name((name + "x").c_str());
  changes.add("misspelt", both);
  attribute.set_name(name.c_str());
  const pugi::xml_attribute second = node.append_copy(attribute);
  changes.add("twice", both);
  node.remove_attribute(second);
  node.remove_attribute(attribute);
  changes.add("removed", row.need == Need::required ? both : nobody);
  node.append_attribute(name.c_str()).set_value(value.c_str());
}

struct Value {
  std::string text;
  Rejects rejects;
  std::string_view called = {};
};

std::vector<Value> texts() { return {{"", nobody}, {"a<b & \"c\" 'd' \xc3\xa9 \t", nobody}}; }

std::vector<Value> words_of_any_kind(bool names_something) {
  std::vector<Value> out{{"", both},   {" ", both},   {"two words", both},
                         {"-x", both}, {".x", both},  {"\xc3\xa9", both},
                         {" x", both}, {"x/y", both}, {std::string(257, 'x'), both, "too long"}};
  if (names_something) return out;
  out.push_back({"a.b-c_9", nobody});
  out.push_back({std::string(256, 'x'), nobody, "longest"});
  return out;
}

// Of an id that one other element bears, of what is wanted not or wanted.
std::vector<Value> references(const Form& form) {
  std::vector<Value> out = words_of_any_kind(true);
  const bool any = (form.targets >> static_cast<unsigned>(SubjectKind::installation) & 1U) != 0;
  out.push_back({"nobody", both});
  out.push_back({"X1", any ? nobody : both});
  if (any) out.push_back({"shed", nobody});
  return out;
}

std::vector<Value> lists(const Form& form, const std::string& now) {
  std::vector<Value> out{{"", both}, {" \t ", both}, {"  " + now + " ", nobody, "with blanks around"}};
  if (form.most > 0) {
    const auto least = static_cast<std::size_t>(form.least), most = static_cast<std::size_t>(form.most);
    const std::string first = now.substr(0, now.find(' ')) + " ";
    out.push_back({times("nobody ", least), loader, "nobody"});
    out.push_back({times("X1 ", least), loader, "of another kind"});
    out.push_back({times("-x ", least), both, "no words"});
    out.push_back({times(first, most + 1), both, "too many"});
    if (least > 1) out.push_back({first, both, "too few"});
  } else {
    for (const char* text : {"nobody", "h h k"}) out.push_back({text, loader});
    out.push_back({"-x", both});
  }
  return out;
}

std::string other_case(std::string text) {
  for (char& c : text) c = static_cast<char>(std::islower(c) != 0 ? std::toupper(c) : std::tolower(c));
  return text;
}

std::vector<Value> words(const Words& list) {
  std::vector<Value> out{
      {"", both}, {"nothing-of-it", both}, {" " + std::string(list.terms[0].spelling), both}};
  for (const auto& term : list.terms) {
    const std::string word(term.spelling);
    out.push_back({word, nobody});
    if (const std::string other = other_case(word); other != word) out.push_back({other, both});
  }
  return out;
}

std::vector<Value> insulations(const Words& list) {
  std::vector<Value> out{{"", both},       {"/", both},     {"TW/", both},        {"/TW", both},
                         {"TW//TW", both}, {"TW TW", both}, {"TW / TW", both},    {" TW", both},
                         {"tw", both},     {"TW/XX", both}, {"TW/TW/TW", nobody}, {"TW,TW", both}};
  for (const auto& term : list.terms) out.push_back({std::string(term.spelling) + "/TW", nobody});
  return out;
}

std::vector<Value> quantities(const Form& form) {
  const quantity::UnitRange units = quantity::unit_ranges[static_cast<std::size_t>(form.dimension)];
  const std::string unit(quantity::unit_rows[units.first].symbol);
  const Rejects below_zero = form.least < 0 ? nobody : both, zero = form.above_least ? both : nobody;
  std::vector<Value> out{{"", both}, {" ", both}, {"4", both}, {unit, both}, {"4kg", both}, {"4%", both}};
  if (form.dimension != Dimension::resistance) out.push_back({"4ohm", both});
  const auto each = [&](Rejects rejects, std::initializer_list<std::string_view> numbers) {
    for (const std::string_view number : numbers) out.push_back({std::string(number) + unit, rejects});
  };
  each(nobody, {"4", "4 ", " 4", "\t4", "\n4", "4.5", "4.50", "004", "4.000000000000000000"});
  each(both,
       {".5",  "5.",        "+4",       "--4", "- 4", "4e1", "0x4",   "nan", "inf", "4,5",   "1,000",
        "4 4", "4\xc2\xa0", "\xc2\xbd", "4_",  "4'",  "1/0", "4.5.6", "4/",  "/4",  "1/2/2", "4.5 1/2"});
  each(below_zero, {"-4", "-0", "-0.0"});
  each(zero, {"0", "0.0", "000"});
  each(loader, {"99999999999999999999", "0.0000000000000001"});
  for (const std::string_view behind : {"x", " x", "4", " 4", "2", " 2"})
    out.push_back({"4" + unit + std::string(behind), both});
  out.push_back({"4" + other_case(unit), both});
  if (form.least < 0) out.push_back({"-1000" + unit, loader});
  for (std::size_t i = units.first; i < units.last; ++i)
    out.push_back({"1" + std::string(quantity::unit_rows[i].symbol), nobody});
  if (form.dimension != Dimension::length) {
    each(both, {"1/2", "3 1/2", "3-1/2"});
    return out;
  }
  each(nobody, {"1/2", "3 1/2", "3-1/2", "3  1/2", "1ft6", "1ft 6", "1 ft 6 ", "1ft6 1/2", "1ft 6-1/2",
                "1ft11.5", "0ft6", "1ft0", "1ft 0/2", "0 1/2", "1.0ft6", "001ft006"});
  each(zero, {"0/2", "0 0/2", "0ft0", "0.0ft0.0", "0ft0/2"});
  each(both, {"3.5ft6", "1/2ft6", "3ft6ft6", "3ft-6", "3in6", "3m6", "3ft12", "3ft13", "3ft100", "3ft 12 1/2",
              "3ft1/0", "3- 1/2", "3 -1/2"});
  each(loader, {"1/3", "3ft11 3/2", "3ft25/2", "3 1/99999999999"});
  for (const char* bad : {"1/2mm", "3 1/2cm", "3ft6", "3ft 6mm", "4IN", "4 i n", "4inch", "4\"", "4'"})
    out.push_back({bad, both});
  out.push_back({"1/2ft", nobody});
  return out;
}

std::vector<Value> pure_numbers() {
  return {{"", both},         {" ", both},
          {"%", both},        {"0.5", nobody},
          {" 0.50 ", nobody}, {"1", nobody},
          {"50%", nobody},    {"50 %", nobody},
          {"100%", nobody},   {"0", both},
          {"0%", both},       {"-1", both},
          {"+1", both},       {".5", both},
          {"1/2", both},      {"1e-1", both},
          {"0.5ohm", both},   {"0,5", both},
          {"0.5 0.5", both},  {"99", loader},
          {"9999%", loader},  {"0.0000000000000001", loader}};
}

std::vector<Value> positions() {
  std::vector<Value> out;
  for (const char* good : {"1ft 2ft 3ft", " 1ft\t2ft\n3ft ", "-1ft -2ft -0in", "1/2in 3-1/2in 3ft6in",
                           "0m 0mm 1.5cm", "3ft6-1/2in 0ft0in -3ft6in"})
    out.push_back({good, nobody});
  for (const char* bad :
       {"", " ", "1ft", "1ft 2ft", "1ft 2ft 3ft 4ft", "1ft 2ft 3", "1ft, 2ft, 3ft", "1ft 2ft 3 1/2in",
        "1 ft 2 ft 3 ft", "1ft 2ft 3deg", "1ft 2ft x", "1ft2ft3ft", "1ft 2ft 3ft12in"})
    out.push_back({bad, both});
  out.push_back({"1ft 2ft 99999m", loader});
  return out;
}

std::vector<Value> counts(const Form& form) {
  const std::string least = std::to_string(form.least), most = std::to_string(form.most);
  std::vector<Value> out{
      {least, nobody}, {most, nobody}, {" " + least + "\n", nobody}, {"00" + most, nobody}};
  out.push_back({std::to_string(form.most + 1), both});
  if (form.least > 0) out.push_back({std::to_string(form.least - 1), both});
  for (const char* bad : {"", " ", "x", "-1", "1.0", "1e0", "2in", "0x1", "1 1"}) out.push_back({bad, both});
  out.push_back({"+" + least, both});
  out.push_back({"000000000" + least, both});
  return out;
}

std::vector<Value> dates() {
  std::vector<Value> out;
  for (const char* good :
       {"2026-05-01", " 2026-05-01\n", "2024-02-29", "2000-02-29", "0001-01-01", "9999-12-31"})
    out.push_back({good, nobody});
  for (const char* bad : {"", "5/1/2026", "2026-5-1", "2026-05-01Z", "2026-05-01+02:00", "2026-02-30",
                          "2023-02-29", "1900-02-29", "2026-13-01", "2026-00-10", "2026-01-00", "0000-01-01",
                          "12026-05-01", "-2026-05-01", "2026-05-01 x", "2026 05 01", "20260501"})
    out.push_back({bad, both});
  return out;
}

std::vector<Value> subjects() {
  std::vector<Value> out;
  for (const char* good : {"R1", "R1+R2", "R1+R2+R3", "C1/h", "shed"}) out.push_back({good, nobody});
  for (const char* bad : {"", " ", "R1 ", "R1 R2", "R1+", "+R1", "R1++R2", "R1/", "-R1", "R1+-R2", "R1,R2"})
    out.push_back({bad, both});
  for (const char* unknown : {"nobody", "R1+nobody", "nobody/h"}) out.push_back({unknown, loader});
  return out;
}

std::vector<Value> values_of(const Form& form, Element element, const std::string& now) {
  switch (form.kind) {
    case Form::Kind::text:
      return texts();
    case Form::Kind::said:
      return {{"x", nobody}, {" x\ty ", nobody}, {"", both}, {" \t\n", both}};
    case Form::Kind::subject:
      return subjects();
    case Form::Kind::word: {
      std::vector<Value> out = words_of_any_kind(false);
      if (element == Element::conductor) out.push_back({"k", both});  // another one's
      return out;
    }
    case Form::Kind::id: {
      std::vector<Value> out = words_of_any_kind(true);
      out.push_back({now == "B1" ? "P1" : "B1", both});
      return out;
    }
    case Form::Kind::reference:
      return references(form);
    case Form::Kind::conductor_reference: {
      std::vector<Value> out = words_of_any_kind(true);
      out.push_back({"nobody", both});
      out.push_back({"h", loader});  // no cable
      return out;
    }
    case Form::Kind::references:
    case Form::Kind::conductor_references:
      return lists(form, now);
    case Form::Kind::words: {
      std::vector<Value> out = words(*form.words);
      if (element != Element::device || now != "receptacle") return out;
      for (Value& each : out)  // something is plugged into it
        if (each.rejects == nobody && each.text != now) each.rejects = loader;
      return out;
    }
    case Form::Kind::insulations:
      return insulations(*form.words);
    case Form::Kind::quantity:
      return form.dimension == Dimension::none ? pure_numbers() : quantities(form);
    case Form::Kind::position:
      return positions();
    case Form::Kind::count:
      return counts(form);
    case Form::Kind::date:
      return dates();
  }
  return {};
}

// Attributes of one form have one type in the schema: for the first of a form all values are tried, for the
// others one of each verdict.
class FormsMet {
 public:
  bool is_new(const Form& f) {
    return met_.insert({f.kind, f.dimension, f.above_least, f.least, f.most, f.targets, f.words}).second;
  }

 private:
  std::set<std::tuple<Form::Kind, Dimension, bool, std::int64_t, std::int64_t, std::uint32_t, const Words*>>
      met_;
};

const char* name_of(bool rejects) { return rejects ? "rejects" : "accepts"; }

void hold(const std::vector<Changed>& changes) {
  std::vector<std::string> all;
  for (const Changed& each : changes) all.push_back(each.text);
  const auto judged = raceward::test::xmllint_texts(
      std::string(RACEWARD_SOURCE_DIR) + "/libcheck/document/installation-1.xsd", all);
  for (std::size_t i = 0; i < all.size(); ++i) {
    const Changed& each = changes[i];
    const bool loader_rejects = !problems_of(each.text).empty();
    const bool schema_rejects = judged[i] != Judged::valid;
    EXPECT_EQ(loader_rejects, each.rejects != nobody)
        << each.what << ": the loader " << name_of(loader_rejects);
    EXPECT_EQ(schema_rejects, each.rejects == both)
        << each.what << ": the schema " << name_of(schema_rejects);
  }
}

// Elements may bear a prefix, all the same one, and namespaces be declared wherever they do no harm.
TEST(Agreement, OnPrefixesAndNamespaces) {
  const auto text = [](std::string_view of_box, std::string_view of_end = "/i:installation") {
    return fmt::format("<i:installation xmlns:i='urn:raceward:installation:1' xmlns='urn:q' id='x'><{}/><{}>",
                       of_box, of_end);
  };
  const std::vector<Changed> changes{
      {"prefix", text("i:box id='B1'"), nobody},
      {"other declarations", text("i:box id='B1' xmlns='urn:r' xmlns:s='urn:s'"), nobody},
      {"the same again", text("i:box id='B1' xmlns:i='urn:raceward:installation:1'"), nobody},
      {"no prefix", text("box id='B1'"), both},
      {"no prefix but the namespace", text("box xmlns='urn:raceward:installation:1' id='B1'"), loader},
      {"another prefix", text("j:box xmlns:j='urn:raceward:installation:1' id='B1'"), loader},
      {"the prefix for something else", text("i:box xmlns:i='urn:q' id='B1'"), both},
      {"a prefix of nothing", text("q:box id='B1'"), both},
      {"attribute with prefix", text("i:box i:id='B1'"), both},
      {"end without prefix", text("i:box id='B1'", "/installation"), both},
      {"of the schema",
       "<installation xmlns='urn:raceward:installation:1' "
       "xmlns:xsi='http://www.w3.org/2001/XMLSchema-instance' "
       "xsi:schemaLocation='urn:raceward:installation:1 installation-1.xsd' id='x'/>",
       nobody},
  };
  hold(changes);
}

TEST(Agreement, OnElements) {
  Changes changes(document_of_everything(), of_elements);
  changes.each_element([&](Element element) { change_element(changes, element); });
  EXPECT_GT(changes.made().size(), 700U);
  EXPECT_EQ(changes.unmet_exceptions(), 0U);
  hold(changes.made());
}

TEST(Agreement, OnAttributesAndValues) {
  Changes changes(document_of_everything(), of_attributes);
  FormsMet forms;
  changes.each_attribute([&](Element element, const AttributeRow& row) {
    const bool all = forms.is_new(row.form);
    for (const Value& value : values_of(row.form, element, changes.attribute().value()))
      changes.value(all, value.text, value.rejects, value.called);
    change_attribute(changes, row);
  });
  EXPECT_GT(changes.made().size(), 2000U);
  EXPECT_EQ(changes.unmet_exceptions(), 0U);
  hold(changes.made());
}

}  // namespace
}  // namespace raceward::document::test
