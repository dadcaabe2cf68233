#include "ruleset/conditions.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <numbers>
#include <utility>

#include "document/vocabulary.hpp"
#include "facts/relations.hpp"
#include "facts/shape.hpp"
#include "figure/figure.hpp"
#include "ruleset/exclusion.hpp"
#include "ruleset/resolve_rule.hpp"
#include "ruleset/values.hpp"

namespace raceward::ruleset {
namespace {

using document::Form;
using Bound = Condition::Bound;
using Words = std::vector<std::string>;

Words split(std::string_view text) {
  Words out;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find_first_of(" \t\r\n"), text.size());
    if (end > 0) out.emplace_back(text.substr(0, end));
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return out;
}

/// Words with blanks in them, such as sizes of boxes and conductors, are written with commas between.
Words listed(std::string_view text) {
  if (text.find(',') == std::string_view::npos) return split(text);
  Words out;
  for (std::size_t at = 0; at <= text.size();) {
    const std::size_t end = std::min(text.find(',', at), text.size());
    out.emplace_back(trimmed(text.substr(at, end - at)));
    at = end + 1;
  }
  return out;
}

std::string joined(const Words& words, std::string_view between = ", ") {
  std::string out;
  for (const std::string& word : words) out += (out.empty() ? "" : std::string(between)) + word;
  return out;
}

template <class Term>
Words all_words(Term) {
  Words words;
  for (const auto& term : installation::terms_of(Term{})) words.emplace_back(term.spelling);
  return words;
}

std::optional<SubjectKind> kind_named(std::string_view name) {
  for (std::uint8_t k = 0; k < subject_kind_count; ++k) {
    std::string own(raceward::name_of(static_cast<SubjectKind>(k)));
    std::replace(own.begin(), own.end(), ' ', '-');
    if (own == name) return static_cast<SubjectKind>(k);
  }
  return std::nullopt;
}

double leading_number(std::string_view text) {
  double out = 0;
  std::from_chars(text.data(), text.data() + text.size(), out);
  return out;
}

/// Area of a conductor of that size in circular mils; not law: gauges and mils are defined so.
double area_of(std::string_view size) {
  const double written = leading_number(size);
  if (size.ends_with("kcmil")) return written * 1000;
  if (size.ends_with("mm2")) {
    const double mils_of_mm = 10'000 / double{254};
    return written * 4 / std::numbers::pi * mils_of_mm * mils_of_mm;
  }
  const double gauge = size.find("/0") == std::string_view::npos ? written : 1 - written;
  const double mils = 5 * std::pow(92, (36 - gauge) / 39);
  return mils * mils;
}

/// What a value can be: what is compared depends on it.
struct Sort {
  enum class Kind : std::uint8_t { words, quantity, count, date } kind{};
  Dimension dimension = Dimension::none;
  Words words;  ///< which there are; empty: any
  enum class Order : std::uint8_t { none, trade_sizes, conductor_sizes } order{};
  bool share = false;  ///< told in percent: a bare number would be a hundred times as much
};

class Reader {
 public:
  Reader(const TextFile& file, const DeclaredFacts& facts, Problems& problems,
         std::optional<SubjectKind> about = std::nullopt)
      : file_(file), facts_(facts), problems_(problems), about_(about) {}

  Condition where(const WhereFields& w) {
    const std::size_t before = problems_.size();
    Condition all;
    words(all, w.occupancy, "installation", "occupancy");
    words(all, w.use, "area", "use");
    words(all, w.location, "area", "location");
    words(all, w.circuit, "circuit", "kind");
    words(all, w.raceway, "raceway", "type");
    if (w.permit_from.written || w.permit_before.written) {
      Condition date;
      date.kind = Condition::Kind::attribute;
      date.element = "installation";
      date.name = "permit-date";
      bound(date.low, Bound::Kind::at_least, w.permit_from, {Sort::Kind::date, {}, {}, {}});
      bound(date.high, Bound::Kind::less_than, w.permit_before, {Sort::Kind::date, {}, {}, {}});
      all.parts.push_back(std::move(date));
    }
    for (const ConditionFields& c : w.conditions) all.parts.push_back(one(c));
    if (all.parts.empty()) problem(w.offset, "<where> says no condition; what holds always stands outside");
    if (problems_.size() == before) possible(all.parts, w.offset);
    return all;
  }

