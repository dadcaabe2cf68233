#include "support/tables.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>
#include <vector>

#include "document/vocabulary.hpp"
#include "figure/attested.hpp"
#include "quantity/units.hpp"

namespace raceward::test {
namespace {

using namespace document;

constexpr std::string_view head = R"(# The installation document: every element and attribute

Written from `libcheck/document/vocabulary.def`; after a change there, build the target `renew-schema`. How to use them
is told in [document.md](document.md). What a limit says here is good sense and no law.

)";

std::string joined(const std::vector<std::string>& words, std::string_view between) {
  std::string out;
  for (const std::string& word : words) out += (out.empty() ? "" : std::string(between)) + word;
  return out;
}

std::string code(std::string_view text) { return fmt::format("`{}`", text); }

std::string name_of_list(const Words& list) {
  std::string name(list.name);
  for (char& c : name)
    if (c == '_') c = ' ';
  return name;
}

std::string link_to_list(const Words& list) { return fmt::format("[{}](#words)", name_of_list(list)); }

std::string limits_of(const Form& form) {
  const std::string most = text_of(Amount{form.most, form.unit});
  if (form.above_least) return fmt::format("more than 0, at most {}", most);
  if (form.least == 0) return fmt::format("at most {}", most);
  return fmt::format("{} to {}", text_of(Amount{form.least, form.unit}), most);
}

std::string form_in_words(const Form& form, std::vector<const Words*>& lists) {
  switch (form.kind) {
    case Form::Kind::text:
    case Form::Kind::said:
      return "text";
    case Form::Kind::word:
      return "word";
    case Form::Kind::id:
      return "id";
    case Form::Kind::reference:
    case Form::Kind::conductor_reference:
    case Form::Kind::subject:
      return "an id";
    case Form::Kind::references:
      return form.least == form.most ? fmt::format("{} ids", form.least)
                                     : fmt::format("ids, at most {}", form.most);
    case Form::Kind::conductor_references:
      return "ids";
    case Form::Kind::words:
      if (form.words->terms.size() == 1) return code(form.words->terms[0].spelling);
      if (form.words == &yes_no_words) return "`yes` or `no`";
      lists.push_back(form.words);
      return link_to_list(*form.words);
    case Form::Kind::insulations:
      lists.push_back(form.words);
      return fmt::format("{}, `/` between", link_to_list(*form.words));
    case Form::Kind::quantity:
      return fmt::format("{}: {}", quantity::row_of(form.dimension).name, limits_of(form));
    case Form::Kind::position:
      return "three lengths";
    case Form::Kind::count:
      return fmt::format("{} to {}", form.least, form.most);
    case Form::Kind::date:
      return "date";
  }
  return {};
}

std::vector<Element> all_elements() {
  std::vector<Element> out;
  for (std::size_t i = 0; i < element_count; ++i) out.push_back(static_cast<Element>(i));
  return out;
}

template <class Wanted>
std::string elements_where(const Wanted& wanted) {
  std::vector<std::string> names;
  for (const Element element : all_elements())
    if (wanted(element)) names.push_back(fmt::format("[{0}](#{0})", row_of(element).name));
  return joined(names, ", ");
}

std::string section_of(Element element, std::vector<const Words*>& lists) {
  const ElementRow& row = row_of(element);
  std::string out = fmt::format("### {}\n\n{}", row.name, row.meaning);
  if (const auto parents = elements_where([&](Element e) { return may_stand_in(row, e); }); !parents.empty())
    out += fmt::format(" Stands in {}.", parents);
  if (const auto children = elements_where([&](Element e) { return may_stand_in(row_of(e), element); });
      !children.empty())
    out += fmt::format("\nHolds {}.", children);
  out += "\n\n| attribute | value | meaning |\n| --- | --- | --- |\n";
  for (std::size_t i = 0; i < row.rows.size(); ++i) {
    const Term& term = row.attributes.terms[i];
    const std::string name =
        row.rows[i].need == Need::required ? fmt::format("**`{}`**", term.spelling) : code(term.spelling);
    out += fmt::format("| {} | {} | {} |\n", name, form_in_words(row.rows[i].form, lists), term.meaning);
  }
  return out + "\n";
}

std::string row_of_words(const Words& list) {
  std::vector<std::string> words;
  for (const Term& term : list.terms)
    words.push_back(term.meaning.empty() ? code(term.spelling)
                                         : fmt::format("{} ({})", code(term.spelling), term.meaning));
  return fmt::format("| {} | {} |\n", name_of_list(list), joined(words, ", "));
}

std::string units() {
  std::string out = "| quantity | units | such as |\n| --- | --- | --- |\n";
  for (const quantity::DimensionRow& row : quantity::dimension_rows) {
    bool used = false;
    for (const Element element : all_elements())
      for (const AttributeRow& attribute : row_of(element).rows)
        used = used ||
               (attribute.form.kind == Form::Kind::quantity && attribute.form.dimension == row.dimension);
    if (!used) continue;
    std::vector<std::string> symbols;
    for (const quantity::UnitRow& unit : quantity::unit_rows)
      if (unit.dimension == row.dimension) symbols.push_back(code(unit.symbol));
    out += fmt::format("| {} | {} | {} |\n", row.name, joined(symbols, " "), row.example);
  }
  return out + "\n";
}

}  // namespace

std::string tables_of_vocabulary() {
  std::string out = std::string(head) + "## Units\n\n" + units() +
                    "## Elements\n\nAn attribute in bold must be written.\n\n";
  std::vector<const Words*> lists, written;
  for (const Element element : all_elements()) out += section_of(element, lists);
  out += "## Words\n\nThe closed lists; words are written exactly so.\n\n| list | words |\n| --- | --- |\n";
  for (const Words* list : lists) {
    if (std::find(written.begin(), written.end(), list) != written.end()) continue;
    written.push_back(list);
    out += row_of_words(*list);
  }
  out +=
      "\n## Words of attests\n\nWhat figures take the word of an `attest` for. A ruleset may ask for others. "
      "One that nothing asks "
      "for, or of another\nkind of element, is told under what was not checked.\n\n"
      "| fact | of | says |\n| --- | --- | --- |\n";
  for (const figure::AttestedRow& row : figure::attested_rows)
    out += fmt::format("| {} | {} | {} |\n", code(row.word),
                       row.of == SubjectKind::place ? "panel, box, conduit body, equipment" : name_of(row.of),
                       row.meaning);
  return out;
}

}  // namespace raceward::test
