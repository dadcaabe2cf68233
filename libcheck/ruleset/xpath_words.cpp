#include "ruleset/xpath_words.hpp"

#include <array>

#include "ruleset/text_file.hpp"

namespace raceward::ruleset {
namespace {

using Kind = XpathWord::Kind;

constexpr bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; }
constexpr bool is_digit(char c) { return c >= '0' && c <= '9'; }
constexpr bool begins_name(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_'; }
constexpr bool in_name(char c) { return begins_name(c) || is_digit(c) || c == '-' || c == '.'; }

constexpr std::array<std::string_view, 24> marks{"//", "..", "::", "<=", ">=", "!=", "/", "@",
                                                 "(",  ")",  "[",  "]",  ",",  ".",  "=", "<",
                                                 ">",  "+",  "-",  "*",  "|",  ":",  "$", "!"};

class Splitter {
 public:
  explicit Splitter(std::string_view expression) : all_(expression) {}

  std::vector<XpathWord> split() {
    while (true) {
      while (at_ < all_.size() && is_blank(all_[at_])) ++at_;
      if (at_ == all_.size()) {
        add(Kind::end, at_, at_);
        return std::move(out_);
      }
      if (!one()) {
        add(Kind::faulty, at_, at_ + 1);
        return std::move(out_);
      }
    }
  }

 private:
  bool one() {
    const char c = all_[at_];
    if (c == '"' || c == '\'') return text(c);
    if (is_digit(c) || (c == '.' && at_ + 1 < all_.size() && is_digit(all_[at_ + 1]))) return number();
    if (begins_name(c)) return name(Kind::name, at_);
    if (c == '$' && at_ + 1 < all_.size() && begins_name(all_[at_ + 1])) return name(Kind::variable, at_ + 1);
    for (const std::string_view mark : marks) {
      if (all_.substr(at_).starts_with(mark)) {
        add(Kind::mark, at_, at_ + mark.size());
        at_ += mark.size();
        return true;
      }
    }
    return false;
  }

  bool text(char quote) {
    const std::size_t end = all_.find(quote, at_ + 1);
    if (end == std::string_view::npos) return false;
    add(Kind::text, at_ + 1, end);
    out_.back().offset = at_;
    at_ = end + 1;
    return true;
  }

  bool number() {
    std::size_t end = at_;
    bool point = false;
    while (end < all_.size() && (is_digit(all_[end]) || (all_[end] == '.' && !point)))
      point = all_[end++] == '.' || point;
    add(Kind::number, at_, end);
    at_ = end;
    return true;
  }

  bool name(Kind kind, std::size_t from) {
    std::size_t end = from;
    while (end < all_.size() && in_name(all_[end])) ++end;
    const bool axis = kind == Kind::name && all_.substr(end).starts_with("::");
    add(axis ? Kind::axis : kind, from, end);
    out_.back().offset = at_;
    at_ = axis ? end + 2 : end;
    return true;
  }

  void add(Kind kind, std::size_t from, std::size_t end) {
    XpathWord word{kind, all_.substr(from, end - from), from, false};
    if (!out_.empty()) {
      const XpathWord& last = out_.back();
      const bool was_operator = last.follows_operand && last.kind == Kind::name;
      word.follows_operand = (last.kind == Kind::name && !was_operator) || last.kind == Kind::variable ||
                             last.kind == Kind::number || last.kind == Kind::text || last.is(")") ||
                             last.is("]") || last.is(".") || last.is("..") ||
                             (last.is("*") && !last.follows_operand);
    }
    out_.push_back(word);
  }

  std::string_view all_;
  std::size_t at_ = 0;
  std::vector<XpathWord> out_;
};

constexpr XpathFunction functions[] = {
    {"boolean", 1, 1},       {"ceiling", 1, 1},         {"concat", 2, 9},
    {"contains", 2, 2},      {"count", 1, 1},           {"false", 0, 0},
    {"floor", 1, 1},         {"normalize-space", 1, 1}, {"not", 1, 1},
    {"number", 1, 1},        {"round", 1, 1},           {"starts-with", 2, 2},
    {"string-length", 1, 1}, {"substring-after", 2, 2}, {"substring-before", 2, 2},
    {"sum", 1, 1},           {"translate", 3, 3},       {"true", 0, 0},
};

}  // namespace

const XpathFunction* xpath_function(std::string_view name) {
  for (const XpathFunction& f : functions) {
    if (f.name == name) return &f;
  }
  return nullptr;
}

std::vector<std::string_view> xpath_function_names() {
  std::vector<std::string_view> all;
  for (const XpathFunction& f : functions) all.push_back(f.name);
  return all;
}

std::vector<XpathWord> xpath_words(std::string_view expression) { return Splitter(expression).split(); }

bool names_a_side(std::span<const XpathWord> words) {
  constexpr std::string_view marks[] = {"[", "@", "side", "="};
  if (words.size() < std::size(marks) + 2) return false;  // a text and ]
  for (std::size_t i = 0; i < std::size(marks); ++i) {
    if (words[i].text != marks[i]) return false;
  }
  return words[std::size(marks)].kind == XpathWord::Kind::text && words[std::size(marks) + 1].is("]");
}

std::string unexpected_fault(const XpathWord& word, const XpathWord* before) {
  if (word.kind == Kind::end) return "the expression ends too early";
  if (word.is("|")) return "| is not read here; write the two apart, with or between";
  if (word.is("=") && before != nullptr && before->is("=")) return "equal is written with one =";
  if (word.kind == Kind::faulty && (word.text == "'" || word.text == "\"")) return "this quote is not closed";
  if (word.kind == Kind::faulty && word.text == "&") return "& is not read here; write and";
  if (word.is("!")) return "! is not read here; write not(...) or !=";
  return quoted(word.text) + " has no meaning here";
}

bool begins_unit(const XpathWord& word) {
  return word.kind == Kind::name && word.text != "and" && word.text != "or" && word.text != "div" &&
         word.text != "mod";
}

std::string with_unit_fault(const XpathWord& number, const XpathWord& unit) {
  const std::string value = std::string(number.text) + std::string(unit.text);
  return value +
         " is no number of an expression: a number with a unit is a parameter, such as <parameter "
         "name=\"most\" value=" +
         quoted(value) + ">, and is written $most";
}

std::string function_fault(std::string_view name) {
  std::string all;
  for (const XpathFunction& f : functions) all += (all.empty() ? "" : ", ") + std::string(f.name) + "()";
  const std::string meant = suggestion(name, xpath_function_names());
  return "function " + quoted(name) + " is not read here" + (meant.empty() ? "; there are " + all : meant);
}

}  // namespace raceward::ruleset
