#include "ruleset/xpath_operand.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "ruleset/text_file.hpp"

namespace raceward::ruleset {

using facts::Holds;
using Form = Holds::Form;

namespace {

bool is_zero(const Operand& o) {
  return o.literal && o.word.find_first_not_of("0.") == std::string_view::npos;
}

std::string_view name_of(Dimension d) {
  constexpr std::string_view names[] = {"a plain number", "a length",    "an area",   "a volume",
                                        "an angle",       "a current",   "a voltage", "a temperature",
                                        "a power",        "a resistance"};
  return names[static_cast<std::size_t>(d)];
}

/// A word that the fact can never be would make the comparison false for ever.
std::optional<ExpressionFault> word_fault(const Operand& fact, const Operand& written) {
  if (fact.stated != nullptr && !fact.stated->words.empty() && !written.path &&
      written.word.data() != nullptr) {
    const std::vector<std::string>& words = fact.stated->words;
    if (std::find(words.begin(), words.end(), written.word) != words.end()) return std::nullopt;
    return ExpressionFault{written.from,
                           fmt::format("{} is no word of fact {}{}", quoted(written.word), fact.stated->name,
                                       suggestion(written.word, {words.begin(), words.end()}))};
  }
  if (fact.holds.form != Form::word || written.path || written.word.data() == nullptr) return std::nullopt;
  if (fact.holds.words->find(written.word) != 0) return std::nullopt;
  std::vector<std::string_view> all;
  for (const document::Term& term : fact.holds.words->terms) all.push_back(term.spelling);
  return ExpressionFault{written.from, fmt::format("{} is no word of this fact{}", quoted(written.word),
                                                   suggestion(written.word, all))};
}

/// How what somebody may have meant is compared all the same.
std::string order_of(const Operand& a, const Operand& b) {
  if (a.is != Operand::Is::text || b.is != Operand::Is::text) return {};
  for (const Operand* each : {&a, &b}) {
    const bool sizes = each->holds.words == &document::trade_size_words ||
                       each->holds.words == &document::conductor_size_words;
    if (each->holds.form == Form::word && sizes)
      return ". Sizes have an order in conditions: <if attribute=\"...\" at-least=\"...\"/> of <requires>";
  }
  for (const Operand* each : {&a, &b}) {
    if (each->literal && is_date(each->word)) {
      std::string digits(each->word);
      std::erase(digits, '-');
      return ". A date is compared as a number: number(translate(@permit-date, '-', '')) and " + digits;
    }
  }
  return {};
}

}  // namespace

bool is_plain(const Holds& h) { return h.form == Form::count || h.form == Form::number; }

std::string_view name_of(const Operand& o) {
  switch (o.is) {
    case Operand::Is::truth:
      return "a truth value";
    case Operand::Is::text:
      return "a text";
    case Operand::Is::elements:
      return "an element";
    case Operand::Is::number:
      break;
  }
  return o.holds.form == Form::share ? "a share" : name_of(o.holds.dimension);
}

Operand number_of(const Holds& holds, Exact exact, std::size_t from) {
  Operand out;
  out.is = Operand::Is::number;
  out.holds = holds;
  out.exact = exact;
  out.from = from;
  return out;
}

Operand path_to(const Holds& holds, std::size_t from, bool many, bool absent) {
  Operand out;
  out.is = holds.is_number() ? Operand::Is::number : Operand::Is::text;
  out.holds = holds;
  out.many = many;
  out.path = true;
  out.absent = absent;
  out.from = from;
  return out;
}

Operand operand_of(const Parameter& parameter, std::size_t from) {
  if (parameter.is_word) {
    Operand out;
    out.from = from;
    out.is = Operand::Is::text;
    out.word = parameter.text;
    return out;
  }
  const Holds holds = facts::holds_of(parameter.value.unit);
  const bool whole = holds.form != Form::number || parameter.value.count % number(1).count() == 0;
  return number_of(holds, whole ? Exact::whole : Exact::decimal, from);
}

ExpressionFault several_fault(const Operand& o) {
  return {o.from, "this may lead to several elements; only a comparison or sum() takes them"};
}

ExpressionFault rough_fault(const Operand& o) {
  return {
      o.from,
      "a quotient, or a product or a sum with a fraction, is not exact at a limit; take round(), floor() or "
      "ceiling() of it"};
}

ExpressionFault reckoned_date_fault(const Operand& o) {
  return {o.from,
          "number() of a text is compared, and neither added nor subtracted: 20260401 less 20260301 is no "
          "number of days. Compare each date with a day, or ask for the days between as a <fact>"};
}

std::optional<ExpressionFault> unlike_fault(const Operand& a, const Operand& b) {
  if (is_zero(a) || is_zero(b)) return std::nullopt;
  if (is_plain(a.holds) && is_plain(b.holds)) return std::nullopt;
  if (a.holds.form == b.holds.form && a.holds.dimension == b.holds.dimension) return std::nullopt;
  const Operand& bare = a.literal ? a : b;
  if (bare.literal) {
    return ExpressionFault{
        bare.from, fmt::format("{} has no unit, and stands beside {}; make it a parameter and write $name",
                               bare.word, name_of(a.literal ? b : a))};
  }
  if (a.holds.form == Form::share || b.holds.form == Form::share) {
    return ExpressionFault{
        a.from, fmt::format("{} beside {}: write the parameter as a percentage", name_of(a), name_of(b))};
  }
  return ExpressionFault{
      a.from, fmt::format("{} beside {}: these cannot be compared or added", name_of(a), name_of(b))};
}

std::optional<ExpressionFault> comparison_fault(const Operand& a, const Operand& b, bool ordered) {
  for (const Operand* each : {&a, &b}) {
    if (each->is == Operand::Is::elements) {
      return ExpressionFault{each->from,
                             "an element has no value; compare a fact of it, such as raceway/@type"};
    }
  }
  for (const auto& [list, other] : {std::pair{&a, &b}, std::pair{&b, &a}}) {
    if (list->holds.between == 0 || list->is != Operand::Is::text || other->is != Operand::Is::text) continue;
    const bool marks = list->holds.between == '/';
    return ExpressionFault{
        list->from, fmt::format("this may hold several; one is looked for within them, of one element at a "
                                "time, such as contains(concat('{0}', {1}, '{0}'), '{0}{2}{0}')",
                                list->holds.between, marks ? "@insulation" : "@circuit",
                                other->literal && !other->word.empty() ? other->word
                                : marks                                ? "THHN"
                                                                       : "C1")};
  }
  if (a.many && b.many) {
    return ExpressionFault{
        a.from,
        "several are compared with several, which takes too long where there are many; make "
        "one of the two the subject of the rule"};
  }
  if (a.is != b.is)
    return ExpressionFault{a.from, fmt::format("{} is compared with {}", name_of(a), name_of(b))};
  if (a.is == Operand::Is::number) {
    if (auto fault = unlike_fault(a, b)) return fault;
    for (const Operand* each : {&a, &b}) {
      if (each->exact == Exact::rough) return rough_fault(*each);
    }
    return std::nullopt;
  }
  if (ordered) {
    return ExpressionFault{
        a.from, fmt::format("{} has no order; compare it with = or !={}", name_of(a), order_of(a, b))};
  }
  if (a.is != Operand::Is::text) return std::nullopt;
  auto fault = word_fault(a, b);
  return fault ? fault : word_fault(b, a);
}

std::string with_article(std::string_view name) {
  const bool vowel = !name.empty() && std::string_view("aeiou").find(name.front()) != std::string_view::npos;
  return (vowel ? "an " : "a ") + std::string(name);
}

std::string figure_fault(const facts::Shape& shape, std::string_view name) {
  std::vector<std::string_view> all;
  for (const figure::Info* each : shape.figures) all.push_back(each->name);
  const std::string bearer = with_article(shape.name);
  if (!shape.is_subject)
    return fmt::format("{} that is joined bears no figure but {}", bearer, fmt::join(all, ", "));
  return fmt::format("{} has no figure {}{}", bearer, quoted(name), suggestion(name, all));
}

std::string child_fault(const facts::Shape& shape, std::string_view name, bool followed) {
  const std::string in = with_article(shape.name);
  if (shape.fact(name) != nullptr && followed)
    return fmt::format("{} is a fact of {}, and leads no further; @{} is all that is read of it",
                       quoted(name), in, name);
  if (shape.fact(name) != nullptr) return fmt::format("{} is a fact; write @{}", quoted(name), name);
  if (name == "figures")
    return fmt::format(
        "{} that is joined bears facts and no figures; figures are those of the subject of the rule", in);
  if (shape.figure(name) != nullptr)
    return fmt::format("{} is a figure; write figures/@{}", quoted(name), name);
  return fmt::format("{} has no {} in it{}", in, quoted(name), suggestion(name, names_of(shape.children)));
}

std::optional<ExpressionFault> truth_fault(const Operand& o) {
  if (o.is == Operand::Is::truth || o.absent) return std::nullopt;
  if (o.is == Operand::Is::elements || o.path) {
    return ExpressionFault{
        o.from,
        "whether this is there cannot be asked: where it is not, nothing is known. Compare it, or name it in "
        "may-lack where its absence is a statement"};
  }
  return ExpressionFault{o.from, fmt::format("this gives {}, and a condition is wanted", name_of(o))};
}

std::optional<ExpressionFault> must_fault(const Operand& o) {
  if (!o.one_makes) return std::nullopt;
  return ExpressionFault{
      *o.one_makes,
      "this holds as soon as one of several does. Where each must, write that none does not: "
      "not(circuit/@voltage > $most); where one is enough, say so with count() or sum(): "
      "count(circuit[@voltage <= $most]) > 0"};
}

}  // namespace raceward::ruleset
