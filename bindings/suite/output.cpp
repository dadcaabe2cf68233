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

/// How many bytes the character takes that begins here; 0 where they are no UTF-8, or none that XML can hold.
std::size_t character(std::string_view text) {
  const auto byte = [&](std::size_t i) { return i < text.size() ? static_cast<unsigned char>(text[i]) : 0u; };
  const unsigned first = byte(0);
  if (first < 0x80) return first >= 0x20 || first == '\n' || first == '\t' ? 1 : 0;
  const std::size_t size = first >= 0xf0 ? 4 : first >= 0xe0 ? 3 : 2;
  if (first < 0xc2 || first > 0xf4) return 0;
  std::uint32_t code = first & (0x7fu >> size);
  for (std::size_t i = 1; i < size; ++i) {
    if ((byte(i) & 0xc0u) != 0x80u) return 0;
    code = code << 6 | (byte(i) & 0x3fu);
  }
  constexpr std::uint32_t least[] = {0, 0, 0x80, 0x800, 0x10000};
  const bool nothing =
      code < least[size] || code > 0x10ffff || (code >= 0xd800 && code < 0xe000) || (code & 0xfffe) == 0xfffe;
  return nothing ? 0 : size;
}

/// Names of files may hold anything; what is written may not.
std::string printable(std::string_view text) {
  std::string out;
  while (!text.empty()) {
    const std::size_t size = character(text);
    out += size == 0 ? "?" : text.substr(0, size);
    text.remove_prefix(std::max<std::size_t>(size, 1));
  }
  return out;
}

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
  std::string name = c.name;
  std::replace(name.begin(), name.end(), '\n', '?');
  return c.ruleset.empty() ? name : fmt::format("{} under {}", name, c.ruleset);
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
  for (const Problem& p : c.problems) out += "  unreadable  " + text_of(p) + "\n";
  for (const Mismatch& m : c.mismatches) out += lines_of(m);
  return out;
}

std::string counted(std::size_t count, const char* one, const char* many) {
  return fmt::format("{} {}", count, count == 1 ? one : many);
}

using Writer = rapidjson::PrettyWriter<rapidjson::StringBuffer>;

void text(Writer& w, const char* key, std::string_view raw) {
  const std::string value = printable(raw);
  w.Key(key);
  w.String(value.data(), static_cast<rapidjson::SizeType>(value.size()));
}

void place(Writer& w, const Place& p, const char* key = "place") {
  w.Key(key);
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

}  // namespace

std::string text_of(const Result& result) {
  std::string out;
  for (const Problem& p : result.problems) out += "unreadable  " + text_of(p) + "\n";
  for (const Case& c : result.cases) {
    if (!c.passed()) out += fmt::format("FAILED {}\n{}", title_of(c), details_of(c));
  }
  out = printable(out);
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
      if (!m.expected_at.file.empty()) place(w, m.expected_at, "expected_at");
      if (!m.ruleset.empty()) text(w, "ruleset", m.ruleset);
      text(w, "message", m.message);
      w.Key("working");
      w.StartArray();
      for (const std::string& raw : m.working) {
        const std::string line = printable(raw);
        w.String(line.data(), static_cast<rapidjson::SizeType>(line.size()));
      }
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
    pugi::xml_node suite = suite_of("(could not be read)");
    for (const Problem& p : result.problems) {
      pugi::xml_node test = suite.append_child("testcase");
      test.append_attribute("classname") = "(could not be read)";
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
