#include "document/reader.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstring>

#include "document/characters.hpp"
#include "document/nearest.hpp"
#include "quantity/fault.hpp"

namespace raceward::document {

using installation::Offset;
using quantity::quoted;

Reader::Reader(const char* bytes, Faults& faults)
    : bytes_(bytes), faults_(faults), attributes_(attribute_count()) {}

bool Reader::root(pugi::xml_node node) {
  std::string_view name = node.name();
  const Offset at = offset(node.name());
  if (const std::size_t colon = name.find(':'); colon != std::string_view::npos) {
    prefix_ = name.substr(0, colon + 1);
    name.remove_prefix(colon + 1);
  }
  if (name != element_words.terms[0].spelling) {
    faults_.add(
        at, fmt::format("the root element is <{}>; a document is one <installation>", shown(node.name())));
    return false;
  }
  const std::string declares = prefix_.empty() ? "xmlns" : "xmlns:" + prefix_.substr(0, prefix_.size() - 1);
  const pugi::xml_attribute declared = node.attribute(declares.c_str());
  const std::string_view space = declared.value();
  if (space == document_namespace) return true;
  if (!declared)
    faults_.add(at,
                fmt::format("the namespace is not stated; write {}=\"{}\"", declares, document_namespace));
  else if (space.starts_with(namespace_stem))
    faults_.add(offset(declared.name()),
                fmt::format("version {} of the document format is not read; this program reads {}",
                            quoted(space.substr(namespace_stem.size())), document_namespace));
  else
    faults_.add(offset(declared.name()), fmt::format("namespace {} is not read; write {}=\"{}\"",
                                                     quoted(space), declares, document_namespace));
  return false;
}

bool Reader::has_prefix(pugi::xml_node node) const {
  return std::strncmp(node.name(), prefix_.c_str(), prefix_.size()) == 0;
}

Element Reader::element_of(pugi::xml_node node) const {
  if (!prefix_.empty() && !has_prefix(node)) return Element::unknown;
  const char* name = node.name() + prefix_.size();
  const std::uint8_t found = element_words.find_padded(name, length_padded(name));
  return found == 0 ? Element::unknown : static_cast<Element>(found - 1);
}

void Reader::attributes(pugi::xml_node node, Element element, Fields& fields) {
  const ElementRow& row = row_of(element);
  const Offset source = offset(node.name());
  fields.begin(element, source);
  Count& met = elements_[static_cast<std::size_t>(element)];
  if (met.count++ == 0) met.first = source;
  for (pugi::xml_attribute a = node.first_attribute();; a = a.next_attribute()) {
    const char* const name = a.name();
    if (*name == '\0') break;  // behind the last one: asking whether there is one costs a call more
    const std::uint8_t found = row.attributes.find_padded(name, length_padded(name));
    if (found == 0) {
      unknown_attribute(a, row);
      continue;
    }
    const unsigned position = found - 1U;
    if (fields.is_given(position)) {
      if (only_counted()) continue;
      faults_.add(offset(name), fmt::format("{} is given twice", name));
      continue;
    }
    fields.given |= std::uint64_t{1} << position;
    Count& count = attributes_[row.first + position];
    if (count.count++ == 0) count.first = offset(name);
    const char* const text = a.value();
    value(name, {text, length_padded(text)}, row.rows[position], position, fields);
  }
  if ((row.required & ~fields.given) != 0) missing(row, fields);
}

// Putting faults into words costs more than reading; beyond what is listed they are counted.
bool Reader::only_counted() {
  if (!faults_.full()) return false;
  faults_.count();
  return true;
}

void Reader::missing(const ElementRow& row, const Fields& fields) {
  for (unsigned position = 0; position < row.rows.size(); ++position) {
    if (row.rows[position].need == Need::required && !fields.is_given(position) && !only_counted())
      faults_.add(fields.source,
                  fmt::format("<{}> lacks {}", row.name, row.attributes.terms[position].spelling));
  }
}

// Declarations of namespaces are no attributes of ours, as long as they leave our own alone; neither is where
// an editor may find the schema.
void Reader::unknown_attribute(pugi::xml_attribute attribute, const ElementRow& row) {
  const std::string_view name = attribute.name();
  const bool of_root = row.parents == 0;
  if (name == "xmlns" || name.starts_with("xmlns:")) {
    const bool own =
        prefix_.empty() ? name == "xmlns" : name.size() > 6 && prefix_ == std::string(name.substr(6)) + ':';
    if (own && !of_root && document_namespace != attribute.value())
      faults_.add(offset(attribute.name()),
                  fmt::format("namespace {} is not read here", quoted(attribute.value())));
    return;
  }
  if (of_root && (name == "xsi:schemaLocation" || name == "xsi:noNamespaceSchemaLocation")) return;
  if (only_counted()) return;
  faults_.add(offset(attribute.name()), fmt::format("unknown attribute {} of <{}>{}", quoted(name), row.name,
                                                    suggestion(name, row.attributes.terms)));
}

void Reader::wrong(const char* name, std::string_view text, std::string_view what) {
  faults_.add(offset(name), fmt::format("{} {}: {}", name, quoted(text), what));
}

std::vector<installation::Usage> Reader::usage() const {
  std::vector<installation::Usage> out;
  for (std::size_t e = 0; e < element_count; ++e) {
    const ElementRow& row = row_of(static_cast<Element>(e));
    if (elements_[e].count > 0) out.push_back({row.name, {}, elements_[e].count, elements_[e].first});
    for (std::size_t i = 0; i < row.rows.size(); ++i) {
      const Count& c = attributes_[row.first + i];
      if (c.count > 0) out.push_back({row.name, row.attributes.terms[i].spelling, c.count, c.first});
    }
  }
  std::sort(out.begin(), out.end(), [](const auto& a, const auto& b) {
    return a.element != b.element ? a.element < b.element : a.attribute < b.attribute;
  });
  return out;
}

}  // namespace raceward::document
