#include "record.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <map>
#include <optional>

namespace raceward::suite {

namespace {

constexpr const char* head =
    "# What is expected of the document of this name; see suites.md. Lines may be edited.\n";

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> out;
  for (std::size_t begin = 0; begin < text.size();) {
    const std::size_t end = std::min(text.find('\n', begin), text.size());
    out.push_back(text.substr(begin, end - begin));
    begin = end + 1;
  }
  return out;
}

constexpr std::string_view of_waiver = "waiver ";

/// "violates raceward-fill R2 ..." begins the sentence of a finding with its key; the key of a waiver tells
/// which sentence it is of.
bool expects(const std::string& sentence, std::string_view key) {
  if (sentence.starts_with("waiver") != key.starts_with(of_waiver)) return false;
  if (key.starts_with(of_waiver)) key.remove_prefix(of_waiver.size());
  const std::size_t colon = sentence.find(": ");
  return colon != std::string::npos && sentence.substr(colon + 2).starts_with(key) &&
         (sentence.size() == colon + 2 + key.size() || sentence[colon + 2 + key.size()] == ' ');
}

class Recorder {
 public:
  Recorder(const Document& document, bool overwrite, Recordings& out)
      : document_(document), overwrite_(overwrite), out_(out) {
    recording_.file = document.sidecar;
    std::string text;  // it could be read: else the case has a problem and nothing is recorded
    std::ifstream in(document.sidecar, std::ios::binary);
    if (in) text.assign(std::istreambuf_iterator<char>(in), {});
    lines_ = text.empty() ? std::vector<std::string>{} : lines_of(text);
    is_new_ = text.empty();
  }

  void take(const Case& c) {
    // What a rule found that went wrong since is not known: nothing of it is taken back.
    const bool faulty = std::any_of(c.mismatches.begin(), c.mismatches.end(),
                                    [](const Mismatch& m) { return m.kind == Mismatch::Kind::faulty; });
    if (faulty) {
      for (const Mismatch& m : c.mismatches) {
        if (m.kind == Mismatch::Kind::faulty)
          out_.left.push_back(
              {m.place, m.found + " went wrong, and nothing is recorded of this document: " + m.message});
      }
      return;
    }
    for (const Mismatch& m : c.mismatches) {
      switch (m.kind) {
        case Mismatch::Kind::unexpected:
          add(found(c, m.found, m.ruleset).sentence);
          break;
        case Mismatch::Kind::missed:
          if (is_figure(m)) {
            leave(m, "figures are not recorded");
          } else {
            remove(c, m);
          }
          break;
        case Mismatch::Kind::moved:
          if (is_figure(m)) {
            leave(m, "figures are not recorded");
          } else if (const auto line = remove(c, m)) {
            const Found found = found_of_subject(c, m.expected, m.ruleset);
            const Expectation* former = expectation(c, m);
            add(found.sentence + (former == nullptr ? "" : cites_of(*former, found)), line);
          }
          break;
        case Mismatch::Kind::counts:
          leave(m, "counts of the ledger are not recorded");
          break;
        case Mismatch::Kind::faulty:  // see above
          break;
      }
    }
  }

  void finish() {
    if (recording_.added.empty() && recording_.removed.empty()) return;
    if (is_new_) recording_.text = head;
    for (std::size_t i = 0; i < lines_.size(); ++i) {
      const auto gone = gone_.find(i);
      if (gone == gone_.end()) {
        recording_.text += lines_[i] + "\n";
        continue;
      }
      const char* const end = lines_[i].ends_with('\r') ? "\r\n" : "\n";
      for (const std::string& line : gone->second) recording_.text += line + end;
    }
    for (const std::string& line : new_) recording_.text += line + "\n";
    out_.files.push_back(std::move(recording_));
  }

 private:
  static bool is_figure(const Mismatch& m) { return m.expected.starts_with("figure "); }

  /// Whether the sentence is of this ruleset; an empty one: of whichever.
  static bool under(const std::string& sentence, const std::string& ruleset) {
    return ruleset.empty() || sentence.substr(0, sentence.find(": ")).ends_with(" under " + ruleset);
  }

  static Found found(const Case& c, const std::string& key, const std::string& ruleset) {
    for (const Found& found : c.found) {
      if (expects(found.sentence, key) && under(found.sentence, ruleset)) return found;
    }
    return {};
  }

