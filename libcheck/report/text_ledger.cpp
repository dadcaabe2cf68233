// The ledger, the sections that findings stand on, what was not checked, and the cautions.
#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <tuple>

#include "report/text_parts.hpp"

namespace raceward::report {

namespace {

std::string row(std::string_view rule, std::string_view complies, std::string_view violates,
                std::string_view undetermined, std::string_view not_applicable) {
  return fmt::format("{:<40}{:>12}{:>12}{:>16}{:>18}", rule, complies, violates, undetermined,
                     not_applicable);
}

std::string row(std::string_view rule, const LedgerLine& l) {
  return row(rule, fmt::to_string(l.complies), fmt::to_string(l.violates), fmt::to_string(l.undetermined),
             fmt::to_string(l.not_applicable));
}

std::string provenance_of(const Citation& cite) {
  std::string out;
  switch (cite.basis) {
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
  if (!cite.source.empty()) out += " " + cite.source;
  if (!cite.note.empty()) out += ". " + cite.note;
  return sentence(out);
}

bool before(const Citation& a, const Citation& b) {
  return std::tie(a.document, a.edition, a.section, a.basis, a.source, a.note) <
         std::tie(b.document, b.edition, b.section, b.basis, b.source, b.note);
}

/// Entries of one reason, those of a kind together: "rules a, b", "attributes box@area (2 times), box@cover
/// (once)", and whatever else there is.
std::vector<std::string> by_kind(const std::vector<NotChecked>& entries, std::size_t first, std::size_t end) {
  std::string kinds[] = {"rule ", "element ", "attribute "};
  std::string lists[std::size(kinds)];
  std::vector<std::string> out;
  std::string others;
  for (std::size_t i = first; i < end; ++i) {
    const std::string& what = entries[i].what;
    std::size_t kind = 0;
    while (kind < std::size(kinds) && !what.starts_with(kinds[kind])) ++kind;
    std::string& list = kind < std::size(kinds) ? lists[kind] : others;
    const bool known = kind < std::size(kinds);
    list += list.empty() ? "" : known ? ", " : "; ";
    list += known ? what.substr(kinds[kind].size()) : what;
  }
  for (std::size_t kind = 0; kind < std::size(kinds); ++kind) {
    if (lists[kind].empty()) continue;
    kinds[kind].back() = lists[kind].find(", ") == std::string::npos ? ' ' : 's';
    out.push_back(fmt::format("{}{}{}", kinds[kind], kinds[kind].back() == 's' ? " " : "", lists[kind]));
  }
  if (!others.empty()) out.push_back(others);
  return out;
}

}  // namespace

void write_ledger(Page& page, const Report& report) {
  page.line();
  page.line(row("LEDGER", "complies", "violates", "undetermined", "not applicable"));
  page.across('=');
  LedgerLine total;
  for (const LedgerLine& line : report.ledger) {
    const bool advised = line.force == RuleSetting::Force::advised;
    page.line(row(advised ? line.rule + " (advised)" : line.rule, line));
    total.complies += line.complies;
    total.violates += line.violates;
    total.undetermined += line.undetermined;
    total.not_applicable += line.not_applicable;
  }
  page.across('-');
  page.line(row(counted(report.ledger.size(), "rule", "rules"), total));
}

void write_sections(Page& page, const Report& report) {
  std::set<Citation, decltype(&before)> cites(&before);
  for (const Finding& f : report.findings) cites.insert(f.cites.begin(), f.cites.end());
  if (cites.empty()) return;
  page.heading("WHERE THE CITED NUMBERS AND REQUIREMENTS COME FROM");
  std::string title;
  for (const Citation& cite : cites) {
    if (const std::string next = title_of(cite); next != title) {
      title = next;
      page.line(title);
    }
    page.paragraph(fmt::format("{}: {}", cite.section, provenance_of(cite)), 2, 6);
  }
}

void write_not_checked(Page& page, const Report& report) {
  page.heading("NOT CHECKED");
  for (std::size_t i = 0; i < report.not_checked.size();) {
    const std::string& why = report.not_checked[i].why;
    std::size_t end = i + 1;
    while (end < report.not_checked.size() && report.not_checked[end].why == why) ++end;
    if (end == i + 1) {
      page.paragraph(fmt::format("- {}: {}", report.not_checked[i].what, why), 0, 2);
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