  Condition all(const std::vector<ConditionFields>& conditions) {
    const std::size_t before = problems_.size();
    Condition all;
    for (const ConditionFields& c : conditions) all.parts.push_back(one(c));
    if (problems_.size() == before && !conditions.empty()) possible(all.parts, conditions.front().offset);
    return all;
  }

 private:
  void problem(std::size_t at, std::string message) { problems_.add(file_, at, std::move(message)); }

  void possible(const std::vector<Condition>& all, std::size_t at) {
    if (const auto both = never_hold(all, about_, facts_))
      problem(at, "this can never hold: " + *both + " exclude each other; take one of them away");
  }

  void words(Condition& all, const Field& field, const char* element, const char* attribute) {
    if (!field.written) return;
    Condition c;
    c.kind = Condition::Kind::attribute;
    c.element = element;
    c.name = attribute;
    if (const auto sort = sort_of(c, field.offset))
      c.words = checked(listed(field.text), *sort, field.offset);
    all.parts.push_back(std::move(c));
  }

  Condition one(const ConditionFields& fields) {
    Condition c;
    if (fields.element == "count") return counted(fields);
    if (fields.element != "if") {
      c.kind = fields.element == "any"   ? Condition::Kind::any
               : fields.element == "all" ? Condition::Kind::all
                                         : Condition::Kind::none_of;
      for (const ConditionFields& part : fields.parts) c.parts.push_back(one(part));
      return c;
    }
    const Field* const named[] = {&fields.attribute, &fields.fact, &fields.figure, &fields.attested};
    const Field* what = nullptr;
    for (const Field* each : named) {
      if (!each->written) continue;
      if (what != nullptr) problem(each->offset, "an <if> asks for one thing; write two of them");
      what = each;
    }
    if (what == nullptr) {
      problem(fields.offset, "<if> says not what it asks for: write attribute, fact, figure or attested");
      return c;
    }
    compare(c, *what, fields);
    return c;
  }

  Condition counted(const ConditionFields& fields) {
    Condition c;
    c.kind = Condition::Kind::count;
    c.element = fields.of.text;
    if ((!kind_named(c.element) || c.element == "attestation") && !c.element.empty())
      problem(fields.of.offset, "there is no kind of element " + quoted(c.element) + " to be counted");
    const std::optional<SubjectKind> counted = kind_named(c.element);
    leads_to(counted, fields.of.offset);
    const std::optional<SubjectKind> about = std::exchange(about_, counted);
    c.parts = all(fields.parts).parts;
    about_ = about;
    const Sort count{Sort::Kind::count, Dimension::none, {}, {}};
    if (fields.is.written) equal(c, count, fields.is);
    bound(c.low, Bound::Kind::at_least, fields.at_least, count);
    bound(c.low, Bound::Kind::more_than, fields.more_than, count);
    bound(c.high, Bound::Kind::at_most, fields.at_most, count);
    bound(c.high, Bound::Kind::less_than, fields.less_than, count);
    if (apart(c.high, c.low)) problem(fields.offset, "no number lies between these bounds");
    const bool never = (c.high.kind == Bound::Kind::at_most && c.high.amount.count < 0) ||
                       (c.high.kind == Bound::Kind::less_than && c.high.amount.count <= 0);
    const bool ever = c.high.kind == Bound::Kind::none &&
                      ((c.low.kind == Bound::Kind::at_least && c.low.amount.count <= 0) ||
                       (c.low.kind == Bound::Kind::more_than && c.low.amount.count < 0));
    if (never) problem(fields.offset, "there are never so few: this could not hold");
    if (ever) problem(fields.offset, "there are always so many: this asks nothing");
    if (c.low.kind == Bound::Kind::none && c.high.kind == Bound::Kind::none)
      problem(fields.offset,
              "<count> says not how many: write is, at-least, at-most, more-than or less-than");
    return c;
  }

