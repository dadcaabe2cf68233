// Values of attributes, by the form that the vocabulary wants.
#include <fmt/format.h>

#include <bit>

#include "document/characters.hpp"
#include "document/nearest.hpp"
#include "document/reader.hpp"
#include "quantity/fault.hpp"

namespace raceward::document {
namespace {

constexpr std::size_t longest_word = 256;

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && is_blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && is_blank(text.back())) text.remove_suffix(1);
  return text;
}

// A whole number of at most nine digits; -1 where the text is none.
std::int64_t whole_number(std::string_view text) {
  if (text.empty() || text.size() > 9) return -1;
  std::int64_t n = 0;
  for (const char c : text) {
    if (!is_digit(c)) return -1;
    n = n * 10 + (c - '0');
  }
  return n;
}

std::int64_t count_words(std::string_view text) {
  std::int64_t n = 0;
  while (!take_word(text).empty()) ++n;
  return n;
}

}  // namespace

std::string_view take_word(std::string_view& text) {
  std::size_t from = 0;
  while (from < text.size() && is_blank(text[from])) ++from;
  std::size_t to = from;
  while (to < text.size() && !is_blank(text[to])) ++to;
  const std::string_view word = text.substr(from, to - from);
  text.remove_prefix(to);
  return word;
}

bool is_word(std::string_view text) {
  if (text.empty() || text.size() > longest_word || text[0] == '-' || text[0] == '.') return false;
  for (std::size_t i = 0; i < text.size(); i += 16) {
    const std::size_t left = text.size() - i;
    const int good = std::countr_one(look_at_sixteen(text.data() + i, '\0').word);
    if (good < 16 && static_cast<std::size_t>(good) < left) return false;
  }
  return true;
}

// "R1", "R1+R2", "C1/h"
bool is_subject(std::string_view text) {
  for (;;) {
    const std::size_t end = text.find_first_of("+/");
    if (!is_word(text.substr(0, end))) return false;
    if (end == std::string_view::npos) return true;
    text.remove_prefix(end + 1);
  }
}

void Reader::value(std::string_view name, std::string_view text, const AttributeRow& row, unsigned position,
                   Fields& fields) {
  const Form& form = row.form;
  switch (form.kind) {
    case Form::Kind::text:
      fields.set(position, text);
      return;
    case Form::Kind::said:
      if (!trimmed(text).empty())
        fields.set(position, trimmed(text));
      else
        wrong(name, text, "it says nothing");
      return;
    case Form::Kind::words: {
      const std::uint8_t found = form.words->find_padded(text.data(), text.size());
      if (found != 0)
        fields.set(position, found);
      else if (!only_counted())
        wrong(name, text, "not a word that can stand here" + suggestion(text, form.words->terms));
      return;
    }
    case Form::Kind::quantity:
      quantity(name, text, form, position, fields);
      return;
    case Form::Kind::word:
    case Form::Kind::id:
    case Form::Kind::reference:
    case Form::Kind::conductor_reference:
      if (is_word(text))
        fields.set(position, text);
      else
        wrong(name, text,
              "write a word of letters, digits, _ - and ., beginning with a letter, a digit or _");
      return;
    case Form::Kind::subject:
      if (is_subject(text))
        fields.set(position, text);
      else
        wrong(name, text, "write an id as reports give it, such as R1, R1+R2 or C1/h");
      return;
    case Form::Kind::references:
    case Form::Kind::conductor_references: {
      const std::int64_t words = count_words(text);
      if (words == 0)
        wrong(name, text, "write ids with blanks between");
      else if (form.kind == Form::Kind::references && (words < form.least || words > form.most))
        wrong(name, text,
              form.least == form.most ? fmt::format("write {} ids", form.least)
                                      : fmt::format("{} ids; at most {} are read", words, form.most));
      else
        fields.set(position, text);
      return;
    }
    case Form::Kind::insulations:
      insulations(name, text, form, position, fields);
      return;
    case Form::Kind::position:
      position_in_space(name, text, form, position, fields);
      return;
    case Form::Kind::count: {
      const std::int64_t n = whole_number(trimmed(text));
      if (n >= form.least && n <= form.most)
        fields.set(position, n);
      else
        wrong(name, text, fmt::format("write a whole number from {} to {}", form.least, form.most));
      return;
    }
    case Form::Kind::date:
      if (const std::string_view date = trimmed(text); is_date(date))
        fields.set(position, date);
      else
        wrong(name, text, "write a date as year-month-day, as in 2026-05-01");
      return;
  }
}

void Reader::quantity(std::string_view name, std::string_view text, const Form& form, unsigned position,
                      Fields& fields) {
  const Parsed<Amount> parsed = parse_amount(text, form.dimension);
  if (!parsed)
    wrong(name, text, parsed.error().what);
  else if (parsed->count == 0 && form.least == 0 && trimmed(text)[0] == '-')
    wrong(name, text, "must not be negative");
  else if (within(name, text, form, parsed->count))
    fields.set(position, parsed->count);
}

bool Reader::within(std::string_view name, std::string_view text, const Form& form, std::int64_t count) {
  if (count > form.most) {
    wrong(name, text,
          fmt::format("more than {}, the most that makes sense here", text_of(Amount{form.most, form.unit})));
    return false;
  }
  if (count > form.least || (count == form.least && !form.above_least)) return true;
  if (form.above_least)
    wrong(name, text, "must be more than 0");
  else if (form.least == 0)
    wrong(name, text, "must not be negative");
  else
    wrong(
        name, text,
        fmt::format("less than {}, the least that makes sense here", text_of(Amount{form.least, form.unit})));
  return false;
}

void Reader::position_in_space(std::string_view name, std::string_view text, const Form& form,
                               unsigned position, Fields& fields) {
  std::string_view rest = text;
  for (Length& coordinate : fields.place) {
    const std::string_view word = take_word(rest);
    if (word.empty()) {
      wrong(name, text, "write three lengths with blanks between, as in 12ft 0ft 30in");
      return;
    }
    const Parsed<Length> parsed = parse_length(word);
    if (!parsed) {
      wrong(name, word, parsed.error().what);
      return;
    }
    if (!within(name, word, form, parsed->count())) return;
    coordinate = *parsed;
  }
  if (!take_word(rest).empty())
    wrong(name, text, "write three lengths with blanks between, as in 12ft 0ft 3ft6in");
  else
    fields.set(position, text);
}

void Reader::insulations(std::string_view name, std::string_view text, const Form& form, unsigned position,
                         Fields& fields) {
  std::uint64_t marks = 0;
  for (std::string_view rest = text;;) {
    const std::size_t slash = rest.find('/');
    const std::string_view mark = rest.substr(0, slash);
    const std::uint8_t found = form.words->find_padded(mark.data(), mark.size());
    if (found == 0 && only_counted()) return;
    if (found == 0) {
      wrong(name, text,
            fmt::format("{} is not a mark of insulation{}", quantity::quoted(mark),
                        suggestion(mark, form.words->terms)));
      return;
    }
    marks |= std::uint64_t{1} << (found - 1);
    if (slash == std::string_view::npos) break;
    rest.remove_prefix(slash + 1);
  }
  fields.set(position, static_cast<std::int64_t>(marks));
}

}  // namespace raceward::document
