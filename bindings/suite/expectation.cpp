#include "expectation.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <iterator>
#include <set>
#include <sstream>
#include <utility>

#include "markup.hpp"

namespace raceward::suite {

namespace {

std::vector<std::string> words_of(const std::string& text) {
  std::istringstream in(text);
  return {std::istream_iterator<std::string>(in), {}};
}

std::string joined(const std::vector<std::string>& words) {
  std::string out;
  for (const std::string& word : words) out += (out.empty() ? "" : " ") + word;
  return out;
}

std::string sorted_once(std::vector<std::string> words) {
  std::sort(words.begin(), words.end());
  words.erase(std::unique(words.begin(), words.end()), words.end());
  return joined(words);
}

bool is_kind(const std::string& word) {
  return word == "violates" || word == "advised" || word == "undetermined" || word == "waived";
}

constexpr const char* kinds = "violates, advised, undetermined or waived";

/// "expired", and what else reports say of a waiver without effect.
bool is_state(const std::string& word) {
  using State = WaiverLine::State;
  for (const State state : {State::expired, State::not_yet, State::day_unknown, State::exceeded,
                            State::undetermined, State::unmatched, State::unknown_rule}) {
    if (raceward::name_of(state) == word) return true;
  }
  return false;
}

/// key="value" pairs until the end; false where there is anything else.
bool read_pairs(std::string_view text, std::map<std::string, std::string>& out) {
  while (true) {
    const std::size_t first = text.find_first_not_of(" \r\n\t");
    if (first == std::string_view::npos) return true;
    text.remove_prefix(first);
    const std::size_t mark = text.find("=\"");
    const std::size_t end = mark == std::string_view::npos ? mark : text.find('"', mark + 2);
    if (end == std::string_view::npos) return false;
    if (!out.emplace(text.substr(0, mark), text.substr(mark + 2, end - mark - 2)).second) return false;
    text.remove_prefix(end + 1);
  }
}

/// "15.75 in3", "3ft 2in", "40 %": the first unit says of what the text is.
Dimension dimension_of_text(std::string_view text) {
  const std::string_view from = text.substr(std::min(text.find_first_not_of("0123456789.-/ "), text.size()));
  const auto unit = unit_of(from.substr(0, from.find(' ')));
  return unit ? dimension_of(*unit) : Dimension::none;
}

/// One sentence, and where it stands.
class Sentence {
 public:
  Sentence(std::string_view text, Place place, Expectations& out) : place_(std::move(place)), out_(out) {
    const std::size_t colon = text.find(':');
    if (colon == std::string_view::npos) return;
    head_ = words_of(std::string(text.substr(0, colon)));
    rest_ = std::string(text.substr(colon + 1));
  }

  /// False where it is none of ours.
  bool read() {
    if (head_.empty()) return false;
    const std::string& first = head_.front();
    if (first == "under" || first == "between") {
      if (head_.size() == 1) return rulesets(), true;
      return false;
    }
    if (first == "on") {
      if (head_.size() == 1) return day(), true;
      return false;
    }
    if (first != "expect" && first != "ledger" && first != "figure" && first != "disregard" &&
        first != "waiver")
      return false;
    if (head_.size() == 2 || (head_.size() > 2 && head_[1] != "under")) {
      complain("write \"" + first + ": ...\" or \"" + first + " under RULESET...: ...\"");
      return true;
    }
    if (head_.size() > 2) under_.assign(head_.begin() + 2, head_.end());
    if (first == "expect") finding();
    if (first == "ledger") ledger();
    if (first == "figure") figure();
    if (first == "disregard") disregard();
    if (first == "waiver") waiver();
    return true;
  }

 private:
  void complain(std::string what) { out_.problems.push_back({place_, std::move(what)}); }

