#include "check/conditions.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "document/references.hpp"
#include "document/vocabulary.hpp"

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
  for (std::uint8_t k = 0; k < subject_kind_count; ++k) {
    std::string name(name_of(static_cast<SubjectKind>(k)));
    std::replace(name.begin(), name.end(), ' ', '-');
    if (name == c.element) return static_cast<SubjectKind>(k);
  }
  return SubjectKind::installation;
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
    }
    return c.kind == none_of && !out.unknown() ? answer(true) : out;
  }
  if (c.kind == attested) return this->attested(c, subject);
  if (c.kind == count) return counted(c, subject);
  const SubjectKind kind = kind_of(c, law_);
  Subject unsure;
  bool is_unsure = false;
  const std::vector<Subject> related = relatives_.of(subject, kind, unsure, is_unsure);
  Holds out;
  MissingId others = 0;
  bool some = false;
  for (const Subject each : related) {
    const Holds one = one_related(c, each);
    some = some || one.yes();
    if (one.yes() && !of_all) return one;
    if (one.unknown()) out = {Answer::unknown, e_.missing.both(out.missing, one.missing)};
    if (of_all && one.answer == Answer::no && related.size() > 1)
      others = e_.missing.both(others, unlike(c, each));
  }
  if (some && out.missing == 0 && others == 0 && !is_unsure) return answer(true);
  if (some) out = {Answer::unknown, e_.missing.both(out.missing, others)};
  if (!is_unsure) return out;
  const figure::Value lacks = e_.lacks(unsure, "area", "the id of an area", figure::installer);
  return {Answer::unknown, e_.missing.both(out.missing, lacks.missing)};
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
  Subject unsure;
  bool is_unsure = false;
  std::int64_t sure = 0, doubtful = 0;
  MissingId missing = 0;
  for (const Subject each : relatives_.of(subject, kind_of(c, law_), unsure, is_unsure)) {
    Holds all = answer(true);
    for (const Condition& part : c.parts) {
      const Holds one = holds(part, each);
      if (one.answer == Answer::no) all = answer(false);
      if (one.unknown() && all.answer != Answer::no)
        all = {Answer::unknown, e_.missing.both(all.missing, one.missing)};
    }
    sure += all.yes() ? 1 : 0;
    doubtful += all.unknown() ? 1 : 0;
    if (all.unknown()) missing = e_.missing.both(missing, all.missing);
  }
  const Holds least = within(c, number(sure).count());
  for (std::int64_t more = 1; more <= doubtful; ++more) {
    if (within(c, number(sure + more).count()).answer != least.answer) return {Answer::unknown, missing};
  }
  return least;
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
  if (!c.words.empty()) return answer(std::find(c.words.begin(), c.words.end(), value) != c.words.end());
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
  if (related.kind == SubjectKind::circuit &&
      e_.model.circuits[related.index].kind == installation::CircuitKind::other) {
    // Wiring outside any circuit has no other attribute of one than that.
    return answer(c.name == "kind" && std::find(c.words.begin(), c.words.end(), "other") != c.words.end());
  }
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
