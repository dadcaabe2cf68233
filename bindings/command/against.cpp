#include "against.hpp"

#include <fmt/format.h>
#include <rapidjson/document.h>
#include <rapidjson/error/en.h>
#include <rapidjson/stringbuffer.h>
#include <rapidjson/writer.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "suite/json.hpp"
#include "wrap.hpp"

namespace raceward::command {

namespace {

using rapidjson::Value;

/// A text of an object, or an empty one.
std::string text(const Value& object, const char* key) {
  if (!object.IsObject()) return {};
  const auto at = object.FindMember(key);
  return at == object.MemberEnd() || !at->value.IsString()
             ? std::string()
             : std::string(at->value.GetString(), at->value.GetStringLength());
}

/// "43.1 %": numbers are kept as they are written.
std::string amount(const Value& finding, const char* key) {
  const auto at = finding.FindMember(key);
  if (at == finding.MemberEnd() || !at->value.IsObject()) return {};
  const std::string unit = text(at->value, "unit");
  return text(at->value, "value") + (unit.empty() ? "" : " " + unit);
}

std::string amount(bool has, const Amount& a) {
  const std::string_view unit = symbol_of(a.unit);
  return has ? decimal_of(a) + (unit.empty() ? "" : " " + std::string(unit)) : std::string();
}

std::string sorted(std::vector<std::string> words) {
  std::sort(words.begin(), words.end());
  return fmt::format("{}", fmt::join(words, " "));
}

std::string needs(const Value& finding) {
  std::vector<std::string> out;
  const auto at = finding.FindMember("needs");
  if (at == finding.MemberEnd() || !at->value.IsArray()) return {};
  for (const Value& need : at->value.GetArray())
    out.push_back(text(need, "fact") + " of " + text(need, "element"));
  return sorted(std::move(out));
}

std::string needs(const Finding& f) {
  std::vector<std::string> out;
  for (const Need& need : f.needs) out.push_back(need.fact + " of " + need.element);
  return sorted(std::move(out));
}

std::string_view verdict_of(const Finding& f) {
  return f.kind == Finding::Kind::violates  ? "violates"
         : f.kind == Finding::Kind::advised ? "advised"
                                            : "undetermined";
}

/// The reports of one line; what is wrong with it, or empty.
std::string read_line(std::string_view line, Former& out, std::size_t& offset) {
  rapidjson::Document json;
  json.Parse<rapidjson::kParseNumbersAsStringsFlag>(line.data(), line.size());
  if (json.HasParseError()) {
    offset = json.GetErrorOffset();
    return std::string("it is no report of a check; write one with: raceward check FILE --format json (") +
           rapidjson::GetParseError_En(json.GetParseError()) + ")";
  }
  const bool ours = json.IsObject() && json.HasMember("findings") && json["findings"].IsArray() &&
                    !text(json, "raceward").empty();
  if (!ours) return "it is no report of a check; write one with: raceward check FILE --format json";
  if (text(json, "format") != "1") return "it is of another format than 1, which this version reads";
  FormerReport report{text(json, "installation"),
                      text(json, "file"),
                      text(json["ruleset"], "id"),
                      text(json, "raceward"),
                      {}};
  for (const Value& f : json["findings"].GetArray()) {
    if (!f.IsObject()) return "one of its findings is none";
    report.findings.push_back({text(f, "rule"), text(f, "subject"), text(f, "verdict"), text(f, "message"),
                               amount(f, "measured"), amount(f, "limit"), needs(f), f.HasMember("waiver")});
  }
  const std::string id = report.installation;
  if (!out.reports.emplace(id, std::move(report)).second)
    return "a second report on installation " + id + "; keep one of each";
  return {};
}

std::string title_of(const FormerFinding& f) {
  return fmt::format("{} {} {}{}", f.verdict, f.rule, f.subject, f.waived ? " (waived)" : "");
}
std::string title_of(const Finding& f) {
  return fmt::format("{} {} {}{}", verdict_of(f), f.rule, f.subject, f.waived() ? " (waived)" : "");
}

std::string how(const FormerFinding& from, const Finding& to) {
  std::string out;
  const auto differ = [&](std::string_view what, const std::string& a, const std::string& b) {
    if (a == b) return;
    out += fmt::format("{}{} {} to {}", out.empty() ? "" : "; ", what, a.empty() ? "nothing" : a,
                       b.empty() ? "nothing" : b);
  };
  differ("verdict", from.verdict, std::string(verdict_of(to)));
  differ("measured", from.measured, amount(to.has_measured, to.measured));
  differ("limit", from.limit, amount(to.has_limit, to.limit));
  differ("needs", from.needs, needs(to));
  differ("waived", from.waived ? "yes" : "no", to.waived() ? "yes" : "no");
  if (out.empty() && from.message != to.message) out = "it is said otherwise";
  return out;
}

/// What was said of the installation under its former id, as it is said now.
std::string renamed(std::string text, const std::string& from, const std::string& to) {
  const std::string former = "installation " + from, now = "installation " + to;
  for (std::size_t at = text.find(former); at != std::string::npos; at = text.find(former, at + now.size())) {
    const std::size_t end = at + former.size();
    if (end == text.size() || text[end] == ' ' || text[end] == ',') text.replace(at, former.size(), now);
  }
  return text;
}

std::string normal(const std::string& path) {
  return std::filesystem::path(path).lexically_normal().generic_string();
}

/// Where the id is another one, the document tells which it was.
const FormerReport* former_of(const Report& report, const Former& former) {
  const auto same = former.reports.find(report.installation);
  if (same != former.reports.end()) return &same->second;
  const std::string document = normal(suite::printable(report.file));
  const FormerReport* out = nullptr;
  for (const auto& [id, each] : former.reports) {
    if (normal(each.document) != document) continue;
    if (out != nullptr) return nullptr;
    out = &each;
  }
  return out;
}

/// "studio, workshop"; of many the first ones.
std::string installations_of(const Former& former) {
  constexpr std::size_t most = 3;
  std::vector<std::string> ids;
  for (const auto& [id, each] : former.reports) ids.push_back(id);
  const std::size_t more = ids.size() > most ? ids.size() - most : 0;
  ids.resize(ids.size() - more);
  return fmt::format("{}{}", fmt::join(ids, ", "), more == 0 ? "" : fmt::format(" and {} more", more));
}

using Writer = rapidjson::Writer<rapidjson::StringBuffer>;

void member(Writer& w, const char* key, std::string_view value) {
  const std::string valid = suite::printable(value);
  w.Key(key);
  w.String(valid.data(), static_cast<rapidjson::SizeType>(valid.size()));
}

void finding(Writer& w, std::string_view rule, std::string_view verdict, std::string_view subject,
             std::string_view how) {
  w.StartObject();
  member(w, "rule", rule);
  member(w, "verdict", verdict);
  member(w, "subject", subject);
  if (!how.empty()) member(w, "how", how);
  w.EndObject();
}

}  // namespace

Former read_former(const std::string& file) {
  Former out;
  out.file = file;
  std::error_code error;
  std::ifstream in;
  if (!std::filesystem::is_directory(file, error)) in.open(file, std::ios::binary);
  if (!in.is_open()) {
    out.problems.push_back({{file, 0, 0}, "the former report cannot be opened"});
    return out;
  }
  const std::string all(std::istreambuf_iterator<char>(in), {});
  std::uint32_t number = 0;
  for (std::size_t begin = 0; begin < all.size();) {
    const std::size_t end = std::min(all.find('\n', begin), all.size());
    const std::string_view line = std::string_view(all).substr(begin, end - begin);
    ++number;
    begin = end + 1;
    if (line.find_first_not_of(" \r\t") == std::string_view::npos) continue;
    std::size_t offset = 0;
    const std::string wrong = read_line(line, out, offset);
    if (wrong.empty()) continue;
    out.problems.push_back({{file, number, static_cast<std::uint32_t>(offset + 1)}, wrong});
    if (out.reports.empty()) break;  // it is another file: what is wrong with its other lines helps nobody
  }
  if (out.problems.empty() && out.reports.empty())
    out.problems.push_back({{file, 0, 0}, "there is no report in it"});
  if (!out.problems.empty()) out.reports.clear();
  return out;
}

Compared compare(const Report& report, const Former& former) {
  Compared out;
  out.former = former_of(report, former);
  std::map<std::pair<std::string, std::string>, const FormerFinding*> waiting;
  // What is found of the installation as a whole is found of it under either id.
  const auto key = [&](const FormerFinding& f) {
    return std::pair{f.rule, f.subject == out.former->installation ? report.installation : f.subject};
  };
  if (out.former != nullptr) {
    for (const FormerFinding& f : out.former->findings) waiting[key(f)] = &f;
  }
  for (const Finding& f : report.findings) {
    const auto was = waiting.find({f.rule, f.subject});
    if (was == waiting.end()) {
      out.appeared.push_back(&f);
      continue;
    }
    FormerFinding former_one = *was->second;
    if (out.former->installation != report.installation) {
      for (std::string* text : {&former_one.needs, &former_one.message})
        *text = renamed(std::move(*text), out.former->installation, report.installation);
    }
    std::string otherwise = how(former_one, f);
    if (otherwise.empty()) {
      ++out.stayed;
    } else {
      out.moved.push_back({was->second, &f, std::move(otherwise)});
    }
    waiting.erase(was);
  }
  if (out.former != nullptr) {
    for (const FormerFinding& f : out.former->findings) {
      const auto left = waiting.find(key(f));
      if (left != waiting.end() && left->second == &f) out.disappeared.push_back(&f);
    }
  }
  return out;
}

std::string text_of(const Compared& c, const Report& report, const Former& former) {
  // The head and all behind the findings as in any report: counts of all verdicts, what was not checked,
  // cautions.
  const std::string whole = text_report(report);
  const std::size_t head = whole.find("\n\n"), ledger = whole.find("\nLEDGER ");
  std::string out = whole.substr(0, head) + "\n\nCHANGES\n" + std::string(100, '=') + "\n";
  if (c.former == nullptr) {
    out += wrapped(
        fmt::format(
            "{} has no report on installation {}, nor one on this document alone: all of the {} findings "
            "count as new. It has reports on {}; where one of these is this installation under another "
            "id, give it that id again to compare.",
            former.file, report.installation, c.appeared.size(), installations_of(former)),
        0);
  } else {
    std::string with = report.ruleset == c.former->ruleset ? "" : ", under " + c.former->ruleset;
    if (report.installation != c.former->installation)
      with += fmt::format(", where the installation of this document was called {}", c.former->installation);
    if (c.former->version != version()) with += ", by version " + c.former->version;
    out += wrapped(
        fmt::format(
            "Compared with {}{}: {} appeared, {} disappeared, {} moved. {} stayed as they were and are "
            "not told here: check without --against tells all.",
            former.file, with, c.appeared.size(), c.disappeared.size(), c.moved.size(), c.stayed),
        0);
  }
  const auto tell = [&](const Finding& f) {
    out += wrapped(f.message, 13);
    for (const std::string& line : f.working) out += wrapped(line, 15);
    if (f.waived()) {
      const WaiverLine& w = report.waivers[f.waiver - 1];
      out += wrapped(fmt::format("waived from {} to {}: {}; {}", w.on, w.until, w.authority, w.reason), 15);
    }
  };
  const auto title = [&](const char* what, const std::string& key, const Place* place) {
    const std::string at =
        place == nullptr ? "" : fmt::format("  {}:{}:{}", place->file, place->line, place->column);
    out += fmt::format("\n{:<13}{}{}\n", what, key, at);
  };
  for (const Finding* f : c.appeared) {
    title("appeared", title_of(*f), &f->place);
    tell(*f);
  }
  for (const Compared::Moved& m : c.moved) {
    title("moved", title_of(*m.to), &m.to->place);
    out += wrapped(m.how, 13);
    tell(*m.to);
  }
  for (const FormerFinding* f : c.disappeared) {
    title("disappeared", title_of(*f), nullptr);
    out += wrapped(f->message, 13);
  }
  return out + whole.substr(ledger);
}

std::string json_of(const Compared& c, const Former& former) {
  rapidjson::StringBuffer buffer;
  Writer w(buffer);
  w.StartObject();
  member(w, "file", former.file);
  member(w, "ruleset", c.former == nullptr ? "" : c.former->ruleset);
  member(w, "installation", c.former == nullptr ? "" : c.former->installation);
  w.Key("appeared");
  w.StartArray();
  for (const Finding* f : c.appeared) finding(w, f->rule, verdict_of(*f), f->subject, "");
  w.EndArray();
  w.Key("disappeared");
  w.StartArray();
  for (const FormerFinding* f : c.disappeared) finding(w, f->rule, f->verdict, f->subject, "");
  w.EndArray();
  w.Key("moved");
  w.StartArray();
  for (const Compared::Moved& m : c.moved) finding(w, m.to->rule, verdict_of(*m.to), m.to->subject, m.how);
  w.EndArray();
  w.Key("stayed");
  w.Uint64(c.stayed);
  w.EndObject();
  return {buffer.GetString(), buffer.GetSize()};
}

}  // namespace raceward::command
