#include "document/strict.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "document/characters.hpp"
#include "document/declaration.hpp"
#include "document/nearest.hpp"
#include "document/references.hpp"
#include "document/specials.hpp"
#include "quantity/fault.hpp"

namespace raceward::document {
namespace {

using quantity::quoted;

constexpr std::size_t attributes_of_a_batch = 1024;

constexpr auto name_bytes = [] {
  std::array<bool, 256> table{};
  for (int i = 0; i < 256; ++i) table[static_cast<std::size_t>(i)] = continues_name(static_cast<char>(i));
  return table;
}();

// The byte behind a name that begins at `at`, or `at` itself.
inline const char* skip_name(const char* at) {
  if (!begins_name(*at)) return at;
  while (name_bytes[static_cast<unsigned char>(*at)]) ++at;
  return at;
}
inline const char* skip_blanks(const char* at) {
  while (is_blank(*at)) ++at;
  return at;
}

class Scanner {
 public:
  Scanner(std::string_view bytes, const ReadingInto& into, Taker& taker)
      : end_(bytes.data() + bytes.size()),
        line_starts_(into.line_starts),
        texts_(into.texts),
        faults_(into.faults),
        taker_(taker),
        specials_(bytes, into.line_starts, into.faults) {}

  bool run() {
    const char* at = start();
    while (at != end_ && !stop_) {
      if (*at == '<')
        at = markup(at);
      else {
        if (*at == '&') check_reference(at);
        at = specials_.next();
      }
    }
    if (!stop_) finish();
    hand_over();
    return !malformed();
  }

 private:
  struct Open {
    const char* name;
    std::size_t size;
    std::size_t written = 0;  // its place in written_
  };

  static std::string shown(const Open& tag) { return document::shown({tag.name, tag.size}); }
  std::uint32_t offset(const char* at) const { return static_cast<std::uint32_t>(at - specials_.begin()); }
  std::uint32_t line(const char* at) const { return place_of({}, line_starts_, offset(at)).line; }
  std::string_view rest(const char* at) const { return {at, static_cast<std::size_t>(end_ - at)}; }
  bool begins(const char* at, std::string_view with) const { return rest(at).starts_with(with); }
  std::string_view name_at(const char* at) const {
    return {at, static_cast<std::size_t>(skip_name(at) - at)};
  }

  bool malformed() const { return malformed_ || specials_.met_bad_byte(); }
  void fault(const char* at, std::string message) {
    malformed_ = true;
    faults_.add(offset(at), std::move(message));
  }
  // Of a document that is well-formed, but no installation.
  void misplaced(const char* at, std::string message) { faults_.add(offset(at), std::move(message)); }

  const char* start() {
    const char* at = specials_.begin();
    line_starts_.push_back(0);
    if (begins(at, "\xef\xbb\xbf")) at += 3;
    text_ = prolog_ = at;
    return specials_.next();
  }

  void finish() {
    check_text(end_);
    for (const Open& open : open_) {
      fault(open.name - 1, fmt::format("<{}> is not closed", shown(open)));
      if (tangled_) break;
    }
    if (!met_root_ && !malformed_ && faults_.empty())
      fault(prolog_, "no element; a file holds one root element");
  }

  // Blanks only may stand between tags.
  void check_text(const char* until) {
    const char* at = text_;
    while (at != until && is_blank(*at)) ++at;
    if (at >= until) return;
    if (!open_.empty())
      misplaced(at, fmt::format("<{}> holds no text", shown(open_.back())));
    else if (!met_root_)
      fault(at, "text before the root element");
    else
      fault(at, "text behind the root element");
  }

  // Markup at a "<"; returns the next special byte that is not part of it.
  const char* markup(const char* at) {
    check_text(at);
    const char second = at + 1 == end_ ? '\0' : at[1];
    if (second == '/') return end_tag(at);
    if (second == '!') return declaration(at);
    if (second == '?') return instruction(at);
    return start_tag(at);
  }
  // The special byte behind markup that ends with a ">" at `close`.
  const char* behind(const char* close) {
    specials_.seek(close);
    text_ = close + 1;
    return specials_.next();
  }
  const char* unclosed(const char* at, std::string_view what, std::string_view with) {
    fault(at, fmt::format("{} is not closed with {}", what, with));
    stop_ = true;
    return end_;
  }

