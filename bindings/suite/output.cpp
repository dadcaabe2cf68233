// What became of a suite: for people, for programs, for JUnit readers.
#include <fmt/format.h>
#include <rapidjson/prettywriter.h>
#include <rapidjson/stringbuffer.h>

#include <algorithm>
#include <map>
#include <pugixml.hpp>
#include <sstream>

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

std::string title_of(const Case& c) {
  return c.ruleset.empty() ? c.name : fmt::format("{} under {}", c.name, c.ruleset);
}

std::string at(const Place& place) {
  return place.line == 0 ? place.file : fmt::format("{}:{}:{}", place.file, place.line, place.column);
}

std::string lines_of(const Mismatch& m) {
  std::string out = fmt::format("  {:<12}", name_of(m.kind));
  const std::string deep(14, ' ');
  switch (m.kind) {
    case Mismatch::Kind::missed:
      out += fmt::format("{}\n{}expected at {}, and not found\n", m.expected, deep, at(m.place));
      break;
    case Mismatch::Kind::unexpected:
      out += fmt::format("{}\n{}found at {}, and not expected\n", m.found, deep, at(m.place));
      break;
    case Mismatch::Kind::moved:
      out += fmt::format("{}\n{}{}\n{}found at {}\n", m.expected, deep, m.found, deep, at(m.place));
      break;
    case Mismatch::Kind::counts:
      out += fmt::format("{}\n{}{}\n{}expected at {}\n", m.expected, deep, m.found, deep, at(m.place));
      break;
    case Mismatch::Kind::faulty:
      out += fmt::format("{}\n", m.found);
      break;
  }
  if (!m.message.empty()) out += deep + m.message + "\n";
  for (const std::string& line : m.working) out += deep + "  " + line + "\n";
  return out;
}

std::string details_of(const Case& c) {
  std::string out;
  for (const Problem& p : c.problems) out += "  unreadable  " + text_of(p) + "\n";
  for (const Mismatch& m : c.mismatches) out += lines_of(m);
  return out;
}

std::string counted(std::size_t count, const char* one, const char* many) {
  return fmt::format("{} {}", count, count == 1 ? one : many);
}

using Writer = rapidjson::PrettyWriter<rapidjson::StringBuffer>;

void text(Writer& w, const char* key, std::string_view value) {
  w.Key(key);
  w.String(value.data(), static_cast<rapidjson::SizeType>(value.size()));
}

void place(Writer& w, const Place& p) {
  w.Key("place");
  w.StartObject();
  text(w, "file", p.file);
  w.Key("line");
  w.Uint(p.line);
  w.Key("column");
  w.Uint(p.column);
  w.EndObject();
}

void problems(Writer& w, const std::vector<Problem>& all) {
  w.Key("problems");
  w.StartArray();
  for (const Problem& p : all) {
    w.StartObject();
    place(w, p.place);
    text(w, "message", p.message);
    w.EndObject();
  }
  w.EndArray();
}

/// XML has no way to write most control characters.
std::string printable(std::string text) {
  for (char& c : text) {
    if (static_cast<unsigned char>(c) < 0x20 && c != '\n' && c != '\t') c = '?';
  }
  return text;
}

}  // namespace

std::string text_of(const Result& result) {
  std::string out;
  for (const Problem& p : result.problems) out += "unreadable  " + text_of(p) + "\n";
  for (const Case& c : result.cases) {
    if (!c.passed()) out += fmt::format("FAILED {}\n{}", title_of(c), details_of(c));
  }
  const std::size_t failed = result.failed();
  out += fmt::format("{}: {} as expected, {} failed\n", counted(result.cases.size(), "case", "cases"),
                     result.cases.size() - failed, failed);
  return out;
}