  void compare(Condition& c, const Field& what, const ConditionFields& fields) {
    c.name = what.text;
    const bool compares = fields.is.written || fields.at_least.written || fields.at_most.written ||
                          fields.more_than.written || fields.less_than.written;
    if (&what == &fields.attested) {
      c.kind = Condition::Kind::attested;
      if (compares) problem(fields.offset, "what is attested holds; leave the comparison out");
      if (!is_word(c.name)) problem(what.offset, quoted(c.name) + " is no word");
      return;
    }
    std::optional<Sort> sort;
    if (&what == &fields.attribute) {
      c.kind = Condition::Kind::attribute;
      const std::size_t at = c.name.find('@');
      c.element = c.name.substr(0, at);
      c.name = at == std::string::npos ? std::string{} : c.name.substr(at + 1);
      sort = sort_of(c, what.offset);
    } else if (&what == &fields.fact) {
      c.kind = Condition::Kind::fact;
      sort = sort_of_fact(c, what.offset);
    } else {
      c.kind = Condition::Kind::figure;
      sort = sort_of_figure(c, what.offset);
    }
    if (!sort) return;
    if (!compares)
      return problem(
          fields.offset,
          "<if> says not with what it compares: write is, at-least, at-most, more-than or less-than");
    if (sort->order != Sort::Order::none && !fields.is.written) return sizes(c, *sort, fields);
    if (fields.is.written) equal(c, *sort, fields.is);
    bound(c.low, Bound::Kind::at_least, fields.at_least, *sort);
    bound(c.low, Bound::Kind::more_than, fields.more_than, *sort);
    bound(c.high, Bound::Kind::at_most, fields.at_most, *sort);
    bound(c.high, Bound::Kind::less_than, fields.less_than, *sort);
    if (apart(c.high, c.low)) problem(fields.offset, "nothing lies between these bounds");
  }

  void equal(Condition& c, const Sort& sort, const Field& is) {
    if (sort.kind == Sort::Kind::words) {
      c.words = checked(listed(is.text), sort, is.offset);
    } else {
      bound(c.low, Bound::Kind::at_least, is, sort);
      bound(c.high, Bound::Kind::at_most, is, sort);
    }
  }

  /// Sizes are words with an order: what lies between bounds is a list of them. Conductors are ordered by
  /// their area; trade sizes within a system, for those in inches and in millimetres measure different
  /// things.
  void sizes(Condition& c, const Sort& sort, const ConditionFields& fields) {
    const bool conductors = sort.order == Sort::Order::conductor_sizes;
    const auto size_of = [&](std::string_view word) {
      if (conductors) return area_of(word);
      const auto at = std::find(sort.words.begin(), sort.words.end(), word);
      return static_cast<double>(at - sort.words.begin());
    };
    const auto metric = [](std::string_view word) { return word.ends_with(" mm"); };
    Words within = sort.words;
    for (const auto& [field, kind] : {std::pair{&fields.at_least, Bound::Kind::at_least},
                                      std::pair{&fields.more_than, Bound::Kind::more_than},
                                      std::pair{&fields.at_most, Bound::Kind::at_most},
                                      std::pair{&fields.less_than, Bound::Kind::less_than}}) {
      if (!field->written) continue;
      const std::size_t before = problems_.size();
      checked({field->text}, sort, field->offset);
      if (problems_.size() != before) return;
      const bool low = kind == Bound::Kind::at_least || kind == Bound::Kind::more_than;
      Bound& side = low ? c.low : c.high;
      if (side.kind != Bound::Kind::none) return problem(field->offset, "two bounds on the same side");
      side.kind = kind;
      side.date = field->text;
      const double limit = size_of(field->text);
      const bool beside = kind == Bound::Kind::more_than || kind == Bound::Kind::less_than;
      const bool in_metric = metric(field->text);
      std::erase_if(within, [&](const std::string& word) {
        const double size = size_of(word);
        if (!conductors && metric(word) != in_metric) return true;
        return (low ? size < limit : size > limit) || (beside && size == limit);
      });
    }
    c.words = std::move(within);
    if (!c.words.empty()) return;
    const bool mixed = c.low.kind != Bound::Kind::none && c.high.kind != Bound::Kind::none &&
                       metric(c.low.date) != metric(c.high.date);
    problem(fields.offset, mixed ? "these bounds are of two systems of sizes, which have no common order"
                                 : "no size lies between these bounds");
  }

  void bound(Bound& into, Bound::Kind kind, const Field& field, const Sort& sort) {
    if (!field.written) return;
    if (into.kind != Bound::Kind::none) return problem(field.offset, "two bounds on the same side");
    into.kind = kind;
    if (sort.kind == Sort::Kind::words) return problem(field.offset, "words have no order; write is=");
    if (sort.kind == Sort::Kind::date) {
      into.date = field.text;
      if (!is_date(field.text))
        problem(field.offset, quoted(field.text) + " is no date; write year-month-day, such as 2024-01-01");
      return;
    }
    const Parsed<Amount> amount = parse_amount(field.text, sort.dimension);
    if (amount && sort.share && amount->unit != Unit::percent && amount->count != 0)
      problem(field.offset, quoted(field.text) + " is no share; write " + share_meant(field.text, *amount));
    else if (amount)
      into.amount = *amount;
    else
      problem(field.offset, quoted(field.text) + ": " + amount.error().what);
  }

