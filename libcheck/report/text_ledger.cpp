// The ledger: all verdicts of every rule.
#include <fmt/format.h>

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

std::string of_these(std::string_view what, std::uint64_t count) {
  return fmt::format("  {:<38}{:>12}{:>12}", what, "", count);
}

}  // namespace

void write_ledger(Page& page, const Report& report) {
  page.line();
  page.line(row("LEDGER", "complies", "violates", "undetermined", "not applicable"));
  page.across('=');
  page.line("How often each rule came to each verdict. Not applicable: there is nothing that it judges.");
  page.line();
  LedgerLine total;
  for (const LedgerLine& line : report.ledger) {
    const bool advised = line.force == RuleSetting::Force::advised;
    page.line(row(advised ? line.rule + " (advised)" : line.rule, line));
    if (line.waived > 0) page.line(of_these("of these waived", line.waived));
    if (advised && line.advised + line.waived < line.violates)
      page.line(of_these("of these required", line.violates - line.waived - line.advised));
    if (!advised && line.advised > 0) page.line(of_these("of these advised only", line.advised));
    total.waived += line.waived;
    total.complies += line.complies;
    total.violates += line.violates;
    total.undetermined += line.undetermined;
    total.not_applicable += line.not_applicable;
  }
  page.across('-');
  page.line(row(counted(report.ledger.size(), "rule", "rules"), total));
  if (total.waived > 0) page.line(of_these("of these waived", total.waived));
}

}  // namespace raceward::report
