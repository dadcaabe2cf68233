// Each section that a finding stands on, with how it came to us.
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <string_view>
#include <tuple>
#include <vector>

#include "report/text_parts.hpp"

namespace raceward::report {

namespace {

std::string provenance_of(Basis basis, const std::string& source) {
  std::string out;
  switch (basis) {
    case Basis::read:
      out = "read in";
      break;
    case Basis::derived:
      out = "derived from";
      break;
    case Basis::memory:
      out = "from memory, proved by no source";
      break;
    case Basis::common_practice:
      out = "common practice, no code behind it";
      break;
  }
  if (!source.empty()) out += " " + source;
  return sentence(out);
}

struct ByContent {
  bool operator()(const Citation* a, const Citation* b) const {
    return std::tie(a->document, a->edition, a->section, a->basis, a->source, a->note, a->inherited) <
           std::tie(b->document, b->edition, b->section, b->basis, b->source, b->note, b->inherited);
  }
};
using Cites = std::set<const Citation*, ByContent>;

/// One section as it came to us one way; rows of a table have notes of their own.
struct Entry {
  const Citation* cite;
  std::string text;

  [[nodiscard]] bool same_way(const Citation& c) const {
    return c.section == cite->section && c.basis == cite->basis && c.source == cite->source;
  }
};

/// REQUIRES: all of one document.
std::vector<Entry> entries_of(Cites::const_iterator cite, Cites::const_iterator end) {
  std::vector<Entry> out;
  for (; cite != end; ++cite) {
    const Citation& c = **cite;
    if (out.empty() || !out.back().same_way(c)) out.push_back({&c, provenance_of(c.basis, c.source)});
    std::string& text = out.back().text;
    if (!c.note.empty()) text += " " + sentence(c.note);
    // Rows of one table are mostly taken over in one way.
    const std::string inherited = c.inherited.empty() ? c.inherited : sentence(c.inherited);
    if (text.find(inherited) == std::string::npos) text += " " + inherited;
  }
  return out;
}

/// Sections that came to us the same way stand together, at the first of them.
void write_entries(Page& page, const std::vector<Entry>& entries) {
  for (auto entry = entries.begin(); entry != entries.end(); ++entry) {
    const auto same = [&](const Entry& e) { return e.text == entry->text; };
    if (std::any_of(entries.begin(), entry, same)) continue;
    std::string sections;
    for (auto each = entry; each != entries.end(); ++each) {
      if (same(*each)) sections.append(sections.empty() ? "" : "; ").append(each->cite->section);
    }
    page.paragraph(fmt::format("{}: {}", sections, entry->text), 2, 6);
  }
}

}  // namespace

void write_sections(Page& page, const Report& report) {
  Cites cites;
  std::map<std::string_view, const Finding*> former;  // findings of a rule often stand on the same
  for (const Finding& f : report.findings) {
    const Finding*& last = former[f.rule];
    if (last != nullptr && last->cites == f.cites) continue;
    last = &f;
    for (const Citation& cite : f.cites) cites.insert(&cite);
  }
  if (cites.empty()) return;
  page.heading("WHERE THE CITED NUMBERS AND REQUIREMENTS COME FROM");
  for (auto first = cites.begin(); first != cites.end();) {
    const std::string title = title_of(**first);
    const auto end =
        std::find_if(first, cites.end(), [&](const Citation* c) { return title_of(*c) != title; });
    page.line(title);
    write_entries(page, entries_of(first, end));
    first = end;
  }
}

}  // namespace raceward::report