  void rulesets() {
    const std::vector<std::string> named = words_of(rest_);
    const bool between = head_.front() == "between";
    if (!out_.under.empty()) {
      complain("the rulesets are named twice");
    } else if (named.empty() || (between && named.size() != 2)) {
      complain(between ? "between names two rulesets" : "under names no ruleset");
    } else if (std::set<std::string>(named.begin(), named.end()).size() != named.size()) {
      complain("a ruleset is named twice");
    } else {
      out_.under = named;
      out_.under_at = place_;
      out_.between = between;
    }
  }

  void finding() {
    Expectation e;
    e.under = under_;
    e.place = place_;
    std::istringstream in(rest_);
    std::string pairs;
    std::map<std::string, std::string> values;
    if (!(in >> e.kind >> e.rule >> e.subject) || !is_kind(e.kind))
      return complain(fmt::format("write {}, then the rule and the id of its subject", kinds));
    std::getline(in, pairs, '\0');
    if (!read_pairs(pairs, values))
      return complain("what follows the subject is written name=\"value\", each name once");
    for (const auto& [name, value] : values) {
      if (words_of(value).empty()) return complain(name + " is empty; leave it out where it does not matter");
      if (name == "measured" || name == "limit") {
        const auto amount = parse_amount(value, dimension_of_text(value));
        if (!amount) return complain(fmt::format("{} \"{}\": {}", name, value, amount.error().what));
        (name == "limit" ? e.limit : e.measured) = value;
      } else if (name == "needs") {
        e.needs = sorted_once(words_of(value));
      } else if (name == "cites") {
        e.cites = value;
      } else {
        return complain("\"" + name + "\" is none of measured, limit, needs, cites");
      }
    }
    out_.findings.push_back(std::move(e));
  }

  void ledger() {
    std::istringstream in(rest_);
    LedgerExpectation e;
    e.under = under_;
    e.place = place_;
    in >> e.rule;
    for (std::string pair; in >> pair;) {
      const std::size_t mark = std::min(pair.find('='), pair.size());
      const std::string name = pair.substr(0, mark);
      const std::string count = mark < pair.size() ? pair.substr(mark + 1) : "";
      const bool known =
          name == "complies" || name == "violates" || name == "undetermined" || name == "not-applicable";
      const bool number =
          !count.empty() && count.size() < 19 && count.find_first_not_of("0123456789") == std::string::npos;
      if (!known || !number || !e.counts.emplace(name, std::stoull(count)).second)
        return complain("write counts as complies=3, of complies, violates, undetermined, not-applicable");
    }
    if (e.counts.empty()) return complain("write a rule and counts of its verdicts, such as complies=3");
    out_.ledger.push_back(std::move(e));
  }

  void figure() {
    std::istringstream in(rest_);
    FigureExpectation e;
    e.under = under_;
    e.place = place_;
    in >> e.figure >> e.subject;
    std::getline(in >> std::ws, e.value, '\0');
    e.value.erase(e.value.find_last_not_of(" \r\n\t") + 1);
    const auto all = all_figures();
    const auto known =
        std::any_of(all.begin(), all.end(), [&](const FigureInfo& f) { return f.name == e.figure; });
    if (!known) return complain("there is no figure \"" + e.figure + "\"; raceward figures FILE tells all");
    if (e.value.empty())
      return complain("write the figure, the id of its subject and its value, or undetermined");
    if (e.value != "undetermined" && !parse_amount(e.value, dimension_of_text(e.value)))
      return complain("\"" + e.value + "\" is no value of a figure");
    out_.figures.push_back(std::move(e));
  }

  void disregard() {
    const std::vector<std::string> words = words_of(rest_);
    if (words.size() != 3 || (words[0] != "*" && !is_kind(words[0])))
      return complain(fmt::format("write {}, or *, then a rule or *, then an id or *", kinds));
    Expectation e;
    e.kind = words[0];
    e.rule = words[1];
    e.subject = words[2];
    e.under = under_;
    e.place = place_;
    out_.disregarded.push_back(std::move(e));
  }