std::string json_of(const Result& result) {
  rapidjson::StringBuffer buffer;
  Writer w(buffer);
  w.SetIndent(' ', 2);
  w.StartObject();
  w.Key("format");
  w.Int(1);
  text(w, "raceward", version());
  w.Key("passed");
  w.Uint64(result.cases.size() - result.failed());
  w.Key("failed");
  w.Uint64(result.failed());
  problems(w, result.problems);
  w.Key("cases");
  w.StartArray();
  for (const Case& c : result.cases) {
    w.StartObject();
    text(w, "name", c.name);
    text(w, "file", c.file);
    text(w, "ruleset", c.ruleset);
    w.Key("passed");
    w.Bool(c.passed());
    problems(w, c.problems);
    w.Key("mismatches");
    w.StartArray();
    for (const Mismatch& m : c.mismatches) {
      w.StartObject();
      text(w, "kind", name_of(m.kind));
      text(w, "expected", m.expected);
      text(w, "found", m.found);
      place(w, m.place);
      text(w, "message", m.message);
      w.Key("working");
      w.StartArray();
      for (const std::string& line : m.working)
        w.String(line.data(), static_cast<rapidjson::SizeType>(line.size()));
      w.EndArray();
      w.EndObject();
    }
    w.EndArray();
    w.EndObject();
  }
  w.EndArray();
  w.EndObject();
  return std::string(buffer.GetString(), buffer.GetSize()) + "\n";
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
  const auto seconds = [](double s) { return fmt::format("{:.3f}", s); };
  std::size_t tests = 0, failures = 0, errors = 0;
  double all = 0;
  const auto suite_of = [&](const std::string& name) {
    pugi::xml_node suite = root.append_child("testsuite");
    suite.append_attribute("name") = printable(name).c_str();
    return suite;
  };
  const auto count = [&](pugi::xml_node suite, std::size_t t, std::size_t f, std::size_t e, double s) {
    suite.append_attribute("tests") = static_cast<unsigned long long>(t);
    suite.append_attribute("failures") = static_cast<unsigned long long>(f);
    suite.append_attribute("errors") = static_cast<unsigned long long>(e);
    suite.append_attribute("time") = seconds(s).c_str();
    tests += t, failures += f, errors += e, all += s;
  };
  const auto detail = [&](pugi::xml_node test, const char* kind, const std::string& message,
                          const std::string& body) {
    pugi::xml_node node = test.append_child(kind);
    node.append_attribute("message") = printable(message).c_str();
    node.append_child(pugi::node_pcdata).set_value(printable(body).c_str());
  };
  for (const auto& [folder, cases] : folders) {
    pugi::xml_node suite = suite_of(folder);
    std::size_t f = 0, e = 0;
    double s = 0;
    for (const Case* c : cases) {
      pugi::xml_node test = suite.append_child("testcase");
      test.append_attribute("classname") = printable(folder).c_str();
      test.append_attribute("name") = printable(title_of(*c)).c_str();
      test.append_attribute("file") = printable(c->file).c_str();
      test.append_attribute("time") = seconds(c->seconds).c_str();
      s += c->seconds;
      if (!c->problems.empty()) {
        ++e;
        detail(test, "error", c->problems.front().message, details_of(*c));
      } else if (!c->mismatches.empty()) {
        ++f;
        const Mismatch& m = c->mismatches.front();
        const std::string what = m.expected.empty() ? m.found : m.expected;
        detail(test, "failure", std::string(name_of(m.kind)) + ": " + what, details_of(*c));
      }
    }
    count(suite, cases.size(), f, e, s);
  }
  if (!result.problems.empty()) {
    pugi::xml_node suite = suite_of("unreadable");
    for (const Problem& p : result.problems) {
      pugi::xml_node test = suite.append_child("testcase");
      test.append_attribute("classname") = "unreadable";
      test.append_attribute("name") = printable(p.place.file).c_str();
      test.append_attribute("time") = "0.000";
      detail(test, "error", p.message, text_of(p));
    }
    count(suite, result.problems.size(), 0, result.problems.size(), 0);
  }
  count(root, tests, failures, errors, all);
  std::ostringstream out;
  doc.save(out, "  ", pugi::format_default, pugi::encoding_utf8);
  return out.str();
}

}  // namespace raceward::suite
