// The parts of the text report, in the order in which it prints them.
#pragma once

#include "raceward/finding.hpp"
#include "report/page.hpp"

namespace raceward::report {

void write_head(Page& page, const Report& report);
/// Findings of one kind that say something is wrong, and are not waived: violations, or what is advised.
void write_faults(Page& page, const Report& report, Finding::Kind kind, std::string_view title);
/// One finding, numbered under its heading.
void write_finding(Page& page, std::size_t number, const Finding& finding);
/// How many things there are to mend, where they are fewer than the findings of that kind that are not
/// waived; else 0.
std::size_t causes_of(const Report& report, Finding::Kind kind);
/// Findings that somebody has accepted, with who, why and how long.
void write_waived(Page& page, const Report& report);
/// Waivers of the document that waive nothing.
void write_waivers_without_effect(Page& page, const Report& report);
/// Undetermined verdicts, grouped by the fact that they wait for.
void write_undetermined(Page& page, const Report& report);
void write_ledger(Page& page, const Report& report);
void write_not_checked(Page& page, const Report& report);
/// Each section that a finding stands on, with how it came to us.
void write_sections(Page& page, const Report& report);
void write_cautions(Page& page, const Report& report);

/// "file:line:column"
std::string text_of(const Place& place);
/// "NFPA 70-2023"
std::string title_of(const Citation& citation);

}  // namespace raceward::report