  void day() {
    const std::vector<std::string> words = words_of(rest_);
    if (words.size() != 1 || !is_date(words[0])) {
      complain("write the day that waivers are judged on, such as 2026-05-01");
    } else if (!out_.on.empty() && out_.on != words[0]) {
      complain("the day is said twice");
    } else {
      out_.on = words[0];
    }
  }

  void waiver() {
    const std::vector<std::string> words = words_of(rest_);
    if (words.size() != 3 || !is_state(words[0]))
      return complain(
          "write why it has no effect (expired, not-yet, day-unknown, exceeded, undetermined, unmatched, "
          "unknown-rule), then its rule and its subject; for one that holds write \"expect: waived\"");
    out_.waivers.push_back({words[0], words[1], words[2], under_, place_});
  }

  std::vector<std::string> head_, under_;
  std::string rest_;
  Place place_;
  Expectations& out_;
};

/// Lines and columns of offsets that rise.
class Places {
 public:
  Places(std::string_view text, std::string name) : text_(text), name_(std::move(name)) {}
  Place at(std::size_t offset) {
    offset = std::min(offset, text_.size());
    for (; at_ < offset; ++at_) {
      if (text_[at_] != '\n') continue;
      ++line_;
      begin_ = at_ + 1;
    }
    return {name_, line_, static_cast<std::uint32_t>(offset - begin_ + 1)};
  }

