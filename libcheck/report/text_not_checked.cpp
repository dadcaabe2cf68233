// What was not checked, and the cautions.
#include <fmt/format.h>

#include "report/text_parts.hpp"

namespace raceward::report {

namespace {

/// Takes a prefix off; false where the text does not begin with it.
bool take(std::string_view& text, std::string_view prefix) {
  if (!text.starts_with(prefix)) return false;
  text.remove_prefix(prefix.size());
  return true;
}

/// "area (2 times)" without how often.
std::string_view name_in(std::string_view text) { return text.substr(0, text.find(' ')); }

/// A list in words: "rule a", "rules a, b".
class List {
 public:
  explicit List(std::string_view one) : one_(one) {}
  void add(std::string_view name) {
    if (++count_ > 1) names_ += ", ";
    names_ += name;
  }
  void tell(std::vector<std::string>& out) const {
    if (count_ > 0) out.push_back(fmt::format("{}{} {}", one_, count_ > 1 ? "s" : "", names_));
  }

 private:
  std::string_view one_;
  std::string names_;
  std::size_t count_ = 0;
};

/// Attributes by the element that they stand in: "attributes of box: area, covered; of panel: rating".
class Attributes {
 public:
  void add(std::string_view name) {
    const std::size_t mark = name.find('@');
    const std::string_view element = name.substr(0, mark);
    if (element == element_) {
      text_ += ", ";
    } else {
      text_ += fmt::format("{} of {}: ", text_.empty() ? "attributes" : ";", element);
      element_ = element;
    }
    text_ += name.substr(mark == std::string_view::npos ? 0 : mark + 1);
  }
  void tell(std::vector<std::string>& out) const {
    if (!text_.empty()) out.push_back(text_);
  }

 private:
  std::string_view element_;
  std::string text_;
};

/// Entries of one reason, those of a kind together.
std::vector<std::string> by_kind(const std::vector<NotChecked>& entries, std::size_t first, std::size_t end) {
  List rules("rule"), elements("element");
  Attributes attributes;
  std::string others;
  for (std::size_t i = first; i < end; ++i) {
    std::string_view what = entries[i].what;
    if (take(what, "rule ")) {
      rules.add(what);
    } else if (take(what, "element ")) {
      elements.add(name_in(what));
    } else if (take(what, "attribute ")) {
      attributes.add(name_in(what));
    } else {
      others.append(others.empty() ? "" : "; ").append(what);
    }
  }
  std::vector<std::string> out;
  rules.tell(out);
  elements.tell(out);
  attributes.tell(out);
  if (!others.empty()) out.push_back(others);
  return out;
}

}  // namespace

void write_not_checked(Page& page, const Report& report) {
  page.heading("NOT CHECKED");
  for (std::size_t i = 0; i < report.not_checked.size();) {
    const std::string& why = report.not_checked[i].why;
    std::size_t end = i + 1;
    while (end < report.not_checked.size() && report.not_checked[end].why == why) ++end;
    const std::string& what = report.not_checked[i].what;
    if (end == i + 1 && !what.starts_with("element ") && !what.starts_with("attribute ")) {
      page.paragraph(fmt::format("- {}: {}", what, why), 0, 2);
    } else {
      page.paragraph(fmt::format("- {}:", why), 0, 2);
      for (const std::string& line : by_kind(report.not_checked, i, end)) page.paragraph(line, 4, 6);
    }
    i = end;
  }
}

void write_cautions(Page& page, const Report& report) {
  page.heading("CAUTIONS");
  for (const std::string& caution : report.cautions) page.paragraph(fmt::format("! {}", caution), 0, 2);
}

}  // namespace raceward::report
