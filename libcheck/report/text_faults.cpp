// What is wrong: where, the sum, the sections, the cure.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "report/text_parts.hpp"

namespace raceward::report {

namespace {

constexpr std::size_t indent = 4;
constexpr std::size_t label_width = 11;

/// "" for what was read; else a mark that a reader cannot miss.
std::string_view mark_of(Basis basis) {
  switch (basis) {
    case Basis::memory:
      return " [from memory]";
    case Basis::common_practice:
      return " [common practice]";
    case Basis::read:
    case Basis::derived:
      break;
  }
  return "";
}

/// One text a document, each section once: "NFPA 70-2023: 314.16; Table 314.16(A) [from memory]".
std::vector<std::string> cites_of(const Finding& f) {
  std::vector<std::pair<std::string, std::string>> by_document;
  std::set<std::pair<std::string, std::string>> told;
  for (const Citation& cite : f.cites) {
    const std::string title = title_of(cite);
    const std::string section = cite.section + std::string(mark_of(cite.basis));
    if (!told.emplace(title, section).second) continue;
    const auto at =
        std::find_if(by_document.begin(), by_document.end(), [&](const auto& d) { return d.first == title; });
    if (at == by_document.end()) {
      by_document.emplace_back(title, section);
    } else {
      at->second += "; " + section;
    }
  }
  std::vector<std::string> out;
  for (const auto& [title, sections] : by_document) out.push_back(title + ": " + sections);
  return out;
}

void write_lines(Page& page, std::string_view label, const std::vector<std::string>& lines) {
  for (std::size_t i = 0; i < lines.size(); ++i)
    page.entry(i == 0 ? label : "", lines[i], indent, label_width);
}

std::string amounts_of(const Finding& f) {
  return f.has_limit ? fmt::format("{}; limit {}", f.measured_shown, f.limit_shown) : f.measured_shown;
}

void write_finding(Page& page, std::size_t number, const Finding& f) {
  page.two_ends(fmt::format("{:>2}  {}", number, f.rule), text_of(f.place), indent);
  page.paragraph(sentence(f.message), indent, indent);
  write_lines(page, "working", f.working);
  if (f.has_measured) page.entry("measured", amounts_of(f), indent, label_width);
  write_lines(page, "stands on", cites_of(f));
  if (!f.cure.empty()) page.entry("cure", f.cure, indent, label_width);
}

}  // namespace

std::string title_of(const Citation& citation) {
  return citation.edition.empty() ? citation.document
                                  : fmt::format("{}-{}", citation.document, citation.edition);
}

void write_faults(Page& page, const Report& report, Finding::Kind kind, std::string_view title) {
  std::size_t number = 0;
  for (const Finding& f : report.findings) {
    if (f.kind != kind) continue;
    if (++number == 1) {
      page.heading(title);
    } else {
      page.line();
    }
    write_finding(page, number, f);
  }
}

}  // namespace raceward::report
