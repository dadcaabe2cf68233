#include "ruleset/xpath_compared.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <utility>

#include "ruleset/text_file.hpp"
#include "ruleset/xpath_operand.hpp"

namespace raceward::ruleset {
namespace {

using Kind = XpathWord::Kind;
using Words = std::span<const XpathWord>;

int deeper(const XpathWord& word) {
  return word.is("(") || word.is("[") ? 1 : word.is(")") || word.is("]") ? -1 : 0;
}

/// Where a word stands outside of brackets for which this holds; size() where none does.
template <class Is>
std::size_t outside(Words words, Is is) {
  int depth = 0;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (depth == 0 && is(words[i])) return i;
    depth += deeper(words[i]);
  }
  return words.size();
}

bool is_comparison(const XpathWord& word) {
  constexpr std::string_view signs[] = {"=", "!=", "<", "<=", ">", ">="};
  return std::any_of(std::begin(signs), std::end(signs), [&](std::string_view s) { return word.is(s); });
}

/// Without brackets around all of it.
Words bare(Words words) {
  while (words.size() > 2 && words.front().is("(") &&
         outside(words.subspan(1), [](const XpathWord& w) { return w.is(")"); }) == words.size() - 2)
    words = words.subspan(1, words.size() - 2);
  return words;
}

std::string joined(Words words) {
  std::string out;
  for (const XpathWord& w : words) {
    out += w.kind == Kind::variable ? "$" : w.kind == Kind::text ? "'" : "";
    out.append(w.text);
    if (w.kind == Kind::text) out += "'";
  }
  return out;
}

/// One value: of the subject itself, or of a function. A path to other elements may lead to several.
bool is_one(Words words) {
  int depth = 0;
  for (std::size_t i = 0; i < words.size(); ++i) {
    const XpathWord& w = words[i];
    const bool follows_at = i > 0 && words[i - 1].is("@");
    const bool calls = i + 1 < words.size() && words[i + 1].is("(");
    if (depth == 0 && w.kind == Kind::axis) return false;
    if (depth == 0 && w.kind == Kind::name && !w.follows_operand && !follows_at && !calls &&
        w.text != "figures" && w.text != "stated")
      return false;
    depth += deeper(w);
  }
  return true;
}

std::string_view turned(std::string_view sign) {
  return sign == "<" ? ">" : sign == "<=" ? ">=" : sign == ">" ? "<" : sign == ">=" ? "<=" : sign;
}
std::string_view denied(std::string_view sign) {
  return sign == "<"    ? ">="
         : sign == "<=" ? ">"
         : sign == ">"  ? "<="
         : sign == ">=" ? "<"
         : sign == "="  ? "!="
                        : "=";
}

bool meets(double value, std::string_view sign, double other) {
  return sign == "<"    ? value < other
         : sign == "<=" ? value <= other
         : sign == ">"  ? value > other
         : sign == ">=" ? value >= other
         : sign == "="  ? value == other
                        : value != other;
}

bool is_above(std::string_view sign) { return sign.front() == '>'; }
bool is_below(std::string_view sign) { return sign.front() == '<'; }

/// Whether no number is as both say.
bool exclude(std::string_view a, double of_a, std::string_view b, double of_b) {
  if (a == "=") return !meets(of_a, b, of_b);
  if (b == "=") return !meets(of_b, a, of_a);
  if (!(is_above(a) && is_below(b)) && !(is_below(a) && is_above(b))) return false;
  const double low = is_above(a) ? of_a : of_b, high = is_above(a) ? of_b : of_a;
  return low > high || (low == high && (a.size() == 1 || b.size() == 1));
}

}  // namespace

std::optional<ExpressionFault> Compared::add(std::string_view expression) {
  const std::vector<XpathWord> words = xpath_words(expression);
  return either({words.data(), words.size() - 1}, all_);
}

bool Compared::always(std::string_view expression) const {
  if (!names_.may_lack.empty()) return false;  // what is absent meets neither a comparison nor its opposite
  const std::vector<XpathWord> all_words = xpath_words(expression);
  Words words = bare({all_words.data(), all_words.size() - 1});
  // It does where not all of its parts can fail at once.
  All failing;
  while (true) {
    const std::size_t end = outside(words, [](const XpathWord& w) { return w.is_operator("or"); });
    if (one(words.first(end), failing, false)) return true;
    if (end == words.size()) return false;
    words = words.subspan(end + 1);
  }
}