  /// A number up to one is a part of the whole, and one above it a percentage without its sign.
  static std::string share_meant(const std::string& text, const Amount& number) {
    if (number.count > raceward::number(1).count()) return quoted(text + "%");
    return quoted(text_of(Amount{number.count, Unit::percent})) + " for " + text + " of the whole";
  }

  Words checked(Words words, const Sort& sort, std::size_t at) {
    std::vector<std::string_view> known(sort.words.begin(), sort.words.end());
    for (const std::string& word : words) {
      if (known.empty() || std::find(known.begin(), known.end(), word) != known.end()) continue;
      problem(at, quoted(word) + " is no word that documents have for it" + suggestion(word, known) +
                      "; known: " + joined(sort.words));
    }
    return words;
  }

  /// A condition about one kind of element asks for what that has to do with.
  void leads_to(std::optional<SubjectKind> kind, std::size_t at) {
    if (!about_ || !kind || facts::related(*about_, *kind)) return;
    problem(at, "a condition about each " + std::string(facts::word_of(*about_)) + " leads to no " +
                    std::string(facts::word_of(*kind)) + "; it may ask for " + facts::related_to(*about_));
  }

  std::optional<Sort> sort_of(const Condition& c, std::size_t at) {
    const std::uint8_t found = document::element_words.find(c.element);
    static constexpr std::string_view asked[] = {
        "installation", "area",          "panel",        "overcurrent-device",
        "box",          "equipment",     "conduit-body", "joint",
        "raceway",      "circuit",       "wiring",       "conductor",
        "device",       "bonding-jumper"};
    if (found == 0 || std::find(std::begin(asked), std::end(asked), c.element) == std::end(asked)) {
      problem(at, "conditions ask for no attributes of " + quoted(c.element) +
                      suggestion(c.element, {std::begin(asked), std::end(asked)}) +
                      "; write an element and its attribute, such as area@use");
      return std::nullopt;
    }
    leads_to(c.element == "wiring" ? SubjectKind::circuit : kind_named(c.element), at);
    const document::ElementRow& row = document::row_of(static_cast<document::Element>(found - 1));
    const std::uint8_t position = row.attributes.find(c.name);
    if (position == 0) {
      std::vector<std::string_view> names;
      for (const auto& term : row.attributes.terms) names.push_back(term.spelling);
      const bool of_wiring =
          c.element == "circuit" && document::row_of(document::Element::wiring).attributes.find(c.name) != 0;
      problem(at, "<" + c.element + "> has no attribute " + quoted(c.name) +
                      (of_wiring ? "; write wiring@" + c.name : suggestion(c.name, names)));
      return std::nullopt;
    }
    const Form& form = row.rows[position - 1U].form;
    switch (form.kind) {
      case Form::Kind::quantity:
        return Sort{Sort::Kind::quantity, form.dimension, {}, {}};
      case Form::Kind::count:
        return Sort{Sort::Kind::count, Dimension::none, {}, {}};
      case Form::Kind::date:
        return Sort{Sort::Kind::date, {}, {}, {}};
      case Form::Kind::position:
        problem(at, "a position cannot be compared");
        return std::nullopt;
      case Form::Kind::words:
      case Form::Kind::insulations: {
        Words words;
        for (const auto& term : form.words->terms) words.emplace_back(term.spelling);
        const Sort::Order order = form.words == &document::trade_size_words ? Sort::Order::trade_sizes
                                  : form.words == &document::conductor_size_words
                                      ? Sort::Order::conductor_sizes
                                      : Sort::Order::none;
        return Sort{Sort::Kind::words, {}, std::move(words), order};
      }
      default:
        return Sort{Sort::Kind::words, {}, {}, {}};
    }
  }

