#include "document/reader.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "document/characters.hpp"
#include "document/nearest.hpp"
#include "quantity/fault.hpp"

namespace raceward::document {

using installation::Offset;
using quantity::quoted;

Reader::Reader(const char* bytes, Faults& faults)
    : bytes_(bytes), faults_(faults), attributes_(attribute_count()) {}

bool Reader::root(const WrittenElement& root) {
  std::string_view name = root.name();
  const Offset at = offset(root.name_at);
  if (const std::size_t colon = name.find(':'); colon != std::string_view::npos) {
    prefix_ = name.substr(0, colon + 1);
    name.remove_prefix(colon + 1);
  }
  if (name != element_words.terms[0].spelling) {
    faults_.add(
        at, fmt::format("the root element is <{}>; a document is one <installation>", shown(root.name())));
    return false;
  }
  const std::string declares = prefix_.empty() ? "xmlns" : "xmlns:" + prefix_.substr(0, prefix_.size() - 1);
  const auto attributes = attributes_of(root);
  const auto declared = std::find_if(attributes.begin(), attributes.end(),
                                     [&](const WrittenAttribute& a) { return a.name() == declares; });
  if (declared == attributes.end()) {
    faults_.add(at,
                fmt::format("the namespace is not stated; write {}=\"{}\"", declares, document_namespace));
    return false;
  }
  const std::string_view space = declared->value();
  if (space == document_namespace) return true;
  if (space.starts_with(namespace_stem))
    faults_.add(offset(declared->name_at),
                fmt::format("version {} of the document format is not read; this program reads {}",
                            quoted(space.substr(namespace_stem.size())), document_namespace));
  else
    faults_.add(offset(declared->name_at), fmt::format("namespace {} is not read; write {}=\"{}\"",
                                                       quoted(space), declares, document_namespace));
  return false;
}

void Reader::attributes(const WrittenElement& written, Fields& fields) {
  const Element element = written.element;
  const ElementRow& row = row_of(element);
  const Offset source = offset(written.name_at);
  fields.begin(element, source);
  Count& met = elements_[static_cast<std::size_t>(element)];
  if (met.count++ == 0) met.first = source;
  for (const WrittenAttribute& attribute : attributes_of(written)) {
    if (attribute.number == 0) {
      unknown_attribute(attribute, row);
      continue;
    }
    const unsigned position = attribute.number - 1U;
    if (fields.is_given(position)) {
      if (only_counted()) continue;
      faults_.add(offset(attribute.name_at), fmt::format("{} is given twice", attribute.name()));
      continue;
    }
    fields.given |= std::uint64_t{1} << position;
    Count& count = attributes_[row.first + position];
    if (count.count++ == 0) count.first = offset(attribute.name_at);
    value(attribute.name(), attribute.value(), row.rows[position], position, fields);
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
void Reader::unknown_attribute(const WrittenAttribute& attribute, const ElementRow& row) {
  const std::string_view name = attribute.name();
  const bool of_root = row.parents == 0;
  if (name == "xmlns" || name.starts_with("xmlns:")) {
    const bool own =
        prefix_.empty() ? name == "xmlns" : name.size() > 6 && prefix_ == std::string(name.substr(6)) + ':';
    if (own && !of_root && document_namespace != attribute.value())
      faults_.add(offset(attribute.name_at),
                  fmt::format("namespace {} is not read here", quoted(attribute.value())));
    return;
  }
  if (of_root && (name == "xsi:schemaLocation" || name == "xsi:noNamespaceSchemaLocation")) return;
  if (only_counted()) return;
  faults_.add(offset(attribute.name_at), fmt::format("unknown attribute {} of <{}>{}", quoted(name), row.name,
                                                     suggestion(name, row.attributes.terms)));
}

void Reader::wrong(std::string_view name, std::string_view text, std::string_view what) {
  faults_.add(offset(name.data()), fmt::format("{} {}: {}", name, quoted(text), what));
}

std::vector<installation::Usage> Reader::usage() const {
  std::vector<installation::Usage> out;
  for (std::size_t e = 0; e < element_count; ++e) {
    const ElementRow& row = row_of(static_cast<Element>(e));
    if (elements_[e].count == 0) continue;  // and it has no attributes then
    out.push_back({row.name, {}, elements_[e].count, elements_[e].first});
    for (std::size_t i = 0; i < row.rows.size(); ++i) {
      const Count& c = attributes_[row.first + i];
      if (c.count > 0) out.push_back({row.name, row.attributes.terms[i].spelling, c.count, c.first});
    }
  }
  return out;
}

}  // namespace raceward::document