  const char* start_tag(const char* open) {
    const char* const name = open + 1;
    const char* at = skip_name(name);
    if (at == name) {
      fault(open, "a tag's name must follow < at once; a < in a text is written &lt;");
      const char* s = specials_.next();
      while (s != end_ && *s != '<' && *s != '>') s = specials_.next();
      const bool closed = s != end_ && *s == '>';
      text_ = closed ? s + 1 : s;
      return closed ? specials_.next() : s;
    }
    const Open tag{name, static_cast<std::size_t>(at - name)};
    const std::size_t first_attribute = written_.attributes.size();
    std::size_t attributes = 0;
    const char* s = specials_.next();
    for (;; s = specials_.next()) {
      if (s == end_) return unclosed(open, fmt::format("tag <{}", shown(tag)), ">");
      if (*s == '>') break;
      if (*s == '<') {
        fault(open, fmt::format("tag <{} is not closed with > before the next <", shown(tag)));
        tangled_ = true;
        break;
      }
      if (*s != '"' && *s != '\'') {
        if (*s == '&') fault(s, "an & has no place between attributes");
        continue;
      }
      const std::string_view attribute = check_name(at, s);
      ++attributes;
      const char* const close = value_end(s);
      if (close == nullptr) {  // found its "<" instead
        s = resume_;
        break;
      }
      if (close == end_) return end_;
      at = close + 1;
      if (!malformed_) note(attribute, s + 1, close);
    }
    if (attributes > most_attributes_written)
      misplaced(name, fmt::format("<{}> has {} attributes; at most {} are read", shown(tag), attributes,
                                  most_attributes_written));
    const bool closed = *s == '>';
    const bool alone = closed && check_tag_end(at, s);
    opened(open, tag, alone, first_attribute);
    text_ = closed ? s + 1 : s;
    return closed ? specials_.next() : s;
  }

  // What stands between a value or the tag's name and the quote of the next value: blanks, a name, "=". The
  // name.
  std::string_view check_name(const char* from, const char* quote) {
    // As nearly all attributes are written: one blank, a name of ASCII letters, = and the quote.
    const Sixteen seen = look_at_sixteen(from + 1, '=');
    const auto size = static_cast<unsigned>(std::countr_one(seen.word));
    if (*from == ' ' && is_letter(from[1]) && (seen.found >> size & 1U) != 0 && from + size + 2 == quote)
      return {from + 1, size};
    const char* const name = skip_blanks(from);
    const char* const behind_name = skip_name(name);
    const char* at = skip_blanks(behind_name);
    const std::string_view word{name, static_cast<std::size_t>(behind_name - name)};
    if (name != from && behind_name != name && *at == '=' && skip_blanks(at + 1) == quote) return word;
    if (word.empty() && name == quote)
      fault(quote, "a value without the attribute's name and =");
    else if (word.empty())
      fault(name, fmt::format("{} cannot begin an attribute's name", quoted(std::string_view(name, 1))));
    else if (name == from)
      fault(name, fmt::format("a blank is missing before the attribute {}", quoted(word)));
    else
      fault(name, fmt::format("attribute {} must be followed by = and a value in quotes", quoted(word)));
    return word;
  }

  void note(std::string_view attribute, const char* value, const char* close) {
    const auto written = static_cast<std::uint32_t>(close - value);
    WrittenAttribute& noted = written_.attributes.emplace_back();
    noted.name_at = attribute.data();
    noted.name_size = static_cast<std::uint16_t>(std::min<std::size_t>(attribute.size(), 0xffff));
    noted.value_at = value;
    noted.value_size = written;
    if (!has_references_ && !specials_.may_hold_odd(value, close)) return;
    const std::string_view text{value, written};
    if (!has_references_ &&
        std::none_of(text.begin(), text.end(), [](char c) { return c != ' ' && is_blank(c); }))
      return;
    char* const room = texts_.room(written);
    noted.value_at = room;
    noted.value_size = static_cast<std::uint32_t>(normalize(text, room));
  }

