// The report as JSON. Keys are a promise: report-1.schema.json describes them.
#include <algorithm>
#include <initializer_list>

#include "raceward/engine.hpp"
#include "report/json_parts.hpp"

namespace raceward {

namespace {

using report::Json;

std::string_view verdict_of(Finding::Kind kind) {
  switch (kind) {
    case Finding::Kind::violates:
      return "violates";
    case Finding::Kind::undetermined:
      return "undetermined";
    case Finding::Kind::advised:
      return "advised";
  }
  return "undetermined";
}

void amount_or_null(Json& json, std::string_view name, bool has, const Amount& amount) {
  json.key(name);
  if (has) {
    json.amount(amount);
  } else {
    json.null();
  }
}

/// The smaller unit of the two, where both are of one system of lengths, so that programs compare like with
/// like.
void in_one_unit(Amount& a, Amount& b) {
  const auto of = [&](Unit small, std::initializer_list<Unit> all) {
    const auto is = [&](Unit unit) { return std::find(all.begin(), all.end(), unit) != all.end(); };
    if (a.unit != b.unit && is(a.unit) && is(b.unit)) a.unit = b.unit = small;
  };
  of(Unit::inch, {Unit::inch, Unit::foot});
  of(Unit::millimetre, {Unit::millimetre, Unit::centimetre, Unit::metre});
}

void write_finding(Json& json, const Finding& f) {
  Amount measured = f.measured, limit = f.limit;
  if (f.has_measured && f.has_limit) in_one_unit(measured, limit);
  json.begin_object();
  json.field("rule", f.rule);
  json.field("verdict", verdict_of(f.kind));
  json.field("subject", f.subject);
  json.field("where", f.where);
  json.key("place");
  json.place(f.place);
  json.field("message", f.message);
  json.key("cites");
  json.cites(f.cites);
  amount_or_null(json, "measured", f.has_measured, measured);
  amount_or_null(json, "limit", f.has_limit, limit);
  json.field("working", f.working);
  json.key("needs");
  json.needs(f.needs);
  json.field("cure", f.cure);
  if (f.waived()) json.field("waiver", std::uint64_t{f.waiver});
  if (f.cause != 0) {
    json.field("cause", std::uint64_t{f.cause});
    json.key("subject_place");
    json.place(f.subject_place);
  }
  json.key("remedies");
  json.begin_array();
  json.end_array();
  json.end_object();
}

void write_ledger_line(Json& json, const LedgerLine& line) {
  json.begin_object();
  json.field("rule", line.rule);
  json.field("title", line.title);
  json.field("force", name_of(line.force));
  json.field("complies", line.complies);
  json.field("violates", line.violates);
  json.field("undetermined", line.undetermined);
  json.field("not_applicable", line.not_applicable);
  if (line.waived > 0) json.field("waived", line.waived);
  // Told where it does not follow from the force: a condition made it another one of some.
  const bool follows =
      line.advised == (line.force == RuleSetting::Force::advised ? line.violates - line.waived : 0);
  if (!follows) json.field("advised", line.advised);
  if (line.faults > 0) json.field("faults", line.faults);
  json.end_object();
}

void write_waiver(Json& json, const WaiverLine& w) {
  json.begin_object();
  json.field("rule", w.rule);
  json.field("subject", w.subject);
  json.field("authority", w.authority);
  json.field("reason", w.reason);
  json.field("on", w.on);
  json.field("until", w.until);
  if (!w.accepts.empty()) json.field("accepts", w.accepts);
  json.key("place");
  json.place(w.place);
  json.field("state", name_of(w.state));
  json.field("why", w.why);
  json.end_object();
}

}  // namespace

std::string json_report(const Report& report) {
  std::string whole;
  json_report(report, [&](std::string_view piece) { whole += piece; });
  return whole;
}

void json_report(const Report& report, const std::function<void(std::string_view)>& out) {
  Json json;
  json.begin_object();
  json.field("format", std::uint64_t{1});
  json.field("raceward", version());
  json.field("installation", report.installation);
  json.field("file", report.file);
  json.key("ruleset");
  json.begin_object();
  json.field("id", report.ruleset);
  json.field("layers", report.layers);
  json.end_object();
  json.field("elements", report.element_count);
  json.key("findings");
  json.begin_array();
  for (const Finding& f : report.findings) {
    write_finding(json, f);
    json.pass_on(out);
  }
  json.end_array();
  json.key("ledger");
  json.begin_array();
  for (const LedgerLine& line : report.ledger) write_ledger_line(json, line);
  json.end_array();
  if (!report.waivers.empty()) {
    json.field("on", report.on);
    json.key("waivers");
    json.begin_array();
    for (const WaiverLine& w : report.waivers) write_waiver(json, w);
    json.end_array();
  }
  json.key("not_checked");
  json.begin_array();
  for (const NotChecked& entry : report.not_checked) {
    json.begin_object();
    json.field("what", entry.what);
    json.field("why", entry.why);
    json.end_object();
  }
  json.end_array();
  json.field("cautions", report.cautions);
  json.end_object();
  out(json.take());
}

}  // namespace raceward