 private:
  std::string_view text_;
  std::string name_;
  std::size_t at_ = 0, begin_ = 0;
  std::uint32_t line_ = 1;
};

constexpr std::array<std::string_view, 7> sentence_words = {"expect", "ledger",  "figure", "disregard",
                                                            "under",  "between", "waiver"};

constexpr std::size_t longest_word = 12;  // of those that could be meant

/// How many letters must be changed, added, dropped or swapped to make one word of the other.
/// REQUIRES: none is longer than longest_word.
std::size_t distance(std::string_view a, std::string_view b) {
  std::array<std::array<std::size_t, longest_word + 1>, longest_word + 1> d;
  for (std::size_t i = 0; i <= a.size(); ++i) d[i][0] = i;
  for (std::size_t j = 0; j <= b.size(); ++j) d[0][j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    for (std::size_t j = 1; j <= b.size(); ++j) {
      d[i][j] =
          std::min({d[i - 1][j] + 1, d[i][j - 1] + 1, d[i - 1][j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1)});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
        d[i][j] = std::min(d[i][j], d[i - 2][j - 2] + 1);
    }
  }
  return d[a.size()][b.size()];
}

/// The word that a line of a comment seems to begin a sentence with; empty where it does not. A remark that
/// happens to begin with such a word goes on otherwise than a sentence would.
std::string_view seems(std::string_view line) {
  const std::size_t end = std::min(line.find_first_of(" :\r\t"), line.size());
  std::string first(line.substr(0, end));
  std::transform(first.begin(), first.end(), first.begin(), [](unsigned char c) { return std::tolower(c); });
  if (first.size() < 4 || first.size() > longest_word) return {};
  const auto near = std::find_if(sentence_words.begin(), sentence_words.end(), [&](std::string_view word) {
    return distance(first, word) <= (word == "under" ? 1u : 2u);
  });
  if (near == sentence_words.end()) return {};
  const std::vector<std::string> rest = words_of(std::string(line.substr(end)));
  const bool colon = end < line.size() && line[end] == ':';
  const std::string second = rest.empty() ? "" : rest[0].substr(0, rest[0].find(':'));
  const bool under = second == "under" && rest.size() > 1;
  const bool pairs = std::any_of(rest.begin(), rest.end(),
                                 [](const std::string& w) { return w.find('=') != std::string::npos; });
  const auto is_ruleset = [](const std::string& w) {
    return w.starts_with("nec-") || w.find(".xml") != std::string::npos;
  };
  const bool rulesets = !rest.empty() && std::all_of(rest.begin(), rest.end(), is_ruleset);
  return colon || under || is_kind(second) || (*near == "ledger" && pairs) || rulesets ? *near
                                                                                       : std::string_view{};
}

/// A comment: a sentence, or nobody's business. One that seems to be a sentence and is none is told.
void read_comment(std::string_view text, const Place& place, Expectations& out) {
  bool first = true;
  for (std::size_t begin = 0; begin < text.size();) {
    const std::size_t end = std::min(text.find('\n', begin), text.size());
    const std::size_t from = std::min(text.find_first_not_of(" \r\t", begin), end);
    const std::string_view line = text.substr(from, end - from);
    if (!line.empty()) {
      if (first && Sentence(text.substr(from), place, out).read()) return;
      const std::string_view word = seems(line);
      if (!word.empty()) {
        out.problems.push_back(
            {place,
             fmt::format(
                 "this seems to be a sentence of expectations; write \"{}: ...\", and one sentence a comment",
                 word)});
        return;
      }
      first = false;
    }
    begin = end + 1;
  }
}

bool is(const std::string& pattern, std::string_view word) { return pattern == "*" || pattern == word; }

/// One in the last place that the text is written out to, as an amount of the unit: of 3-1/2 in half an inch.
std::int64_t step_of(std::string_view text, Unit unit) {
  const auto one = parse_amount(fmt::format("1 {}", symbol_of(unit)), dimension_of(unit));
  if (!one) return 0;
  constexpr std::string_view digits = "0123456789";
  if (const std::size_t slash = text.find('/'); slash != std::string_view::npos) {
    std::int64_t parts = 0;
    for (std::size_t i = slash + 1; i < text.size() && digits.find(text[i]) != std::string_view::npos; ++i)
      parts = parts * 10 + (text[i] - '0');
    return parts == 0 ? 0 : one->count / parts;
  }
  std::int64_t step = one->count;
  const std::size_t point = text.find('.');
  for (std::size_t i = point; i != std::string_view::npos && i + 1 < text.size(); ++i) {
    if (digits.find(text[i + 1]) == std::string_view::npos) break;
    step /= 10;
  }
  return step;
}

/// Empty where the amount is what the text says, in the text's unit and as far as the text is written out.
std::string against(std::string_view name, const std::string& expected, bool has, const Amount& found) {
  if (expected.empty()) return {};
  if (!has) return fmt::format("{} {} is expected, and there is none; ", name, expected);
  const Dimension dimension = dimension_of_text(expected);
  const auto amount = parse_amount(expected, dimension);
  if (!amount) return fmt::format("{} {}: {}; ", name, expected, amount.error().what);
  if (dimension_of(found.unit) != dimension) return fmt::format("{} is {}; ", name, text_of(found));
  const std::int64_t off =
      found.count < amount->count ? amount->count - found.count : found.count - amount->count;
  if (off <= step_of(expected, amount->unit) / 2) return {};
  return fmt::format("{} is {} and not {}; ", name, text_of(Amount{found.count, amount->unit}), expected);
}

/// A value as it is shown, without the decimals that nobody can hold exactly.
std::string readable(std::string shown) {
  while (!parse_amount(shown, dimension_of_text(shown))) {
    const std::size_t point = shown.find('.');
    if (point == std::string::npos) break;
    const std::size_t end = std::min(shown.find_first_not_of("0123456789", point + 1), shown.size());
    shown.erase(end - (end - point <= 2 ? end - point : 1), end - point <= 2 ? end - point : 1);
  }
  return shown;
}

std::string needs_of(const Finding& found) {
  std::vector<std::string> needs;
  for (const Need& need : found.needs) {
    if (!need.datum.empty()) needs.push_back(need.datum);
  }
  return sorted_once(std::move(needs));
}

/// What sentences said so far, by what they speak of and by ruleset. A sentence is complained about once.
class Said {
 public:
  explicit Said(Expectations& all)
      : all_(all), everywhere_(all.under.empty() ? std::vector<std::string>{""} : all.under) {}

