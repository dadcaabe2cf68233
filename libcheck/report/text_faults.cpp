// What is wrong: where, the sum, the sections, the cure.
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <utility>
#include <vector>

#include "report/text_parts.hpp"

namespace raceward::report {

namespace {

constexpr std::size_t indent = 4;
constexpr std::size_t label_width = 11;

/// A section with the mark that a reader must not miss: where nothing that was read stands behind it, or only
/// in part.
struct Section {
  std::string_view name;
  std::size_t entries = 0, from_memory = 0, common_practice = 0;

  [[nodiscard]] std::string text() const {
    const std::size_t unread = from_memory + common_practice;
    const std::string_view part = unread < entries ? "in part " : "";
    if (from_memory != 0) return fmt::format("{} [{}from memory]", name, part);
    if (common_practice != 0) return fmt::format("{} [{}common practice]", name, part);
    return std::string(name);
  }
};

bool same_document(const Citation& a, const Citation& b) {
  return a.document == b.document && a.edition == b.edition;
}

/// The sections of one document, each once.
std::string sections_of(const Finding& f, const Citation& document) {
  std::vector<Section> sections;
  for (const Citation& cite : f.cites) {
    if (!same_document(cite, document)) continue;
    auto at = std::find_if(sections.begin(), sections.end(),
                           [&](const Section& s) { return s.name == cite.section; });
    if (at == sections.end()) at = sections.insert(at, Section{cite.section});
    ++at->entries;
    at->from_memory += cite.basis == Basis::memory ? 1 : 0;
    at->common_practice += cite.basis == Basis::common_practice ? 1 : 0;
  }
  std::string out;
  for (const Section& section : sections) out.append(out.empty() ? "" : "; ").append(section.text());
  return out;
}

/// One text a document: "NFPA 70-2023: 314.16; Table 314.16(A) [from memory]".
std::vector<std::string> cites_of(const Finding& f) {
  std::vector<std::string> out;
  for (auto cite = f.cites.begin(); cite != f.cites.end(); ++cite) {
    if (std::any_of(f.cites.begin(), cite, [&](const Citation& c) { return same_document(c, *cite); }))
      continue;
    out.push_back(title_of(*cite) + ": " + sections_of(f, *cite));
  }
  return out;
}

void write_lines(Page& page, std::string_view label, const std::vector<std::string>& lines) {
  for (std::size_t i = 0; i < lines.size(); ++i)
    page.entry(i == 0 ? label : "", lines[i], indent, label_width);
}

bool says(const std::string& sentence, const std::string& amount) {
  return sentence.find(amount) != std::string::npos;
}

/// The amounts that the sentence does not say. A bare number without a limit only counts something in it.
std::string amounts_beside(const Finding& f) {
  if (!f.has_measured || (!f.has_limit && f.measured.unit == Unit::one)) return {};
  if (!f.has_limit) return says(f.message, f.measured_shown) ? "" : f.measured_shown;
  if (says(f.message, f.measured_shown) && says(f.message, f.limit_shown)) return {};
  return fmt::format("{}; limit {}", f.measured_shown, f.limit_shown);
}

/// Subjects of one cause: "box B1 (wheel) (line 24), box B2 (line 27)", in the order of the file.
std::string subjects_of(std::vector<const Finding*> alike) {
  std::ranges::stable_sort(
      alike, {}, [](const Finding* f) { return std::pair(f->subject_place.line, f->subject_place.column); });
  std::string out;
  for (const Finding* f : alike) {
    out += out.empty() ? "" : ", ";
    out += f->where;
    if (f->subject_place.line != 0) out += fmt::format(" (line {})", f->subject_place.line);
  }
  return out;
}

}  // namespace

void write_finding(Page& page, std::size_t number, const Finding& f) {
  page.two_ends(fmt::format("{:>2}  {}", number, f.rule), text_of(f.place), indent);
  page.paragraph(sentence(f.message), indent, indent);
  write_lines(page, "working", f.working);
  const std::string amounts = amounts_beside(f);
  if (!amounts.empty()) page.entry("measured", amounts, indent, label_width);
  write_lines(page, "stands on", cites_of(f));
  if (!f.cure.empty()) page.entry("cure", f.cure, indent, label_width);
}

std::string title_of(const Citation& citation) {
  return citation.edition.empty() ? citation.document
                                  : fmt::format("{}-{}", citation.document, citation.edition);
}

std::size_t causes_of(const Report& report, Finding::Kind kind) {
  std::size_t findings = 0, causes = 0;
  std::set<std::uint32_t> shared;
  for (const Finding& f : report.findings) {
    if (f.kind != kind || f.waived()) continue;
    ++findings;
    if (f.cause == 0 || shared.insert(f.cause).second) ++causes;
  }
  return causes < findings ? causes : 0;
}

void write_faults(Page& page, const Report& report, Finding::Kind kind, std::string_view title) {
  std::map<std::uint32_t, std::vector<const Finding*>> by_cause;
  for (const Finding& f : report.findings) {
    if (f.kind == kind && !f.waived() && f.cause != 0) by_cause[f.cause].push_back(&f);
  }
  std::size_t number = 0;
  for (const Finding& f : report.findings) {
    if (f.kind != kind || f.waived()) continue;
    const std::vector<const Finding*>* const alike = f.cause != 0 ? &by_cause[f.cause] : nullptr;
    if (alike != nullptr && alike->front() != &f) continue;
    if (++number == 1) {
      page.heading(title);
    } else {
      page.line();
    }
    write_finding(page, number, f);
    if (alike != nullptr && alike->size() > 1)
      page.entry("concerns", subjects_of(*alike), indent, label_width);
  }
}

}  // namespace raceward::report
