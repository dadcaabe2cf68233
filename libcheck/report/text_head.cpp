// What was checked, under what, and how it came out.
#include <fmt/format.h>

#include "raceward/engine.hpp"
#include "report/text_parts.hpp"

namespace raceward::report {

namespace {

constexpr std::size_t label_width = 15;

struct Totals {
  std::uint64_t complies = 0, violates = 0, advised = 0, waived = 0, undetermined = 0, not_applicable = 0;
};

Totals totals_of(const Report& report) {
  Totals t;
  for (const LedgerLine& line : report.ledger) {
    t.complies += line.complies;
    t.advised += line.advised;
    t.violates += line.violates - line.waived - line.advised;
    t.waived += line.waived;
    t.undetermined += line.undetermined;
    t.not_applicable += line.not_applicable;
  }
  return t;
}

std::string result_of(const Totals& t, const Report& report) {
  std::string out;
  const auto add = [&](std::uint64_t n, std::string_view one, std::string_view many, std::size_t causes = 0) {
    if (n == 0) return;
    out += out.empty() ? "" : ", ";
    out += counted(n, one, many);
    if (causes != 0) out += fmt::format(" of {}", counted(causes, "cause", "causes"));
  };
  add(t.violates, "violation", "violations", causes_of(report, Finding::Kind::violates));
  add(t.advised, "departure from what is advised", "departures from what is advised",
      causes_of(report, Finding::Kind::advised));
  add(t.waived, "finding waived", "findings waived");
  add(t.undetermined, "verdict undetermined", "verdicts undetermined");
  if (t.violates + t.advised + t.waived + t.undetermined == 0) {
    out = t.complies > 0 ? "no violation found" : "nothing was judged";
  }
  add(t.complies, "complies", "comply");
  add(t.not_applicable, "does not apply", "do not apply");
  return out;
}

}  // namespace

std::string text_of(const Place& place) {
  return place.line == 0 ? place.file : fmt::format("{}:{}:{}", place.file, place.line, place.column);
}

void write_head(Page& page, const Report& report) {
  page.line(fmt::format("Raceward {}: check of an installation", version()));
  page.across('=');
  page.entry("installation", report.installation, 0, label_width);
  page.entry("file", report.file, 0, label_width);
  std::string layers;
  for (std::size_t i = 0; report.layers.size() > 1 && i < report.layers.size(); ++i) {
    layers += (i == 0 ? " = " : " + ") + report.layers[i];
  }
  page.entry("ruleset", report.ruleset + layers, 0, label_width);
  const Totals totals = totals_of(report);
  page.entry("result", result_of(totals, report), 0, label_width);
  // Whoever reads no further than this must not take it for a permit.
  if (totals.violates == 0)
    page.entry("", "This is no approval. Read what was not checked, below.", 0, label_width);
}

}  // namespace raceward::report