  // What stands between the last value, or the tag's name, and ">". True for "/": an element without content.
  bool check_tag_end(const char* from, const char* close) {
    const char* at = skip_blanks(from);
    const bool alone = *at == '/';
    if (alone) ++at;
    if (at == close) return alone;
    if (begins_name(*at))
      fault(at, fmt::format("attribute {} must be followed by = and a value in quotes", quoted(name_at(at))));
    else
      fault(at, fmt::format("{} has no place in a tag", quoted(std::string_view(at, 1))));
    return close[-1] == '/';
  }

  // The quote that closes the value behind `quote`; the end where there is none (reported); nullptr where a
  // tag begins instead, at resume_ (reported).
  const char* value_end(const char* quote) {
    bool reported = false;
    has_references_ = false;
    const char* s = specials_.next();
    for (; s != end_ && *s != *quote; s = specials_.next()) {
      if (*s == '&') {
        check_reference(s);
        has_references_ = true;
      } else if (*s == '<' && !reported) {
        reported = true;
        if (std::find(quote, s, '\n') != s) {
          fault(quote, "a value's closing quote is missing");
          tangled_ = true;
          resume_ = s;
          return nullptr;
        }
        fault(s, "a < in a value is written &lt;");
      }
    }
    if (s == end_) {
      unclosed(quote, "a value", std::string_view(quote, 1));
      return end_;
    }
    return s;
  }

  void check_reference(const char* at) {
    const ReferenceFault found = fault_of_reference(rest(at));
    if (found == ReferenceFault::none) return;
    fault(at, explain(found, rest(at)));
  }

  void opened(const char* open, const Open& tag, bool alone, std::size_t first_attribute) {
    const std::size_t place = written_.elements.size();
    if (open_.empty()) {
      const std::string_view name(tag.name, tag.size);
      prefix_ = name.substr(0, name.find(':') + 1);  // with its colon
    }
    if (!malformed_) {
      WrittenElement& element = written_.elements.emplace_back();
      element.name_at = tag.name;
      element.name_size = static_cast<std::uint32_t>(tag.size);
      element.first_attribute = static_cast<std::uint32_t>(first_attribute);
      element.attribute_count = static_cast<std::uint32_t>(written_.attributes.size() - first_attribute);
      find_names(element);
    }
    if (open_.empty()) {
      if (met_root_)
        fault(open, fmt::format("a second root element <{}>", shown(tag)));
      else if (!malformed())
        taker_.root(written_);
      met_root_ = true;
      written_.clear();
    } else if (alone && open_.size() == 1) {
      child_ended();
    }
    if (alone) return;
    if (open_.size() == deepest_nesting) {
      fault(open, fmt::format("elements nest more than {} deep", deepest_nesting));
      stop_ = true;
    }
    open_.push_back({tag.name, tag.size, place});
  }

  // What the vocabulary calls them.
  void find_names(WrittenElement& element) {
    if (!prefix_.empty() && !element.name().starts_with(prefix_)) return;
    const std::uint8_t found =
        element_words.find_padded(element.name_at + prefix_.size(), element.name_size - prefix_.size());
    if (found == 0) return;
    element.element = static_cast<Element>(found - 1);
    const Words& words = row_of(element.element).attributes;
    for (std::size_t i = element.first_attribute; i < written_.attributes.size(); ++i) {
      WrittenAttribute& attribute = written_.attributes[i];
      attribute.number = words.find_padded(attribute.name_at, attribute.name_size);
    }
  }

  // Children go in batches that fit into the cache.
  void child_ended() {
    if (written_.attributes.size() >= attributes_of_a_batch) hand_over();
  }
  void hand_over() {
    if (!malformed() && !written_.elements.empty()) taker_.children(written_);
    written_.clear();
  }

  const char* end_tag(const char* open) {
    const char* const name = open + 2;
    const char* const behind_name = skip_name(name);
    const Open tag{name, static_cast<std::size_t>(behind_name - name)};
    const char* s = specials_.next();
    if (s == end_) return unclosed(open, fmt::format("tag </{}", shown(tag)), ">");
    if (*s != '>' || tag.size == 0 || skip_blanks(behind_name) != s) {
      fault(open, "an end tag holds a name and nothing else, as in </box>");
      while (s != end_ && *s != '>' && *s != '<') s = specials_.next();
      if (s == end_) return end_;
    }
    text_ = *s == '>' ? s + 1 : s;
    closed(open, tag);
    return *s == '>' ? specials_.next() : s;
  }