  std::optional<Sort> sort_of_fact(const Condition& c, std::size_t at) {
    const auto found = facts_.find(c.name);
    if (found == facts_.end()) {
      std::vector<std::string_view> names;
      for (const auto& [name, fact] : facts_) names.push_back(name);
      problem(at, "no <fact> declares " + quoted(c.name) + suggestion(c.name, names));
      return std::nullopt;
    }
    const DeclaredFact& fact = found->second;
    if (fact.name.empty()) return std::nullopt;  // its declaration is faulty, which was said there
    leads_to(fact.of, at);
    switch (fact.kind) {
      case DeclaredFact::Kind::quantity:
        return Sort{Sort::Kind::quantity, dimension_of(fact.unit), {}, {}, fact.unit == Unit::percent};
      case DeclaredFact::Kind::date:
        return Sort{Sort::Kind::date, {}, {}, {}};
      case DeclaredFact::Kind::yes_no:
        return Sort{Sort::Kind::words, {}, {"yes", "no"}, {}};
      case DeclaredFact::Kind::word:
        break;
    }
    const Sort::Order order = fact.words == all_words(installation::TradeSize{}) ? Sort::Order::trade_sizes
                              : fact.words == all_words(installation::ConductorSize{})
                                  ? Sort::Order::conductor_sizes
                                  : Sort::Order::none;
    return Sort{Sort::Kind::words, {}, fact.words, order};
  }

  /// "length-of-raceway" and "raceway-length".
  static std::string of_like_words(std::string_view written, const std::vector<std::string_view>& names) {
    constexpr std::size_t most = 4, short_word = 3;
    std::size_t best = 1;
    std::vector<std::string_view> like;
    for (const std::string_view name : names) {
      std::size_t common = 0;
      for (std::size_t at = 0; at < written.size();) {
        const std::size_t end = std::min(written.find('-', at), written.size());
        const std::string_view word = written.substr(at, end - at);
        const std::size_t found = word.size() > short_word ? name.find(word) : std::string_view::npos;
        common += found != std::string_view::npos ? 1 : 0;
        at = end + 1;
      }
      if (common > best) like.clear();
      best = std::max(best, common);
      if (common == best && like.size() < most) like.push_back(name);
    }
    std::string out;
    for (const std::string_view name : like) out += (out.empty() ? "; there is " : ", ") + std::string(name);
    return out.empty() ? "; raceward figures lists them" : out;
  }

  std::optional<Sort> sort_of_figure(const Condition& c, std::size_t at) {
    const figure::Info* found = figure::find(c.name);
    if (found != nullptr) {
      leads_to(found->subject, at);
      return Sort{Sort::Kind::quantity, dimension_of(found->unit), {}, {}, found->unit == Unit::percent};
    }
    std::vector<std::string_view> names;
    for (const figure::Info& info : figure::all()) names.push_back(info.name);
    const std::string meant = suggestion(c.name, names);
    problem(at,
            "there is no figure " + quoted(c.name) + (meant.empty() ? of_like_words(c.name, names) : meant));
    return std::nullopt;
  }

  const TextFile& file_;
  const DeclaredFacts& facts_;
  Problems& problems_;
  std::optional<SubjectKind> about_;  // what the conditions are asked of; none: of many kinds
};

std::string words_of(const Bound& bound) {
  static constexpr std::string_view names[] = {"", "at least", "at most", "more than", "less than"};
  if (bound.kind == Bound::Kind::none) return {};
  return std::string(names[static_cast<std::size_t>(bound.kind)]) + " " +
         (bound.date.empty() ? text_of(bound.amount) : bound.date);
}

}  // namespace

std::optional<DeclaredFact> declared(const FactFields& fields, const TextFile& file, Problems& problems) {
  DeclaredFact fact;
  const std::size_t before = problems.size();
  const auto problem = [&](const Field& field, std::string message) {
    problems.add(file, field.offset, std::move(message));
  };
  fact.name = fields.name.text;
  fact.title = fields.title.text;
  fact.place = file.at(fields.name.offset);
  if (!is_word(fact.name) && !fact.name.empty())
    problem(fields.name,
            "fact " + quoted(fact.name) + " is no name; write small letters, digits and hyphens");
  const std::optional<SubjectKind> of = kind_named(fields.of.text);
  const bool known = of && *of != SubjectKind::pull_section && *of != SubjectKind::conductor &&
                     *of != SubjectKind::attestation && *of != SubjectKind::place;
  if (known) {
    fact.of = *of;
  } else if (!fields.of.text.empty()) {
    problem(fields.of,
            "facts are of an installation, area, panel, overcurrent-device, box, conduit-body, equipment, "
            "joint, raceway, circuit, device or bonding-jumper, and not of " +
                quoted(fields.of.text));
  }
  const std::string& value = fields.value.text;
  const bool takes_words = value == "word";
  if (fields.words.written && !takes_words) problem(fields.words, "words are those of value=\"word\"");
  if (takes_words) {
    fact.words = listed(fields.words.text);
  } else if (value == "trade-size") {
    fact.words = all_words(installation::TradeSize{});
  } else if (value == "conductor-size") {
    fact.words = all_words(installation::ConductorSize{});
  } else if (value == "yes-no") {
    fact.kind = DeclaredFact::Kind::yes_no;
  } else if (value == "date") {
    fact.kind = DeclaredFact::Kind::date;
  } else if (const auto unit = value == "number" ? std::optional(Unit::one) : unit_of(value)) {
    fact.kind = DeclaredFact::Kind::quantity;
    fact.unit = *unit;
  } else if (!value.empty()) {
    problem(fields.value,
            "value " + quoted(value) +
                " is not known; write word, yes-no, date, number, trade-size, conductor-size or "
                "a unit such as ft, A or %");
  }
  if (problems.size() != before) return std::nullopt;
  return fact;
}

