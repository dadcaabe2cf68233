#include "check/conditions.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "document/references.hpp"
#include "document/vocabulary.hpp"
#include "facts/shape.hpp"

namespace raceward::checking {

namespace {

using Answer = Holds::Answer;
using Bound = Condition::Bound;

Holds answer(bool yes) { return {yes ? Answer::yes : Answer::no, 0}; }

using facts::trimmed;

template <class T>
bool meets(Bound::Kind kind, const T& value, const T& bound) {
  switch (kind) {
    case Bound::Kind::at_least:
      return value >= bound;
    case Bound::Kind::at_most:
      return value <= bound;
    case Bound::Kind::more_than:
      return value > bound;
    case Bound::Kind::less_than:
      return value < bound;
    case Bound::Kind::none:
      break;
  }
  return true;
}

SubjectKind kind_of(const Condition& c, const Law& law) {
  if (c.kind == Condition::Kind::fact) {
    const DeclaredFact* fact = law.fact(c.name);
    return fact == nullptr ? SubjectKind::installation : fact->of;
  }
  if (c.kind == Condition::Kind::figure) {
    const figure::Info* found = figure::find(c.name);
    return found == nullptr ? SubjectKind::installation : found->subject;
  }
  if (c.element == "wiring") return SubjectKind::circuit;
  const SubjectKind named = facts::kind_of(c.element);
  return static_cast<std::uint8_t>(named) < subject_kind_count ? named : SubjectKind::installation;
}

bool is_metric_trade_size(std::string_view size) { return size.ends_with(" mm"); }

/// Whether a receptacle that nobody wrote could meet it.
bool may_be_receptacle(const Condition& c) {
  using enum Condition::Kind;
  if (c.kind == all) return std::all_of(c.parts.begin(), c.parts.end(), may_be_receptacle);
  if (c.kind == any) return std::any_of(c.parts.begin(), c.parts.end(), may_be_receptacle);
  const auto names_it = [](const Condition& part) {
    return std::find(part.words.begin(), part.words.end(), "receptacle") != part.words.end();
  };
  const auto of_kind = [](const Condition& part) {
    return part.kind == attribute && part.element == "device" && part.name == "kind";
  };
  if (c.kind == none_of) {
    return std::none_of(c.parts.begin(), c.parts.end(),
                        [&](const Condition& part) { return of_kind(part) && names_it(part); });
  }
  return !of_kind(c) || names_it(c);
}

/// The values that an attribute lists: marks of an insulation, ids.
std::vector<std::string_view> values_of(const Condition& c, std::string_view value) {
  using Form = document::Form::Kind;
  char between = 0;
  if (c.kind == Condition::Kind::attribute) {
    const auto element = static_cast<document::Element>(document::element_words.find(c.element) - 1);
    const document::ElementRow& row = document::row_of(element);
    if (const std::uint8_t at = row.attributes.find(c.name); at != 0) {
      const Form form = row.rows[at - 1U].form.kind;
      if (form == Form::insulations) between = '/';
      if (form == Form::references || form == Form::conductor_references) between = ' ';
    }
  }
  std::vector<std::string_view> out;
  while (between != 0 && value.find(between) != std::string_view::npos) {
    const std::size_t end = value.find(between);
    if (end > 0) out.push_back(value.substr(0, end));
    value.remove_prefix(end + 1);
  }
  out.push_back(value);
  return out;
}

}  // namespace

Conditions::Conditions(figure::Evaluation& e, const Law& law)
    : e_(e), law_(law), relatives_(e), stated_(facts::stated_in(e)) {
  for (const installation::Attestation& a : e.model.attestations) attested_[{a.of, a.fact}] = true;
}

Holds Conditions::holds(const Condition& c, Subject subject, bool of_all) {
  using enum Condition::Kind;
  if (c.kind == none_of || c.kind == any || c.kind == all) {
    // One part that decides is enough, whatever is not known of the others.
    const bool decides = c.kind != all;
    Holds out = answer(!decides);
    for (const Condition& part : c.parts) {
      const Holds one = holds(part, subject, of_all && c.kind != none_of);
      if (one.answer == (decides ? Answer::yes : Answer::no)) return answer(c.kind == any);
      if (one.unknown()) out = {Answer::unknown, e_.missing.both(out.missing, one.missing)};
      if (one.not_asked() && !out.unknown()) out = one;
    }
    const bool settled = !out.unknown() && !out.not_asked();
    return c.kind == none_of && settled ? answer(true) : out;
  }
  if (c.kind == attested) return this->attested(c, subject);
  if (c.kind == count) return counted(c, subject);
  const Related related = relatives_.of(subject, kind_of(c, law_));
  Holds out;
  MissingId others = 0;
  bool some = false;
  std::size_t asked = 0;
  for (const Subject each : related.subjects) {
    if (!can_state(c, each)) continue;
    ++asked;
    const Holds one = one_related(c, each);
    some = some || one.yes();
    if (one.yes() && !of_all) return one;
    if (one.unknown()) out = {Answer::unknown, e_.missing.both(out.missing, one.missing)};
    if (of_all && one.answer == Answer::no && related.subjects.size() > 1)
      others = e_.missing.both(others, unlike(c, each));
  }
  MissingId open = related.open;
  if (related.open_to_receptacles != 0 && may_be_receptacle(c))
    open = e_.missing.both(open, related.open_to_receptacles);
  if (some && out.missing == 0 && others == 0 && open == 0) return answer(true);
  if (some) out = {Answer::unknown, e_.missing.both(out.missing, others)};
  if (open != 0) return {Answer::unknown, e_.missing.both(out.missing, open)};
  if (asked == 0 && !related.subjects.empty()) return {Answer::not_asked, 0};
  return out;
}

/// Some elements meet what must hold, and this one does not.
MissingId Conditions::unlike(const Condition& c, Subject related) {
  return e_
      .lacks(related, c.name, "count in the requirement, of how many it must hold",
             "the author of the requirement",
             "others meet the requirement and this does not, and it does not say whether one is enough")
      .missing;
}

Holds Conditions::counted(const Condition& c, Subject subject) {
  std::int64_t sure = 0, most = 0;
  MissingId missing = 0;
  const Related related = relatives_.of(subject, kind_of(c, law_));
  for (const Subject each : related.subjects) {
    Holds all = answer(true);
    for (const Condition& part : c.parts) {
      const Holds one = holds(part, each);
      if (one.answer == Answer::no || one.not_asked()) all = answer(false);
      if (one.unknown() && all.answer != Answer::no)
        all = {Answer::unknown, e_.missing.both(all.missing, one.missing)};
    }
    sure += all.yes() ? weight(each) : 0;
    most += all.yes() || all.unknown() ? weight(each) : 0;
    if (all.unknown()) missing = e_.missing.both(missing, all.missing);
  }
  MissingId open = related.open;
  if (related.open_to_receptacles != 0 && std::all_of(c.parts.begin(), c.parts.end(), may_be_receptacle))
    open = e_.missing.both(open, related.open_to_receptacles);
  // What is written and meets it is there; how many more there are, nobody says.
  constexpr std::int64_t any_number = INT32_MAX;
  if (open != 0) {
    most = any_number;
    missing = e_.missing.both(missing, open);
  }
  const auto meets_low = [&](std::int64_t n) {
    return meets(c.low.kind, number(n).count(), c.low.amount.count);
  };
  const auto meets_high = [&](std::int64_t n) {
    return meets(c.high.kind, number(n).count(), c.high.amount.count);
  };
  const bool bounded_above = c.high.kind != Bound::Kind::none;
  if (meets_low(sure) && (!bounded_above || meets_high(most))) return answer(true);
  if (!meets_low(most) || (bounded_above && !meets_high(sure))) return answer(false);
  return sure == most ? answer(false) : Holds{Answer::unknown, missing};
}

/// Conductors alike are written as one.
std::int64_t Conditions::weight(Subject related) const {
  return related.kind == SubjectKind::conductor ? e_.model.conductors[related.index].count : 1;
}

/// Circuits and wiring outside any circuit are one kind of subject; each has attributes of its own.
bool Conditions::can_state(const Condition& c, Subject related) const {
  if (c.kind != Condition::Kind::attribute || related.kind != SubjectKind::circuit) return true;
  const bool wiring = e_.model.circuits[related.index].kind == installation::CircuitKind::other;
  if (wiring && c.name == "kind") return c.element == "circuit";
  return wiring ? document::row_of(document::Element::wiring).attributes.find(c.name) != 0
                : c.element == "circuit";
}

Holds Conditions::one_related(const Condition& c, Subject related) {
  if (c.kind == Condition::Kind::attribute) return attribute(c, related);
  if (c.kind == Condition::Kind::figure) return figure(c, related);
  const DeclaredFact* declared = law_.fact(c.name);
  return declared == nullptr ? Holds{} : fact(c, *declared, related);
}

Holds Conditions::missing(const Condition& c, Subject related, std::string why) {
  if (c.unstated_fails && why.empty()) return {};
  return {Answer::unknown, e_.lacks(related, c.name, "its value", figure::installer, std::move(why)).missing};
}

Holds Conditions::within(const Condition& c, std::int64_t count) const {
  return answer(meets(c.low.kind, count, c.low.amount.count) &&
                meets(c.high.kind, count, c.high.amount.count));
}

Holds Conditions::compare(const Condition& c, std::string_view value, Subject related) {
  if (!c.words.empty()) {
    for (const std::string_view each : values_of(c, value)) {
      if (std::find(c.words.begin(), c.words.end(), each) != c.words.end()) return answer(true);
    }
    // A size between bounds, and one of another system: trade sizes in inches and in millimetres have no
    // order with one another.
    const Bound& size = c.low.kind != Bound::Kind::none ? c.low : c.high;
    if (size.kind != Bound::Kind::none && is_metric_trade_size(size.date) != is_metric_trade_size(value))
      return missing(c, related, fmt::format("\"{}\" and \"{}\" are sizes of two systems", value, size.date));
    return answer(false);
  }
  if (!c.low.date.empty() || !c.high.date.empty()) {
    if (!is_date(value)) return missing(c, related, fmt::format("\"{}\" is no date", value));
    const std::string date(value);
    return answer(meets(c.low.kind, date, c.low.date) && meets(c.high.kind, date, c.high.date));
  }
  const Bound& bound = c.low.kind != Bound::Kind::none ? c.low : c.high;
  const Parsed<Amount> amount = parse_amount(value, dimension_of(bound.amount.unit));
  if (!amount)
    return missing(c, related,
                   fmt::format("\"{}\" cannot be read as {}: {}", value, c.name, amount.error().what));
  return within(c, amount->count);
}

std::optional<std::string> Conditions::written(Subject related, std::string_view attribute) const {
  const installation::Offset element = installation::offset_of(e_.model, e_.in.sections, related);
  const installation::Offset at = installation::locate_attribute(e_.model, element, attribute);
  if (at == element) return std::nullopt;
  const std::string_view bytes = e_.model.bytes;
  const std::size_t open = bytes.find_first_of("\"'", at);
  if (open == std::string_view::npos) return std::nullopt;
  const std::string_view raw = bytes.substr(open + 1, bytes.find(bytes[open], open + 1) - open - 1);
  std::string value(raw.size(), ' ');
  value.resize(document::normalize(raw, value.data()));
  return std::string(trimmed(value));
}

Holds Conditions::attribute(const Condition& c, Subject related) {
  if (related.kind == SubjectKind::circuit && c.name == "kind" &&
      e_.model.circuits[related.index].kind == installation::CircuitKind::other)
    return compare(c, "other", related);
  const std::optional<std::string> value = written(related, c.name);
  if (!value) return missing(c, related);
  return compare(c, *value, related);
}

Holds Conditions::fact(const Condition& c, const DeclaredFact& declared, Subject related) {
  facts::Stated::Value value = stated_.of(declared, related);
  if (value.absent && c.unstated_fails) return {};
  if (value.text.empty()) return {Answer::unknown, stated_.missing(declared, related, std::move(value.why))};
  return compare(c, value.text, related);
}

Holds Conditions::figure(const Condition& c, Subject related) {
  const figure::Info* info = figure::find(c.name);
  const figure::Value value = e_.get(info->id, related);
  return value.missing != 0 ? Holds{Answer::unknown, value.missing} : within(c, value.count);
}

Holds Conditions::attested(const Condition& c, Subject subject) {
  const std::string id = subject.kind == SubjectKind::installation
                             ? std::string(e_.model.id)
                             : installation::id_of(e_.model, e_.in.sections, subject);
  if (attested_.count({id, c.name}) != 0 || attested_.count({e_.model.id, c.name}) != 0) return answer(true);
  std::string& expects = expects_[&c];
  if (expects.empty())
    expects = fmt::format("<attest fact=\"{}\"> of it or of the installation, where it is so", c.name);
  return {Answer::unknown,
          e_.lacks(subject, "attest", expects, figure::installer, fmt::format("nobody attests {}", c.name))
              .missing};
}

}  // namespace raceward::checking