  template <class Expected, class Told>
  void add(const Expected& e, const std::string& of, const std::string& what, Told told) {
    bool first = true;
    for (const std::string& id : e.under.empty() ? everywhere_ : e.under) {
      const auto [at, is_new] = said_.try_emplace({of, id}, Former{e.place, what});
      if (!is_new && std::exchange(first, false)) complain(e.place, at->second, id, told);
    }
  }

  template <class Expected, class Told>
  void ask(const Expected& e, const std::string& of, Told told) {
    for (const std::string& id : e.under.empty() ? everywhere_ : e.under) {
      const auto at = said_.find({of, id});
      if (at != said_.end()) return complain(e.place, at->second, id, told);
    }
  }

 private:
  struct Former {
    Place place;
    std::string what;
  };

  template <class Told>
  void complain(const Place& place, const Former& former, const std::string& under, Told told) {
    all_.problems.push_back(
        {place, told(former.place, former.what) + (under.empty() ? "" : ", under " + under)});
  }

  Expectations& all_;
  std::vector<std::string> everywhere_;
  std::map<std::pair<std::string, std::string>, Former> said_;
};

/// Of a sentence that begins so and was said before.
auto twice(std::string sentence) {
  return [sentence = std::move(sentence)](const Place& at, const std::string& former) {
    return fmt::format("{}:{} says \"{} {}\" already; keep one of the two", at.file, at.line, sentence,
                       former);
  };
}

}  // namespace

void read_comments(std::string_view document, const std::string& name, Expectations& out) {
  constexpr std::string_view opens = "<!--", closes = "-->";
  Places places(document, name);
  for (std::size_t at = document.find('<'); at != std::string_view::npos;) {
    const std::size_t past = past_aside(document, at);
    if (past == std::string_view::npos) return;  // whoever loads it tells where
    if (past != at && document.substr(at).starts_with(opens)) {
      const std::size_t begin = at + opens.size();
      read_comment(document.substr(begin, past - closes.size() - begin), places.at(begin), out);
    }
    at = document.find('<', std::max(past, at + 1));
  }
}

void read_sentences(std::string_view text, const std::string& name, Expectations& out) {
  if (text.starts_with("\xef\xbb\xbf")) text.remove_prefix(3);
  Places places(text, name);
  for (std::size_t begin = 0; begin < text.size();) {
    const std::size_t end = std::min(text.find('\n', begin), text.size());
    const std::string_view line = text.substr(begin, end - begin);
    const std::size_t first = line.find_first_not_of(" \r\t");
    const Place place = places.at(begin + std::min(first, line.size()));
    begin = end + 1;
    if (first == std::string_view::npos || line[first] == '#') continue;
    if (!Sentence(line, place, out).read())
      out.problems.push_back(
          {place,
           "this is no sentence of expectations; begin it with under, between, on, expect, ledger, figure, "
           "disregard, waiver, or # for a remark"});
  }
}

void settle(Expectations& out) {
  const auto known = [&](const auto& expected) {
    for (const std::string& id : expected.under) {
      if (std::find(out.under.begin(), out.under.end(), id) != out.under.end()) continue;
      out.problems.push_back({expected.place, "under " + id + ": it is not judged under that; name it in " +
                                                  "\"under: ...\" or \"between: ...\""});
    }
  };
  for (const Expectation& e : out.findings) known(e);
  for (const Expectation& e : out.disregarded) known(e);
  for (const LedgerExpectation& e : out.ledger) known(e);
  for (const FigureExpectation& e : out.figures) known(e);
  for (const WaiverExpectation& e : out.waivers) known(e);

  // One sentence speaks of a thing: a second one says otherwise, or nothing more.
  Said verdicts(out), counts(out), figures(out);
  for (const Expectation& e : out.findings)
    verdicts.add(e, e.rule + " " + e.subject, key_of(e), [&](const Place& at, const std::string& former) {
      return fmt::format("{} is expected of {} in {}:{} already; a rule has one verdict of it", former,
                         e.subject, at.file, at.line);
    });
  for (const Expectation& e : out.disregarded)
    verdicts.ask(e, e.rule + " " + e.subject, [&](const Place& at, const std::string& former) {
      return fmt::format("{}:{} expects {}, so there is nothing to disregard; take one of the two away",
                         at.file, at.line, former);
    });
  for (const LedgerExpectation& e : out.ledger) {
    for (const auto& [name, count] : e.counts)
      counts.add(e, e.rule + " " + name, fmt::format("{}={}", name, count), twice("ledger: " + e.rule));
  }
  for (const FigureExpectation& e : out.figures)
    figures.add(e, e.figure + " " + e.subject, e.value,
                twice(fmt::format("figure: {} {}", e.figure, e.subject)));
}

bool disregards(const Expectations& all, const Finding& found, std::string_view ruleset) {
  return std::any_of(all.disregarded.begin(), all.disregarded.end(), [&](const Expectation& e) {
    return holds_under(e, ruleset) && is(e.kind, kind_of(found)) && is(e.rule, found.rule) &&
           is(e.subject, found.subject);
  });
}

std::string text_of(const Citation& c) { return fmt::format("{}-{} {}", c.document, c.edition, c.section); }

std::string difference(const Expectation& expected, const Finding& found) {
  std::string out;
  if (expected.kind != kind_of(found)) out += "it is " + std::string(kind_of(found)) + "; ";
  out += against("measured", expected.measured, found.has_measured, found.measured) +
         against("limit", expected.limit, found.has_limit, found.limit);
  const auto cited = [&](const Citation& c) { return text_of(c) == expected.cites; };
  if (!expected.cites.empty() && std::none_of(found.cites.begin(), found.cites.end(), cited))
    out += fmt::format("it does not cite {}; ", expected.cites);
  if (!expected.needs.empty()) {
    const std::string needs = needs_of(found);
    if (needs != expected.needs)
      out += fmt::format("it needs {} and not {}; ", needs.empty() ? "nothing" : needs, expected.needs);
  }
  if (!out.empty()) out.erase(out.size() - 2);
  return out;
}

std::string difference(const FigureExpectation& expected, const FigureLine& found) {
  if (expected.value == "undetermined") return found.known ? "it is " + found.shown : "";
  if (!found.known) return "it is undetermined";
  std::string out = against("it", expected.value, true, found.value);
  if (!out.empty()) out.erase(out.size() - 2);
  return out;
}

std::string_view kind_of(const Finding& found) {
  if (found.waived()) return "waived";
  switch (found.kind) {
    case Finding::Kind::violates:
      return "violates";
    case Finding::Kind::advised:
      return "advised";
    case Finding::Kind::undetermined:
      break;
  }
  return "undetermined";
}

std::string key_of(const Expectation& e) { return fmt::format("{} {} {}", e.kind, e.rule, e.subject); }
std::string key_of(const Finding& f) { return fmt::format("{} {} {}", kind_of(f), f.rule, f.subject); }
std::string key_of(const WaiverExpectation& e) {
  return fmt::format("waiver {} {} {}", e.state, e.rule, e.subject);
}
std::string key_of(const WaiverLine& w) {
  return fmt::format("waiver {} {} {}", raceward::name_of(w.state), w.rule, w.subject);
}

std::string sentence_of(const Finding& found, std::string_view ruleset) {
  std::string out = ruleset.empty() ? "expect: " : fmt::format("expect under {}: ", ruleset);
  out += key_of(found);
  if (found.has_measured) out += fmt::format(" measured=\"{}\"", readable(found.measured_shown));
  if (found.has_limit) out += fmt::format(" limit=\"{}\"", readable(found.limit_shown));
  const std::string needs = needs_of(found);
  if (!needs.empty()) out += fmt::format(" needs=\"{}\"", needs);
  return out;
}

std::string sentence_of(const WaiverLine& found, std::string_view ruleset) {
  const std::string key = key_of(found);
  const std::size_t blank = key.find(' ');
  return fmt::format("waiver{}{}:{}", ruleset.empty() ? "" : " under ", ruleset, key.substr(blank));
}

}  // namespace raceward::suite
