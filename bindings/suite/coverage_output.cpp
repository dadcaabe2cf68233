// What a suite tries, for people, for programs and as a page.
#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "coverage.hpp"
#include "json.hpp"

namespace raceward::suite {

namespace {

struct Layer {
  std::string name;
  std::size_t all = 0, tried = 0, complies = 0, violates = 0, undetermined = 0;
  std::vector<const EntryCoverage*> untried, parameters;
};

constexpr std::string_view of_parameters = "parameter ";
bool is_parameter(const EntryCoverage& e) { return e.what.starts_with(of_parameters); }
std::string name_of(const EntryCoverage& parameter) { return parameter.what.substr(of_parameters.size()); }

/// What is never the case of a rule, or of a number.
template <class Of>
std::string words_of(const Of& of) {
  const std::vector<std::string> holes = of.holes();
  return holes.empty() ? "" : fmt::format("never {}", fmt::join(holes, ", "));
}

/// Who judges by a number and what is never the case. A figure may rest on it that no rule reads.
std::string told_of(const EntryCoverage& e) {
  if (e.rules.empty()) return "no verdict rests on it";
  const std::string never = words_of(e);
  return never.empty() ? "" : fmt::format("{} ({})", never, fmt::join(e.rules, ", "));
}

/// "-" where nothing is compared with a limit.
template <class Of>
std::string at_limit(const Of& of) {
  return of.compared == 0 ? "-" : fmt::to_string(of.at_limit);
}

std::vector<Layer> layers_of(const Coverage& coverage) {
  std::vector<Layer> out;
  for (const EntryCoverage& e : coverage.entries) {
    if (out.empty() || out.back().name != e.layer) out.emplace_back().name = e.layer;
    Layer& layer = out.back();
    ++layer.all;
    layer.complies += e.complies > 0 ? 1 : 0;
    layer.violates += e.violates > 0 ? 1 : 0;
    layer.undetermined += e.undetermined > 0 ? 1 : 0;
    if (e.documents > 0 && is_parameter(e)) layer.parameters.push_back(&e);
    if (e.documents > 0) {
      ++layer.tried;
    } else {
      layer.untried.push_back(&e);
    }
  }
  return out;
}

std::size_t whole(const Coverage& coverage, const std::string& ruleset) {
  return static_cast<std::size_t>(
      std::count_if(coverage.rules.begin(), coverage.rules.end(),
                    [&](const RuleCoverage& r) { return r.ruleset == ruleset && r.holes().empty(); }));
}

/// Rules of each ruleset, in order.
std::map<std::string, std::vector<const RuleCoverage*>> by_ruleset(const Coverage& coverage) {
  std::map<std::string, std::vector<const RuleCoverage*>> out;
  for (const RuleCoverage& r : coverage.rules) out[r.ruleset].push_back(&r);
  return out;
}

std::string escaped(std::string_view raw) {
  std::string out;
  for (const char c : raw) {
    if (c == '&') {
      out += "&amp;";
    } else if (c == '<') {
      out += "&lt;";
    } else {
      out += c;
    }
  }
  return out;
}

}  // namespace

std::string text_of(const Coverage& coverage) {
  std::string out;
  for (const Problem& p : coverage.problems) out += "unreadable  " + raceward::text_of(p) + "\n";
  for (const auto& [ruleset, rules] : by_ruleset(coverage)) {
    out += fmt::format("{}{:<44}{:>10}{:>10}{:>10}{:>14}{:>16}\n", out.empty() ? "" : "\n",
                       "Documents with a verdict under " + ruleset, "complies", "violates", "at limit",
                       "undetermined", "not applicable");
    for (const RuleCoverage* r : rules) {
      out += fmt::format("  {:<42}{:>10}{:>10}{:>10}{:>14}{:>16}", r->rule, r->complies, r->violates,
                         at_limit(*r), r->undetermined, r->not_applicable);
      const std::string holes = words_of(*r);
      out += (holes.empty() ? "" : "  " + holes) + "\n";
    }
  }
  const std::vector<Layer> layers = layers_of(coverage);
  for (const Layer& layer : layers) {
    if (layer.parameters.empty()) continue;
    out += fmt::format("\n{:<44}{:>10}{:>10}{:>10}{:>14}\n", "Verdicts on parameters of " + layer.name,
                       "complies", "violates", "at limit", "undetermined");
    for (const EntryCoverage* e : layer.parameters) {
      const std::string told = told_of(*e);
      out += fmt::format("  {:<42}{:>10}{:>10}{:>10}{:>14}{}\n", name_of(*e), e->complies, e->violates,
                         at_limit(*e), e->undetermined, told.empty() ? "" : "  " + told);
    }
  }
  for (const Layer& layer : layers) {
    if (layer.untried.empty()) continue;
    out += fmt::format("\nNumbers of {} that no document rests on\n", layer.name);
    for (const EntryCoverage* e : layer.untried)
      out += fmt::format("  {}{}\n", e->what, e->stands.empty() ? "" : " (" + e->stands + ")");
  }
  out += "\n";
  for (const auto& [ruleset, rules] : by_ruleset(coverage))
    out += fmt::format("{}: {} of {} rules have no hole\n", ruleset, whole(coverage, ruleset), rules.size());
  for (const Layer& layer : layers)
    out += fmt::format(
        "{}: documents rest on {} of {} numbers; what complies on {}, what violates on {}, what is "
        "undetermined "
        "on {}\n",
        layer.name, layer.tried, layer.all, layer.complies, layer.violates, layer.undetermined);
  return out;
}

std::string json_of(const Coverage& coverage) {
  Json json;
  json.begin_object();
  json.number("format", 1);
  json.text("raceward", version());
  json.number("documents", coverage.documents);
  json.texts("problems", lines_of(coverage.problems));
  json.begin_array("rules");
  for (const RuleCoverage& r : coverage.rules) {
    json.begin_object();
    json.text("ruleset", r.ruleset);
    json.text("rule", r.rule);
    json.number("complies", r.complies);
    json.number("violates", r.violates);
    json.number("compared", r.compared);
    json.number("at_limit", r.at_limit);
    json.number("undetermined", r.undetermined);
    json.number("not_applicable", r.not_applicable);
    json.end_object();
  }
  json.end_array();
  json.begin_array("numbers");
  for (const EntryCoverage& e : coverage.entries) {
    json.begin_object();
    json.text("layer", e.layer);
    json.text("what", e.what);
    json.text("section", e.stands);
    json.number("documents", e.documents);
    json.texts("rules", {e.rules.begin(), e.rules.end()});
    json.number("complies", e.complies);
    json.number("violates", e.violates);
    json.number("compared", e.compared);
    json.number("at_limit", e.at_limit);
    json.number("undetermined", e.undetermined);
    json.end_object();
  }
  json.end_array();
  json.end_object();
  return json.take();
}

std::string html_of(const Coverage& coverage) {
  std::string out = R"(<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><title>What the suite tries</title><style>
body{font:16px/1.5 sans-serif;max-width:60em;margin:2em auto;padding:0 1em;color:#222}
table{border-collapse:collapse;width:100%;margin-bottom:2em}th,td{padding:.2em .6em;border-bottom:1px solid #ccc}
th{text-align:left}td.n{text-align:right}td.none{font-weight:bold;text-decoration:underline}
</style></head><body><h1>What the suite tries</h1>
)";
  out += fmt::format("<p>{} documents, Raceward {}. A number that is underlined is a hole.</p>\n",
                     coverage.documents, version());
  const auto cell = [](std::size_t n, bool counts) {
    return fmt::format("<td class=\"n{}\">{}</td>", n == 0 && counts ? " none" : "", n);
  };
  const auto limit = [&](const auto& of) {
    return of.compared == 0 ? std::string("<td class=\"n\">-</td>") : cell(of.at_limit, true);
  };
  for (const auto& [ruleset, rules] : by_ruleset(coverage)) {
    out += fmt::format(
        "<h2>Rules under {}</h2>\n<table><tr><th>rule<th>complies<th>violates<th>at its "
        "limit<th>undetermined<th>does not apply</tr>\n",
        escaped(ruleset));
    for (const RuleCoverage* r : rules) {
      out += fmt::format("<tr><td>{}</td>{}{}{}{}{}</tr>\n", escaped(r->rule), cell(r->complies, true),
                         cell(r->violates, true), limit(*r), cell(r->undetermined, true),
                         cell(r->not_applicable, false));
    }
    out += "</table>\n";
  }
  for (const Layer& layer : layers_of(coverage)) {
    out += fmt::format("<h2>Numbers of {}</h2>\n<p>Documents rest on {} of {}; not on these:</p>\n<ul>\n",
                       escaped(layer.name), layer.tried, layer.all);
    for (const EntryCoverage* e : layer.untried)
      out += fmt::format("<li>{} ({})</li>\n", escaped(e->what), escaped(e->stands));
    out +=
        "</ul>\n<table><tr><th>parameter<th>complies<th>violates<th>at its limit<th>undetermined<th>judged "
        "by</tr>\n";
    for (const EntryCoverage* e : layer.parameters) {
      const bool judged = !e->rules.empty();
      out += fmt::format("<tr><td>{}</td>{}{}{}{}<td>{}</td></tr>\n", escaped(name_of(*e)),
                         cell(e->complies, judged), cell(e->violates, judged), limit(*e),
                         cell(e->undetermined, judged),
                         judged ? fmt::format("{}", fmt::join(e->rules, ", ")) : "nobody");
    }
    out += "</table>\n";
  }
  return out + "</body></html>\n";
}

}  // namespace raceward::suite