Condition condition_of(const WhereFields& where, const TextFile& file, const DeclaredFacts& facts,
                       Problems& problems) {
  return Reader(file, facts, problems).where(where);
}

std::optional<Requirement> requirement_of(const RequiresFields& fields, const TextFile& file,
                                          const DeclaredFacts& facts, Problems& problems) {
  const std::size_t before = problems.size();
  Requirement out{fields.id.text,      fields.title.text, fields.why.text,           {}, {}, {},
                  fields.message.text, fields.cure.text,  file.at(fields.id.offset), 0};
  const std::optional<SubjectKind> subject = kind_named(fields.subject.text);
  if (subject && *subject != SubjectKind::attestation)
    out.subject = *subject;
  else if (!fields.subject.text.empty())
    problems.add(file, fields.subject.offset, "there is no kind of subject " + quoted(fields.subject.text));
  for (std::size_t at = out.message.find('{'); at < out.message.size(); at = out.message.find('{', at + 1)) {
    if (!out.message.compare(at, 7, "{where}")) continue;
    const std::string name = out.message.substr(at, out.message.find('}', at) - at + 1);
    problems.add(file, within(file, fields.message, at),
                 quoted(name) + " is not filled in; a <requires> says {where} only");
  }
  Reader reader(file, facts, problems, out.subject);
  out.given = reader.all(fields.given);
  out.must = reader.all(fields.must);
  if (problems.size() != before) return std::nullopt;
  out.given_words = words_of(out.given);
  out.must_words = words_of(out.must);
  return out;
}

Condition outside_of(const std::string& from, const std::string& before) {
  Condition any;
  any.kind = Condition::Kind::any;
  const auto add = [&](Bound Condition::*side, Bound::Kind kind, const std::string& date) {
    if (date.empty()) return;
    Condition c;
    c.kind = Condition::Kind::attribute;
    c.element = "installation";
    c.name = "permit-date";
    c.unstated_fails = true;
    (c.*side).kind = kind;
    (c.*side).date = date;
    any.parts.push_back(std::move(c));
  };
  add(&Condition::high, Bound::Kind::less_than, from);
  add(&Condition::low, Bound::Kind::at_least, before);
  return any;
}

std::string words_of(const Condition& c) {
  using enum Condition::Kind;
  if (c.kind == all || c.kind == any || c.kind == none_of) {
    std::string out;
    for (const Condition& part : c.parts) {
      const bool group = part.kind == any || part.kind == all;
      out += (out.empty()     ? ""
              : c.kind == all ? " and "
                              : " or ") +
             (group && c.parts.size() > 1 ? "(" + words_of(part) + ")" : words_of(part));
    }
    return c.kind == none_of ? "not (" + out + ")" : out;
  }
  if (c.kind == count) {
    std::string of;
    for (const Condition& part : c.parts) of += (of.empty() ? " with " : " and ") + words_of(part);
    const std::string low = words_of(c.low), high = words_of(c.high);
    return "the number of each " + c.element + of + " is " + low +
           (low.empty() || high.empty() ? "" : " and ") + high;
  }
  std::string out = c.kind == attribute ? c.element + "@" + c.name
                    : c.kind == fact    ? "fact " + c.name
                    : c.kind == figure  ? "figure " + c.name
                                        : c.name + " is attested";
  const bool bounded = c.low.kind != Bound::Kind::none || c.high.kind != Bound::Kind::none;
  if (!c.words.empty() && !bounded) return out + " is " + joined(c.words, " or ");
  const std::string low = words_of(c.low), high = words_of(c.high);
  if (low.empty() && high.empty()) return out;
  return out + " is " + low + (low.empty() || high.empty() ? "" : " and ") + high;
}

}  // namespace raceward::ruleset