std::optional<ExpressionFault> Compared::either(Words words, All& all) const {
  words = bare(words);
  const auto is_or = [](const XpathWord& w) { return w.is_operator("or"); };
  if (outside(words, is_or) == words.size()) return each(words, all);
  // Each branch must be possible with what must hold besides; which of them does, nobody knows.
  while (true) {
    const std::size_t end = outside(words, is_or);
    All branch = all;
    if (auto fault = each(words.first(end), branch)) return fault;
    if (end == words.size()) return std::nullopt;
    words = words.subspan(end + 1);
  }
}

std::optional<ExpressionFault> Compared::each(Words words, All& all) const {
  while (true) {
    const std::size_t end = outside(words, [](const XpathWord& w) { return w.is_operator("and"); });
    const Words first = bare(words.first(end));
    const bool group = outside(first, [](const XpathWord& w) {
                         return w.is_operator("or") || w.is_operator("and");
                       }) < first.size();
    if (auto fault = group ? either(first, all) : one(first, all, true)) return fault;
    if (end == words.size()) return std::nullopt;
    words = words.subspan(end + 1);
  }
}

bool Compared::read(Words words, Known& out) const {
  if (words.size() != 1) return false;
  const XpathWord& word = words.front();
  out.written = joined(words);
  if (word.kind == Kind::text) {
    out.text = word.text;
    return true;
  }
  if (word.kind == Kind::number) {
    double value = 0;
    std::from_chars(word.text.data(), word.text.data() + word.text.size(), value);
    out.number = value;
    return true;
  }
  const Parameter* p = word.kind == Kind::variable ? names_.parameter(word.text) : nullptr;
  if (p == nullptr) return false;
  if (p->is_word) {
    out.text = p->text;
    return true;
  }
  const auto count = static_cast<double>(p->value.count);
  out.number =
      is_plain(facts::holds_of(p->value.unit)) ? count / static_cast<double>(number(1).count()) : count;
  return true;
}

std::optional<ExpressionFault> Compared::one(Words words, All& all, bool holds) const {
  words = bare(words);
  if (words.size() > 3 && words[0].kind == Kind::name && words[0].text == "not" && words[1].is("(") &&
      bare(words.subspan(1)).size() == words.size() - 3) {
    // What may be absent meets neither a comparison nor its opposite.
    return names_.may_lack.empty() ? one(words.subspan(2, words.size() - 3), all, !holds) : std::nullopt;
  }
  const std::size_t at = outside(words, is_comparison);
  if (at == words.size()) return std::nullopt;
  const Words left = words.first(at), right = words.subspan(at + 1);
  if (outside(right, is_comparison) < right.size() || outside(words, [](const XpathWord& w) {
                                                        return w.is_operator("or") || w.is_operator("and");
                                                      }) < words.size())
    return std::nullopt;
  Known known;
  Known ignored;
  const bool on_right = read(right, known);
  if (on_right ? read(left, ignored) : !read(left, known)) return std::nullopt;
  const Words value = on_right ? left : right;
  if (!is_one(value)) return std::nullopt;
  known.sign = on_right ? words[at].text : turned(words[at].text);
  if (!holds) known.sign = denied(known.sign);
  known.offset = words.front().offset;
  const std::string of = joined(value);
  for (const Known& other : all[of]) {
    const bool both = known.number && other.number;
    const bool apart = both ? exclude(known.sign, *known.number, other.sign, *other.number)
                            : known.number.has_value() == other.number.has_value() &&
                                  ((known.sign == "=" && other.sign == "=" && known.text != other.text) ||
                                   (known.sign != other.sign && known.text == other.text));
    if (!apart) continue;
    return ExpressionFault{
        known.offset, fmt::format("this can never hold: {} is to be {} {} and {} {} at once", of, other.sign,
                                  other.written, known.sign, known.written)};
  }
  all[of].push_back(std::move(known));
  return std::nullopt;
}

}  // namespace raceward::ruleset
