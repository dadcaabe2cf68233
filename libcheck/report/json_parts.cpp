#include "report/json_parts.hpp"

#include "report/page.hpp"
#include "report/utf8.hpp"

namespace raceward::report {

namespace {

rapidjson::SizeType size_of(std::string_view text) { return static_cast<rapidjson::SizeType>(text.size()); }

}  // namespace

void Json::key(std::string_view name) { writer_.Key(name.data(), size_of(name)); }

void Json::text(std::string_view value) {
  const std::string valid = valid_utf8(value);
  writer_.String(valid.data(), size_of(valid));
}

void Json::decimal(const Amount& amount) {
  const std::string digits = decimal_of(amount);
  writer_.RawValue(digits.data(), digits.size(), rapidjson::kNumberType);
}

void Json::field(std::string_view name, std::string_view value) {
  key(name);
  text(value);
}

void Json::field(std::string_view name, const std::vector<std::string>& values) {
  key(name);
  begin_array();
  for (const std::string& value : values) text(value);
  end_array();
}

void Json::field(std::string_view name, std::uint64_t value) {
  key(name);
  count(value);
}

void Json::amount(const Amount& amount) {
  begin_object();
  key("value");
  decimal(amount);
  field("unit", symbol_of(amount.unit));
  end_object();
}

void Json::place(const Place& place) {
  begin_object();
  field("file", place.file);
  field("line", place.line);
  field("column", place.column);
  end_object();
}

void Json::cites(std::span<const Citation> citations) {
  begin_array();
  for (const Citation& cite : citations) {
    begin_object();
    field("document", cite.document);
    field("edition", cite.edition);
    field("section", cite.section);
    field("basis", name_of(cite.basis));
    field("source", cite.source);
    std::string note = cite.note;
    if (!cite.inherited.empty()) note += (note.empty() ? "" : " ") + sentence(cite.inherited);
    field("note", note);
    end_object();
  }
  end_array();
}

void Json::needs(const std::vector<Need>& needs) {
  begin_array();
  for (const Need& need : needs) {
    begin_object();
    field("fact", need.fact);
    field("datum", need.datum);
    field("element", need.element);
    field("expects", need.expects);
    field("who", need.who);
    field("why", need.why);
    key("place");
    place(need.place);
    end_object();
  }
  end_array();
}

std::string Json::take() const { return std::string(buffer_.GetString(), buffer_.GetSize()) + "\n"; }

}  // namespace raceward::report
