// What became of a suite: for people, for programs, for JUnit readers.
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <pugixml.hpp>
#include <sstream>

#include "json.hpp"
#include "suite.hpp"

namespace raceward::suite {

namespace {

std::string_view name_of(Mismatch::Kind kind) {
  switch (kind) {
    case Mismatch::Kind::missed:
      return "missed";
    case Mismatch::Kind::unexpected:
      return "unexpected";
    case Mismatch::Kind::moved:
      return "moved";
    case Mismatch::Kind::counts:
      return "counts";
    case Mismatch::Kind::faulty:
      break;
  }
  return "faulty";
}

constexpr std::string_view unreadable = "unreadable";

std::string title_of(const Case& c) {
  std::string name = c.name;
  std::replace(name.begin(), name.end(), '\n', '?');
  return c.ruleset.empty() ? name : fmt::format("{} {} {}", name, c.between ? "between" : "under", c.ruleset);
}

/// What the mismatches of a case come to, where that is more than each of them says.
std::string sum_of(const Case& c, std::string_view before) {
  return c.alike() ? fmt::format("{}both find the same", before) : "";
}

std::string at(const Place& place) {
  return place.line == 0 ? place.file : fmt::format("{}:{}:{}", place.file, place.line, place.column);
}

std::string lines_of(const Mismatch& m) {
  const std::string deep(14, ' ');
  std::string out = fmt::format("  {:<12}{}{}\n", name_of(m.kind), m.expected.empty() ? m.found : m.expected,
                                m.ruleset.empty() ? "" : ", under " + m.ruleset);
  if (m.kind == Mismatch::Kind::moved || m.kind == Mismatch::Kind::counts) out += deep + m.found + "\n";
  if (m.kind == Mismatch::Kind::missed) {
    out += fmt::format("{}expected at {}, and not found\n", deep, at(m.expected_at));
  } else if (m.kind == Mismatch::Kind::unexpected) {
    out += fmt::format("{}found at {}, and not expected\n", deep, at(m.place));
  } else if (!m.expected_at.file.empty()) {
    out += fmt::format("{}expected at {}\n", deep, at(m.expected_at));
    if (m.kind == Mismatch::Kind::moved && !m.message.empty())
      out += fmt::format("{}found at {}\n", deep, at(m.place));
  }
  if (!m.message.empty()) out += deep + m.message + "\n";
  for (const std::string& line : m.working) out += deep + "  " + line + "\n";
  return out;
}

std::string details_of(const Case& c) {
  std::string out;
  for (const Problem& p : c.problems) out += fmt::format("  {}  {}\n", unreadable, text_of(p));
  for (const Mismatch& m : c.mismatches) out += lines_of(m);
  return out;
}

std::string counted(std::size_t count, const char* one, const char* many) {
  return fmt::format("{} {}", count, count == 1 ? one : many);
}

void place(Json& json, const Place& p, const char* key = "place") {
  json.begin_object(key);
  json.text("file", p.file);
  json.number("line", p.line);
  json.number("column", p.column);
  json.end_object();
}

void problems(Json& json, const std::vector<Problem>& all) {
  json.begin_array("problems");
  for (const Problem& p : all) {
    json.begin_object();
    place(json, p.place);
    json.text("message", p.message);
    json.end_object();
  }
  json.end_array();
}

}  // namespace

std::string text_of(const Result& result) {
  std::string out;
  for (const Problem& p : result.problems) out += fmt::format("{}  {}\n", unreadable, text_of(p));
  for (const Case& c : result.cases) {
    if (!c.passed()) out += fmt::format("FAILED {}{}\n{}", title_of(c), sum_of(c, ": "), details_of(c));
  }
  out = printable(out);
  const std::size_t failed = result.failed();
  out += fmt::format("{}: {} as expected, {} failed\n", counted(result.cases.size(), "case", "cases"),
                     result.cases.size() - failed, failed);
  return out;
}

std::string json_of(const Result& result) {
  Json json;
  json.begin_object();
  json.number("format", 1);
  json.text("raceward", version());
  json.number("passed", result.cases.size() - result.failed());
  json.number("failed", result.failed());
  problems(json, result.problems);
  json.begin_array("cases");
  for (const Case& c : result.cases) {
    json.begin_object();
    json.text("name", c.name);
    json.text("file", c.file);
    json.text("ruleset", c.ruleset);
    json.truth("passed", c.passed());
    problems(json, c.problems);
    json.begin_array("mismatches");
    for (const Mismatch& m : c.mismatches) {
      json.begin_object();
      json.text("kind", name_of(m.kind));
      json.text("expected", m.expected);
      json.text("found", m.found);
      place(json, m.place);
      if (!m.expected_at.file.empty()) place(json, m.expected_at, "expected_at");
      if (!m.ruleset.empty()) json.text("ruleset", m.ruleset);
      json.text("message", m.message);
      json.texts("working", m.working);
      json.end_object();
    }
    json.end_array();
    json.end_object();
  }
  json.end_array();
  json.end_object();
  return json.take();
}

std::string junit_of(const Result& result) {
  // Cases by folder: the part of a name before its last slash.
  std::map<std::string, std::vector<const Case*>> folders;
  for (const Case& c : result.cases) {
    const std::size_t slash = c.name.rfind('/');
    folders[slash == std::string::npos ? "." : c.name.substr(0, slash)].push_back(&c);
  }
  pugi::xml_document doc;
  pugi::xml_node root = doc.append_child("testsuites");
  root.append_attribute("name") = "raceward";
  std::size_t tests = 0, failures = 0, errors = 0;
  const auto suite_of = [&](const std::string& name) {
    pugi::xml_node suite = root.append_child("testsuite");
    suite.append_attribute("name") = printable(name).c_str();
    return suite;
  };
  const auto count = [&](pugi::xml_node suite, std::size_t t, std::size_t f, std::size_t e) {
    suite.append_attribute("tests") = static_cast<unsigned long long>(t);
    suite.append_attribute("failures") = static_cast<unsigned long long>(f);
    suite.append_attribute("errors") = static_cast<unsigned long long>(e);
    tests += t, failures += f, errors += e;
  };
  const auto detail = [&](pugi::xml_node test, const char* kind, std::string_view type,
                          const std::string& message, const std::string& body) {
    pugi::xml_node node = test.append_child(kind);
    node.append_attribute("type") = std::string(type).c_str();
    node.append_attribute("message") = printable(message).c_str();
    node.append_child(pugi::node_pcdata).set_value(printable(body).c_str());
  };
  for (const auto& [folder, cases] : folders) {
    pugi::xml_node suite = suite_of(folder);
    std::size_t f = 0, e = 0;
    for (const Case* c : cases) {
      pugi::xml_node test = suite.append_child("testcase");
      test.append_attribute("classname") = printable(folder).c_str();
      test.append_attribute("name") = printable(title_of(*c)).c_str();
      if (!c->problems.empty()) {
        ++e;
        detail(test, "error", unreadable, c->problems.front().message, details_of(*c));
      } else if (!c->mismatches.empty()) {
        ++f;
        const Mismatch& m = c->mismatches.front();
        const std::string& what = m.expected.empty() ? m.found : m.expected;
        detail(test, "failure", name_of(m.kind),
               fmt::format("{}: {}{}", name_of(m.kind), what, sum_of(*c, "; ")), details_of(*c));
      }
    }
    count(suite, cases.size(), f, e);
  }
  if (!result.problems.empty()) {
    pugi::xml_node suite = suite_of("(could not be read)");
    for (const Problem& p : result.problems) {
      pugi::xml_node test = suite.append_child("testcase");
      test.append_attribute("classname") = "(could not be read)";
      test.append_attribute("name") = printable(p.place.file).c_str();
      detail(test, "error", unreadable, p.message, text_of(p));
    }
    count(suite, result.problems.size(), 0, result.problems.size());
  }
  count(root, tests, failures, errors);
  std::ostringstream out;
  doc.save(out, "  ", pugi::format_default, pugi::encoding_utf8);
  return out.str();
}

}  // namespace raceward::suite