  /// Of the same rule and subject, whatever the verdict now is.
  static Found found_of_subject(const Case& c, const std::string& key, const std::string& ruleset) {
    const bool waiver = key.starts_with(of_waiver);
    const std::string rest = key.substr(key.find(' ', waiver ? of_waiver.size() : 0) + 1);
    if (waiver) {
      const auto of = std::find_if(c.found.begin(), c.found.end(), [&](const Found& f) {
        return f.sentence.starts_with("waiver") && f.sentence.ends_with(" " + rest) &&
               under(f.sentence, ruleset);
      });
      return of == c.found.end() ? Found{} : *of;
    }
    for (const char* kind : {"violates ", "advised ", "undetermined ", "waived "}) {
      Found out = found(c, kind + rest, ruleset);
      if (!out.sentence.empty()) return out;
    }
    return {};
  }

  const Expectation* expectation(const Case& c, const Mismatch& m) const {
    for (const Expectation& e : document_.expected.findings) {
      if (key_of(e) == m.expected && holds(e, c)) return &e;
    }
    return nullptr;
  }

  /// What the former sentence said that is cited; where that is cited no more, what comes first.
  static std::string cites_of(const Expectation& former, const Found& found) {
    if (former.cites.empty() || found.cites.empty()) return {};
    const bool still = std::find(found.cites.begin(), found.cites.end(), former.cites) != found.cites.end();
    return fmt::format(" cites=\"{}\"", still ? former.cites : found.cites.front());
  }

  /// In place of a line that goes, or behind all.
  void add(const std::string& sentence, std::optional<std::size_t> line = {}) {
    if (sentence.empty()) return;
    recording_.added.push_back(sentence);
    (line ? gone_[*line] : new_).push_back(sentence);
  }

  void leave(const Mismatch& m, const std::string& why) {
    const std::string under = m.ruleset.empty() ? "" : ", under " + m.ruleset;
    out_.left.push_back({m.expected_at, fmt::format("{}{}: {}", m.expected, under, why)});
  }

  /// The line that goes, where one does.
  std::optional<std::size_t> remove(const Case& c, const Mismatch& m) {
    const auto line = remove(document_.expected.findings, c, m);
    return line ? line : remove(document_.expected.waivers, c, m);
  }

  template <class Expected>
  std::optional<std::size_t> remove(const std::vector<Expected>& all, const Case& c, const Mismatch& m) {
    const auto of = std::find_if(all.begin(), all.end(),
                                 [&](const Expected& e) { return key_of(e) == m.expected && holds(e, c); });
    if (of == all.end()) return {};
    if (!overwrite_) {
      leave(m, "expected and not found so; --overwrite would replace it");
      return {};
    }
    if (of->place.file != document_.sidecar) {
      leave(m, "change it where it stands; only what stands in " + document_.sidecar + " is replaced");
      return {};
    }
    if (of->under.size() > 1 || (of->under.empty() && document_.expected.under.size() > 1)) {
      leave(m, "it is expected under several rulesets; change it by hand");
      return {};
    }
    const std::size_t line = of->place.line - 1;
    if (gone_.try_emplace(line).second) recording_.removed.push_back(lines_.at(line));
    return line;
  }

  template <class Expected>
  static bool holds(const Expected& e, const Case& c) {
    if (e.under.empty()) return true;
    for (const std::string& id : e.under) {
      if (c.ruleset == id || c.ruleset.starts_with(id + " and ") || c.ruleset.ends_with(" and " + id))
        return true;
    }
    return false;
  }

  const Document& document_;
  bool overwrite_;
  Recordings& out_;
  Recording recording_;
  std::vector<std::string> lines_;
  std::map<std::size_t, std::vector<std::string>> gone_;  // lines, and what takes their places
  std::vector<std::string> new_;
  bool is_new_ = false;
};

}  // namespace

Recordings record(const std::vector<Document>& documents, const Result& result, bool overwrite) {
  std::map<std::string, std::vector<const Case*>> cases;
  for (const Case& c : result.cases) cases[c.file].push_back(&c);
  Recordings out;
  for (const Document& document : documents) {
    const auto of = cases.find(document.file);
    if (of == cases.end()) continue;
    if (std::any_of(of->second.begin(), of->second.end(),
                    [](const Case* c) { return c->doubtful || !c->problems.empty(); }))
      continue;
    Recorder recorder(document, overwrite, out);
    for (const Case* c : of->second) recorder.take(*c);
    recorder.finish();
  }
  return out;
}

std::string text_of(const Recordings& recordings) {
  std::string out;
  for (const Recording& r : recordings.files) {
    out += r.file + "\n";
    for (const std::string& line : r.removed) out += "  - " + line + "\n";
    for (const std::string& line : r.added) out += "  + " + line + "\n";
  }
  for (const Problem& p : recordings.left) out += "left as it is: " + raceward::text_of(p) + "\n";
  return out;
}

}  // namespace raceward::suite