  void closed(const char* open, const Open& tag) {
    const auto same = [&](const Open& other) {
      return other.size == tag.size && same_padded(other.name, tag.name, tag.size);
    };
    if (!open_.empty() && same(open_.back())) {
      if (!malformed_ && open_.size() > 1) {
        const std::size_t place = open_.back().written;
        written_.elements[place].span = static_cast<std::uint32_t>(written_.elements.size() - place);
      }
      open_.pop_back();
      if (open_.size() == 1) child_ended();
      return;
    }
    const auto ancestor = std::find_if(open_.rbegin(), open_.rend(), same);
    if (!tangled_ && open_.empty()) {
      fault(open, fmt::format("</{}> closes nothing", shown(tag)));
    } else if (!tangled_) {
      const Open& last = open_.back();
      fault(open, fmt::format("</{}> stands where <{}> of line {} must be closed", shown(tag), shown(last),
                              line(last.name)));
    }
    malformed_ = true;
    if (ancestor != open_.rend()) open_.erase(ancestor.base() - 1, open_.end());
  }

  // "<!": comments; everything else is refused.
  const char* declaration(const char* at) {
    if (begins(at, "<!--")) return comment(at);
    if (begins(at, "<![CDATA[")) {
      const std::size_t close = rest(at).find("]]>");
      if (close == std::string_view::npos) return unclosed(at, "<![CDATA[", "]]>");
      misplaced(at, "no element holds text");
      if (open_.empty()) malformed_ = true;
      return behind(at + close + 2);
    }
    if (begins(at, "<!DOCTYPE")) {
      fault(at, "a DOCTYPE is not read: a document defines nothing of its own; delete it");
      const std::size_t close = rest(at).find_first_of("[>");
      if (close == std::string_view::npos || at[close] == '[') {
        stop_ = true;
        return end_;
      }
      return behind(at + close);
    }
    fault(at, "<! begins neither a comment nor anything else that is read here; delete it");
    text_ = at + 1;
    return specials_.next();
  }

  const char* comment(const char* at) {
    const std::string_view all = rest(at);
    std::size_t close = all.find("--", 4);
    if (close != std::string_view::npos && close + 2 < all.size() && all[close + 2] != '>') {
      fault(at + close, "-- cannot stand within a comment");
      close = all.find("-->", close);
    }
    if (close == std::string_view::npos || close + 2 >= all.size()) return unclosed(at, "a comment", "-->");
    return behind(at + close + 2);
  }

  // "<?": the XML declaration at the very beginning; others are passed over.
  const char* instruction(const char* at) {
    const std::size_t close = rest(at).find("?>", 2);
    if (close == std::string_view::npos) return unclosed(at, "<?", "?>");
    const std::string_view target = name_at(at + 2);
    if (target.empty()) {
      fault(at, "a name must follow <? at once");
    } else if (is_xml(target)) {
      if (at != prolog_)
        fault(at, "an XML declaration must be the very first thing in the file");
      else if (auto wrong = fault_of_declaration(rest(at).substr(0, close)); !wrong.empty())
        fault(at, std::move(wrong));
    }
    return behind(at + close + 1);
  }

  const char* const end_;
  std::vector<std::uint32_t>& line_starts_;
  installation::Texts& texts_;
  Faults& faults_;
  Taker& taker_;
  Specials specials_;
  Written written_;
  std::vector<Open> open_;
  std::string_view prefix_;       // of the root's name
  const char* prolog_ = nullptr;  // the first byte behind a byte order mark
  const char* text_ = nullptr;    // behind the last markup
  const char* resume_ = nullptr;
  bool has_references_ = false;  // the value that value_end looked at
  bool met_root_ = false;
  bool stop_ = false, malformed_ = false;
  bool tangled_ = false;  // a tag was broken: what closes what is no longer known
};

}  // namespace

bool read_strictly(std::string_view bytes, const ReadingInto& into, Taker& taker) {
  if (const std::string wrong = fault_of_encoding(bytes); !wrong.empty()) {
    into.line_starts.push_back(0);
    into.faults.add(0, wrong);
    return false;
  }
  return Scanner(bytes, into, taker).run();
}

}  // namespace raceward::document
