// What a suite tries, for people, for programs and as a page.
#include <fmt/format.h>
#include <rapidjson/prettywriter.h>
#include <rapidjson/stringbuffer.h>

#include <algorithm>
#include <map>

#include "coverage.hpp"

namespace raceward::suite {

namespace {

struct Layer {
  std::string name;
  std::size_t all = 0, tried = 0;
  std::vector<const EntryCoverage*> untried;
};

std::vector<Layer> layers_of(const Coverage& coverage) {
  std::vector<Layer> out;
  for (const EntryCoverage& e : coverage.entries) {
    if (out.empty() || out.back().name != e.layer) out.push_back({e.layer, 0, 0, {}});
    Layer& layer = out.back();
    ++layer.all;
    if (e.documents > 0) {
      ++layer.tried;
    } else {
      layer.untried.push_back(&e);
    }
  }
  return out;
}

std::string words_of(const RuleCoverage& rule) {
  const std::vector<std::string> holes = rule.holes();
  return holes.empty() ? "" : fmt::format("never {}", fmt::join(holes, ", "));
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

using Writer = rapidjson::PrettyWriter<rapidjson::StringBuffer>;

void text(Writer& w, const char* key, std::string_view value) {
  w.Key(key);
  w.String(value.data(), static_cast<rapidjson::SizeType>(value.size()));
}

void number(Writer& w, const char* key, std::size_t value) {
  w.Key(key);
  w.Uint64(value);
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
    out += fmt::format("{}{:<44}{:>10}{:>10}{:>14}{:>16}\n", out.empty() ? "" : "\n",
                       "Documents with a verdict under " + ruleset, "complies", "violates", "undetermined",
                       "not applicable");
    for (const RuleCoverage* r : rules) {
      out += fmt::format("  {:<42}{:>10}{:>10}{:>14}{:>16}", r->rule, r->complies, r->violates,
                         r->undetermined, r->not_applicable);
      const std::string holes = words_of(*r);
      out += (holes.empty() ? "" : "  " + holes) + "\n";
    }
  }
  const std::vector<Layer> layers = layers_of(coverage);
  for (const Layer& layer : layers) {
    if (layer.untried.empty()) continue;
    out += fmt::format("\nNumbers of {} that no document rests on\n", layer.name);
    for (const EntryCoverage* e : layer.untried)
      out += fmt::format("  {}{}\n", e->what, e->stands.empty() ? "" : " (" + e->stands + ")");
  }
  out += "\n";
  for (const auto& [ruleset, rules] : by_ruleset(coverage))
    out += fmt::format("{}: {} of {} rules comply, violate and are undetermined somewhere\n", ruleset,
                       whole(coverage, ruleset), rules.size());
  for (const Layer& layer : layers)
    out += fmt::format("{}: documents rest on {} of {} numbers\n", layer.name, layer.tried, layer.all);
  return out;
}

std::string json_of(const Coverage& coverage) {
  rapidjson::StringBuffer buffer;
  Writer w(buffer);
  w.SetIndent(' ', 2);
  w.StartObject();
  w.Key("format");
  w.Int(1);
  text(w, "raceward", version());
  number(w, "documents", coverage.documents);
  w.Key("problems");
  w.StartArray();
  for (const Problem& p : coverage.problems) {
    const std::string line = raceward::text_of(p);
    w.String(line.data(), static_cast<rapidjson::SizeType>(line.size()));
  }
  w.EndArray();
  w.Key("rules");
  w.StartArray();
  for (const RuleCoverage& r : coverage.rules) {
    w.StartObject();
    text(w, "ruleset", r.ruleset);
    text(w, "rule", r.rule);
    number(w, "complies", r.complies);
    number(w, "violates", r.violates);
    number(w, "undetermined", r.undetermined);
    number(w, "not_applicable", r.not_applicable);
    w.EndObject();
  }
  w.EndArray();
  w.Key("numbers");
  w.StartArray();
  for (const EntryCoverage& e : coverage.entries) {
    w.StartObject();
    text(w, "layer", e.layer);
    text(w, "what", e.what);
    text(w, "section", e.stands);
    number(w, "documents", e.documents);
    w.EndObject();
  }
  w.EndArray();
  w.EndObject();
  return std::string(buffer.GetString(), buffer.GetSize()) + "\n";
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
  for (const auto& [ruleset, rules] : by_ruleset(coverage)) {
    out += fmt::format(
        "<h2>Rules under {}</h2>\n<table><tr><th>rule<th>complies<th>violates<th>undetermined<th>does not "
        "apply</tr>\n",
        escaped(ruleset));
    for (const RuleCoverage* r : rules)
      out +=
          fmt::format("<tr><td>{}</td>{}{}{}{}</tr>\n", escaped(r->rule), cell(r->complies, true),
                      cell(r->violates, true), cell(r->undetermined, true), cell(r->not_applicable, false));
    out += "</table>\n";
  }
  for (const Layer& layer : layers_of(coverage)) {
    out += fmt::format("<h2>Numbers of {}</h2>\n<p>Documents rest on {} of {}; not on these:</p>\n<ul>\n",
                       escaped(layer.name), layer.tried, layer.all);
    for (const EntryCoverage* e : layer.untried)
      out += fmt::format("<li>{} ({})</li>\n", escaped(e->what), escaped(e->stands));
    out += "</ul>\n";
  }
  return out + "</body></html>\n";
}

}  // namespace raceward::suite
