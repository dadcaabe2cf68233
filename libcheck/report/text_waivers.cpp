// What somebody has accepted, and what was to be accepted and is not.
#include <fmt/format.h>

#include <algorithm>

#include "report/text_parts.hpp"

namespace raceward::report {

namespace {

constexpr std::size_t indent = 4;
constexpr std::size_t label_width = 11;

/// What `why` of a waiver without effect says is not said again.
void write_terms(Page& page, const WaiverLine& w) {
  page.entry("accepted", w.authority, indent, label_width);
  page.entry("because", w.reason, indent, label_width);
  const bool tells_worst = !w.accepts.empty() && w.state != WaiverLine::State::exceeded;
  page.entry(w.state == WaiverLine::State::holds ? "holds" : "meant",
             fmt::format("from {} to {}{}", w.on, w.until,
                         tells_worst ? ", while it is no worse than " + w.accepts : ""),
             indent, label_width);
}

}  // namespace

void write_waived(Page& page, const Report& report) {
  std::size_t number = 0;
  for (const Finding& f : report.findings) {
    if (!f.waived()) continue;
    const WaiverLine& w = report.waivers[f.waiver - 1];
    if (++number == 1) {
      page.heading("WAIVED");
      page.paragraph(
          fmt::format("As of {}. These depart from the code, and somebody has accepted that. A waiver "
                      "makes nothing safer.",
                      report.on),
          0, 0);
    }
    page.line();
    write_finding(page, number, f);
    write_terms(page, w);
    page.entry("waiver", text_of(w.place), indent, label_width);
  }
}

void write_waivers_without_effect(Page& page, const Report& report) {
  std::size_t number = 0;
  for (const WaiverLine& w : report.waivers) {
    if (w.state == WaiverLine::State::holds) continue;
    if (++number == 1) {
      page.heading("WAIVERS WITHOUT EFFECT");
      const bool is_told = std::any_of(report.findings.begin(), report.findings.end(),
                                       [](const Finding& f) { return f.waived(); });
      if (!report.on.empty() && !is_told) {
        page.paragraph(fmt::format("As of {}.", report.on), 0, 0);
        page.line();
      }
    } else {
      page.line();
    }
    page.two_ends(fmt::format("{:>2}  {} of {}: {}", number, w.rule, w.subject, name_of(w.state)),
                  text_of(w.place), indent);
    page.paragraph(sentence(w.why), indent, indent);
    write_terms(page, w);
  }
}

}  // namespace raceward::report
