// The report for people at a terminal.
#include "raceward/engine.hpp"
#include "report/text_parts.hpp"

namespace raceward {

std::string text_report(const Report& report) {
  using namespace raceward::report;
  Page page;
  write_head(page, report);
  write_faults(page, report, Finding::Kind::violates, "VIOLATIONS");
  write_faults(page, report, Finding::Kind::advised, "ADVISED");
  write_undetermined(page, report);
  write_waived(page, report);
  write_ledger(page, report);
  write_waivers_without_effect(page, report);
  write_not_checked(page, report);
  write_sections(page, report);
  write_cautions(page, report);
  return page.take();
}

}  // namespace raceward
